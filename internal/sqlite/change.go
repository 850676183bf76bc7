package sqlite

import (
	"context"
	"slices"

	"crossbin/internal/app"
)

// Changes gives the change feed after a revision, oldest first.
func (r *reader) Changes(ctx context.Context, after int64) ([]app.Change, error) {
	var out []app.Change
	err := each(ctx, r.tx, changesAfter, []any{r.shop, after}, 2, func(rec *record) error {
		out = append(out, app.Change{Revision: rec.num(0), Key: rec.text(1)})
		return nil
	})
	return out, explain("reading the change feed", err)
}

const changesAfter = `SELECT c.revision, k.key FROM change c CROSS JOIN change_key k ON k.keys = c.keys
	WHERE c.shop = ? AND c.revision > ? ORDER BY c.revision, k.key`

// Keys walks all part keys in the book in order: those that statements name,
// and those on the shelf.
func (r *reader) Keys(ctx context.Context, yield func(key string) error) error {
	var stopped error
	err := each(ctx, r.tx, allKeys(), []any{r.shop}, 1, func(rec *record) error {
		stopped = yield(rec.text(0))
		return stopped
	})
	if stopped != nil {
		return stopped
	}
	return explain("reading all part keys", err)
}

// allKeys is the query for every current part key.
func allKeys() string {
	return `SELECT k.key FROM row_key k CROSS JOIN sheet_row r ON r.id = k.sheet_row` + thenList + `
		WHERE r.since <= l.current AND l.current < r.until
		UNION SELECT key FROM movement WHERE shop = ? ORDER BY 1`
}

// nextRevision raises the revision and says that a set of keys changed with it.
func nextRevision(ctx context.Context, tx *transaction, shop string, keys int64) (int64, error) {
	revision, err := bump(ctx, tx, shop, metaRevision)
	if err != nil {
		return 0, err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO change (shop, revision, keys) VALUES (?, ?, ?)`, shop, revision, keys)
	return revision, err
}

// addKeys adds part keys to a set; those that are in it already do no harm.
func addKeys(ctx context.Context, tx *transaction, set int64, keys []string) error {
	slices.Sort(keys)
	b := newBulk("INSERT OR IGNORE", "change_key", "keys", "key")
	for _, k := range slices.Compact(keys) {
		b.int(set)
		b.text(k)
		if err := b.end(ctx, tx); err != nil {
			return err
		}
	}
	return b.flush(ctx, tx)
}
