package sqlite

import (
	"context"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/testkit/booksuite"
)

// reopening is a book that the suite can end as a kill would.
type reopening struct{ *Book }

func (r reopening) Reopen(t *testing.T) app.Book {
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	return openSmall(t, r.Dir())
}

// openBook opens a book and closes it when the test ends.
func openBook(t *testing.T, dir string, opts Options) *Book {
	t.Helper()
	b, err := Open(context.Background(), dir, opts)
	if err != nil {
		t.Fatalf("open: %v", err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// openSmall opens a book that writes in small portions, so that short lists take
// all the turns of long ones.
func openSmall(t *testing.T, dir string) reopening {
	b := openBook(t, dir, Options{})
	b.portion = portions{step: 2, fill: 3, gather: 5, feed: 2}
	return reopening{b}
}

func TestSuite(t *testing.T) {
	booksuite.Run(t, func(t *testing.T) app.Book { return openSmall(t, t.TempDir()) })
}
