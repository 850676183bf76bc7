package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// brute is the least expected minutes over all decision trees: every look that
// tells anything apart is tried in every position, nothing is remembered and
// nothing left out. weight is 0 for a candidate that is out.
func brute(p Puzzle, weight []float64, used []bool) float64 {
	classes := map[int]bool{}
	for i, w := range weight {
		if w > 0 {
			classes[p.Class[i]] = true
		}
	}
	if len(classes) < 2 {
		return 0
	}
	best, found := math.Inf(1), false
	for l, look := range p.Looks {
		results, tells := bruteResults(look, weight)
		if used[l] || !tells {
			continue
		}
		found = true
		used[l] = true
		cost := look.Minutes + look.CannotSee*brute(p, weight, used)
		for _, r := range results {
			if r.chance > 0 {
				cost += (1 - look.CannotSee) * r.chance * brute(p, r.weight, used)
			}
		}
		used[l] = false
		best = min(best, cost)
	}
	if !found {
		return 0
	}
	return best
}

type bruteResult struct {
	chance float64
	weight []float64
}

// bruteResults gives the results of a look with their chance and what is left of
// the weights, and whether any of them leaves fewer candidates.
func bruteResults(look PuzzleLook, weight []float64) (out []bruteResult, tells bool) {
	total := 0.0
	for _, w := range weight {
		total += w
	}
	for r := range look.Results {
		b := bruteResult{weight: make([]float64, len(weight))}
		hit, missed := false, false
		for i, w := range weight {
			in, of := slices.Contains(look.Results[r], i), 0
			for _, other := range look.Results {
				if slices.Contains(other, i) {
					of++
				}
			}
			if of == 0 {
				in, of = true, len(look.Results)
			}
			if in {
				b.weight[i] = w / float64(of)
				b.chance += w / float64(of) / total
			}
			hit, missed = hit || w > 0 && in, missed || w > 0 && !in
		}
		tells = tells || hit && missed
		out = append(out, b)
	}
	return out, tells
}

func bruteForce(p Puzzle) float64 { return brute(p, p.Chance, make([]bool, len(p.Looks))) }

// drawPuzzle makes a puzzle: efforts from the scale, all of one effort, or any
// minutes and any chance that nothing is seen.
func drawPuzzle(r *rand.Rand, candidates, looks int) Puzzle {
	p, kind := Puzzle{}, r.IntN(3)
	for range candidates {
		p.Chance = append(p.Chance, 0.5+r.Float64()/2)
		p.Class = append(p.Class, r.IntN(candidates))
	}
	for i := range looks {
		effort := 1 + r.IntN(5)*min(kind, 1)
		l := PuzzleLook{Name: fmt.Sprint("look ", i), Minutes: minutesOf(effort), CannotSee: cannotSee(effort), Results: make([][]int, 2+r.IntN(2))}
		if kind == 2 {
			l.Minutes, l.CannotSee = 1+10*r.Float64(), 0.9*r.Float64()
		}
		for c := range candidates {
			first, last := 0, len(l.Results)-1 // a value that is not known stands under all
			if r.IntN(5) > 0 {
				first = r.IntN(len(l.Results))
				last = first
			}
			for k := first; k <= last; k++ {
				l.Results[k] = append(l.Results[k], c)
			}
		}
		p.Looks = append(p.Looks, l)
	}
	return p
}

// truly is what always taking a plan's next look comes to, with nothing left out.
func truly(p Puzzle, replan bool) float64 {
	plan := Next(p)
	if len(plan.Order) == 0 {
		return 0
	}
	g, memo := plan.game, map[state]float64{}
	choose := plan.guide.choose
	if replan { // as it is used: every answer plans anew
		choose = func(at state) int {
			if s, ok := g.exactly(at); ok {
				return s.choose(at)
			}
			return g.ahead(at).choose(at)
		}
	}
	return g.truly(plan.start, choose, memo)
}

func (g *game) truly(at state, choose func(state) int, memo map[state]float64) float64 {
	if at.open == 0 {
		return 0
	}
	if v, ok := memo[at]; ok {
		return v
	}
	l := choose(at)
	v, w := g.looks[l].minutes, g.weights(at)
	for _, n := range g.outcomes(at, l, &w) {
		v += n.p * g.truly(n.at, choose, memo)
	}
	memo[at] = v
	return v
}

// ratios collects how much longer a way takes than the best one.
type ratios struct {
	n          int
	sum, worst float64
}

