package sqlite

import (
	"context"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"

	"crossbin/internal/app"
)

// Finish ends what the new version no longer says, proves the sums, writes the
// changed keys ahead and returns what a commit would change. Kept are the
// statements that stay as they stand, Moved those whose row was written anew.
// It may be repeated.
func (w *importWriter) Finish(ctx context.Context) (app.Counts, error) {
	var counts app.Counts
	if err := w.in(phaseStaging, phaseFinished); err != nil {
		return counts, err
	}
	if err := w.fillWays(ctx); err != nil {
		return counts, err
	}
	if err := w.endOthers(ctx); err != nil {
		return counts, err
	}
	var keys map[string]struct{}
	err := w.book.read(ctx, w.proof, func(r *reader) error {
		ended, err := w.prove(ctx, r)
		if err != nil {
			return err
		}
		counts, keys, err = w.compare(ctx, r, ended)
		return err
	})
	if err != nil {
		return counts, explain("checking an import", err)
	}
	if err := w.writeKeys(ctx, keys); err != nil {
		return counts, err
	}
	w.phase = phaseFinished
	return counts, nil
}

// endOthers gives the rows that stand in the current version and were not kept
// the new version as their until.
func (w *importWriter) endOthers(ctx context.Context) error {
	if w.current == 0 {
		return nil
	}
	runs, err := committedRuns(ctx, w.proof, w.list)
	if err != nil {
		return explain("ending rows", err)
	}
	for _, r := range runs {
		for r.first <= r.last {
			next, err := w.endSome(ctx, r)
			if err != nil {
				return err
			}
			r.first = next
		}
	}
	return nil
}

// endSome ends what is not kept among the first standing rows of a run, and
// gives where to go on.
func (w *importWriter) endSome(ctx context.Context, r run) (next int64, err error) {
	const query = `SELECT id FROM sheet_row WHERE id BETWEEN ? AND ? AND until = ` + unendedText + ` ORDER BY id LIMIT ?`
	err = w.book.write(ctx, "ending rows", func(tx *transaction) error {
		ids, err := rowIDs(ctx, tx, query, r.first, r.last, w.book.portion.step)
		if err != nil {
			return err
		}
		next = r.last + 1
		if len(ids) == int(w.book.portion.step) {
			next = ids[len(ids)-1] + 1
		}
		ended := slices.DeleteFunc(ids, w.kept.has)
		return setUntil(ctx, tx, runsOf(ended), unended, w.version)
	})
	return next, err
}

// prove counts what the new version holds and holds it against what was staged.
// It returns how many rows the version ended.
func (w *importWriter) prove(ctx context.Context, r *reader) (ended int64, err error) {
	fresh := run{w.first, w.next - 1}
	rows, err := countOne(ctx, r.tx, `SELECT count(*) FROM sheet_row WHERE id BETWEEN ? AND ?`, fresh.args()...)
	if err != nil {
		return 0, err
	}
	first, last := posRange(fresh.first, fresh.last)
	said, err := countTables(ctx, r.tx, `SELECT count(*) FROM %s WHERE pos BETWEEN ? AND ?`, first, last)
	if err != nil {
		return 0, err
	}
	runs, err := committedRuns(ctx, r.tx, w.list)
	if err != nil {
		return 0, err
	}
	var keptRows, keptSaid int64
	for _, g := range runs {
		n, err := countOne(ctx, r.tx, `SELECT count(*) FROM sheet_row WHERE id BETWEEN ? AND ? AND until = `+unendedText, g.args()...)
		if err != nil {
			return 0, err
		}
		m, err := countTables(ctx, r.tx, `SELECT count(*) FROM sheet_row r CROSS JOIN %s s ON s.pos `+ofRow+`
			WHERE r.id BETWEEN ? AND ? AND r.until = `+unendedText, g.args()...)
		if err != nil {
			return 0, err
		}
		keptRows, keptSaid = keptRows+n, keptSaid+m
	}
	if rows != w.rows.added || said != w.said.added || keptRows != w.rows.kept || keptSaid != w.said.kept {
		return 0, problem(app.CodeInternal, fmt.Sprintf("the next version of %s holds %d rows with %d statements, read were %d rows with %d",
			w.batch.List, rows+keptRows, said+keptSaid, w.rows.kept+w.rows.added, w.said.kept+w.said.added), "nothing was changed; bring the file in again")
	}
	return countOne(ctx, r.tx, `SELECT count(*) FROM sheet_row WHERE list = ? AND until = ? AND until < `+unendedText, w.list, w.version)
}

// countTables adds up what a query counts in each table of statements, which %s
// stands for.
func countTables(ctx context.Context, q querier, query string, args ...any) (sum int64, err error) {
	for _, t := range tables {
		n, err := countOne(ctx, q, fmt.Sprintf(query, t.name), args...)
		if err != nil {
			return 0, err
		}
		sum += n
	}
	return sum, nil
}

func countOne(ctx context.Context, q querier, query string, args ...any) (n int64, err error) {
	err = q.QueryRowContext(ctx, query, args...).Scan(&n)
	return n, err
}

