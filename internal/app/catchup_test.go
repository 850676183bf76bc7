package app_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/testkit/fakeindex"
	"crossbin/internal/vehicle"
)

// smallBook is a book in memory of which only reading works. It answers from what
// it holds now; each commit is one revision.
type smallBook struct {
	app.Book
	revision             int64
	parts, links, fits   map[string][]statement.Statement // by key
	values               map[string][]statement.Statement
	lines                map[string][]shelf.Line
	changes              []app.Change
	feedFrom             int64 // what the feed does not hold any more
	read                 int   // how often it was read
	broken               error
	whenRead             func(read int)
	partsAsked, keysWalk int
}

func newBook() *smallBook {
	return &smallBook{parts: map[string][]statement.Statement{}, links: map[string][]statement.Statement{}, fits: map[string][]statement.Statement{},
		values: map[string][]statement.Statement{}, lines: map[string][]shelf.Line{}}
}

func (b *smallBook) Shop() string { return "main" }

func (b *smallBook) Read(ctx context.Context, question func(app.Reader) error) error {
	b.read++
	if b.whenRead != nil {
		b.whenRead(b.read)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return question(&smallReader{book: b, revision: b.revision})
}

// commit makes a revision with these keys in the feed.
func (b *smallBook) commit(keys ...string) {
	b.revision++
	for _, k := range keys {
		b.changes = append(b.changes, app.Change{Revision: b.revision, Key: k})
	}
}

// part adds a part statement.
func (b *smallBook) part(printed, maker, typ, name string) string {
	ref, err := part.NewRef(printed, maker)
	if err != nil {
		panic(err)
	}
	b.parts[ref.Key] = append(b.parts[ref.Key], statement.Statement{Kind: statement.KindPart, Type: typ, A: ref,
		Part: statement.PartName{Printed: printed, Maker: maker, Role: statement.VehicleMaker, Name: name}})
	return ref.Key
}

// fit adds a fitment.
func (b *smallBook) fit(key, engine, modelCode string) {
	scope := vehicle.NewScope()
	scope.Want(vehicle.FactEngine, engine)
	scope.Want(vehicle.FactModelCode, modelCode)
	b.fits[key] = append(b.fits[key], statement.Statement{Kind: statement.KindFitment, A: part.Ref{Key: key}, Scope: scope})
}

// link adds a link under both its ends.
func (b *smallBook) link(a, c string) {
	ka, kc := must(part.NewRef(a, "")), must(part.NewRef(c, ""))
	st := statement.Statement{Kind: statement.KindLink, A: ka, Link: statement.Link{Relation: statement.StandsIn, B: kc, PrintedA: a, PrintedB: c}}
	b.links[ka.Key] = append(b.links[ka.Key], st)
	b.links[kc.Key] = append(b.links[kc.Key], st)
}

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

type smallReader struct {
	app.Reader
	book     *smallBook
	revision int64
}

func (r *smallReader) Revision() int64 { return r.revision }

func pick[T any](keys []string, from map[string][]T) (out []T) {
	for _, k := range keys {
		out = append(out, from[k]...)
	}
	return out
}

func (r *smallReader) Parts(_ context.Context, keys []string) ([]statement.Statement, error) {
	r.book.partsAsked += len(keys)
	return pick(keys, r.book.parts), r.book.broken
}

func (r *smallReader) Links(_ context.Context, keys []string) ([]statement.Statement, error) {
	return pick(keys, r.book.links), nil
}

func (r *smallReader) Fitments(_ context.Context, q app.FitmentQuery) ([]statement.Statement, error) {
	return pick(q.Keys, r.book.fits), nil
}

func (r *smallReader) Values(_ context.Context, keys []string) ([]statement.Statement, error) {
	return pick(keys, r.book.values), nil
}

func (r *smallReader) Stock(_ context.Context, keys []string) ([]shelf.Line, error) {
	return pick(keys, r.book.lines), nil
}

func (r *smallReader) Changes(_ context.Context, after int64) (out []app.Change, err error) {
	if after < r.book.feedFrom {
		return nil, fmt.Errorf("feed: %w", app.ErrFeedGone)
	}
	for _, c := range r.book.changes {
		if c.Revision > after {
			out = append(out, c)
		}
	}
	return out, nil
}

func (r *smallReader) Keys(_ context.Context, yield func(string) error) error {
	r.book.keysWalk++
	all := map[string]bool{}
	for _, m := range []map[string][]statement.Statement{r.book.parts, r.book.links, r.book.fits, r.book.values} {
		for k, list := range m {
			all[k] = len(list) > 0
		}
	}
	for k := range r.book.lines {
		all[k] = true
	}
	for _, k := range slices.Sorted(maps.Keys(all)) {
		if err := yield(k); err != nil {
			return err
		}
	}
	return nil
}

// service is a service on a small book and a fake index.
func service() (*app.Service, *smallBook, *fakeindex.Index) {
	book, index := newBook(), fakeindex.New()
	return &app.Service{Book: book, Index: index, Types: types{}, Log: slog.New(slog.DiscardHandler)}, book, index
}

func catchUp(t *testing.T, s *app.Service) {
	t.Helper()
	if err := s.CatchUp(t.Context()); err != nil {
		t.Fatal(err)
	}
}

// keysOf searches and gives the keys of the hits.
func keysOf(t *testing.T, s *app.Service, text string) []string {
	t.Helper()
	got, err := s.Find(t.Context(), text, 50)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	keys := []string{}
	for _, h := range got.Hits {
		keys = append(keys, h.Key)
	}
	return keys
}

func wantKeys(t *testing.T, s *app.Service, text string, want ...string) {
	t.Helper()
	if got := keysOf(t, s, text); !slices.Equal(got, want) {
		t.Errorf("%q: got %q, want %q", text, got, want)
	}
}

func TestCatchUpBuildsAnEmptyIndex(t *testing.T) {
	s, book, index := service()
	for i := range 2500 { // more than two chunks
		book.part(fmt.Sprintf("N-%05d", i), "", "bolt", "bolt")
	}
	book.commit()
	catchUp(t, s)
	if index.Revision() != 1 || book.keysWalk != 1 {
		t.Errorf("got revision %d after %d walks, want 1 after 1", index.Revision(), book.keysWalk)
	}
	wantKeys(t, s, "N-00000", "N00000")
	wantKeys(t, s, "N-02499", "N02499")
}

func TestCatchUpFollowsTheFeed(t *testing.T) {
	s, book, index := service()
	a := book.part("A-100", "Orvane", "alternator", "old name")
	b := book.part("B-200", "", "starter", "starter")
	book.commit(a, b)
	catchUp(t, s)

	book.parts[a] = nil
	book.part("A-100", "Orvane", "alternator", "new name")
	book.parts[b] = nil // taken back
	c := book.part("C-300", "", "pump", "pump")
	book.commit(a, b)
	book.commit(c, a)
	book.partsAsked = 0
	catchUp(t, s)

	if index.Revision() != 3 || book.keysWalk != 1 || book.partsAsked != 3 {
		t.Errorf("got revision %d, %d walks, %d keys read; want 3, 1, 3", index.Revision(), book.keysWalk, book.partsAsked)
	}
	wantKeys(t, s, "old")
	wantKeys(t, s, "new", a)
	wantKeys(t, s, "B-200")
	wantKeys(t, s, "C-300", c)
	book.read = 0
	catchUp(t, s)
	if book.read != 1 {
		t.Errorf("with nothing to do the book was read %d times, want once", book.read)
	}
	book.commit() // a revision that changed no key
	catchUp(t, s)
	if index.Revision() != 4 {
		t.Errorf("got revision %d, want 4", index.Revision())
	}
}

func TestCatchUpRebuilds(t *testing.T) {
	tests := []struct {
		name string
		do   func(*smallBook, *fakeindex.Index)
	}{
		{"an index ahead of the book", func(b *smallBook, _ *fakeindex.Index) { b.revision = 2 }},
		{"a damaged index", func(_ *smallBook, x *fakeindex.Index) { x.Damage() }},
		{"a feed that does not reach back", func(b *smallBook, _ *fakeindex.Index) { b.revision, b.feedFrom = 9, 9 }},
		{"an index that turns out damaged while it is written", func(b *smallBook, x *fakeindex.Index) {
			b.revision = 6
			b.whenRead = func(read int) {
				if read == 1 {
					return
				}
				b.whenRead = nil
				x.Damage()
			}
			b.changes = append(b.changes, app.Change{Revision: 6, Key: "A100"})
			b.read = 0
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, book, index := service()
			a := book.part("A-100", "", "alternator", "alternator")
			book.revision = 4
			book.commit(a)
			catchUp(t, s)
			delete(book.parts, a)
			b := book.part("B-200", "", "starter", "starter")
			tt.do(book, index)
			catchUp(t, s)
			if index.Revision() != book.revision || book.keysWalk != 2 {
				t.Errorf("got revision %d after %d walks, want %d after 2", index.Revision(), book.keysWalk, book.revision)
			}
			wantKeys(t, s, "A-100")
			wantKeys(t, s, "B-200", b)
		})
	}
}

func TestCatchUpGivesErrorsOn(t *testing.T) {
	broken := errors.New("disk gone")
	for _, known := range []bool{false, true} {
		s, book, index := service()
		a := book.part("A-100", "", "alternator", "alternator")
		book.commit(a)
		if known {
			catchUp(t, s)
			book.commit(a)
		}
		was := index.Revision()
		book.broken = broken
		if err := s.CatchUp(t.Context()); !errors.Is(err, broken) {
			t.Errorf("got %v, want %v", err, broken)
		}
		ended, cancel := context.WithCancel(t.Context())
		cancel()
		if err := s.CatchUp(ended); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v, want %v", err, context.Canceled)
		}
		if index.Revision() != was {
			t.Errorf("revision: got %d, want %d", index.Revision(), was)
		}
	}
	s, _, _ := service()
	s.Index = nil
	catchUp(t, s)
}