func (r *ratios) add(got, best float64) {
	ratio := 1.0
	if best > 0 {
		ratio = got / best
	}
	r.n++
	r.sum += ratio
	r.worst = max(r.worst, ratio)
}

func (r ratios) String() string {
	return fmt.Sprintf("%.4f on average, %.4f at worst of %d", r.sum/float64(r.n), r.worst, r.n)
}

// The plan that is used comes within 5 per cent of the best of all decision
// trees; up to eight candidates and six looks it is the best one.
func TestPlanAgainstAllTrees(t *testing.T) {
	var used, greedy ratios
	exact := 0
	for seed := range uint64(700) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := drawPuzzle(r, 2+r.IntN(7), 1+r.IntN(5)+int(seed%100/99))
		best, plan := bruteForce(p), Next(p)
		if plan.Exact {
			exact++
			if math.Abs(plan.Minutes-best) > 1e-6 {
				t.Errorf("seed %d: got %f, want %f: %+v", seed, plan.Minutes, best, p)
			}
		}
		used.add(truly(p, false), best)
		greedy.add(plan.game.truly(plan.start, plan.game.greedy, map[state]float64{}), best)
	}
	t.Logf("used: %s, %d of them exact", used, exact)
	t.Logf("greedy alone: %s", greedy)
	if used.worst > 1.05 {
		t.Errorf("the plan that is used takes %.4f of the best", used.worst)
	}
}

// With more looks than the exact program can take, looking ahead and planning
// anew after each result stays within 5 per cent on average. The best is reckoned
// by the exact program without its limit.
func TestManyLooksAgainstTheBest(t *testing.T) {
	var ahead, anew, greedy ratios
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 2))
		p := drawPuzzle(r, 4+r.IntN(5), 7+r.IntN(2))
		plan := Next(p)
		s := &solver{game: plan.game, memo: map[state]solved{}, budget: math.MaxInt}
		best := s.cost(plan.start).minutes
		if plan.start.open != 0 {
			ahead.add(plan.game.truly(plan.start, plan.game.ahead(plan.start).choose, map[state]float64{}), best)
		}
		anew.add(truly(p, true), best)
		greedy.add(plan.game.truly(plan.start, plan.game.greedy, map[state]float64{}), best)
	}
	t.Logf("looking ahead: %s", ahead)
	t.Logf("planning anew each time: %s", anew)
	t.Logf("greedy alone: %s", greedy)
	if mean := anew.sum / float64(anew.n); mean > 1.05 || anew.worst > 1.05 {
		t.Errorf("got %s", anew)
	}
}

func drawSeeded(t *rapid.T, most int) Puzzle {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
	return drawPuzzle(r, rapid.IntRange(1, most).Draw(t, "candidates"), rapid.IntRange(0, 9).Draw(t, "looks"))
}

// The order of candidates changes nothing: neither the looks nor the minutes.
func TestOrderOfCandidatesChangesNoPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawSeeded(t, 14)
		before := Next(p)
		to := rapid.Permutation(indices(len(p.Chance))).Draw(t, "order")
		after := Next(permuted(p, to))
		if !slices.Equal(before.Order, after.Order) || math.Abs(before.Minutes-after.Minutes) > 1e-6 || math.Abs(before.Settles-after.Settles) > 1e-6 {
			t.Errorf("got %v %f %f, before %v %f %f", after.Order, after.Minutes, after.Settles, before.Order, before.Minutes, before.Settles)
		}
	})
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func permuted(p Puzzle, to []int) Puzzle {
	q := Puzzle{Chance: make([]float64, len(to)), Class: make([]int, len(to))}
	for i, j := range to {
		q.Chance[j], q.Class[j] = p.Chance[i], p.Class[i]
	}
	for _, l := range p.Looks {
		l.Results = slices.Clone(l.Results)
		for r, cs := range l.Results {
			l.Results[r] = nil
			for _, c := range cs {
				l.Results[r] = append(l.Results[r], to[c])
			}
			slices.Sort(l.Results[r])
		}
		q.Looks = append(q.Looks, l)
	}
	return q
}

