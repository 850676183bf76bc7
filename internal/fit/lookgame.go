package fit

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"
)

// tiny is below what two sums of the same chances may differ by.
const tiny = 1e-9

// maxInGame bounds candidates and looks of a game: one bit each.
const maxInGame = 64

// game is a puzzle made ready: candidates that no look and no class tells apart
// are one, looks stand in the order of their minutes.
type game struct {
	chance  []float64
	class   []int
	members [][]int // candidates of the puzzle behind each of the game's
	looks   []gameLook
}

type gameLook struct {
	at      int // position in the puzzle
	minutes float64
	unseen  float64
	results []uint64
	share   []float64 // by candidate: chance of each result that it stands under
	parts   bool      // every candidate stands under one result only
}

// position is a state of a game: the candidates left, the looks not yet tried,
// and those of the tried that were seen and weigh on some candidates more than
// on others.
type position struct{ left, open, seen uint64 }

func newGame(p Puzzle) *game {
	g := &game{}
	under := standings(p)
	index := map[string]int{}
	for i := range min(len(p.Chance), maxInGame) {
		key := fmt.Sprint(p.Class[i], under[i])
		at, ok := index[key]
		if !ok {
			at = len(g.chance)
			index[key] = at
			g.chance, g.class, g.members = append(g.chance, 0), append(g.class, p.Class[i]), append(g.members, nil)
		}
		g.chance[at] += max(p.Chance[i], tiny)
		g.members[at] = append(g.members[at], i)
	}
	for at, l := range p.Looks {
		g.looks = append(g.looks, g.newLook(at, l, under))
	}
	slices.SortFunc(g.looks, func(a, b gameLook) int {
		return cmp.Or(cmp.Compare(a.minutes, b.minutes), strings.Compare(p.Looks[a.at].Name, p.Looks[b.at].Name), a.at-b.at)
	})
	g.looks = g.looks[:min(len(g.looks), maxInGame-1)]
	return g
}

// standings gives for each candidate the results of each look that it stands
// under, as a bit set.
func standings(p Puzzle) [][]uint64 {
	under := make([][]uint64, min(len(p.Chance), maxInGame))
	for i := range under {
		under[i] = make([]uint64, len(p.Looks))
	}
	for l, look := range p.Looks {
		for r, cs := range look.Results {
			for _, i := range cs {
				if i < len(under) && r < maxInGame {
					under[i][l] |= 1 << r
				}
			}
		}
		for i := range under {
			if under[i][l] == 0 {
				under[i][l] = 1<<min(len(look.Results), maxInGame-1) - 1
			}
		}
	}
	return under
}

func (g *game) newLook(at int, l PuzzleLook, under [][]uint64) gameLook {
	out := gameLook{at: at, minutes: l.Minutes, unseen: l.CannotSee, results: make([]uint64, len(l.Results)),
		share: make([]float64, len(g.members)), parts: true}
	for c, m := range g.members {
		set := under[m[0]][at]
		for r := range bitsOf(set) {
			out.results[r] |= 1 << c
		}
		n := bits.OnesCount64(set)
		out.share[c] = 1 / float64(max(n, 1))
		out.parts = out.parts && n == 1
	}
	return out
}

func (g *game) all() uint64 { return 1<<len(g.chance) - 1 }

func (g *game) original(left uint64) []int {
	var out []int
	for c := range bitsOf(left) {
		out = append(out, g.members[c]...)
	}
	slices.Sort(out)
	return out
}

// oneClass reports whether all that is left goes for one another.
func (g *game) oneClass(left uint64) bool {
	if left == 0 {
		return true
	}
	first := g.class[bits.TrailingZeros64(left)]
	for c := range bitsOf(left) {
		if g.class[c] != first {
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
func (g *game) settle(at position) position {
	if g.oneClass(at.left) {
		return position{left: at.left}
	}
	for l := range bitsOf(at.open) {
		if !g.looks[l].splits(at.left) {
			at.open &^= 1 << l
		}
	}
	for l := range bitsOf(at.seen) {
		if at.open == 0 || g.looks[l].even(at.left) {
			at.seen &^= 1 << l
		}
	}
	return at
}

func (l *gameLook) even(left uint64) bool {
	first := l.share[bits.TrailingZeros64(left)]
	for c := range bitsOf(left) {
		if l.share[c] != first {
			return false
		}
	}
	return true
}

// after is the position when a look has shown a result.
func (g *game) after(at position, l int, result uint64) position {
	return g.settle(position{at.left & result, at.open &^ (1 << l), at.seen | 1<<l})
}

// unseen is the position when it could not be seen: it is not tried again.
func (g *game) unseen(at position, l int) position {
	return g.settle(position{at.left, at.open &^ (1 << l), at.seen})
}

// weights gives the chances in a position, which sum to 1 over what is left.
func (g *game) weights(at position) (w [maxInGame]float64) {
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
	for c := range bitsOf(left & result) {
		p += w[c] * l.share[c]
	}
	return p
}

// followed is what a way of choosing comes to.
type followed struct{ minutes, settles float64 }

// leastReach is the chance of a position below which a plan is not followed
// further; what lies beyond it counts as its next look and as not settled.
const leastReach = 0.004

// follow reckons a way of choosing to its end.
func (g *game) follow(at position, choose func(position) int) followed {
	memo := map[position]followed{}
	var walk func(at position, reach float64) followed
	walk = func(at position, reach float64) followed {
		if at.open == 0 {
			return followed{0, b2f(g.oneClass(at.left))}
		}
		if f, ok := memo[at]; ok {
			return f
		}
		l := &g.looks[choose(at)]
		i := choose(at)
		f := followed{minutes: l.minutes}
		if reach < leastReach {
			return f
		}
		w := g.weights(at)
		add := func(p float64, to position) {
			next := walk(to, reach*p)
			f.minutes += p * next.minutes
			f.settles += p * next.settles
		}
		for _, r := range l.results {
			if p := l.odds(at.left, r, &w); p > 0 {
				add(p*(1-l.unseen), g.after(at, i, r))
			}
		}
		if l.unseen > 0 {
			add(l.unseen, g.unseen(at, i))
		}
		memo[at] = f
		return f
	}
	return walk(at, 1)
}

// compareRates orders rates so that sums of the same chances in another order
// compare equal.
func compareRates(a, b float64) int {
	if math.Abs(a-b) <= tiny*max(1, math.Abs(a)) {
		return 0
	}
	return cmp.Compare(a, b)
}
