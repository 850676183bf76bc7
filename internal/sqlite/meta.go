package sqlite

import (
	"context"
	"database/sql"
	"errors"
)

// querier is what transactions, pools and single connections have in common.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// Names in meta.
const (
	metaRevision = "revision"
	metaNextKeys = "next_keys"
)

const readMeta = `SELECT value FROM meta WHERE shop = ? AND name = ?`

func getMeta(ctx context.Context, q querier, shop, name string) (int64, error) {
	var v int64
	err := q.QueryRowContext(ctx, readMeta, shop, name).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return v, err
}

// bump raises a counter by one and returns what it then is; the first is 1.
func bump(ctx context.Context, tx *transaction, shop, name string) (int64, error) {
	var v int64
	err := tx.QueryRowContext(ctx, `INSERT INTO meta (shop, name, value) VALUES (?, ?, 1)
		ON CONFLICT DO UPDATE SET value = value + 1 RETURNING value`, shop, name).Scan(&v)
	return v, err
}
