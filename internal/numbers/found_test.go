package numbers

import (
	"slices"
	"testing"
)

// The rest counts what lies down to the floor, also of matches that another has
// pushed out of the best, and nothing below it.
func TestFoundCountsDownToTheFloor(t *testing.T) {
	f := found{limit: 2, perfect: -1}
	f.reset()
	for _, m := range []Match{{"D", -9}, {"A", -5}, {"C", -3}, {"E", -12}, {"B", -3}, {"F", -1}} {
		f.add(m)
	}
	for _, k := range []struct {
		floor float64
		want  []string
		rest  int
	}{
		{-20, []string{"F", "B"}, 4},
		{-9, []string{"F", "B"}, 3},
		{-2, []string{"F"}, 0},
		{0, nil, 0},
	} {
		g := found{limit: f.limit, best: slices.Clone(f.best), low: f.low, count: f.count}
		best, rest := g.list(k.floor)
		var got []string
		for _, m := range best {
			got = append(got, m.Key)
		}
		if !slices.Equal(got, k.want) || rest != k.rest {
			t.Errorf("down to %v: got %v and %d more, want %v and %d more", k.floor, got, rest, k.want, k.rest)
		}
	}
}
