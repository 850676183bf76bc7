package fit

import (
	"cmp"
	"math"
	"math/bits"
)

// state is where a game stands: the candidates left, the looks not yet tried,
// and those of the seen that weigh on some candidates more than on others.
type state struct{ left, open, seen uint64 }

func (g *game) all() uint64 { return 1<<len(g.chance) - 1 }

// oneClass reports whether all that is left goes for one another.
func (g *game) oneClass(left uint64) bool {
	for c := range bitsOf(left) {
		if g.class[c] != g.class[bits.TrailingZeros64(left)] {
			return false
		}
	}
	return true
}

// splits reports whether some result of a look would leave fewer candidates.
func (l *gameLook) splits(left uint64) bool {
	for _, r := range l.results {
		if hit := left & r; hit != 0 && hit != left {
			return true
		}
	}
	return false
}

// settle drops from a position the looks that tell nothing apart in it, and
// what was seen that weighs on all candidates alike.
func (g *game) settle(at state) state {
	if at.open == 0 || g.oneClass(at.left) {
		return state{left: at.left}
	}
	for rest := at.open; rest != 0; rest &= rest - 1 {
		if l := bits.TrailingZeros64(rest); !g.looks[l].splits(at.left) {
			at.open &^= 1 << l
		}
	}
	for rest := at.seen; rest != 0; rest &= rest - 1 {
		if l := bits.TrailingZeros64(rest); at.open == 0 || g.looks[l].even(at.left) {
			at.seen &^= 1 << l
		}
	}
	return at
}

// even reports whether a result of the look weighs on all candidates alike.
func (l *gameLook) even(left uint64) bool {
	for c := range bitsOf(left) {
		if l.share[c] != l.share[bits.TrailingZeros64(left)] {
			return false
		}
	}
	return true
}

// after is the position when a look has shown a result.
func (g *game) after(at state, l int, result uint64) state {
	return g.settle(state{at.left & result, at.open &^ (1 << l), at.seen | 1<<l})
}

// unseen is the position when it could not be seen: it is not tried again.
func (g *game) unseen(at state, l int) state {
	return g.settle(state{at.left, at.open &^ (1 << l), at.seen})
}

// weights gives the chances in a position, which sum to 1 over what is left.
func (g *game) weights(at state) (w [maxInGame]float64) {
	sum := 0.0
	for c := range bitsOf(at.left) {
		w[c] = g.chance[c]
		for l := range bitsOf(at.seen) {
			w[c] *= g.looks[l].share[c]
		}
		sum += w[c]
	}
	for c := range bitsOf(at.left) {
		w[c] /= sum
	}
	return w
}

// odds is the chance of a result, given that the look is seen.
func (l *gameLook) odds(left, result uint64, w *[maxInGame]float64) float64 {
	p := 0.0
	for rest := left & result; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		p += w[c] * l.share[c]
	}
	return p
}

// chanced is a position that follows with some chance.
type chanced struct {
	p  float64
	at state
}

// outcomes lists what may follow a look.
func (g *game) outcomes(at state, i int, w *[maxInGame]float64) []chanced {
	l := &g.looks[i]
	out := make([]chanced, 0, len(l.results)+1)
	for _, r := range l.results {
		if p := l.odds(at.left, r, w); p > 0 {
			out = append(out, chanced{p * (1 - l.unseen), g.after(at, i, r)})
		}
	}
	if l.unseen > 0 {
		out = append(out, chanced{l.unseen, g.unseen(at, i)})
	}
	return out
}

// followed is what a way of playing comes to.
type followed struct{ minutes, settles float64 }

// compareRates orders rates so that sums of the same chances in another order
// compare equal.
func compareRates(a, b float64) int {
	if math.Abs(a-b) <= tiny*max(1, math.Abs(a)) {
		return 0
	}
	return cmp.Compare(a, b)
}
