package indexsuite

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"crossbin/internal/app"
)

func applying(t *testing.T, open Open) {
	ctx := context.Background()
	t.Run("an empty index stands at revision 0 and finds nothing", func(t *testing.T) {
		x := newIndex(t, open)
		wantRevision(t, x, 0)
		want(t, x, "987")
	})
	t.Run("a document replaces the one before", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{"old"}})
		apply(t, x, 2, app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{"new"}})
		want(t, x, "old")
		want(t, x, "new", "A1")
		wantRevision(t, x, 2)
	})
	t.Run("a document without numbers removes the key", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("A1"), numbered("B1"))
		apply(t, x, 2, app.Document{Key: "A1"}, app.Document{Key: "C1"})
		want(t, x, "A1")
		want(t, x, "B1", "B1")
	})
	t.Run("of several with one key the last counts", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, app.Document{Key: "A1"}, app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{"one"}},
			app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{"two"}}, numbered("B1"), app.Document{Key: "B1"})
		want(t, x, "one")
		want(t, x, "two", "A1")
		want(t, x, "B1")
	})
	t.Run("a revision without documents", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 7)
		wantRevision(t, x, 7)
	})
	t.Run("applying again does no harm", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, shop...)
		apply(t, x, 1, shop...)
		want(t, x, "98760-50090", "9876050090")
		wantRevision(t, x, 1)
	})
	t.Run("a revision never goes back", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 5)
		if err := x.Apply(ctx, []app.Document{numbered("A1")}, 4); err == nil {
			t.Error("got no error")
		}
		wantRevision(t, x, 5)
		want(t, x, "A1")
	})
	t.Run("more documents than a batch", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 3, many(2500, "first")...)
		wantRevision(t, x, 3)
		wantCount(t, x, "first", 2500)
	})
	t.Run("a context that has ended changes nothing", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("A1"))
		ended, cancel := context.WithCancel(ctx)
		cancel()
		if err := x.Apply(ended, []app.Document{numbered("B1")}, 2); !errors.Is(err, context.Canceled) {
			t.Errorf("apply: got %v, want %v", err, context.Canceled)
		}
		if _, _, err := x.Search(ended, parse(t, "A1"), 5); !errors.Is(err, context.Canceled) {
			t.Errorf("search: got %v, want %v", err, context.Canceled)
		}
		wantRevision(t, x, 1)
		want(t, x, "B1")
	})
	t.Run("after Close everything is refused", func(t *testing.T) {
		x := newIndex(t, open)
		if err := errors.Join(x.Close(), x.Close()); err != nil {
			t.Errorf("close, twice: %v", err)
		}
		_, _, err := x.Search(ctx, parse(t, "A1"), 5)
		for what, err := range map[string]error{"search": err, "apply": x.Apply(ctx, nil, 1), "rebuild": x.Rebuild(ctx, seq(nil), 1)} {
			if err == nil {
				t.Errorf("%s: got no error", what)
			}
		}
	})
}

// many gives n documents with one word in common.
func many(n int, word string) []app.Document {
	docs := make([]app.Document, n)
	for i := range docs {
		docs[i] = numbered(fmt.Sprintf("M-%06d", i))
		docs[i].Names = []string{word}
	}
	return docs
}

func wantCount(t *testing.T, x app.Index, text string, n int) {
	t.Helper()
	if _, count, err := x.Search(context.Background(), parse(t, text), 1); err != nil || count != n {
		t.Errorf("%q: got %d (%v), want %d", text, count, err, n)
	}
}

func rebuilding(t *testing.T, open Open) {
	ctx := context.Background()
	t.Run("replaces everything", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("OLD-1"))
		if err := x.Rebuild(ctx, seq(append(many(2500, "fresh"), app.Document{Key: "NOTHING"})), 9); err != nil {
			t.Fatal(err)
		}
		wantRevision(t, x, 9)
		want(t, x, "OLD1")
		want(t, x, "NOTHING")
		wantCount(t, x, "fresh", 2500)
		apply(t, x, 10, numbered("NEW-1"))
		want(t, x, "NEW1", "NEW1")
	})
	t.Run("may go back in revision", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 5, numbered("A1"))
		if err := x.Rebuild(ctx, seq(shop), 2); err != nil {
			t.Fatal(err)
		}
		wantRevision(t, x, 2)
	})
	t.Run("of nothing", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("A1"))
		if err := x.Rebuild(ctx, seq(nil), 2); err != nil {
			t.Fatal(err)
		}
		wantRevision(t, x, 2)
		want(t, x, "A1")
	})
	t.Run("an error from the documents leaves all as it was", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("A1"))
		broken := errors.New("book is gone")
		err := x.Rebuild(ctx, func(yield func(app.Document, error) bool) {
			_ = yield(numbered("B1"), nil) && yield(app.Document{}, broken)
		}, 2)
		if !errors.Is(err, broken) {
			t.Errorf("got %v, want %v", err, broken)
		}
		wantRevision(t, x, 1)
		want(t, x, "A1", "A1")
		want(t, x, "B1")
	})
	t.Run("a context that has ended leaves all as it was", func(t *testing.T) {
		x := newIndex(t, open)
		apply(t, x, 1, numbered("A1"))
		ended, cancel := context.WithCancel(ctx)
		cancel()
		if err := x.Rebuild(ended, seq(shop), 2); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v, want %v", err, context.Canceled)
		}
		want(t, x, "A1", "A1")
	})
}

func reopening(t *testing.T, open Open) {
	folder := t.TempDir()
	step := func(name string, bookRevision int64, do func(t *testing.T, x app.Index)) {
		t.Run(name, func(t *testing.T) { do(t, opened(t, open, folder, bookRevision)) })
	}
	step("first", 0, func(t *testing.T, x app.Index) { apply(t, x, 4, shop...) })
	step("all is there", 4, func(t *testing.T, x app.Index) {
		wantRevision(t, x, 4)
		want(t, x, "98760-50090", "9876050090")
	})
	step("behind the book it stays and can be caught up", 6, func(t *testing.T, x app.Index) {
		wantRevision(t, x, 4)
		apply(t, x, 6, numbered("LATE-1"))
	})
	step("a rebuild is there", 6, func(t *testing.T, x app.Index) {
		want(t, x, "LATE1", "LATE1")
		if err := x.Rebuild(context.Background(), seq(many(10, "fresh")), 6); err != nil {
			t.Fatal(err)
		}
	})
	step("and nothing else", 6, func(t *testing.T, x app.Index) {
		wantRevision(t, x, 6)
		wantCount(t, x, "fresh", 10)
		want(t, x, "LATE1")
	})
	step("ahead of the book it is emptied", 5, func(t *testing.T, x app.Index) {
		wantRevision(t, x, 0)
		wantCount(t, x, "fresh", 0)
	})
}
