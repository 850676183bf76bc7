package booksuite

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/statement"

	"pgregory.net/rapid"
)

// modelList is what a list should say: its versions as sheets, the last of
// which counts.
type modelList struct {
	batches []string
	sheets  [][]app.StagedRow
}

func (m *modelList) current() []app.StagedRow {
	if len(m.sheets) == 0 {
		return nil
	}
	return m.sheets[len(m.sheets)-1]
}

// saidIn gives the statements of a sheet by id.
func saidIn(rows []app.StagedRow) map[string]statement.Statement {
	out := map[string]statement.Statement{}
	for _, r := range rows {
		for _, s := range r.Statements {
			out[s.ID] = s
		}
	}
	return out
}

var modelNumbers = []string{"M-1", "M-2", "M-3", "M-4", "M-5"}

// modelRow draws a row from a small world, so that rows recur and equal one
// another.
func modelRow(t *rapid.T) row {
	a := rapid.SampledFrom(modelNumbers).Draw(t, "a")
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return says(a, named(a, "belt"))
	case 1:
		b := rapid.SampledFrom(modelNumbers).Draw(t, "b")
		return says(a+b, named(a, "belt"), linked(statement.Same, a, b))
	case 2:
		return says(a+" fits", fits(a, "belt", "model_code", "KV31"), fits(a, "belt", "engine", "QX15"))
	}
	return says("title")
}

// testModel holds the book against a model in memory through any sequence of
// imports, dry runs and undos of two lists.
func testModel(d *desk) {
	outer := d.T
	rapid.Check(outer, func(t *rapid.T) {
		d := newDesk(outer, d.open)
		lists := map[string]*modelList{"yard": {}, "attic": {}}
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			name := rapid.SampledFrom([]string{"yard", "attic"}).Draw(t, "list")
			modelStep(t, d, name, lists[name])
			checkModel(t, d, lists)
		}
	})
}

func modelStep(t *rapid.T, d *desk, name string, m *modelList) {
	before, since := d.revision(), m.current()
	action := rapid.SampledFrom([]string{"import", "import", "again", "dry run", "undo"}).Draw(t, "action")
	if action == "undo" {
		if len(m.batches) == 0 {
			return
		}
		d.undo(m.batches[len(m.batches)-1])
		m.batches, m.sheets = m.batches[:len(m.batches)-1], m.sheets[:len(m.sheets)-1]
		checkFeed(t, d, before, since, m.current())
		return
	}
	rows := since
	if action != "again" {
		rows = sheetOf(name, rapid.SliceOfN(rapid.Custom(modelRow), 0, 7).Draw(t, "rows"))
	}
	w, id := d.begin(name)
	counts := d.stage(w, rows)
	if want := modelCounts(since, rows); counts != want {
		t.Fatalf("counts: got %+v, want %+v", counts, want)
	}
	if action == "dry run" {
		if err := w.Abandon(background()); err != nil {
			t.Fatal(err)
		}
		return
	}
	revision, err := w.Commit(background(), counts)
	if err != nil {
		t.Fatal(err)
	}
	if changed := counts.Added+counts.Dropped+counts.Moved > 0; changed != (revision > before) {
		t.Fatalf("revision went from %d to %d with counts %+v", before, revision, counts)
	}
	m.batches, m.sheets = append(m.batches, id), append(m.sheets, rows)
	checkFeed(t, d, before, since, rows)
}

// modelCounts compares two sheets: a row is kept when it stands at the same
// line with the same hash and the same statements.
func modelCounts(before, after []app.StagedRow) app.Counts {
	var c app.Counts
	old, fresh := saidIn(before), saidIn(after)
	lines := map[int]app.StagedRow{}
	for _, r := range before {
		lines[r.Place.Row] = r
	}
	for _, r := range after {
		o := lines[r.Place.Row]
		kept := o.Hash == r.Hash && slices.Equal(ids(o.Statements), ids(r.Statements))
		for _, s := range r.Statements {
			_, known := old[s.ID]
			switch {
			case kept:
				c.Kept++
			case known:
				c.Moved++
			default:
				c.Added++
			}
		}
	}
	for id := range old {
		if _, ok := fresh[id]; !ok {
			c.Dropped++
		}
	}
	return c
}

