package statement

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLearn(t *testing.T) {
	tests := []struct {
		rule  string
		tally Tally
		start float64
		want  float64
	}{
		{"nothing learned", Tally{}, .75, .75},
		{"twenty right", Tally{Right: 20}, .75, .875},
		{"twenty wrong", Tally{Wrong: 20}, .75, .375},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			if got := tt.tally.Learn(tt.start); math.Abs(got-tt.want) > 1e-12 {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// A failed fitting is shared over the trail's sources in proportion to 1-r, and
// counts one in all.
func TestRefutedIsShared(t *testing.T) {
	ts := Tallies{}
	ts.Refuted("starter", []Trailed{{"sure", .9}, {"unsure", .6}})
	sure, unsure := ts[TallyKey{"sure", "starter"}].Wrong, ts[TallyKey{"unsure", "starter"}].Wrong
	if math.Abs(sure-.2) > 1e-12 || math.Abs(unsure-.8) > 1e-12 {
		t.Errorf("got %v and %v, want .2 and .8", sure, unsure)
	}
	ts.Refuted("starter", []Trailed{{"certain", 1}})
	if got := ts[TallyKey{"certain", "starter"}].Wrong; got != 0 {
		t.Errorf("a certain source alone: got %v", got)
	}
}

// Five sources of equal start weight and true rates .95 .85 .75 .65 .55: after
// 200 outcomes the learned order agrees with the true one (Kendall's tau at
// least .8 in 19 of 20 seeds), and before the first it says nothing (below .5).
func TestLearningFindsTheOrder(t *testing.T) {
	rates := []float64{.95, .85, .75, .65, .55}
	names := []string{"a", "b", "c", "d", "e"}
	good := 0
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 7))
		ts := Tallies{}
		if tau := kendall(ts, names); tau >= .5 {
			t.Errorf("before the first outcome: tau %v", tau)
		}
		for i := range 200 {
			s := i % len(rates)
			trail := []Trailed{{names[s], ts[TallyKey{names[s], "starter"}].Learn(.75)}}
			if r.Float64() < rates[s] {
				ts.Proved("starter", trail)
			} else {
				ts.Refuted("starter", trail)
			}
		}
		if kendall(ts, names) >= .8 {
			good++
		}
	}
	t.Logf("tau at least .8 in %d of 20 seeds", good)
	if good < 19 {
		t.Errorf("got %d of 20 seeds, want 19", good)
	}
}

// kendall is tau-a of the learned order against the order of names; ties count
// for neither side.
func kendall(ts Tallies, names []string) float64 {
	sum, pairs := 0, 0
	for i := range names {
		for j := i + 1; j < len(names); j++ {
			pairs++
			a, b := ts[TallyKey{names[i], "starter"}].Learn(.75), ts[TallyKey{names[j], "starter"}].Learn(.75)
			switch {
			case a > b:
				sum++
			case a < b:
				sum--
			}
		}
	}
	return float64(sum) / float64(pairs)
}
