package fit

import (
	"math"
	"math/bits"
	"slices"
)

// byCandidate is what it counts to tell candidates of one class apart: next to
// nothing, but a look that only does so may still make room for the next one.
const byCandidate = 1e-3

// greedy takes the look that gains most about the classes a minute.
func (g *game) greedy(at state) int {
	rates, best := g.rates(at), -1
	for l := range bitsOf(at.open) {
		if best < 0 || compareRates(rates[l], rates[best]) > 0 {
			best = l
		}
	}
	return best
}

// ranked lists the open looks by gain a minute, the greatest first.
func (g *game) ranked(at state) []int {
	rates := g.rates(at)
	var out []int
	for l := range bitsOf(at.open) {
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b int) int { return compareRates(rates[b], rates[a]) })
	return out
}

// rates gives for every open look the expected gain in bits a minute: how much
// less is unknown of the classes, times the chance that it is seen.
func (g *game) rates(at state) (rates [maxInGame]float64) {
	u := g.unknownIn(at)
	before := u.entropy(at.left, nil)
	for i := range bitsOf(at.open) {
		l, after := &g.looks[i], 0.0
		for _, r := range l.results {
			if p := l.odds(at.left, r, &u.weight); p > 0 {
				after += p * u.entropy(at.left&r, l)
			}
		}
		rates[i] = max(before-after, 0) * (1 - l.unseen) / l.minutes
	}
	return rates
}

// unknown is what a position leaves unknown: the chance of each candidate, and
// its -p log p, so that logarithms are taken once a position.
type unknown struct {
	*game
	weight   [maxInGame]float64
	surprise [maxInGame]float64
}

func (g *game) unknownIn(at state) *unknown {
	u := &unknown{game: g, weight: g.weights(at)}
	for c := range bitsOf(at.left) {
		u.surprise[c] = surprise(u.weight[c])
	}
	return u
}

// entropy is how much is unknown of the classes left, in bits, and a little for
// the candidates. A look, where given, weighs the candidates by a result that it
// has just shown.
func (u *unknown) entropy(left uint64, l *gameLook) float64 {
	sum, candidates, classes := 0.0, 0.0, 0.0
	for rest := left; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		p, s := u.under(c, l)
		sum += p
		candidates += s
		if u.mates[c] == 0 {
			classes += s
		} else if u.mates[c]&left&(1<<c-1) == 0 { // the first of its class that is left
			for mates := u.mates[c] & left; mates != 0; mates &= mates - 1 {
				q, _ := u.under(bits.TrailingZeros64(mates), l)
				p += q
			}
			classes += surprise(p)
		}
	}
	// the sum of -(p/sum) log(p/sum) is (the sum of -p log p)/sum + log sum
	return (classes+byCandidate*candidates)/sum + (1+byCandidate)*math.Log2(sum)
}

// under gives the chance of a candidate together with one result of a look, and
// its -p log p.
func (u *unknown) under(c int, l *gameLook) (p, s float64) {
	if l == nil || l.share[c] == 1 {
		return u.weight[c], u.surprise[c]
	}
	return u.weight[c] * l.share[c], l.share[c]*u.surprise[c] + u.weight[c]*l.blur[c]
}

// surprise is -p log p in bits.
func surprise(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log2(p)
}
