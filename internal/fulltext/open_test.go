package fulltext

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

func opened(t *testing.T, dir string, book int64) (*Index, State) {
	t.Helper()
	x, state, err := Open(t.Context(), dir, book, quiet())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = x.Close() })
	return x, state
}

func closed(t *testing.T, x *Index) {
	t.Helper()
	if err := x.Close(); err != nil {
		t.Fatal(err)
	}
}

func number(n int) app.Document {
	text := fmt.Sprintf("N-%05d", n)
	return app.Document{Key: query.Code(text), Numbers: []string{text}, Names: []string{"thing"}}
}

func numbers(from, to int) (out []app.Document) {
	for n := from; n < to; n++ {
		out = append(out, number(n))
	}
	return out
}

func count(t *testing.T, x *Index, text string) int {
	t.Helper()
	q, err := query.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	_, n, err := x.Search(context.Background(), q, 1)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// stored makes an index of five documents at revision 3 and closes it.
func stored(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	x, _ := opened(t, dir, 3)
	if err := x.Apply(t.Context(), numbers(0, 5), 3); err != nil {
		t.Fatal(err)
	}
	closed(t, x)
	return dir
}

func current(t *testing.T, dir string) string {
	t.Helper()
	name, err := folder(dir).current()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, name)
}

// rewrite changes the header of a stored index.
func rewrite(t *testing.T, dir string, change func(*header)) {
	t.Helper()
	idx, err := openEngine(current(t, dir), func(error, bool) {})
	if err != nil {
		t.Fatal(err)
	}
	h, err := readHeader(idx)
	if err != nil {
		t.Fatal(err)
	}
	change(&h)
	b := idx.NewBatch()
	h.write(b)
	if err := errors.Join(idx.Batch(b), idx.Close()); err != nil {
		t.Fatal(err)
	}
}

// An index is opened in whatever state its folder is; where it must be rebuilt,
// it is empty at revision 0 and takes documents at once.
func TestOpenNamesTheState(t *testing.T) {
	onFiles := func(pattern string, do func(path string) error) func(*testing.T, string) {
		return func(t *testing.T, dir string) {
			files, err := filepath.Glob(filepath.Join(current(t, dir), pattern))
			if err != nil || len(files) == 0 {
				t.Fatalf("no file %s (%v)", pattern, err)
			}
			for _, f := range files {
				if err := do(f); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	cut := func(path string) error { return os.Truncate(path, 50) }
	write := func(name, text string) func(*testing.T, string) {
		return func(t *testing.T, dir string) {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	onHeader := func(change func(*header)) func(*testing.T, string) {
		return func(t *testing.T, dir string) { rewrite(t, dir, change) }
	}
	tests := []struct {
		name string
		do   func(*testing.T, string)
		book int64
		want State
	}{
		{"untouched", nil, 3, Equal},
		{"the book moved on", nil, 4, Behind},
		{"the book went back", nil, 2, Ahead},
		{"another mapping", onHeader(func(h *header) { h.mapping = "other" }), 3, MappingChanged},
		{"other documents", onHeader(func(h *header) { h.documents = "0" }), 3, Version},
		{"documents are missing", onHeader(func(h *header) { h.count++ }), 3, Corrupt},
		{"no folder", func(t *testing.T, dir string) { _ = os.RemoveAll(dir) }, 3, Missing},
		{"no name", func(t *testing.T, dir string) { _ = os.Remove(filepath.Join(dir, currentFile)) }, 3, Missing},
		{"an empty name", write(currentFile, ""), 3, Corrupt},
		{"a name that leads out", write(currentFile, "gen-1/../../x"), 3, Corrupt},
		{"a name of nothing", write(currentFile, "gen-000009\n"), 3, Corrupt},
		{"generation removed", func(t *testing.T, dir string) { _ = os.RemoveAll(current(t, dir)) }, 3, Corrupt},
		{"a segment cut off", onFiles("store/*.zap", cut), 3, Corrupt},
		{"a segment removed", onFiles("store/*.zap", os.Remove), 3, Corrupt},
		{"the engine's root cut off", onFiles("store/root.bolt", cut), 3, Corrupt},
		{"the engine's own header removed", onFiles("index_meta.json", os.Remove), 3, Corrupt},
		{"the engine's own header damaged", onFiles("index_meta.json", cut), 3, Corrupt},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := stored(t)
			if tt.do != nil {
				tt.do(t, dir)
			}
			x, got := opened(t, dir, tt.book)
			// Where a segment is gone the engine may still hold the snapshot before
			// it, the empty one of revision 0, and open that: it says so itself.
			older := strings.HasPrefix(tt.name, "a segment") && got == Behind
			if got != tt.want && !older {
				t.Fatalf("got %s, want %s", got, tt.want)
			}
			revision, docs := int64(3), 5
			if tt.want.Action() == Rebuild {
				revision, docs = 0, 0
			}
			if x.Revision() != revision || count(t, x, "thing") != docs {
				t.Errorf("got revision %d and %d documents, want %d and %d", x.Revision(), count(t, x, "thing"), revision, docs)
			}
			if err := x.Apply(t.Context(), numbers(7, 8), 4); err != nil {
				t.Errorf("apply: %v", err)
			}
			closed(t, x)
			if x, again := opened(t, dir, 4); again != Equal || count(t, x, "N00007") != 1 {
				t.Errorf("after it: got %s, want %s and the document", again, Equal)
			}
		})
	}
}

// The folder never fills up with what earlier opens left.
func TestOpenSweepsTheFolder(t *testing.T) {
	dir := stored(t)
	for _, left := range []string{"gen-000077", "bad-000001", "scorch-offline-build123", "someone-elses"} {
		if err := os.MkdirAll(filepath.Join(dir, left, "store"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	x, _ := opened(t, dir, 2) // ahead: put aside
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	want := "bad-000001 current gen-000078 someone-elses"
	if strings.Join(got, " ") != want {
		t.Errorf("got %q, want %q", got, want)
	}
	closed(t, x)
}

func TestOpenSaysWhoHoldsIt(t *testing.T) {
	dir := stored(t)
	x, _ := opened(t, dir, 3)
	_, _, err := Open(t.Context(), dir, 3, quiet())
	if got := app.CodeOf(err); got != app.CodeInUse {
		t.Errorf("got %s (%v), want %s", got, err, app.CodeInUse)
	}
	if n := count(t, x, "thing"); n != 5 {
		t.Errorf("the holder finds %d, want 5", n)
	}
	closed(t, x)
	if _, state := opened(t, dir, 3); state != Equal {
		t.Errorf("afterwards: got %s, want %s", state, Equal)
	}
}

func TestOpenSaysWhatCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	_, _, err := Open(t.Context(), filepath.Join(file, "index"), 0, quiet())
	if got := app.CodeOf(err); got != app.CodeUnavailable {
		t.Errorf("got %s (%v), want %s", got, err, app.CodeUnavailable)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Open(ended, t.TempDir(), 0, quiet()); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
}

// Nobody's rows are in the log.
func TestLogHoldsNoContents(t *testing.T) {
	var text bytes.Buffer
	x, _, err := Open(t.Context(), t.TempDir(), 0, slog.New(slog.NewTextHandler(&text, nil)))
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	if err := x.Apply(t.Context(), numbers(0, 3), 1); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text.String(), "state=missing") || strings.Contains(text.String(), "N-0") {
		t.Errorf("got %s", text.String())
	}
}
