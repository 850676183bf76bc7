package fit

import (
	"cmp"
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
	"strings"
)

// tiny is more than two sums of the same chances in another order differ by.
const tiny = 1e-9

// maxInGame bounds candidates, and one less the looks, of a game: a bit each.
const maxInGame = 64

// game is a puzzle made ready: candidates that neither a look nor their class
// tells apart are one, looks stand in the order of their minutes.
type game struct {
	chance  []float64
	class   []int
	mates   []uint64 // the others of a candidate's class
	members [][]int  // candidates of the puzzle behind each of the game's
	looks   []gameLook
}

type gameLook struct {
	at      int // position in the puzzle
	minutes float64
	unseen  float64
	results []uint64
	share   []float64 // by candidate: chance of each result that it stands under
	blur    []float64 // -share log share
}

// state is where a game stands: the candidates left, the looks not yet tried,
// and those of the seen that weigh on some candidates more than on others.
type state struct{ left, open, seen uint64 }

func newGame(p Puzzle) *game {
	g, under := &game{}, standings(p)
	g.join(p, under)
	g.mates = make([]uint64, len(g.class))
	for c := range g.class {
		for o := range g.class {
			if o != c && g.class[o] == g.class[c] {
				g.mates[c] |= 1 << o
			}
		}
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

// join makes one of candidates that neither a look nor their class tells apart.
func (g *game) join(p Puzzle, under [][]uint64) {
	index := map[string]int{}
	var key []byte
	for i := range under {
		key = binary.AppendVarint(key[:0], int64(p.Class[i]))
		for _, set := range under[i] {
			key = binary.AppendUvarint(key, set)
		}
		at, ok := index[string(key)]
		if !ok {
			at = len(g.chance)
			index[string(key)] = at
			g.chance, g.class, g.members = append(g.chance, 0), append(g.class, p.Class[i]), append(g.members, nil)
		}
		g.chance[at] += max(p.Chance[i], tiny)
		g.members[at] = append(g.members[at], i)
	}
}

// standings gives for each candidate and look the results that the candidate
// stands under, as a bit set.
func standings(p Puzzle) [][]uint64 {
	under := make([][]uint64, min(len(p.Chance), maxInGame))
	for i := range under {
		under[i] = make([]uint64, len(p.Looks))
	}
	for l, look := range p.Looks {
		for r, cs := range look.Results[:min(len(look.Results), maxInGame-1)] {
			for _, i := range cs {
				if i < len(under) {
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
		share: make([]float64, len(g.members)), blur: make([]float64, len(g.members))}
	for c, m := range g.members {
		set := under[m[0]][at]
		for r := range bitsOf(set) {
			out.results[r] |= 1 << c
		}
		out.share[c] = 1 / float64(max(bits.OnesCount64(set), 1))
		out.blur[c] = surprise(out.share[c])
	}
	return out
}

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
