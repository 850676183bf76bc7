package fulltext_test

import (
	"slices"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/statement"
	"crossbin/internal/testkit"
)

// With a real book: what a list says is found after the catch-up, what it no
// longer says is not, and an undo brings it back.
func TestIndexFollowsTheBook(t *testing.T) {
	shop := testkit.NewShop(t)
	dir := t.TempDir()
	x := open(t, dir, 0)
	t.Cleanup(func() { _ = x.Close() })
	shop.Index = x
	step := func(what string, finds map[string][]string) {
		t.Helper()
		if err := shop.CatchUp(t.Context()); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		for text, want := range finds {
			got, err := shop.Find(t.Context(), text, 10)
			if err != nil {
				t.Fatalf("%s: %q: %v", what, text, err)
			}
			var keys []string
			for _, h := range got.Hits {
				keys = append(keys, h.Key)
			}
			if !slices.Equal(keys, want) {
				t.Errorf("%s: %q: got %q, want %q", what, text, keys, want)
			}
		}
	}
	step("empty", map[string][]string{"98760-50090": nil})
	shop.List("parts", statement.OwnList, `
		part number | type       | description        | model code | engine  | qty | bin
		98760-50090 | alternator | Lichtmaschine 12V  | KV31       | ZQ20-TE | 2   | A1
		98761-50010 | starter    | Starter 1.4 kW     | KV31       | ZQ20-TE | 1   | A2`)
	step("first version", map[string][]string{
		"98760-50090": {"9876050090"}, "zq20te": {"9876050090", "9876150010"}, "lichtmaschine": {"9876050090"}, "オルタネーター kv31": {"9876050090"}})
	got, err := shop.Find(t.Context(), "98760-50090", 1)
	if err != nil || len(got.Hits) != 1 || got.Hits[0].Free != 2 || got.Hits[0].Type != "alternator" {
		t.Errorf("got %+v (%v), want an alternator of which 2 are free", got.Hits, err)
	}
	second := shop.List("parts", statement.OwnList, `
		part number | type       | description        | model code | engine  | qty | bin
		98760-50091 | alternator | Alternator 90 A    | KV31       | ZQ20-TE | 2   | A1
		98761-50010 | starter    | Anlasser           | KV31       | ZQ20-TE | 1   | A2`)
	step("second version", map[string][]string{
		"lichtmaschine 12v": nil, "98760-50091": {"9876050091"}, "anlasser 1.4": nil, "starter zq20te": {"9876150010"}})
	if _, err := shop.Undo(t.Context(), second.Batch, app.Actor{Who: "test"}); err != nil {
		t.Fatal(err)
	}
	step("taken back", map[string][]string{"lichtmaschine 12v": {"9876050090"}, "98760-50091": nil})

	revision := x.Revision()
	if err := x.Close(); err != nil {
		t.Fatal(err)
	}
	x = open(t, dir, revision-1) // a backup of the book was put back
	shop.Index = x
	step("after a rebuild", map[string][]string{"98760-50090": {"9876050090"}, "98760-50091": nil})
	if x.Revision() != revision {
		t.Errorf("got revision %d, want %d", x.Revision(), revision)
	}
}
