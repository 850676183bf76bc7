package fulltext

import (
	"context"
	"fmt"
	"iter"
	"log/slog"
	"math/rand/v2"
	"testing"

	"github.com/blevesearch/bleve/v2"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// made gives n documents like those of a large shop: three shapes of numbers, 50
// part types, skewed words, codes of engines and models. The seed is fixed.
func made(n int) iter.Seq2[app.Document, error] {
	return func(yield func(app.Document, error) bool) {
		r := rand.New(rand.NewPCG(7, 11))
		for i := range n {
			if !yield(madeDocument(r, i), nil) {
				return
			}
		}
	}
}

func madeDocument(r *rand.Rand, i int) app.Document {
	word := func() string { return fmt.Sprintf("word%d", int(3000*r.Float64()*r.Float64()*r.Float64())) }
	number := fmt.Sprintf("%05d-%05d", 10000+r.IntN(300), i%100000)
	switch {
	case i%20 >= 13:
		number = fmt.Sprintf("QRA%06d", i)
	case i%20 >= 8:
		number = fmt.Sprintf("A %03d %03d %02d %02d", r.IntN(40), i/1000, i%100, r.IntN(100))
	}
	key := query.Code(number)
	return app.Document{
		Key: key, Numbers: []string{number},
		Makers:     []string{fmt.Sprintf("Maker %d", int(200*r.Float64()*r.Float64()))},
		Types:      []string{fmt.Sprintf("type%d", r.IntN(50))},
		Names:      []string{word() + " " + word() + " " + word()},
		Engines:    []string{fmt.Sprintf("ZQ%d", r.IntN(800))},
		ModelCodes: []string{fmt.Sprintf("KV%d", r.IntN(5000)), fmt.Sprintf("KV%d", r.IntN(5000))},
	}
}

func quiet() *slog.Logger { return slog.New(slog.DiscardHandler) }

const benchDocuments = 100_000

func benchIndex(b *testing.B) *Index {
	b.Helper()
	x, _, err := Open(b.Context(), b.TempDir(), 1, quiet())
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = x.Close() })
	if err := x.Rebuild(b.Context(), made(benchDocuments), 1); err != nil {
		b.Fatal(err)
	}
	return x
}

// BenchmarkSearch holds each kind of question against the bare engine query
// beside it.
func BenchmarkSearch(b *testing.B) {
	x := benchIndex(b)
	questions := []string{"98?", "word3", "word3 word40", "word3 type:type7", "word3 word40 type:type7", "QRA000013", "QRA", "100", "1000", "A 001 002 08 02", "zq77 word3", "nothingofthekind", "word3 type7"}
	for _, text := range questions {
		q, err := query.Parse(text)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(text, func(b *testing.B) {
			count := 0
			for b.Loop() {
				if _, count, err = x.Search(context.Background(), q, 20); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(count), "hits")
		})
	}
	bare := map[string][]string{"word3": {"word3"}, "word3 word40": {"word3", "word40"}}
	for name, words := range bare {
		b.Run("bare "+name, func(b *testing.B) {
			for b.Loop() {
				bareSearch(b, x, words, "")
			}
		})
		b.Run("bare "+name+" with type", func(b *testing.B) {
			for b.Loop() {
				bareSearch(b, x, words, "TYPE7")
			}
		})
	}
}

func bareSearch(b *testing.B, x *Index, words []string, typ string) {
	c := bleve.NewConjunctionQuery()
	for _, w := range words {
		c.AddQuery(term(fieldWord, w))
	}
	if typ != "" {
		c.AddQuery(term(fieldType, typ))
	}
	if _, err := x.engine.Search(bleve.NewSearchRequestOptions(c, 20, 0, false)); err != nil {
		b.Fatal(err)
	}
}

func BenchmarkRebuild(b *testing.B) {
	x, _, err := Open(b.Context(), b.TempDir(), 1, quiet())
	if err != nil {
		b.Fatal(err)
	}
	defer x.Close()
	for b.Loop() {
		if err := x.Rebuild(b.Context(), made(benchDocuments), 1); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*benchDocuments), "µs/document")
}
