package fit

import (
	"math/bits"
	"slices"
)

// Puzzle is the bare question of which look to take next: candidates with their
// chances, classes of candidates that go for one another, and looks.
type Puzzle struct {
	Chance []float64 // one a candidate, on any positive scale; at most 64, further ones are left out
	Class  []int     // one a candidate; equal where there is nothing to tell apart
	Looks  []PuzzleLook
}

// PuzzleLook is one observation. A candidate stands under every result that it
// may show, each as likely as another: under several where its value is not
// known. Under none is read as under all.
type PuzzleLook struct {
	Name      string
	Minutes   float64 // above 0
	CannotSee float64 // chance that it cannot be seen, in [0, 1); it is not tried again then
	Results   [][]int // candidates by position; at most 63 results
}

// Plan says how to go on until one class is left or nothing more tells apart.
type Plan struct {
	Order   []int   // looks that tell something apart now: the one to take, then the others by gain a minute
	Minutes float64 // expected, to the end; where the plan is not exact without what is hardly ever reached
	Settles float64 // chance that one class is left in the end; no order of looks changes it
	Exact   bool    // no other order takes fewer minutes on average; else greedy with some looking ahead

	game  *game
	start state
	guide guide
}

// guide is a way of playing a game: which look to take in a position, and what
// that comes to.
type guide interface {
	choose(state) int
	cost(state) followed
}

// Branch is one look of a plan and what follows each of its results.
type Branch struct {
	Look      int       // position in Puzzle.Looks
	Left      []int     // candidates that are left before it
	Minutes   float64   // expected from here to the end
	Results   []*Branch // one a result of the look; nil where nothing follows
	CannotSee *Branch
}

// Next plans the looks of a puzzle: exactly where that is small enough,
// otherwise by information gain a minute, up to eight candidates with a few
// steps of looking ahead.
func Next(p Puzzle) Plan {
	g := newGame(p)
	start := g.settle(state{left: g.all(), open: 1<<len(g.looks) - 1})
	plan := Plan{game: g, start: start, Exact: true}
	if start.open == 0 {
		plan.Settles = yes(g.oneClass(start.left))
		return plan
	}
	plan.guide, plan.Exact = g.exactly(start)
	if !plan.Exact {
		plan.guide = g.ahead(start)
	}
	f := plan.guide.cost(start)
	plan.Minutes, plan.Settles = f.minutes, f.settles
	plan.Order = g.order(start, plan.guide.choose(start))
	return plan
}

// order lists the look to take, then the others by gain a minute.
func (g *game) order(at state, first int) []int {
	out := []int{g.looks[first].at}
	for _, l := range g.ranked(at) {
		if l != first {
			out = append(out, g.looks[l].at)
		}
	}
	return out
}

// Tree writes out a plan to some depth; nil where nothing tells apart.
func (p Plan) Tree(depth int) *Branch { return p.branch(p.start, depth) }

func (p Plan) branch(at state, depth int) *Branch {
	if depth <= 0 || at.open == 0 {
		return nil
	}
	g, i := p.game, p.guide.choose(at)
	l := &g.looks[i]
	b := &Branch{Look: l.at, Left: g.original(at.left), Minutes: p.guide.cost(at).minutes, Results: make([]*Branch, len(l.results))}
	for r, result := range l.results {
		if at.left&result != 0 {
			b.Results[r] = p.branch(g.after(at, i, result), depth-1)
		}
	}
	b.CannotSee = p.branch(g.unseen(at, i), depth-1)
	return b
}

// original gives the candidates of the puzzle behind a set, sorted.
func (g *game) original(left uint64) []int {
	var out []int
	for c := range bitsOf(left) {
		out = append(out, g.members[c]...)
	}
	slices.Sort(out)
	return out
}

// bitsOf walks the members of a set, lowest first.
func bitsOf(set uint64) func(func(int) bool) {
	return func(yield func(int) bool) {
		for ; set != 0; set &= set - 1 {
			if !yield(bits.TrailingZeros64(set)) {
				return
			}
		}
	}
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