// A look that tells nothing apart is in no plan.
func TestLookThatTellsNothingIsNotPlanned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawSeeded(t, 12)
		idle := len(p.Looks)
		p.Looks = append(p.Looks, PuzzleLook{Name: "idle", Minutes: .01, Results: [][]int{indices(len(p.Chance)), {}}})
		if plan := Next(p); slices.Contains(plan.Order, idle) {
			t.Errorf("got %v, want it without %d", plan.Order, idle)
		}
		for i := range p.Class {
			p.Class[i] = 0
		}
		if plan := Next(p); len(plan.Order) != 0 || plan.Minutes != 0 || plan.Settles != 1 || plan.Tree(3) != nil {
			t.Errorf("one class: got %+v, want no look", plan)
		}
	})
}

// "Can't see it" never loops: on no way through the tree is a look taken twice,
// and the tree ends.
func TestCannotSeeNeverLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawSeeded(t, 10)
		var walk func(b *Branch, taken []int)
		walk = func(b *Branch, taken []int) {
			if b == nil {
				return
			}
			if slices.Contains(taken, b.Look) {
				t.Fatalf("look %d is taken again after %v", b.Look, taken)
			}
			if len(b.Results) != len(p.Looks[b.Look].Results) || len(b.Left) < 2 || b.Minutes < p.Looks[b.Look].Minutes-tiny {
				t.Fatalf("got %+v", b)
			}
			taken = append(slices.Clone(taken), b.Look)
			walk(b.CannotSee, taken)
			for _, next := range b.Results {
				walk(next, taken)
			}
		}
		plan := Next(p)
		walk(plan.Tree(4), nil)
		if len(plan.Order) > 0 && plan.Tree(1).Look != plan.Order[0] {
			t.Errorf("the tree begins with %d, the order with %d", plan.Tree(1).Look, plan.Order[0])
		}
	})
}

// No order of looks changes the chance that one class is left in the end.
func TestSettlesDoesNotHangOnTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 4))
		plan := Next(drawPuzzle(r, 2+r.IntN(6), 1+r.IntN(4)))
		if plan.start.open == 0 || !plan.Exact {
			return
		}
		last := func(at state) int {
			l := -1
			for i := range bitsOf(at.open) {
				l = i
			}
			return l
		}
		var settles func(at state) float64
		settles = func(at state) float64 {
			if at.open == 0 {
				return yes(plan.game.oneClass(at.left))
			}
			sum, w := 0.0, plan.game.weights(at)
			for _, n := range plan.game.outcomes(at, last(at), &w) {
				sum += n.p * settles(n.at)
			}
			return sum
		}
		if got := settles(plan.start); math.Abs(got-plan.Settles) > 1e-9 {
			t.Errorf("got %f by the dearest first, want %f", got, plan.Settles)
		}
	})
}

// Puzzles beyond the bounds are cut, not refused.
func TestHugePuzzle(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	p := drawPuzzle(r, 90, 80)
	p.Chance[3] = 0
	plan := Next(p)
	if plan.Exact || len(plan.Order) == 0 || plan.Minutes <= 0 {
		t.Errorf("got %+v", plan)
	}
	if b := plan.Tree(2); b == nil || len(b.Left) != maxInGame {
		t.Errorf("got %+v", b)
	}
}

func TestNextByHand(t *testing.T) {
	split := [][]int{{0}, {1}}
	tests := []struct {
		name    string
		looks   []PuzzleLook
		order   []int
		minutes float64
	}{
		{"nothing to look at", nil, nil, 0},
		{"one look", []PuzzleLook{{Minutes: 2, CannotSee: .1, Results: split}}, []int{0}, 2},
		{"the dearer one only where the cheaper is not seen", []PuzzleLook{{Minutes: 10, Results: split}, {Minutes: 2, CannotSee: .1, Results: split}}, []int{1, 0}, 3},
		{"a cheap one that is hardly ever seen comes last", []PuzzleLook{{Minutes: 1, CannotSee: .9, Results: split}, {Minutes: 5, Results: split}}, []int{1, 0}, 5},
		{"a candidate under no result is under all", []PuzzleLook{{Minutes: 3, Results: [][]int{{0}, {}}}}, []int{0}, 3},
		{"a tie goes by name", []PuzzleLook{{Name: "b", Minutes: 1, Results: split}, {Name: "a", Minutes: 1, Results: split}}, []int{1, 0}, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			plan := Next(Puzzle{Chance: []float64{.9, .8}, Class: []int{7, 3}, Looks: tt.looks})
			if !slices.Equal(plan.Order, tt.order) || math.Abs(plan.Minutes-tt.minutes) > 1e-9 {
				t.Errorf("got %v in %f minutes, want %v in %f", plan.Order, plan.Minutes, tt.order, tt.minutes)
			}
		})
	}
}
