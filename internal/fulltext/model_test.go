package fulltext_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/app"
	"crossbin/internal/query"
	"crossbin/internal/testkit/fakeindex"
)

// drawTexts draws a few texts from a vocabulary so small that they meet.
func drawTexts(t *rapid.T, name string, from ...string) []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(from), 0, 3, rapid.ID).Draw(t, name)
}

func drawDocument(t *rapid.T) app.Document {
	number := rapid.StringMatching(`[AB1]{2,4}-?[12]{0,7}`).Draw(t, "number")
	d := app.Document{
		Key:        query.Code(number),
		Makers:     drawTexts(t, "makers", "Orvane Motor", "Fenwald", "motor"),
		Types:      drawTexts(t, "types", "water pump", "pump", "alternator"),
		Names:      drawTexts(t, "names", "pump", "water pump 12V", "冷却水ポンプ", "für A-11", "Pumps"),
		Engines:    drawTexts(t, "engines", "AB11", "A-1", "B2"),
		ModelCodes: drawTexts(t, "codes", "AB11W", "BB2"),
		Models:     drawTexts(t, "models", "Pump Van", "A 112"),
	}
	if rapid.IntRange(0, 9).Draw(t, "there") > 0 {
		d.Numbers = []string{number}
	}
	return d
}

func drawQuery(t *rapid.T) (query.Query, bool) {
	word := rapid.OneOf(rapid.SampledFrom([]string{"pump", "pum", "water", "冷却", "ポ", "fur", "12v", "motor", "type:pump", `type:"water pump"`,
		"maker:motor", "engine:ab11", "model:pumpvan", "A", `"water pump"`, "a11*", "a?1"}),
		rapid.StringMatching(`[ab1]{1,4}-?[12]{0,7}`))
	text := ""
	for range rapid.IntRange(1, 4).Draw(t, "terms") {
		text += word.Draw(t, "term") + " "
	}
	q, err := query.Parse(text)
	named := func(text string) (string, bool) { return "water pump", text == "water" || text == "pump water" }
	return q.Resolve(named), err == nil
}

func keys(t *rapid.T, x app.Index, q query.Query) []string {
	hits, count, err := x.Search(context.Background(), q, 100)
	if err != nil {
		t.Fatalf("%s: %v", q, err)
	}
	out := []string{}
	for _, h := range hits {
		out = append(out, h.Key)
	}
	if count != len(out) {
		t.Fatalf("%s: count %d, %d hits", q, count, len(out))
	}
	slices.Sort(out)
	return out
}

// replace gives both indexes these documents and no others: mostly by a batch,
// sometimes by a rebuild.
func replace(t *rapid.T, x app.Index, before, docs map[string]app.Document, revision int64) {
	ctx := context.Background()
	if rapid.IntRange(0, 9).Draw(t, "rebuild") == 0 {
		err := x.Rebuild(ctx, func(yield func(app.Document, error) bool) {
			for _, d := range docs {
				if !yield(d, nil) {
					return
				}
			}
		}, revision)
		if err != nil {
			t.Fatal(err)
		}
		return
	}
	var batch []app.Document
	for key := range before {
		batch = append(batch, app.Document{Key: key})
	}
	for _, d := range docs {
		batch = append(batch, d)
	}
	if err := x.Apply(ctx, batch, revision); err != nil {
		t.Fatal(err)
	}
}

// The engine finds what plain code finds that looks at every document, after any
// order of writing, removing and rebuilding.
func TestFindsWhatPlainCodeFinds(t *testing.T) {
	x := open(t, t.TempDir(), 1)
	t.Cleanup(func() { _ = x.Close() })
	revision, before := int64(0), map[string]app.Document{}
	rapid.Check(t, func(t *rapid.T) {
		docs := map[string]app.Document{}
		for _, d := range rapid.SliceOfN(rapid.Custom(drawDocument), 1, 15).Draw(t, "documents") {
			docs[d.Key] = d
		}
		revision++
		replace(t, x, before, docs, revision)
		plain := fakeindex.New()
		replace(t, plain, nil, docs, revision)
		before = docs
		for range 20 {
			q, ok := drawQuery(t)
			if !ok {
				continue
			}
			if got, want := keys(t, x, q), keys(t, plain, q); !slices.Equal(got, want) {
				t.Fatalf("%s %+v: got %q, want %q", q, q.Terms, got, want)
			}
		}
	})
}
