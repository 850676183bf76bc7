package booksuite

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"

	"github.com/google/go-cmp/cmp"
)

const shop = "main"

// desk is where the tests of one book sit: it brings sheets in and asks.
type desk struct {
	*testing.T
	book    app.Book
	batches int
	open    func(t *testing.T) app.Book
}

func newDesk(t *testing.T, open func(t *testing.T) app.Book) *desk {
	b := open(t)
	if b.Shop() != shop {
		t.Fatalf("the suite wants a book of the shop %q, got %q", shop, b.Shop())
	}
	return &desk{T: t, book: b, open: open}
}

// row is one row of a made sheet: what it says and what it counts.
type row struct {
	text  string
	says  []statement.Statement
	posts []shelf.Posting
}

func says(text string, s ...statement.Statement) row { return row{text: text, says: s} }

func counts(text string, p ...shelf.Posting) row { return row{text: text, posts: p} }

// sheetOf makes staged rows of a list as an importer would: ids and hashes have
// running numbers among equals, lines count from 2.
func sheetOf(list string, rows []row) []app.StagedRow {
	number := statement.NewNumberer(shop, list)
	texts := map[string]int{}
	out := make([]app.StagedRow, len(rows))
	for i, r := range rows {
		place := statement.Place{File: list + ".csv", Row: i + 2, Text: r.text}
		out[i] = app.StagedRow{Place: place, Hash: statement.Hash(r.text, fmt.Sprint(texts[r.text])), Postings: r.posts}
		texts[r.text]++
		for j, s := range r.says {
			s.Source = sourceOf(list).ID
			s.Place = place
			s.Place.Cell = fmt.Sprintf("%c%d", 'A'+j%26, place.Row)
			s.ID = number.ID(s)
			out[i].Statements = append(out[i].Statements, s)
		}
	}
	return out
}

func sourceOf(list string) statement.Source {
	return statement.Source{ID: statement.SourceID(shop, list, ""), Shop: shop, List: list, Standing: statement.OwnList}
}

// begin opens an import with the list's source.
func (d *desk) begin(list string) (app.ImportWriter, string) {
	d.Helper()
	d.batches++
	id := fmt.Sprintf("%06d", d.batches)
	w, err := d.book.OpenImport(background(), app.Batch{ID: id, List: list, File: list + ".csv", Hash: "h" + id, Standing: statement.OwnList,
		At: int64(d.batches), By: app.Actor{Who: "Ines", Device: "counter"}})
	if err != nil {
		d.Fatalf("open import of %s: %v", list, err)
	}
	if err := w.Source(background(), sourceOf(list)); err != nil {
		d.Fatalf("source: %v", err)
	}
	return w, id
}

// stage stages rows in small portions, and finishes.
func (d *desk) stage(w app.ImportWriter, rows []app.StagedRow) app.Counts {
	d.Helper()
	for len(rows) > 0 {
		n := min(3, len(rows))
		if err := w.Stage(background(), rows[:n]); err != nil {
			d.Fatalf("stage: %v", err)
		}
		rows = rows[n:]
	}
	counts, err := w.Finish(background())
	if err != nil {
		d.Fatalf("finish: %v", err)
	}
	return counts
}

// brought is an import that was committed.
type brought struct {
	batch    string
	counts   app.Counts
	revision int64
}

// bring brings a sheet in as the next version of a list.
func (d *desk) bring(list string, rows ...row) brought {
	d.Helper()
	w, id := d.begin(list)
	c := d.stage(w, sheetOf(list, rows))
	revision, err := w.Commit(background(), c)
	if err != nil {
		d.Fatalf("commit: %v", err)
	}
	return brought{id, c, revision}
}

func (d *desk) undo(batch string) app.UndoReport {
	d.Helper()
	report, err := d.book.Undo(background(), batch, app.Actor{Who: "Ines"})
	if err != nil {
		d.Fatalf("undo %s: %v", batch, err)
	}
	return report
}

func (d *desk) read(question func(r app.Reader) error) {
	d.Helper()
	if err := d.book.Read(background(), question); err != nil {
		d.Fatalf("read: %v", err)
	}
}

func (d *desk) revision() (n int64) {
	d.Helper()
	d.read(func(r app.Reader) error {
		n = r.Revision()
		return nil
	})
	return n
}

// everything asks for all statements about some keys, whatever their kind.
func (d *desk) everything(keys ...string) []statement.Statement {
	d.Helper()
	var out []statement.Statement
	d.read(func(r app.Reader) error {
		fitments, err1 := r.Fitments(background(), app.FitmentQuery{Keys: keys})
		links, err2 := r.Links(background(), keys)
		parts, err3 := r.Parts(background(), keys)
		values, err4 := r.Values(background(), keys)
		for _, s := range [][]statement.Statement{fitments, links, parts, values} {
			out = append(out, s...)
		}
		return errors.Join(err1, err2, err3, err4)
	})
	return out
}

func (d *desk) stock(keys ...string) []shelf.Line {
	d.Helper()
	var out []shelf.Line
	d.read(func(r app.Reader) (err error) {
		out, err = r.Stock(background(), keys)
		return err
	})
	return out
}

// onShelf gives "bin on hand/held" for a key, in the order of the answer.
func (d *desk) onShelf(key string) string {
	d.Helper()
	var texts []string
	for _, l := range d.stock(key) {
		texts = append(texts, fmt.Sprintf("%s %d/%d", l.Bin, l.OnHand, l.Held))
	}
	return strings.Join(texts, ", ")
}

// changed gives the keys of the feed after a revision.
func (d *desk) changed(after int64) string {
	d.Helper()
	var texts []string
	d.read(func(r app.Reader) error {
		changes, err := r.Changes(background(), after)
		for _, c := range changes {
			texts = append(texts, fmt.Sprintf("%d:%s", c.Revision, c.Key))
		}
		return err
	})
	return strings.Join(texts, " ")
}

func (d *desk) equal(what string, got, want any) {
	d.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		d.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func (d *desk) refused(what string, err error, want app.Code) {
	d.Helper()
	if err == nil || app.CodeOf(err) != want {
		d.Errorf("%s: got error %v (code %s), want code %s", what, err, app.CodeOf(err), want)
	}
}

func ids(said []statement.Statement) []string {
	out := []string{}
	for _, s := range said {
		out = append(out, s.ID)
	}
	return out
}

// Made statements. All numbers and names are invented.

func ref(number string) part.Ref {
	if number == "" {
		return part.Ref{}
	}
	r, err := part.NewRef(number, "")
	if err != nil {
		panic(err)
	}
	return r
}

func named(number, typ string) statement.Statement {
	return statement.Statement{Kind: statement.KindPart, Type: typ, A: ref(number),
		Part: statement.PartName{Printed: number, Role: statement.Own}}
}

func fits(number, typ string, clauses ...string) statement.Statement {
	s := statement.Statement{Kind: statement.KindFitment, Type: typ, A: ref(number), Scope: vehicle.NewScope()}
	for i := 0; i+1 < len(clauses); i += 2 {
		s.Scope.Want(vehicle.Fact(clauses[i]), clauses[i+1])
	}
	return s
}

func linked(rel statement.Relation, a, b string) statement.Statement {
	return statement.Statement{Kind: statement.KindLink, A: ref(a), Link: statement.Link{Relation: rel, B: ref(b), PrintedA: a, PrintedB: b}}
}

func counted(number, bin string, quantity int) shelf.Posting {
	return shelf.Posting{Part: ref(number), Printed: number, Bin: bin, Condition: shelf.UsedTested, Quantity: quantity, Counted: true}
}
