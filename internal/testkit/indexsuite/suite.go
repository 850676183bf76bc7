package indexsuite

import (
	"context"
	"iter"
	"slices"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// Open opens the index in a folder for a book at a revision; a folder that was
// never opened holds an empty one.
type Open func(t *testing.T, folder string, bookRevision int64) app.Index

// Run holds an index against all that app.Index promises.
func Run(t *testing.T, open Open) {
	t.Run("finding", func(t *testing.T) { finding(t, open) })
	t.Run("filters", func(t *testing.T) { filters(t, open) })
	t.Run("ranking", func(t *testing.T) { ranking(t, open) })
	t.Run("applying", func(t *testing.T) { applying(t, open) })
	t.Run("rebuilding", func(t *testing.T) { rebuilding(t, open) })
	t.Run("reopening", func(t *testing.T) { reopening(t, open) })
	t.Run("side by side", func(t *testing.T) { sideBySide(t, open) })
}

// newIndex opens an index in a folder of its own.
func newIndex(t *testing.T, open Open) app.Index {
	t.Helper()
	return opened(t, open, t.TempDir(), 1)
}

func opened(t *testing.T, open Open, folder string, bookRevision int64) app.Index {
	t.Helper()
	x := open(t, folder, bookRevision)
	t.Cleanup(func() { _ = x.Close() })
	return x
}

// seq gives documents as a rebuild takes them.
func seq(docs []app.Document) iter.Seq2[app.Document, error] {
	return func(yield func(app.Document, error) bool) {
		for _, d := range docs {
			if !yield(d, nil) {
				return
			}
		}
	}
}

// numbered is a document of which only the number matters.
func numbered(number string) app.Document {
	return app.Document{Key: query.Code(number), Numbers: []string{number}}
}

func parse(t *testing.T, text string) query.Query {
	t.Helper()
	q, err := query.Parse(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return q
}

// search gives the keys of the hits, and fails where the count is another than
// that of the hits.
func search(t *testing.T, x app.Index, text string) []string {
	t.Helper()
	return searchQuery(t, x, parse(t, text))
}

func searchQuery(t *testing.T, x app.Index, q query.Query) []string {
	t.Helper()
	hits, count, err := x.Search(context.Background(), q, 100)
	if err != nil {
		t.Fatalf("search %q: %v", q, err)
	}
	if count != len(hits) {
		t.Errorf("search %q: count %d, want that of the hits, %d", q, count, len(hits))
	}
	keys := make([]string, len(hits))
	for i, h := range hits {
		keys[i] = h.Key
	}
	return keys
}

func want(t *testing.T, x app.Index, text string, keys ...string) {
	t.Helper()
	if got := search(t, x, text); !slices.Equal(got, keys) {
		t.Errorf("%q: got %q, want %q", text, got, keys)
	}
}

func apply(t *testing.T, x app.Index, revision int64, docs ...app.Document) {
	t.Helper()
	if err := x.Apply(context.Background(), docs, revision); err != nil {
		t.Fatalf("apply at %d: %v", revision, err)
	}
}

func wantRevision(t *testing.T, x app.Index, revision int64) {
	t.Helper()
	if got := x.Revision(); got != revision {
		t.Errorf("revision: got %d, want %d", got, revision)
	}
}
