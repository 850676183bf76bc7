package fit

import (
	"math"
	"slices"
	"strings"
)

// strongest is how many trails the exact search looks at.
const strongest = 12

// weigh finds the trails that share no source pairwise and have the greatest
// sum of log-odds, marks them as counted and gives the confidence in
// thousandths, rounded down. The choice is exact over the twelve strongest
// trails, ties by id, after leaving out those that can never be part of a
// better choice (another trail at least as strong needs no source beyond
// theirs); that keeps a further statement in favour from lowering anything.
func weigh(trails []*trail) (confidence int, counted []*trail) {
	pool := undominated(trails)
	if len(pool) > strongest {
		pool = pool[:strongest]
	}
	best, bestSum := 0, -1.0
	for set := 1; set < 1<<len(pool); set++ {
		if sum, ok := logOdds(pool, set); ok && sum > bestSum+1e-12 {
			best, bestSum = set, sum
		}
	}
	if best == 0 {
		return 0, nil
	}
	for i, t := range pool {
		if best&(1<<i) != 0 {
			counted = append(counted, t)
		}
	}
	return thousandths(1 / (1 + math.Exp(-bestSum))), counted
}

// logOdds sums a choice of trails; ok is false where two share a source.
func logOdds(pool []*trail, set int) (sum float64, ok bool) {
	used := map[string]bool{}
	for i, t := range pool {
		if set&(1<<i) == 0 {
			continue
		}
		for _, s := range t.sources {
			if used[s] {
				return 0, false
			}
			used[s] = true
		}
		sum += math.Log(t.Reliability / (1 - t.Reliability))
	}
	return sum, true
}

// undominated sorts trails by strength, ties by id, and leaves out each one for
// which an earlier trail uses no source beyond its own.
func undominated(trails []*trail) []*trail {
	var out []*trail
	for _, t := range byStrength(trails) {
		if !slices.ContainsFunc(out, func(o *trail) bool { return within(o.sources, t.sources) }) {
			out = append(out, t)
		}
	}
	return out
}

func within(small, large []string) bool {
	return !slices.ContainsFunc(small, func(s string) bool { return !slices.Contains(large, s) })
}

// thousandths rounds down; the small part takes up what logarithms lose, so
// that a single row of 0.88 prints as 0.880.
func thousandths(p float64) int { return int(math.Floor(p*1000 + 1e-6)) }

// byStrength sorts trails by strength, ties by id.
func byStrength(trails []*trail) []*trail {
	sorted := slices.Clone(trails)
	slices.SortFunc(sorted, func(a, b *trail) int {
		switch {
		case a.Reliability > b.Reliability:
			return -1
		case a.Reliability < b.Reliability:
			return 1
		}
		return strings.Compare(a.id, b.id)
	})
	return sorted
}
