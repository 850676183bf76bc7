package sqlite

import (
	"context"
	"fmt"
	"strings"
)

// wayIn is a table by which rows or statements are found. All its texts take
// the same four parameters: first and last position, first and last sheet row.
type wayIn struct {
	name   string
	fill   string // "" for row_key, see fillKeys
	remove []string
}

// ways lists the tables of ways in.
func ways() []wayIn {
	const hashes = "SELECT hash, id FROM sheet_row WHERE id BETWEEN ?3 AND ?4 AND ?1 <= ?2"
	return []wayIn{
		{name: "row_key",
			remove: []string{"DELETE FROM row_key WHERE (key, sheet_row) IN (SELECT key, sheet_row FROM (" + namedKeys() + "))"}},
		{name: "fitment_way",
			fill:   "INSERT OR IGNORE INTO fitment_way (way, value, type, pos) " + scopeWays() + " ORDER BY 1, 2, 3, 4",
			remove: removeScopes()},
		{name: "row_hash",
			fill:   "INSERT OR IGNORE INTO row_hash (hash, sheet_row) " + hashes + " ORDER BY 1, 2",
			remove: []string{"DELETE FROM row_hash WHERE (hash, sheet_row) IN (" + hashes + ")"}},
	}
}

// namedKeys is a query for the part keys that some rows name, with the table in
// which they do; a key comes as often as it is named.
func namedKeys() string {
	var parts []string
	for _, t := range tables {
		for _, c := range t.keys {
			parts = append(parts, fmt.Sprintf("SELECT %s AS key, pos >> 16 AS sheet_row, %d AS bit FROM %s WHERE pos BETWEEN ?1 AND ?2 AND %[1]s IS NOT NULL",
				c, t.bit, t.name))
		}
	}
	return strings.Join(parts, " UNION ALL ") + " AND ?3 <= ?4"
}

// scopeWays is a query for the facts by which the fitments of some rows are
// found.
func scopeWays() string {
	var parts []string
	for _, w := range fitmentWays {
		parts = append(parts, fmt.Sprintf("SELECT %d AS way, %s AS value, coalesce(type, '') AS type, pos FROM fitment WHERE pos BETWEEN ?1 AND ?2 AND %[2]s IS NOT NULL",
			w, wayColumns[w]))
	}
	return strings.Join(parts, " UNION ALL ") + " AND ?3 <= ?4"
}

// removeScopes removes them way by way, or the planner would look through all.
func removeScopes() []string {
	var out []string
	for _, w := range fitmentWays {
		out = append(out, fmt.Sprintf(`DELETE FROM fitment_way WHERE way = %d AND (value, type, pos) IN
			(SELECT %s, coalesce(type, ''), pos FROM fitment WHERE pos BETWEEN ?1 AND ?2 AND ?3 <= ?4)`, w, wayColumns[w]))
	}
	return out
}

// fillWays makes the rows of an import findable. Nobody finds them before the
// commit, because their version does not count. It may be repeated.
func (w *importWriter) fillWays(ctx context.Context) error {
	err := w.book.write(ctx, "making rows findable", func(tx *transaction) error { return w.fillKeys(ctx, tx) })
	if err != nil {
		return err
	}
	w.named = nil
	for first := w.first; first < w.next; first += w.book.portion.fill {
		last := min(w.next-1, first+w.book.portion.fill-1)
		from, to := posRange(first, last)
		for _, way := range ways() {
			if way.fill == "" {
				continue
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			err := w.book.write(ctx, "making rows findable", func(tx *transaction) error {
				_, err := tx.ExecContext(context.WithoutCancel(ctx), way.fill, from, to, first, last)
				return err
			})
			if err != nil {
				return err
			}
		}
	}
	return nil
}
