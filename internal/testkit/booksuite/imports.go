package booksuite

import (
	"context"
	"errors"
	"slices"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

var (
	rowOne   = says("QRA-1001\talternator", named("QRA-1001", "alternator"), fits("QRA-1001", "alternator", "model_code", "KV31"))
	rowTwo   = says("QRA-1002\talternator", named("QRA-1002", "alternator"), linked(statement.Same, "QRA-1002", "ZB 77"))
	rowThree = says("QRA-1003\tstarter", named("QRA-1003", "starter"))
	rowFour  = says("QRA-1004\tstarter", named("QRA-1004", "starter"))
)

func testVisibility(d *desk) {
	w, _ := d.begin("yard")
	before := d.revision()
	d.stage(w, sheetOf("yard", []row{rowOne, rowTwo}))
	d.equal("statements before the commit", len(d.everything("QRA1001", "QRA1002", "ZB77")), 0)
	d.read(func(r app.Reader) error {
		lists, err1 := r.Lists(background())
		batches, err2 := r.Batches(background())
		sources, err3 := r.Sources(background())
		d.equal("lists, batches and sources before the commit", []int{len(lists), len(batches), len(sources)}, []int{0, 0, 0})
		return errors.Join(err1, err2, err3)
	})
	counts := app.Counts{Read: 3, Taken: 2, Skipped: 1, Added: 4}
	revision, err := w.Commit(background(), counts)
	if err != nil {
		d.Fatal(err)
	}
	d.equal("revision after the commit", []int64{revision, d.revision()}, []int64{before + 1, before + 1})
	d.equal("statements after the commit", len(d.everything("QRA1001", "QRA1002")), 4)
	d.read(func(r app.Reader) error {
		lists, err1 := r.Lists(background())
		batches, err2 := r.Batches(background())
		d.equal("lists", lists, []app.List{{Name: "yard", Standing: statement.OwnList, Version: w.Version(), File: "yard.csv",
			Batch: "000001", ReadAt: 1, Counts: counts}})
		d.equal("batches", batches, []app.Batch{{ID: "000001", List: "yard", Version: w.Version(), File: "yard.csv", Hash: "h000001",
			Standing: statement.OwnList, State: app.Committed, Revision: revision, At: 1,
			By: app.Actor{Who: "Ines", Device: "counter"}, Counts: counts}})
		return errors.Join(err1, err2)
	})
}

func testSnapshot(d *desk) {
	d.bring("yard", rowOne)
	d.read(func(r app.Reader) error {
		before := r.Revision()
		d.bring("yard", rowTwo)
		parts, err := r.Parts(background(), []string{"QRA1001", "QRA1002"})
		d.equal("parts on the old snapshot", ids(parts), ids(sheetOf("yard", []row{rowOne})[0].Statements[:1]))
		d.equal("revision of the old snapshot", r.Revision(), before)
		return err
	})
	d.equal("parts on a new snapshot", len(d.everything("QRA1001")), 0)
}

func testSameAgain(d *desk) {
	rows := []row{rowOne, rowTwo, rowOne, counts("bin", counted("QRA-1001", "A-1", 2))}
	first := d.bring("yard", rows...)
	before := d.everything("QRA1001", "QRA1002")
	again := d.bring("yard", rows...)
	d.equal("counts of the same file", again.counts, app.Counts{Kept: 6})
	d.equal("revision", again.revision, first.revision)
	d.equal("statements", d.everything("QRA1001", "QRA1002"), before)
	d.equal("change feed", d.changed(first.revision), "")
	d.read(func(r app.Reader) error {
		batches, err := r.Batches(background())
		d.equal("the second import is recorded", len(batches), 2)
		return err
	})
}

func testSorted(d *desk) {
	first := d.bring("yard", rowOne, rowTwo, rowThree, rowFour)
	before := d.everything("QRA1001", "QRA1002", "QRA1003", "QRA1004")
	sorted := d.bring("yard", rowFour, rowTwo, rowThree, rowOne)
	d.equal("counts of the sorted sheet", sorted.counts, app.Counts{Kept: 3, Moved: 3})
	after := d.everything("QRA1001", "QRA1002", "QRA1003", "QRA1004")
	d.equal("ids", ids(after), ids(before))
	d.equal("keys that changed", d.changed(first.revision), "")
	for i := range after {
		if after[i].A.Key == "QRA1001" {
			d.equal("new place", []any{after[i].Place.Row, after[i].Place.Text}, []any{5, rowOne.text})
		}
		after[i].Place, before[i].Place = statement.Place{}, statement.Place{}
	}
	d.equal("statements without their places", after, before)
	d.undo(sorted.batch)
	d.equal("place after the undo", d.everything("QRA1001")[0].Place.Row, 2)
}

func testChangedRow(d *desk) {
	first := d.bring("yard", rowOne, rowTwo, rowThree)
	second := d.bring("yard", rowOne, rowFour, rowThree)
	d.equal("counts", second.counts, app.Counts{Kept: 3, Added: 1, Dropped: 2})
	d.equal("dropped", len(d.everything("QRA1002", "ZB77")), 0)
	d.equal("added", len(d.everything("QRA1004")), 1)
	d.equal("keys that changed", d.changed(first.revision), "2:QRA1002 2:QRA1004 2:ZB77")
	third := d.bring("yard", rowOne)
	d.equal("counts of the shorter sheet", third.counts, app.Counts{Kept: 2, Dropped: 2})
	empty := d.bring("yard")
	d.equal("counts of the empty sheet", empty.counts, app.Counts{Dropped: 2})
	d.equal("nothing is left", len(d.everything("QRA1001", "QRA1003")), 0)
}

func testSameRowSaysLess(d *desk) {
	d.bring("yard", rowOne)
	less := rowOne
	less.says = less.says[:1]
	second := d.bring("yard", less)
	d.equal("counts", second.counts, app.Counts{Moved: 1, Dropped: 1})
	d.equal("statements", len(d.everything("QRA1001")), 1)
}

func testSameButOtherText(d *desk) {
	first := d.bring("yard", rowOne, rowTwo)
	other := rowOne
	other.text += "\tseen twice"
	second := d.bring("yard", other, rowTwo)
	d.equal("counts", second.counts, app.Counts{Kept: 2, Moved: 2})
	d.equal("the row as it is read now", d.everything("QRA1001")[0].Place.Text, other.text)
	d.equal("keys that changed", d.changed(first.revision), "")
}

func testAbandon(d *desk) {
	first := d.bring("yard", rowOne, rowTwo)
	for _, finish := range []bool{false, true} {
		w, _ := d.begin("yard")
		if finish {
			c := d.stage(w, sheetOf("yard", []row{rowThree}))
			d.equal("counts of a dry run", c, app.Counts{Added: 1, Dropped: 4})
		} else if err := w.Stage(background(), sheetOf("yard", []row{rowThree})); err != nil {
			d.Fatal(err)
		}
		for range 2 { // the second does nothing
			if err := w.Abandon(background()); err != nil {
				d.Fatal(err)
			}
		}
		d.equal("statements", len(d.everything("QRA1001", "QRA1002", "QRA1003")), 4)
		d.equal("revision", d.revision(), first.revision)
	}
	again := d.bring("yard", rowOne, rowTwo)
	d.equal("counts of the next import", again.counts, app.Counts{Kept: 4})

	w, _ := d.begin("new list")
	d.stage(w, sheetOf("new list", []row{rowThree}))
	if err := w.Abandon(background()); err != nil {
		d.Fatal(err)
	}
	d.read(func(r app.Reader) error {
		lists, err1 := r.Lists(background())
		batches, err2 := r.Batches(background())
		d.equal("lists and batches", []int{len(lists), len(batches)}, []int{1, 2})
		return errors.Join(err1, err2)
	})
}

func testOneImport(d *desk) {
	w, _ := d.begin("yard")
	_, err := d.book.OpenImport(background(), app.Batch{ID: "x", List: "other"})
	d.refused("a second import", err, app.CodeInUse)
	_, err = d.book.Undo(background(), "x", app.Actor{})
	d.refused("an undo during an import", err, app.CodeInUse)
	if err := d.book.Sweep(background()); err != nil {
		d.Errorf("sweep during an import: %v", err)
	}
	d.stage(w, sheetOf("yard", []row{rowOne}))
	if err := d.book.Sweep(background()); err != nil {
		d.Errorf("sweep during an import: %v", err)
	}
	if _, err := w.Commit(background(), app.Counts{Added: 2}); err != nil {
		d.Fatal(err)
	}
	d.equal("statements", len(d.everything("QRA1001")), 2)
	d.bring("other", rowTwo)
}

func testCommitTwice(d *desk) {
	w, id := d.begin("yard")
	c := d.stage(w, sheetOf("yard", []row{rowOne}))
	first, err1 := w.Commit(background(), c)
	second, err2 := w.Commit(background(), c)
	if err := errors.Join(err1, err2); err != nil {
		d.Fatal(err)
	}
	d.equal("revisions of two commits", []int64{second, d.revision()}, []int64{first, first})
	if err := w.Abandon(background()); err != nil {
		d.Errorf("abandon after a commit: %v", err)
	}
	d.equal("statements", len(d.everything("QRA1001")), 2)
	_, err := d.book.OpenImport(background(), app.Batch{ID: id, List: "yard"})
	d.refused("a batch id used again", err, app.CodeConflict)
}

func testWrongTime(d *desk) {
	w, _ := d.begin("yard")
	_, err := w.Commit(background(), app.Counts{})
	d.refused("a commit before Finish", err, app.CodeConflict)
	d.stage(w, sheetOf("yard", []row{rowOne}))
	d.refused("rows after Finish", w.Stage(background(), nil), app.CodeConflict)
	d.refused("a source after Finish", w.Source(background(), sourceOf("x")), app.CodeConflict)
	if err := w.Abandon(background()); err != nil {
		d.Fatal(err)
	}
	_, err = w.Commit(background(), app.Counts{})
	d.refused("a commit after Abandon", err, app.CodeConflict)
}

func testRefused(d *desk) {
	_, err := d.book.OpenImport(background(), app.Batch{List: "yard"})
	d.refused("no id", err, app.CodeInvalid)
	_, err = d.book.OpenImport(background(), app.Batch{ID: "1"})
	d.refused("no list", err, app.CodeInvalid)
	w, _ := d.begin("yard")
	good := func() []app.StagedRow {
		return sheetOf("yard", []row{rowOne, counts("bin", counted("QRA-1001", "A", 1))})
	}
	tests := []struct {
		name  string
		spoil func(rows []app.StagedRow)
	}{
		{"a place twice", func(rows []app.StagedRow) { rows[1].Place.Row = rows[0].Place.Row }},
		{"no id", func(rows []app.StagedRow) { rows[0].Statements[0].ID = "" }},
		{"unknown kind", func(rows []app.StagedRow) { rows[0].Statements[0].Kind = "rumour" }},
		{"unknown source", func(rows []app.StagedRow) { rows[0].Statements[0].Source = "nobody" }},
		{"negative count", func(rows []app.StagedRow) { rows[1].Postings[0].Quantity = -1 }},
		{"negative hold", func(rows []app.StagedRow) { rows[1].Postings[0].Held = -1 }},
	}
	for _, tt := range tests {
		rows := good()
		tt.spoil(rows)
		d.refused(tt.name, w.Stage(background(), rows), app.CodeInvalid)
	}
	d.stage(w, good()) // a refused call has staged nothing
	_, err = w.Commit(background(), app.Counts{Added: 2, Postings: 1})
	if err != nil {
		d.Fatal(err)
	}
	d.equal("statements", len(d.everything("QRA1001")), 2)
}

func testUndo(d *desk) {
	first := d.bring("yard", rowOne, rowTwo)
	second := d.bring("yard", rowTwo, rowThree)
	report := d.undo(second.batch)
	d.equal("report", report, app.UndoReport{List: "yard", Version: 1, Revision: second.revision + 1})
	d.equal("statements of the first version", len(d.everything("QRA1001", "QRA1002")), 4)
	d.equal("statements of the second", len(d.everything("QRA1003")), 0)
	d.equal("keys that changed", d.changed(second.revision), "3:QRA1001 3:QRA1003")
	report = d.undo(first.batch)
	d.equal("report", report, app.UndoReport{List: "yard", Version: 0, Revision: 4})
	d.equal("statements at the start", len(d.everything("QRA1001", "QRA1002", "QRA1003")), 0)
	d.read(func(r app.Reader) error {
		lists, err1 := r.Lists(background())
		batches, err2 := r.Batches(background())
		d.equal("the list stays, without a version", lists, []app.List{{Name: "yard", Standing: statement.OwnList}})
		d.equal("states", []app.BatchState{batches[0].State, batches[1].State}, []app.BatchState{app.Undone, app.Undone})
		return errors.Join(err1, err2)
	})
}

func testUndoRefused(d *desk) {
	first := d.bring("yard", rowOne)
	second := d.bring("yard", rowTwo)
	_, err := d.book.Undo(background(), first.batch, app.Actor{})
	d.refused("an older version", err, app.CodeConflict)
	_, err = d.book.Undo(background(), "no such", app.Actor{})
	d.refused("an unknown import", err, app.CodeNotFound)
	d.undo(second.batch)
	_, err = d.book.Undo(background(), second.batch, app.Actor{})
	d.refused("a second undo", err, app.CodeConflict)
	d.undo(first.batch)
}

func testVersionsOnce(d *desk) {
	d.bring("yard", rowOne)
	second := d.bring("yard", rowTwo)
	d.undo(second.batch)
	w, _ := d.begin("yard")
	if w.Version() <= 2 {
		d.Errorf("got version %d after two versions, want a new number", w.Version())
	}
	c := d.stage(w, sheetOf("yard", []row{rowOne, rowThree}))
	d.equal("counts against the version before the undone one", c, app.Counts{Kept: 2, Added: 1})
	if _, err := w.Commit(background(), c); err != nil {
		d.Fatal(err)
	}
	d.equal("statements", len(d.everything("QRA1001", "QRA1002", "QRA1003")), 3)
}

func testTwoLists(d *desk) {
	d.bring("yard", rowOne, rowTwo)
	other := d.bring("rebuilder", rowOne)
	d.equal("both lists say it", len(d.everything("QRA1001")), 4)
	d.bring("yard", rowTwo)
	left := d.everything("QRA1001")
	d.equal("one list says it", ids(left), slices.Sorted(slices.Values(ids(left))))
	for _, s := range left {
		d.equal("source", s.Source, sourceOf("rebuilder").ID)
	}
	d.undo(other.batch)
	d.equal("nobody says it", len(d.everything("QRA1001")), 0)
	d.equal("the other list is untouched", len(d.everything("QRA1002")), 2)
}

func testRecurring(d *desk) {
	d.bring("yard", rowOne, rowTwo, rowThree)
	d.bring("attic", rowOne)
	d.bring("yard", rowOne, rowTwo)
	w, _ := d.begin("yard")
	var hashes []string
	for _, r := range sheetOf("yard", []row{rowOne, rowTwo, rowThree, rowFour}) {
		hashes = append(hashes, r.Hash)
	}
	for i := range 600 { // more than any one query takes
		hashes = append(hashes, statement.Hash("no such row", string(rune(i))))
	}
	same, other, list, err := w.Recurring(background(), hashes)
	d.equal("recurring", []any{same, other, list, err}, []any{2, 1, "attic", nil})
	if err := w.Abandon(background()); err != nil {
		d.Fatal(err)
	}
	w, _ = d.begin("new")
	same, other, list, err = w.Recurring(background(), hashes)
	d.equal("recurring in a new list", []any{same, other, list, err}, []any{0, 2, "yard", nil})
	same, other, list, err = w.Recurring(background(), nil)
	d.equal("recurring of nothing", []any{same, other, list, err}, []any{0, 0, "", nil})
}

func testCancelled(d *desk) {
	d.bring("yard", rowOne)
	ctx, cancel := context.WithCancel(background())
	cancel()
	err := d.book.Read(ctx, func(r app.Reader) error {
		_, err := r.Parts(ctx, []string{"QRA1001"})
		return err
	})
	if !errors.Is(err, context.Canceled) {
		d.Errorf("got %v, want context.Canceled", err)
	}
	w, _ := d.begin("yard")
	if err := w.Stage(ctx, sheetOf("yard", []row{rowTwo})); !errors.Is(err, context.Canceled) {
		d.Errorf("stage: got %v, want context.Canceled", err)
	}
	if err := w.Abandon(background()); err != nil {
		d.Fatal(err)
	}
	d.equal("statements", len(d.everything("QRA1001")), 2)
}