// compare tells added, dropped and moved statements apart by their ids, and
// gathers the part keys of which the new version says something else.
func (w *importWriter) compare(ctx context.Context, r *reader, ended int64) (app.Counts, map[string]struct{}, error) {
	counts := app.Counts{Kept: int(w.said.kept)}
	keys := map[string]struct{}{}
	if w.rows.added == 0 && ended == 0 {
		return counts, keys, nil
	}
	for _, t := range tables {
		d := &difference{w: w, r: r, t: t, keys: keys}
		if err := d.find(ctx, ended > 0); err != nil {
			return counts, nil, err
		}
		counts.Added += d.added
		counts.Dropped += d.dropped
		counts.Moved += len(d.moved)
	}
	w.shelfChanges = false
	err := w.eachBooking(ctx, r.tx, func(changes []binChange, bookings []booking) error {
		for _, c := range changes {
			keys[c.bin.key] = struct{}{}
		}
		w.shelfChanges = true
		counts.Postings += len(bookings)
		return nil
	})
	return counts, keys, err
}

// difference is what the new version changes in one table.
type difference struct {
	w              *importWriter
	r              *reader
	t              *table
	keys           map[string]struct{}
	moved          []shortID // sorted
	added, dropped int
}

// shortID is a statement's id in 16 bytes.
type shortID [16]byte

func shorten(id any) shortID {
	if b, ok := id.([]byte); ok && len(b) == len(shortID{}) {
		return shortID(b)
	}
	sum := sha256.Sum256([]byte(unpackID(id)))
	return shortID(sum[:len(shortID{})])
}

func compareIDs(a, b shortID) int { return slices.Compare(a[:], b[:]) }

func (d *difference) find(ctx context.Context, anyEnded bool) error {
	if err := d.count(ctx, anyEnded); err != nil {
		return err
	}
	if d.added > 0 && d.w.current > 0 { // else all keys are in the feed anyway
		if err := d.gatherKeys(ctx, d.freshText, d.freshArgs()); err != nil {
			return err
		}
	}
	if d.dropped > 0 {
		return d.gatherKeys(ctx, d.goneText, d.goneArgs())
	}
	return nil
}

func (d *difference) count(ctx context.Context, anyEnded bool) error {
	if !anyEnded { // then nothing moved, and ids need no comparison
		n, err := countOne(ctx, d.r.tx, d.freshText("count(*)"), d.freshArgs()...)
		d.added = int(n)
		return err
	}
	fresh, err := d.ids(ctx, d.freshText("s.id"), d.freshArgs())
	if err != nil {
		return err
	}
	gone, err := d.ids(ctx, d.goneText("s.id"), d.goneArgs())
	if err != nil {
		return err
	}
	d.moved = inBoth(fresh, gone)
	d.added, d.dropped = len(fresh)-len(d.moved), len(gone)-len(d.moved)
	return nil
}

func (d *difference) freshText(columns string) string {
	return `SELECT ` + columns + ` FROM ` + d.t.name + ` s WHERE s.pos BETWEEN ? AND ?`
}

func (d *difference) freshArgs() []any {
	first, last := posRange(d.w.first, d.w.next-1)
	return []any{first, last}
}

func (d *difference) goneText(columns string) string {
	return `SELECT ` + columns + ` FROM sheet_row r CROSS JOIN ` + d.t.name + ` s ON s.pos ` + ofRow + `
		WHERE r.list = ? AND r.until = ? AND r.until < ` + unendedText
}

func (d *difference) goneArgs() []any { return []any{d.w.list, d.w.version} }

func (d *difference) ids(ctx context.Context, query string, args []any) ([]shortID, error) {
	var out []shortID
	err := each(ctx, d.r.tx, query, args, 1, func(rec *record) error {
		out = append(out, shorten(rec.cells[0]))
		return nil
	})
	slices.SortFunc(out, compareIDs)
	return out, err
}

// inBoth gives what two sorted lists have in common.
func inBoth(a, b []shortID) []shortID {
	var out []shortID
	for len(a) > 0 && len(b) > 0 {
		switch c := compareIDs(a[0], b[0]); {
		case c < 0:
			a = a[1:]
		case c > 0:
			b = b[1:]
		default:
			out = append(out, a[0])
			a, b = a[1:], b[1:]
		}
	}
	return out
}

// gatherKeys notes the keys of statements that did not only move.
func (d *difference) gatherKeys(ctx context.Context, text func(columns string) string, args []any) error {
	columns := "s.id"
	for _, k := range d.t.keys {
		columns += ", s." + k
	}
	return each(ctx, d.r.tx, text(columns), args, 1+len(d.t.keys), func(rec *record) error {
		if _, moved := slices.BinarySearchFunc(d.moved, shorten(rec.cells[0]), compareIDs); moved {
			return nil
		}
		for i := range d.t.keys {
			if key := rec.text(1 + i); key != "" {
				d.keys[key] = struct{}{}
			}
		}
		return nil
	})
}

// writeKeys writes the changed keys ahead, so that the commit names only their
// set. Those of a list's first version are there already, see fillKeys.
func (w *importWriter) writeKeys(ctx context.Context, keys map[string]struct{}) error {
	if w.current > 0 {
		err := w.book.write(ctx, "writing the change feed", func(tx *transaction) error {
			_, err := tx.ExecContext(ctx, `DELETE FROM change_key WHERE keys = ?`, w.keys)
			return err
		})
		if err != nil {
			return err
		}
	}
	for chunk := range slices.Chunk(slices.Sorted(maps.Keys(keys)), w.book.portion.feed) {
		err := w.book.write(ctx, "writing the change feed", func(tx *transaction) error { return addKeys(ctx, tx, w.keys, chunk) })
		if err != nil {
			return err
		}
	}
	return nil
}
