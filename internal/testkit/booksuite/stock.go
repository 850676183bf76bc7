package booksuite

import (
	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

func held(number, bin, job string, n int) shelf.Posting {
	return shelf.Posting{Part: ref(number), Printed: number, Bin: bin, Condition: shelf.UsedTested, Held: n, Job: job}
}

func on(day string, p shelf.Posting) shelf.Posting {
	p.Day = day
	return p
}

func testStock(d *desk) {
	core := counted("SH-1", "B-2", 4)
	core.Condition = shelf.Core
	made := counted("SH-1", "A-1", 1)
	made.Part.Maker = "ORVANE"
	both := counted("SH-1", "A-1", 5)
	both.Held, both.Job = 2, "job 7"
	got := d.bring("shelf", counts("1", on("2026-11-02", both)), counts("2", core), counts("3", made), counts("4", counted("SH-2", "A-1", 0)))
	d.equal("counts", got.counts, app.Counts{Postings: 5})
	d.equal("lines", d.stock("SH1", "SH2", "SH3"), []shelf.Line{
		{Part: both.Part, Printed: "SH-1", Bin: "A-1", Condition: shelf.UsedTested, OnHand: 5, Held: 2, Seen: "2026-11-02"},
		{Part: made.Part, Printed: "SH-1", Bin: "A-1", Condition: shelf.UsedTested, OnHand: 1},
		{Part: core.Part, Printed: "SH-1", Bin: "B-2", Condition: shelf.Core, OnHand: 4},
	})
	d.equal("free", shelf.Free(d.stock("SH1")), 4)

	twice := d.bring("shelf two", counts("1", on("2026-11-03", counted("SH-9", "C-1", 2))), counts("2", on("2026-11-01", counted("SH-9", "C-1", 3))))
	d.equal("two rows of one bin are one count", twice.counts, app.Counts{Postings: 1})
	d.equal("they are added up", d.onShelf("SH9"), "C-1 5/0")
	d.equal("the latest day stands", d.stock("SH9")[0].Seen, "2026-11-03")
}

func testOnShelf(d *desk) {
	read := func() (got []part.Ref) {
		d.read(func(r app.Reader) (err error) {
			got, err = r.OnShelf(background())
			return err
		})
		return got
	}
	d.equal("an empty shelf", len(read()), 0)
	made := counted("SH-1", "A-1", 1)
	made.Part.Maker = "ORVANE"
	first := d.bring("shelf", counts("1", counted("SH-2", "A-1", 2)), counts("2", counted("SH-2", "A-2", 1)), counts("3", made),
		counts("4", counted("SH-3", "A-1", 0)), counts("5", held("SH-4", "A-1", "job 7", 1)))
	d.equal("parts on hand, each once, in order", read(), []part.Ref{{Key: "SH1", Maker: "ORVANE"}, {Key: "SH2"}})
	d.undo(first.batch)
	d.equal("after the undo", len(read()), 0)
}

func testStockAgain(d *desk) {
	rows := []row{counts("1", on("2026-11-02", counted("SH-1", "A-1", 5))), counts("2", held("SH-1", "A-1", "job 7", 1))}
	first := d.bring("shelf", rows...)
	d.bring("counter", counts("x", counted("SH-1", "A-1", 4))) // somebody took one
	again := d.bring("shelf", rows...)
	d.equal("counts of the same sheet", again.counts, app.Counts{})
	d.equal("revision", again.revision, first.revision+1)
	d.equal("what was booked since stays", d.onShelf("SH1"), "A-1 4/1")
	later := d.bring("shelf", counts("1", on("2026-11-09", counted("SH-1", "A-1", 5))), rows[1])
	d.equal("the same number on a later day is a new count", later.counts.Postings, 1)
	d.equal("stock", d.onShelf("SH1"), "A-1 5/1")
	d.equal("seen", d.stock("SH1")[0].Seen, "2026-11-09")
	sorted := d.bring("shelf", rows[1], counts("1", on("2026-11-09", counted("SH-1", "A-1", 5))))
	d.equal("a sorted sheet posts nothing", sorted.counts, app.Counts{})
}

func testCountAgainstLedger(d *desk) {
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)))
	d.bring("counter", counts("x", counted("SH-1", "A-1", 3)))
	d.equal("the later count stands", d.onShelf("SH1"), "A-1 3/0")
	same := d.bring("shelf", counts("1", counted("SH-1", "A-1", 3)))
	d.equal("a count that the ledger agrees with is still a count", same.counts.Postings, 1)
	d.equal("stock", d.onShelf("SH1"), "A-1 3/0")
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 10)), counts("2", counted("SH-1", "A-2", 1)))
	d.equal("stock", d.onShelf("SH1"), "A-1 10/0, A-2 1/0")
}

