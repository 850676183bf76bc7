package fulltext

import (
	"context"
	"errors"
	"iter"
	"os"
	"path/filepath"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

func segments(t *testing.T, x *Index) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(x.folder.path(x.name), "store", "*.zap"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no segments (%v)", err)
	}
	return files
}

func overwrite(t *testing.T, path string, at int64) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.WriteAt([]byte("damaged!"), at)
	if err := errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
}

func all(docs []app.Document) iter.Seq2[app.Document, error] {
	return func(yield func(app.Document, error) bool) {
		for _, d := range docs {
			if !yield(d, nil) {
				return
			}
		}
	}
}

// Bytes that were overwritten are found by their sum, the index is given up, and
// a rebuild makes it whole.
func TestCheckFindsOverwrittenBytes(t *testing.T) {
	dir := t.TempDir()
	x, _ := opened(t, dir, 3)
	if err := x.Rebuild(t.Context(), all(numbers(0, 2000)), 3); err != nil {
		t.Fatal(err)
	}
	if err := x.Check(t.Context()); err != nil {
		t.Fatalf("untouched: %v", err)
	}
	overwrite(t, segments(t, x)[0], 4000)
	if err := x.Check(t.Context()); !errors.Is(err, app.ErrIndexDamaged) {
		t.Fatalf("got %v, want %v", err, app.ErrIndexDamaged)
	}
	if x.Revision() != 0 {
		t.Errorf("revision: got %d, want 0", x.Revision())
	}
	if err := x.Apply(t.Context(), nil, 4); !errors.Is(err, app.ErrIndexDamaged) {
		t.Errorf("apply: got %v, want %v", err, app.ErrIndexDamaged)
	}
	q, _ := query.Parse("thing")
	if _, _, err := x.Search(t.Context(), q, 1); !errors.Is(err, app.ErrIndexDamaged) {
		t.Errorf("search: got %v, want %v", err, app.ErrIndexDamaged)
	}
	if err := x.Rebuild(t.Context(), all(numbers(0, 10)), 4); err != nil {
		t.Fatal(err)
	}
	if got := count(t, x, "thing"); got != 10 || x.Revision() != 4 {
		t.Errorf("rebuilt: got %d documents at %d, want 10 at 4", got, x.Revision())
	}
	if err := x.Check(t.Context()); err != nil {
		t.Errorf("rebuilt: %v", err)
	}
}

func TestCheckRefuses(t *testing.T) {
	x, _ := opened(t, t.TempDir(), 3)
	if err := x.Apply(t.Context(), numbers(0, 10), 1); err != nil {
		t.Fatal(err)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := x.Check(ended); !errors.Is(err, context.Canceled) {
		t.Errorf("ended: got %v, want %v", err, context.Canceled)
	}
	short := filepath.Join(t.TempDir(), "short.zap")
	if err := os.WriteFile(short, []byte("abc"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{short, short + ".gone"} {
		if err := checkFile(t.Context(), path); !errors.Is(err, app.ErrIndexDamaged) {
			t.Errorf("%s: got %v, want %v", filepath.Base(path), err, app.ErrIndexDamaged)
		}
	}
	closed(t, x)
	if err := x.Check(t.Context()); err == nil {
		t.Error("closed: got no error")
	}
}

// When the engine's background work ends, a batch would wait for ever: the index
// is given up at once, also for the batch that waits.
func TestBackgroundWorkThatEnds(t *testing.T) {
	x, _ := opened(t, t.TempDir(), 3)
	if err := x.Apply(t.Context(), numbers(0, 10), 1); err != nil {
		t.Fatal(err)
	}
	x.onLost("gen-000099", errors.New("of an older generation"), true)
	x.onLost(x.name, errors.New("disk full, tried again"), false)
	if x.Revision() != 1 {
		t.Fatal("given up for an error that is none of its own, or that passes")
	}
	x.onLost(x.name, errors.New("panic"), true)
	x.onLost(x.name, errors.New("panic"), true)
	if x.Revision() != 0 {
		t.Errorf("revision: got %d, want 0", x.Revision())
	}
	if err := x.run(x.engine.NewBatch()); err != nil && !errors.Is(err, app.ErrIndexDamaged) {
		t.Errorf("a batch: got %v, want %v", err, app.ErrIndexDamaged)
	}
	closed(t, x)
}

// A search that the engine cannot answer gives the index up, and says so.
func TestSearchThatFails(t *testing.T) {
	x, _ := opened(t, t.TempDir(), 3)
	if err := x.Apply(t.Context(), numbers(0, 10), 1); err != nil {
		t.Fatal(err)
	}
	if err := x.engine.Close(); err != nil {
		t.Fatal(err)
	}
	q, _ := query.Parse("thing")
	if _, _, err := x.Search(t.Context(), q, 1); !errors.Is(err, app.ErrIndexDamaged) {
		t.Errorf("got %v, want %v", err, app.ErrIndexDamaged)
	}
	if x.Revision() != 0 {
		t.Errorf("revision: got %d, want 0", x.Revision())
	}
	if err := x.Rebuild(t.Context(), all(numbers(0, 3)), 2); err != nil {
		t.Fatal(err)
	}
	if got := count(t, x, "thing"); got != 3 || x.Revision() != 2 {
		t.Errorf("rebuilt: got %d documents at %d, want 3 at 2", got, x.Revision())
	}
}
