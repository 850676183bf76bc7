package fit

import "math"

// Limits of looking ahead (found by trying, against the exact program): how many
// looks are tried first and later on, the chance of a position below which the
// play goes on greedily, and the one below which it is followed no further. What
// lies beyond that counts as its next look and as not settled.
const (
	aheadFirst     = 6
	aheadLater     = 3
	aheadReach     = 0.05
	leastReach     = 0.002
	leastReachMany = 0.02 // where there are many candidates, which are played greedily throughout
)

// aheadGuide is the greedy choice with a few steps of looking ahead where a
// position is likely to come about.
type aheadGuide struct {
	*game
	best     map[state]solved
	greedily map[state]followed
	guided   map[state]followed
	least    float64
}

func (g *game) ahead(start state) *aheadGuide {
	a := &aheadGuide{g, map[state]solved{}, map[state]followed{}, map[state]followed{}, leastReach}
	if len(g.chance) > exactCandidates {
		a.least = leastReachMany
		return a
	}
	a.search(start, 1)
	return a
}

func (a *aheadGuide) choose(at state) int {
	if v, ok := a.best[at]; ok {
		return v.look
	}
	return a.greedy(at)
}

func (a *aheadGuide) cost(at state) followed { return a.follow(at, 1, a.choose, a.guided) }

// search finds the best of the most promising looks in a position that comes
// about with some chance, and gives the expected minutes to the end.
func (a *aheadGuide) search(at state, reach float64) float64 {
	if at.open == 0 {
		return 0
	}
	if reach < aheadReach {
		return a.follow(at, reach, a.greedy, a.greedily).minutes
	}
	if v, ok := a.best[at]; ok {
		return v.minutes
	}
	best, w, tried := solved{followed: followed{minutes: math.Inf(1)}}, a.weights(at), a.ranked(at)
	width := aheadLater
	if reach == 1 {
		width = aheadFirst
	}
	for _, l := range tried[:min(len(tried), width)] {
		v := a.looks[l].minutes
		for _, n := range a.outcomes(at, l, &w) {
			v += n.p * a.search(n.at, reach*n.p)
		}
		if v < best.minutes-tiny {
			best.minutes, best.look = v, l
		}
	}
	a.best[at] = best
	return best.minutes
}

// follow reckons a way of choosing from a position that comes about with some
// chance to its end.
func (a *aheadGuide) follow(at state, reach float64, choose func(state) int, memo map[state]followed) followed {
	if at.open == 0 {
		return followed{0, yes(a.oneClass(at.left))}
	}
	if f, ok := memo[at]; ok {
		return f
	}
	l := choose(at)
	f := followed{minutes: a.looks[l].minutes}
	if reach < a.least {
		return f
	}
	w := a.weights(at)
	for _, n := range a.outcomes(at, l, &w) {
		next := a.follow(n.at, reach*n.p, choose, memo)
		f.minutes += n.p * next.minutes
		f.settles += n.p * next.settles
	}
	memo[at] = f
	return f
}