// checkFeed: the feed names the keys of what was added and dropped, no others.
func checkFeed(t *rapid.T, d *desk, after int64, before, now []app.StagedRow) {
	want := map[string]bool{}
	old, fresh := saidIn(before), saidIn(now)
	for _, pair := range [][2]map[string]statement.Statement{{old, fresh}, {fresh, old}} {
		for id, s := range pair[0] {
			if _, ok := pair[1][id]; !ok {
				want[s.A.Key] = true
				if s.Kind == statement.KindLink {
					want[s.Link.B.Key] = true
				}
			}
		}
	}
	got := map[string]bool{}
	d.read(func(r app.Reader) error {
		changes, err := r.Changes(background(), after)
		for _, c := range changes {
			got[c.Key] = true
		}
		return err
	})
	if !maps.Equal(got, want) {
		t.Fatalf("change feed: got %v, want %v", got, want)
	}
}

// checkModel asks for everything and compares.
func checkModel(t *rapid.T, d *desk, lists map[string]*modelList) {
	want := map[string]statement.Statement{}
	for _, m := range lists {
		maps.Copy(want, saidIn(m.current()))
	}
	var keys []string
	for _, n := range modelNumbers {
		keys = append(keys, ref(n).Key)
	}
	got := d.everything(keys...)
	if len(got) != len(want) {
		t.Fatalf("got %d statements, want %d", len(got), len(want))
	}
	for _, s := range got {
		w, ok := want[s.ID]
		if !ok || s.Place != w.Place || s.Kind != w.Kind || s.A != w.A || s.Source != w.Source {
			t.Fatalf("got statement %+v, want %+v", s, w)
		}
	}
}

// testConcurrent asks from several goroutines while an import is written: each
// question sees one version as a whole.
func testConcurrent(d *desk) {
	var old, fresh []row
	var keys []string
	for i := range 40 {
		number := fmt.Sprintf("C-%02d", i)
		old = append(old, says("old "+number, named(number, "belt")))
		fresh = append(fresh, says("new "+number, named(number, "belt"), linked(statement.Same, number, "HUB-1")))
		keys = append(keys, ref(number).Key)
	}
	first := d.bring("yard", old...)
	stop := make(chan struct{})
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for done := false; !done; {
				select {
				case <-stop:
					done = true // ask once more
				default:
				}
				askWhole(d.T, d.book, keys, first.revision)
			}
		})
	}
	for range 3 {
		second := d.bring("yard", fresh...)
		d.undo(second.batch)
	}
	close(stop)
	wait.Wait()
}

func askWhole(t *testing.T, b app.Book, keys []string, first int64) {
	err := b.Read(background(), func(r app.Reader) error {
		parts, err := r.Parts(background(), keys)
		if err != nil {
			return err
		}
		links, err := r.Links(background(), []string{"HUB1"})
		want := 0
		if (r.Revision()-first)%2 == 1 { // odd steps are imports, even ones undos
			want = len(keys)
		}
		if len(parts) != len(keys) || len(links) != want {
			t.Errorf("at revision %d: got %d parts and %d links, want %d and %d", r.Revision(), len(parts), len(links), len(keys), want)
		}
		for _, p := range parts {
			if p.Place.Text == "" || strings.HasPrefix(p.Place.Text, "new") != (want > 0) {
				t.Errorf("at revision %d a part stands in the row %q", r.Revision(), p.Place.Text)
			}
		}
		return err
	})
	if err != nil {
		t.Errorf("read: %v", err)
	}
}

// testKilled ends the book in the middle of imports, where it can be reopened.
func testKilled(d *desk) {
	if _, ok := d.book.(Reopener); !ok {
		return // a book in memory ends with its process
	}
	first := d.bring("yard", rowOne, rowTwo)
	for _, finish := range []bool{false, true} {
		w, _ := d.begin("yard")
		sheet := sheetOf("yard", []row{rowThree, rowFour})
		if finish {
			d.stage(w, sheet)
		} else if err := w.Stage(background(), sheet); err != nil {
			d.Fatal(err)
		}
		d.book = d.book.(Reopener).Reopen(d.T)
		d.equal("statements after a kill", len(d.everything("QRA1001", "QRA1002", "QRA1003")), 4)
		if err := d.book.Sweep(background()); err != nil {
			d.Fatalf("sweep: %v", err)
		}
		d.equal("statements after the sweep", len(d.everything("QRA1001", "QRA1002", "QRA1003")), 4)
		d.equal("revision", d.revision(), first.revision)
	}
	w, _ := d.begin("yard") // killed again, and no sweep before the next import
	d.stage(w, sheetOf("yard", []row{rowThree}))
	d.book = d.book.(Reopener).Reopen(d.T)
	next := d.bring("yard", rowOne, rowTwo, rowFour)
	d.equal("counts of the next import", next.counts, app.Counts{Kept: 4, Added: 1})
	d.equal("statements", len(d.everything("QRA1001", "QRA1002", "QRA1003", "QRA1004")), 5)
}
