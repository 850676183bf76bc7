package indexsuite

import (
	"context"
	"slices"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

func ranking(t *testing.T, open Open) {
	t.Run("number, beginning, code, type, word", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1,
			app.Document{Key: "AWORD", Numbers: []string{"A-WORD"}, Names: []string{"ZQ20 bolt"}},
			app.Document{Key: "BTYPE", Numbers: []string{"B-TYPE"}, Types: []string{"mount"}},
			app.Document{Key: "CCODE", Numbers: []string{"C-CODE"}, Engines: []string{"ZQ20"}, Names: []string{"a b c d e f g"}},
			app.Document{Key: "DMODEL", Numbers: []string{"D-MODEL"}, ModelCodes: []string{"ZQ20"}},
			app.Document{Key: "ZQ201", Numbers: []string{"ZQ20-1"}},
			app.Document{Key: "ZQ20", Numbers: []string{"ZQ20"}, Names: []string{"a b c d e f g h"}},
		)
		q := parse(t, "zq20")
		q.Terms[0].Type = "mount"
		got, wanted := searchQuery(t, x, q), []string{"ZQ20", "ZQ201", "CCODE", "DMODEL", "BTYPE", "AWORD"}
		if !slices.Equal(got, wanted) {
			t.Errorf("got %q, want %q", got, wanted)
		}
	})
	t.Run("a number outranks many rare words", func(t *testing.T) {
		x := newIndex(t, open)
		names := []string{"red green blue violet 98765"}
		apply(t, x, 1,
			app.Document{Key: "AAA", Numbers: []string{"AAA"}, Names: names},
			app.Document{Key: "98765", Numbers: []string{"98765"}, Names: []string{"red green blue violet", "and much more that makes the text long"}})
		want(t, x, "98765 red green blue violet", "98765", "AAA")
	})
	t.Run("fewer words before many", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1,
			app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{"radiator cap with seal and spring"}},
			app.Document{Key: "B1", Numbers: []string{"B1"}, Names: []string{"radiator"}})
		want(t, x, "radiator", "B1", "A1")
	})
	t.Run("of one part type those whose words say it first", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1,
			app.Document{Key: "A1", Numbers: []string{"A1"}, Types: []string{"alternator"}},
			app.Document{Key: "B1", Numbers: []string{"B1"}, Names: []string{"dynamo"}},
			app.Document{Key: "C1", Numbers: []string{"C1"}, Types: []string{"alternator"}, Names: []string{"dynamo, new and in its box"}})
		q := parse(t, "dynamo").Resolve(func(string) (string, bool) { return "alternator", true })
		if got, wanted := searchQuery(t, x, q), []string{"C1", "A1", "B1"}; !slices.Equal(got, wanted) {
			t.Errorf("got %q, want %q", got, wanted)
		}
	})
	t.Run("a filter does not rank", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1,
			app.Document{Key: "B1", Numbers: []string{"B1"}, Types: []string{"alternator"}, Names: []string{"one"}},
			app.Document{Key: "A1", Numbers: []string{"A1"}, Types: []string{"alternator"}, Names: []string{"one two three"}})
		want(t, x, "type:alternator", "A1", "B1")
	})
	t.Run("ties by key, however they came", func(t *testing.T) { ties(t, open) })
}

// ties writes many equal documents in an order that is not that of their keys,
// in several batches, and wants the first by key.
func ties(t *testing.T, open Open) {
	x := newIndex(t, open)
	var keys []string
	for i := range 60 {
		d := numbered("T-" + string(rune('A'+i*7%26)) + string(rune('A'+i*11%26)))
		d.Names = []string{"washer"}
		keys = append(keys, d.Key)
		apply(t, x, int64(i+1), d)
	}
	slices.Sort(keys)
	keys = slices.Compact(keys)
	hits, count, err := x.Search(context.Background(), parse(t, "washer"), 5)
	if err != nil {
		t.Fatal(err)
	}
	if count != len(keys) {
		t.Errorf("count: got %d, want %d", count, len(keys))
	}
	got := []string{}
	for _, h := range hits {
		got = append(got, h.Key)
	}
	if !slices.Equal(got, keys[:5]) {
		t.Errorf("got %q, want %q", got, keys[:5])
	}
	for _, limit := range []int{0, -1} {
		hits, count, err := x.Search(context.Background(), query.Query{Terms: parse(t, "washer").Terms}, limit)
		if err != nil || len(hits) != 0 || count != len(keys) {
			t.Errorf("limit %d: got %d hits of %d (%v), want 0 of %d", limit, len(hits), count, err, len(keys))
		}
	}
	if hits, count, err := x.Search(context.Background(), query.Query{}, 5); err != nil || len(hits) != 0 || count != 0 {
		t.Errorf("no terms: got %d hits of %d (%v), want none", len(hits), count, err)
	}
}
