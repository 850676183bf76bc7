package numbers

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
)

var someKeys = rapid.SliceOf(rapid.OneOf(
	rapid.StringMatching(`[01AB]{1,4}`),
	rapid.StringMatching(`98760[0-9]{2,5}`), // many with the same first eight
	rapid.StringMatching(`[0-9A-Z]{0,60}`),
	rapid.StringMatching(`9[ЖЯ]{1,3}`),
))

// An index answers as a plain sorted list of the keys does.
func TestIndexIsASortedList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		keys := someKeys.Draw(t, "keys")
		x := Build(keys, 7)
		list := slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(keys))), func(k string) bool { return k == "" })
		if x.Len() != len(list) || x.Revision() != 7 {
			t.Fatalf("got %d keys of revision %d, want %d of 7", x.Len(), x.Revision(), len(list))
		}
		for _, k := range append(someKeys.Draw(t, "asked"), keys...) {
			if got, want := x.Exact(k), slices.Contains(list, k); got != want {
				t.Fatalf("%q: got %v, want %v", k, got, want)
			}
			prefix := k[:min(len(k), rapid.IntRange(0, 9).Draw(t, "length"))]
			limit := rapid.IntRange(0, 4).Draw(t, "limit")
			checkPrefix(t, x, list, prefix, limit)
		}
	})
}

func checkPrefix(t *rapid.T, x *Index, list []string, prefix string, limit int) {
	var want []string
	for _, k := range list {
		if strings.HasPrefix(k, prefix) {
			want = append(want, k)
		}
	}
	shown := min(limit, len(want))
	got, rest := x.Prefix(prefix, limit)
	if !slices.Equal(got, want[:shown]) || rest != len(want)-shown {
		t.Fatalf("prefix %q, limit %d: got %v and %d more, want %v and %d more", prefix, limit, got, rest, want[:shown], len(want)-shown)
	}
}

// More keys than one head speaks for, most with the same first eight characters:
// the search behind the heads meets every border.
func TestExactAcrossHeads(t *testing.T) {
	var keys []string
	for i := range 2000 {
		keys = append(keys, fmt.Sprintf("98760500%02d", i%100), fmt.Sprintf("987%07d", i*13))
	}
	x := Build(keys, 1)
	for i := range 100_000 {
		key := fmt.Sprintf("987%07d", i)
		if got, want := x.Exact(key), i%13 == 0 && i/13 < 2000; got != want && !strings.HasPrefix(key, "98760500") {
			t.Fatalf("%s: got %v, want %v", key, got, want)
		}
	}
	for _, k := range keys {
		if !x.Exact(k) {
			t.Fatalf("%s is not there", k)
		}
	}
	if got, rest := x.Prefix("98760500", 3); len(got) != 3 || got[2] != "9876050002" || rest != 97 {
		t.Errorf("got %v and %d more, want the first three of a hundred", got, rest)
	}
}

// A key needs its characters, eight bytes for its mask and little else.
func TestMemoryPerKey(t *testing.T) {
	x := Build(append(newMaker(3).numbers(20_000), "9Ж"), 1)
	x.Prepare(model())
	perKey, floor := float64(x.Bytes())/float64(x.Len()), float64(packedFloor(x))/float64(x.Len())
	if perKey > floor+8+0.5 {
		t.Errorf("%.1f bytes a key, the characters alone need %.1f", perKey, floor)
	}
}

// A half-legible number typed with letters for zeros is found, never as exact,
// and its places can be marked (9?760-5OO9O for 98760-50090).
func TestHalfLegibleNumber(t *testing.T) {
	x := Build([]string{"9876050090", "9876050091", "9976050090", "1234567890", "987605009"}, 1)
	r, c := read("9?760-5OO9O"), model()
	best, rest, err := x.Matches(context.Background(), r, c, 50)
	if err != nil {
		t.Fatal(err)
	}
	if rest != 0 || len(best) < 2 || best[0].Key != "9876050090" || best[1].Key != "9976050090" || best[0].LogLikelihood != best[1].LogLikelihood {
		t.Fatalf("got %v and %d more, want the two keys that the unread place allows, equal", best, rest)
	}
	if part.Exact(r, best[0].Key) {
		t.Error("a look-alike counts as exact")
	}
	confused := 0
	for _, m := range part.Align(r, best[0].Key, c) {
		confused += count(m.Kind == part.MarkConfused)
	}
	if confused != 3 {
		t.Errorf("%d places marked, want three", confused)
	}
}

