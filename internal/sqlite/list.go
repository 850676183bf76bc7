package sqlite

import (
	"context"
	"encoding/json"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

// Lists gives every list with an import that counted once, by name. Standing,
// file and counts are those of the current version, or of the newest import
// when nothing counts.
func (r *reader) Lists(ctx context.Context) ([]app.List, error) {
	const query = `SELECT l.name, l.current, b.standing, b.file, b.id, b.at, b.counts
		FROM list l JOIN batch b ON b.seq = (
			SELECT x.seq FROM batch x WHERE x.list = l.id AND x.state <> 'staging'
			ORDER BY x.version = l.current DESC, x.seq DESC LIMIT 1)
		WHERE l.shop = ? ORDER BY l.name`
	var out []app.List
	err := each(ctx, r.tx, query, []any{r.shop}, 7, func(rec *record) error {
		l := app.List{Name: rec.text(0), Version: rec.num(1), Standing: statement.Standing(rec.text(2))}
		if l.Version != 0 {
			l.File, l.Batch, l.ReadAt = rec.text(3), rec.text(4), rec.num(5)
			rec.json(6, &l.Counts)
		}
		out = append(out, l)
		return nil
	})
	return out, explain("reading the lists", err)
}

const batchColumns = `b.id, l.name, b.version, b.file, b.hash, b.standing, b.state, b.revision, b.at, b.who, b.device, b.counts`

func batchOf(rec *record) app.Batch {
	b := app.Batch{
		ID: rec.text(0), List: rec.text(1), Version: rec.num(2), File: rec.text(3), Hash: rec.text(4),
		Standing: statement.Standing(rec.text(5)), State: app.BatchState(rec.text(6)), Revision: rec.num(7), At: rec.num(8),
		By: app.Actor{Who: rec.text(9), Device: rec.text(10)},
	}
	rec.json(11, &b.Counts)
	return b
}

// Batches gives every committed or undone import, newest first.
func (r *reader) Batches(ctx context.Context) ([]app.Batch, error) {
	const query = `SELECT ` + batchColumns + ` FROM batch b JOIN list l ON l.id = b.list
		WHERE b.shop = ? AND b.state <> 'staging' ORDER BY b.seq DESC`
	var out []app.Batch
	err := each(ctx, r.tx, query, []any{r.shop}, 12, func(rec *record) error {
		out = append(out, batchOf(rec))
		return nil
	})
	return out, explain("reading the imports", err)
}

func countsText(c app.Counts) string {
	var b strings.Builder
	if err := json.NewEncoder(&b).Encode(c); err != nil {
		panic(err) // plain numbers
	}
	return strings.TrimSpace(b.String())
}