func testGone(d *desk) {
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", counted("SH-2", "A-2", 2)))
	second := d.bring("shelf", counts("2", counted("SH-2", "A-2", 2)))
	d.equal("counts", second.counts, app.Counts{Postings: 1})
	d.equal("gone", d.onShelf("SH1"), "")
	d.equal("still there", d.onShelf("SH2"), "A-2 2/0")
	d.equal("feed", d.changed(second.revision-1), "2:SH1")
	d.undo(second.batch)
	d.equal("after the undo", d.onShelf("SH1"), "A-1 5/0")
}

func testGoneButOthers(d *desk) {
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)))
	d.bring("counter", counts("x", counted("SH-1", "A-1", 4)))
	second := d.bring("shelf")
	d.equal("counts", second.counts, app.Counts{})
	d.equal("stock", d.onShelf("SH1"), "A-1 4/0")
}

func testHolds(d *desk) {
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", held("SH-1", "A-1", "job 7", 2)))
	d.equal("held", d.onShelf("SH1"), "A-1 5/2")
	more := d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", held("SH-1", "A-1", "job 7", 3)))
	d.equal("one more", []any{more.counts.Postings, d.onShelf("SH1")}, []any{1, "A-1 5/3"})
	other := d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", held("SH-1", "A-1", "job 8", 1)))
	d.equal("another job", []any{other.counts.Postings, d.onShelf("SH1")}, []any{2, "A-1 5/1"})
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)))
	d.equal("no hold", d.onShelf("SH1"), "A-1 5/0")
}

func testNotCounted(d *desk) {
	blank := counted("SH-1", "A-1", 0)
	blank.Counted = false
	d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)))
	second := d.bring("shelf", counts("1 blank", blank))
	d.equal("a blank cell counts nothing", []any{second.counts.Postings, d.onShelf("SH1")}, []any{0, "A-1 5/0"})
	zero := d.bring("shelf", counts("1 zero", counted("SH-1", "A-1", 0)))
	d.equal("a zero counts none", []any{zero.counts.Postings, d.onShelf("SH1")}, []any{1, ""})
}

func testUndoStock(d *desk) {
	first := d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", held("SH-1", "A-1", "job 7", 2)), counts("3", counted("SH-2", "B", 1)))
	second := d.bring("shelf", counts("1", counted("SH-1", "A-1", 3)), counts("3", counted("SH-2", "B", 1)))
	d.equal("second", d.onShelf("SH1"), "A-1 3/0")
	report := d.undo(second.batch)
	d.equal("report", []any{report.Reversed, report.LeftCounts}, []any{2, []string(nil)})
	d.equal("after the undo", d.onShelf("SH1"), "A-1 5/2")
	report = d.undo(first.batch)
	d.equal("report of the second undo", []any{report.Reversed, report.LeftCounts}, []any{3, []string(nil)})
	d.equal("empty again", len(d.stock("SH1", "SH2")), 0)
	again := d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)))
	d.equal("counted anew", []any{again.counts.Postings, d.onShelf("SH1")}, []any{1, "A-1 5/0"})
}

func testUndoLeaves(d *desk) {
	first := d.bring("shelf", counts("1", counted("SH-1", "A-1", 5)), counts("2", counted("SH-2", "A-2", 2)))
	other := d.bring("counter", counts("x", counted("SH-1", "A-1", 6)))
	report := d.undo(first.batch)
	d.equal("reversed", report.Reversed, 1)
	d.equal("left for a count", report.LeftCounts, []string{"A-1 (SH-1, used, tested)"})
	d.equal("the bin with the later count", d.onShelf("SH1"), "A-1 6/0")
	d.equal("the other bin", d.onShelf("SH2"), "")

	again := d.bring("shelf", counts("1", counted("SH-1", "A-1", 9)))
	d.bring("counter", counts("x", counted("SH-1", "A-1", 8)))
	third, err := d.book.Undo(background(), other.batch, app.Actor{})
	d.refused("an older version of the other list", err, app.CodeConflict)
	d.equal("nothing was reversed", third.Reversed, 0)
	report = d.undo(again.batch)
	d.equal("left for a count", report.LeftCounts, []string{"A-1 (SH-1, used, tested)"})
	d.equal("stock", d.onShelf("SH1"), "A-1 8/0")
}
