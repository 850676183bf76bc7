package fit

import (
	"cmp"
	"encoding/binary"
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
