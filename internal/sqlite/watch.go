package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"sync"
)

// watcher is a connection of its own: SQLite's data_version counts what others
// than the asking connection have committed.
type watcher struct {
	mu sync.Mutex
	db *sql.DB
}

// DataVersion gives a number that moves whenever anything was committed to the
// book, by this process or another. It reads no page, so it can be asked many
// times a second.
func (b *Book) DataVersion(ctx context.Context) (int64, error) {
	w := &b.watcher
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.db == nil {
		w.db = pool(newConnector(b.file(), readerKeys(), nil), 1)
	}
	var v int64
	err := w.db.QueryRowContext(ctx, `PRAGMA data_version`).Scan(&v)
	return v, explain("watching the book", err)
}

// Revision gives the book's revision now.
func (b *Book) Revision(ctx context.Context) (int64, error) {
	v, err := getMeta(ctx, b.readers, b.shop, metaRevision)
	return v, explain("reading the book's revision", err)
}

func (w *watcher) close() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.db == nil {
		return nil
	}
	err := w.db.Close()
	w.db = nil
	return errors.Join(err)
}