// How far the list goes: a few characters forgive a look-alike only, more of them
// an error, and a good match ends the list sooner.
func TestBudget(t *testing.T) {
	costs := model().Costs()
	anyError := min(costs.Dropped, costs.Doubled, costs.Swapped, costs.Other)
	for _, k := range []struct {
		name, text string
		best       float64
		above, not float64
	}{
		{"two characters forgive nothing", "9?8*", 0, 0, costs.Confused},
		{"three forgive one look-alike", "9?8*7", 0, costs.ConfusedMost, anyError},
		{"five forgive one error", "98765", 0, costs.Swapped, costs.Confused + costs.Dropped},
		{"behind a look-alike more is shown", "9876543210", costs.Confused, costs.Confused + costs.Swapped, 0},
		{"ten forgive three other characters where nothing better is there", "9876543210", 1e9, 3 * costs.Other, 0},
	} {
		got := Budget(read(k.text), k.best)
		if got < k.above || k.not > 0 && got >= k.not {
			t.Errorf("%s: got %.2f, want at least %.2f and less than %.2f", k.name, got, k.above, k.not)
		}
	}
}

func TestMatchesStopsWithItsContext(t *testing.T) {
	x := Build(append(newMaker(4).numbers(5000), "9Ж"), 1)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := x.Matches(ctx, read("98760*"), model(), 50); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want the context's error", err)
	}
	if _, _, err := Build([]string{"9Ж"}, 1).Matches(ctx, read("98760*"), model(), 50); !errors.Is(err, context.Canceled) {
		t.Errorf("odd keys alone: got %v, want the context's error", err)
	}
}

// An index is asked by many at once, and with another error model in between.
func TestMatchesByManyAtOnce(t *testing.T) {
	m := newMaker(5)
	keys := m.numbers(2000)
	x := Build(keys, 1)
	few, err := part.NewConfusions([][]rune{[]rune("0O")})
	if err != nil {
		t.Fatal(err)
	}
	texts := make([]string, 60)
	for i := range texts {
		texts[i] = m.misread(keys[m.IntN(len(keys))], 1, lists[0].alike())
	}
	var wait sync.WaitGroup
	for n := range 4 {
		wait.Go(func() {
			for i, text := range texts {
				c := model()
				if (i+n)%3 == 0 {
					c = few
				}
				check(t, x, keys, text, c, 5)
			}
		})
	}
	wait.Wait()
}

// Whatever look-alikes a model has, many classes or few, nothing is left out.
func TestMatchesWithOtherModels(t *testing.T) {
	m := newMaker(6)
	keys := m.numbers(1500)
	x := Build(keys, 1)
	for _, groups := range [][]string{nil, {"0123456789"}, {"01", "AB"}, {"0ABCDEFGHIJKLMNOPQRSTUVWXYZ", "123456789"}} {
		var runes [][]rune
		for _, g := range groups {
			runes = append(runes, []rune(g))
		}
		c, err := part.NewConfusions(runes)
		if err != nil {
			t.Fatal(err)
		}
		for range 100 {
			text := m.misread(keys[m.IntN(len(keys))], m.IntN(3), lists[1].alike())
			if m.IntN(2) == 0 {
				text = m.obscure(text, m.IntN(4), m.IntN(2) == 0)
			}
			check(t, x, keys, text, c, 10)
		}
	}
}

func TestEmptyIndex(t *testing.T) {
	x := Build(nil, 3)
	best, rest, err := x.Matches(context.Background(), read("98760"), model(), 5)
	if len(best) != 0 || rest != 0 || err != nil || x.Exact("") || x.Len() != 0 {
		t.Errorf("an empty index finds %v, %d, %v", best, rest, err)
	}
}
