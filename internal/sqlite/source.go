package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"crossbin/internal/statement"
)

// Sources gives every source of a current version, by id.
func (r *reader) Sources(ctx context.Context) (map[string]statement.Source, error) {
	const query = `SELECT list, since, until, id, shop, list_name, name, standing, manner, copied_from FROM source`
	out := map[string]statement.Source{}
	err := each(ctx, r.tx, query, nil, 10, func(rec *record) error {
		if r.snap.counts(rec.num(0), rec.num(1), rec.num(2)) {
			s := sourceOf(rec)
			out[s.ID] = s
		}
		return nil
	})
	return out, explain("reading the sources", err)
}

func sourceOf(rec *record) statement.Source {
	return statement.Source{ID: rec.id(3), Shop: rec.text(4), List: rec.text(5), Name: rec.text(6),
		Standing: statement.Standing(rec.text(7)), Manner: statement.Manner(rec.text(8)), CopiedFrom: rec.id(9)}
}

// putSource makes a source known under a version of a list that nobody reads
// yet, and gives its number. A source that says the same of itself as before is
// left as it is; one that says something else is a change of the book.
func putSource(ctx context.Context, tx *transaction, list, version int64, s statement.Source) (n int64, changed bool, err error) {
	known, n, since, err := findSource(ctx, tx, list, s.ID)
	switch {
	case err != nil:
		return 0, false, err
	case n != 0 && known == s:
		return n, since == version, nil
	case n == 0:
		if err = tx.QueryRowContext(ctx, `SELECT coalesce(max(n), 0) + 1 FROM source`).Scan(&n); err != nil {
			return 0, false, err
		}
	case since == version:
		_, err = tx.ExecContext(ctx, `DELETE FROM source WHERE n = ? AND since = ?`, n, version)
	default:
		_, err = tx.ExecContext(ctx, `UPDATE source SET until = ? WHERE n = ? AND since = ?`, version, n, since)
	}
	if err != nil {
		return 0, false, err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO source (n, since, until, list, id, shop, list_name, name, standing, manner, copied_from)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, n, version, int64(unended), list, packID(s.ID), s.Shop, s.List, s.Name,
		string(s.Standing), string(s.Manner), packID(s.CopiedFrom))
	return n, known.ID != "", err
}

// findSource gives what a source last said of itself; n is 0 for an unknown one.
func findSource(ctx context.Context, tx *transaction, list int64, id string) (s statement.Source, n, since int64, err error) {
	const query = `SELECT n, since, until, id, shop, list_name, name, standing, manner, copied_from FROM source
		WHERE list = ? AND id = ? ORDER BY since DESC LIMIT 1`
	rec := newRecord(10)
	err = tx.QueryRowContext(ctx, query, list, packID(id)).Scan(rec.into...)
	if errors.Is(err, sql.ErrNoRows) {
		return s, 0, 0, nil
	}
	return sourceOf(rec), rec.num(0), rec.num(1), err
}
