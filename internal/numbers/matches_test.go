package numbers

import (
	"context"
	"math"
	"slices"
	"testing"

	"crossbin/internal/part"
)

// everyKey is the definition of Matches: every key scored, no question asked
// before.
func everyKey(keys []string, r part.Reading, c part.Confusions, limit int) (best []Match, rest int) {
	all := make([]Match, 0, len(keys))
	top := math.Inf(-1)
	for _, k := range keys {
		ll := part.LogLikelihood(r, k, c)
		all = append(all, Match{k, ll})
		top = max(top, ll)
	}
	perfect := r.Perfect(c)
	floor := perfect - Budget(r, perfect-top) - rounding
	all = slices.DeleteFunc(all, func(m Match) bool { return m.LogLikelihood < floor })
	slices.SortFunc(all, order)
	best = all[:min(limit, len(all))]
	return best, len(all) - len(best)
}

// check holds one question to the definition.
func check(t *testing.T, x *Index, keys []string, text string, c part.Confusions, limit int) {
	t.Helper()
	r, err := part.ParseReading(text)
	if err != nil {
		return
	}
	best, rest, err := x.Matches(context.Background(), r, c, limit)
	if err != nil {
		t.Error(err)
	}
	wantBest, wantRest := everyKey(keys, r, c, limit)
	if !slices.Equal(best, wantBest) || rest != wantRest {
		t.Errorf("%s, limit %d: got %v and %d more, want %v and %d more", text, limit, best, rest, wantBest, wantRest)
	}
}

// The questions asked first never leave out what scoring every key would find.
func TestMatchesIsTheScoreOfEveryKey(t *testing.T) {
	m := newMaker(1)
	c := model()
	keys := append(m.numbers(3000), "9876050Ж90", "ЖЯ12345", "9", "98", "123456789012345678901234567890123456789012345678901234567890")
	x := Build(keys, 1)
	alike := lists[2].alike()
	for range 800 {
		key := keys[m.IntN(len(keys))]
		text := key
		if m.IntN(8) > 0 && len(key) < 30 && key[0] < 0x80 {
			text = m.misread(key, m.IntN(4), alike)
		}
		if m.IntN(2) == 0 && text[0] < 0x80 && len(text) > 4 {
			text = m.obscure(text, m.IntN(len(text)), m.IntN(2) == 0)
		}
		check(t, x, keys, text, c, []int{0, 1, 5, 50}[m.IntN(4)])
	}
}
