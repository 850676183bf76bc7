package fit

import (
	"math"
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
	w := g.weights(at)
	before := g.entropy(at.left, &w, nil)
	for i := range bitsOf(at.open) {
		l, after := &g.looks[i], 0.0
		for _, r := range l.results {
			if p := l.odds(at.left, r, &w); p > 0 {
				after += p * g.entropy(at.left&r, &w, l.share)
			}
		}
		rates[i] = max(before-after, 0) * (1 - l.unseen) / l.minutes
	}
	return rates
}

// entropy is how much is unknown of the classes left, in bits, and a little for
// the candidates. share, where given, weighs the candidates by a result just
// seen.
func (g *game) entropy(left uint64, w *[maxInGame]float64, share []float64) float64 {
	var ofClass [maxInGame]float64
	sum, candidates, classes := 0.0, 0.0, 0.0
	for c := range bitsOf(left) {
		m := w[c]
		if share != nil {
			m *= share[c]
		}
		ofClass[g.class[c]] += m
		sum += m
		candidates += surprise(m)
	}
	for _, m := range ofClass[:g.classes] {
		classes += surprise(m)
	}
	// the sum of -(m/sum) log(m/sum) is (the sum of -m log m)/sum + log sum
	return (classes+byCandidate*candidates)/sum + (1+byCandidate)*math.Log2(sum)
}

func surprise(m float64) float64 {
	if m <= 0 {
		return 0
	}
	return -m * math.Log2(m)
}
