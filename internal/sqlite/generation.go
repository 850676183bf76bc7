package sqlite

import (
	"context"

	"crossbin/internal/app"
)

// portions says how much goes into one transaction where an import is written,
// ended or removed: others get to write in between.
type portions struct {
	step   int64 // sheet rows ended, revived or removed, each with some ten statements
	fill   int64 // sheet rows that enter the ways: what is sorted for them stays below 40 MB
	gather int   // named keys gathered before they are written in order, 40 bytes each: some 60,000 rows
	feed   int   // changed keys written ahead
}

var usualPortions = portions{step: 2000, fill: 50_000, gather: 250_000, feed: 10_000}

const unendedText = "9223372036854775807"

// generationTables are all tables whose rows hang on a sheet row.
func generationTables() []string {
	names := make([]string, 0, len(tables)+1)
	for _, t := range tables {
		names = append(names, t.name)
	}
	return append(names, "posting")
}

// setUntil moves the until of some sheet rows from one version to another.
// Within the runs it touches only what had the former until.
func setUntil(ctx context.Context, tx *transaction, runs []run, from, to int64) error {
	for _, r := range runs {
		if err := ctx.Err(); err != nil {
			return err
		}
		_, err := tx.ExecContext(context.WithoutCancel(ctx), `UPDATE sheet_row SET until = ? WHERE id BETWEEN ? AND ? AND until = ?`, to, r.first, r.last, from)
		if err != nil {
			return err
		}
	}
	return nil
}

// removeRows deletes a range of sheet rows with all that hangs on them; the ways
// in go first, because they are found through the rows.
func removeRows(ctx context.Context, tx *transaction, r run) error {
	first, last := posRange(r.first, r.last)
	ranges := []any{first, last, r.first, r.last}
	for _, w := range ways() {
		for _, text := range w.remove {
			if _, err := tx.ExecContext(ctx, text, ranges...); err != nil {
				return err
			}
		}
	}
	for _, name := range generationTables() {
		if _, err := tx.ExecContext(ctx, `DELETE FROM `+name+` WHERE pos BETWEEN ? AND ?`, first, last); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, `DELETE FROM sheet_row WHERE id BETWEEN ? AND ?`, r.first, r.last)
	return err
}

// rowIDs reads the numbers of sheet rows.
func rowIDs(ctx context.Context, q querier, query string, args ...any) ([]int64, error) {
	var ids []int64
	err := each(ctx, q, query, args, 1, func(rec *record) error {
		ids = append(ids, rec.num(0))
		return nil
	})
	return ids, err
}

// endedRows are the sheet rows that a version ended. The second condition is
// what lets the planner use the index of ended rows.
const endedRows = `SELECT id FROM sheet_row WHERE list = ? AND until = ? AND until < ` + unendedText + ` ORDER BY id LIMIT ?`

// revive takes back that a version ended rows.
func (b *Book) revive(ctx context.Context, list, version int64) error {
	for {
		var n int
		err := b.write(ctx, "removing an import", func(tx *transaction) error {
			ids, err := rowIDs(ctx, tx, endedRows, list, version, b.portion.step)
			if err != nil {
				return err
			}
			n = len(ids)
			return setUntil(ctx, tx, runsOf(ids), version, unended)
		})
		if err != nil || n < int(b.portion.step) {
			return err
		}
	}
}

// clean removes what imports left that were killed or undone. The caller holds
// the lock of imports. Each step can be repeated, and the mark on the batch goes
// last.
func (b *Book) clean(ctx context.Context) error {
	type leftover struct{ seq, list, version, first, last, keys int64 }
	var all []leftover
	const query = `SELECT seq, list, version, first_row, CASE state WHEN 'staging' THEN (SELECT coalesce(max(id), 0) FROM sheet_row)
		ELSE last_row END, keys FROM batch WHERE leftover = 1 ORDER BY seq DESC`
	err := each(ctx, b.writer, query, nil, 6, func(r *record) error {
		all = append(all, leftover{r.num(0), r.num(1), r.num(2), r.num(3), r.num(4), r.num(5)})
		return nil
	})
	if err != nil {
		return explain("looking for what killed imports left", err)
	}
	for _, l := range all {
		b.log.Info("removing an import that does not count", "batch", l.seq, "rows", l.last-l.first+1)
		if err := b.removeAll(ctx, l.first, l.last); err != nil {
			return err
		}
		if err := b.revive(ctx, l.list, l.version); err != nil {
			return err
		}
		err := b.write(ctx, "removing an import", func(tx *transaction) error { return forget(ctx, tx, l.seq, l.list, l.version, l.keys) })
		if err != nil {
			return err
		}
	}
	return nil
}

func (b *Book) removeAll(ctx context.Context, first, last int64) error {
	for ; first <= last; first += b.portion.step {
		step := run{first, min(last, first+b.portion.step-1)}
		if err := b.write(ctx, "removing an import", func(tx *transaction) error { return removeRows(ctx, tx, step) }); err != nil {
			return err
		}
	}
	return nil
}

// forget ends the removal of a version: its sources, and of an import that
// never counted also its changed keys, its batch, and a list that has no other.
func forget(ctx context.Context, tx *transaction, seq, list, version, keys int64) error {
	steps := []struct {
		text string
		args []any
	}{
		{`DELETE FROM source WHERE list = ? AND since = ?`, []any{list, version}},
		{`UPDATE source SET until = ` + unendedText + ` WHERE list = ? AND until = ?`, []any{list, version}},
		{`DELETE FROM change_key WHERE keys = ? AND NOT EXISTS (SELECT 1 FROM change WHERE change.keys = change_key.keys)`, []any{keys}},
		{`UPDATE batch SET leftover = 0 WHERE seq = ? AND state = 'undone'`, []any{seq}},
		{`DELETE FROM batch WHERE seq = ? AND state = 'staging'`, []any{seq}},
		{`DELETE FROM sheet WHERE list = ? AND NOT EXISTS (SELECT 1 FROM batch WHERE batch.list = sheet.list)`, []any{list}},
		{`DELETE FROM list WHERE id = ? AND NOT EXISTS (SELECT 1 FROM batch WHERE batch.list = list.id)`, []any{list}},
	}
	for _, s := range steps {
		if _, err := tx.ExecContext(ctx, s.text, s.args...); err != nil {
			return err
		}
	}
	return nil
}

// Sweep removes what a killed import left; it is called at start. While another
// import runs there is nothing to remove.
func (b *Book) Sweep(ctx context.Context) error {
	if b.writer == nil {
		return nil // a reader sees nothing of it anyway
	}
	lock, err := b.lockImports()
	if err != nil && app.CodeOf(err) == app.CodeInUse {
		return nil
	}
	if err != nil {
		return err
	}
	defer lock.release()
	return b.clean(ctx)
}

// committedRuns are the sheet rows that counted imports of a list wrote.
func committedRuns(ctx context.Context, q querier, list int64) ([]run, error) {
	var out []run
	err := each(ctx, q, `SELECT first_row, last_row FROM batch WHERE list = ? AND state = 'committed' AND last_row >= first_row ORDER BY first_row`,
		[]any{list}, 2, func(rec *record) error {
			out = append(out, run{rec.num(0), rec.num(1)})
			return nil
		})
	return out, err
}
