package fit

import (
	"math/bits"
	"slices"
)

// Puzzle is the bare question of which look to take next: candidates with their
// chances, classes of candidates that go for one another, and looks.
type Puzzle struct {
	Chance []float64 // one a candidate, any positive scale; at most 64 candidates, further ones are left out
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
	Results   [][]int // candidates by position
}

// Plan says how to go on until one class is left or nothing more tells apart.
type Plan struct {
	Order   []int   // looks that tell something apart now: the one to take, then the others by gain a minute
	Minutes float64 // expected, to the end
	Settles float64 // chance that one class is left in the end; no order of looks changes it
	Exact   bool    // no other order takes fewer minutes on average; else the greedy one
	Tree    *Branch // the next few looks; nil where nothing tells apart
}

// Branch is one look of a plan and what follows each of its results.
type Branch struct {
	Look      int       // position in Puzzle.Looks
	Left      []int     // candidates that are left before it
	Minutes   float64   // expected from here to the end
	Results   []*Branch // one a result of the look; nil where nothing follows
	CannotSee *Branch
}

// Limits of the exact program, and how deep a plan is written out: beyond three
// looks nobody plans ahead.
const (
	exactCandidates = 9 // eight, and "none of these"
	exactLooks      = 12
	exactPositions  = 6000 // positions reckoned before it gives up: some milliseconds
	treeDepth       = 3
)

// Next plans the looks of a puzzle: exactly where that is small enough,
// otherwise by information gain a minute.
func Next(p Puzzle) Plan {
	g := newGame(p)
	start := g.settle(position{left: g.all(), open: 1<<len(g.looks) - 1})
	if start.open == 0 {
		return Plan{Settles: b2f(g.oneClass(start.left)), Exact: true}
	}
	plan := Plan{}
	choose, minutes, exact := g.exactly(start)
	if plan.Exact = exact; exact {
		plan.Minutes, plan.Settles = minutes, g.follow(start, choose).settles
	} else {
		choose = g.greedy
		f := g.follow(start, choose)
		plan.Minutes, plan.Settles = f.minutes, f.settles
	}
	plan.Tree = g.tree(start, choose, treeDepth)
	plan.Order = g.order(start, choose(start))
	return plan
}

// order lists the look to take, then the others by gain a minute.
func (g *game) order(at position, first int) []int {
	rates := g.rates(at)
	var rest []int
	for l := range bitsOf(at.open) {
		if l != first && rates[l] > tiny {
			rest = append(rest, l)
		}
	}
	slices.SortStableFunc(rest, func(a, b int) int { return compareRates(rates[b], rates[a]) })
	out := []int{g.looks[first].at}
	for _, l := range rest {
		out = append(out, g.looks[l].at)
	}
	return out
}

// tree writes out what is done from a position; nil where it ends there.
func (g *game) tree(at position, choose func(position) int, depth int) *Branch {
	if depth == 0 || at.open == 0 {
		return nil
	}
	l := choose(at)
	b := &Branch{Look: g.looks[l].at, Left: g.original(at.left), Minutes: g.follow(at, choose).minutes,
		Results: make([]*Branch, len(g.looks[l].results))}
	for i, r := range g.looks[l].results {
		if at.left&r != 0 {
			b.Results[i] = g.tree(g.after(at, l, r), choose, depth-1)
		}
	}
	b.CannotSee = g.tree(g.unseen(at, l), choose, depth-1)
	return b
}

// bitsOf walks the positions of a set, lowest first.
func bitsOf(set uint64) func(func(int) bool) {
	return func(yield func(int) bool) {
		for ; set != 0; set &= set - 1 {
			if !yield(bits.TrailingZeros64(set)) {
				return
			}
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