// A catch-up that is ended between two chunks leaves the old revision, so that
// the next does it all again.
func TestCatchUpEndedOnTheWay(t *testing.T) {
	s, book, index := service()
	first := book.part("A-100", "", "bolt", "bolt")
	book.commit(first)
	catchUp(t, s)
	var keys []string
	for i := range 3500 {
		keys = append(keys, book.part(fmt.Sprintf("N-%05d", i), "", "bolt", "bolt"))
	}
	book.commit(keys...)
	ctx, cancel := context.WithCancel(t.Context())
	book.read = 0
	book.whenRead = func(read int) {
		if read == 4 {
			cancel()
		}
	}
	if err := s.CatchUp(ctx); !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v, want %v", err, context.Canceled)
	}
	if index.Revision() != 1 {
		t.Errorf("revision: got %d, want 1", index.Revision())
	}
	book.whenRead = nil
	catchUp(t, s)
	wantKeys(t, s, "N-03499", "N03499")
	if index.Revision() != 2 {
		t.Errorf("revision: got %d, want 2", index.Revision())
	}
}

// Whatever the book names can be found, even where no row describes it.
func TestEveryKeyOfTheBookIsFound(t *testing.T) {
	s, book, _ := service()
	book.link("L-100 A", "L-200/B")
	book.lines["S100"] = []shelf.Line{{Part: part.Ref{Key: "S100", Maker: "FENWALD"}, Printed: "S-1.00", OnHand: 1, Condition: shelf.New}}
	book.fit("F100", "ZQ20-TE", "KV31")
	book.values["V100"] = []statement.Statement{{Kind: statement.KindValue, Type: "belt", A: part.Ref{Key: "V100"}}}
	book.commit()
	catchUp(t, s)
	for _, tt := range []struct{ text, key, shown string }{
		{"L100A", "L100A", "L-100 A"},
		{"L-200B", "L200B", "L-200/B"},
		{"fenwald", "S100", "S-1.00"},
		{"zq20te", "F100", "F100"},
		{"type:belt", "V100", "V100"},
	} {
		got, err := s.Find(t.Context(), tt.text, 5)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Hits) != 1 || got.Hits[0].Key != tt.key || got.Hits[0].Numbers[0].Number != tt.shown {
			t.Errorf("%q: got %+v, want %s shown as %s", tt.text, got.Hits, tt.key, tt.shown)
		}
	}
}
