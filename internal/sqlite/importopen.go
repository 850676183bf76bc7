package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

// phase is how far an import came.
type phase int

const (
	phaseStaging phase = iota
	phaseFinished
	phaseCommitted
	phaseAbandoned
)

// importWriter writes the next version of a list. It is used by one goroutine.
type importWriter struct {
	book    *Book
	lock    *fileLock
	proof   *sql.DB // reads what was written, while readers answer questions
	shelf   *sql.DB // reads what the list says of the shelf, beside proof
	batch   app.Batch
	seq     int64 // of the batch
	list    int64
	current int64 // version that counts while this one is written
	version int64
	keys    int64 // set of changed keys
	first   int64 // first sheet_row of this import
	next    int64 // sheet_row to be written next

	phase          phase
	sheets         map[sheetName]int64
	sources        map[string]int64
	sourcesChanged bool                // a known source says something else of itself
	shelfChanges   bool                // the version says something else of the shelf; known after Finish
	seen           map[sheetName]idSet // lines staged
	kept           idSet               // sheet_rows that stay as they are
	named          []namedKey          // keys of the new rows that no way leads to yet
	rows           tally
	said           tally
	revision       int64 // after Commit
}

// tally counts what was staged: what stays as it stands, and what is written.
type tally struct{ kept, added int64 }

// OpenImport begins the next version of a list. What an earlier import left
// behind is removed first, so that none of it can come to count. Errors:
// CodeInvalid for a batch without id or list, CodeConflict for an id that is
// there already, CodeInUse while another import runs.
func (b *Book) OpenImport(ctx context.Context, batch app.Batch) (app.ImportWriter, error) {
	if batch.ID == "" || batch.List == "" {
		return nil, problem(app.CodeInvalid, "an import needs an id and the name of a list", "")
	}
	lock, err := b.lockImports()
	if err != nil {
		return nil, err
	}
	w := &importWriter{book: b, lock: lock, batch: batch, proof: openUnmapped(b.file()), shelf: openUnmapped(b.file()), sheets: map[sheetName]int64{}, sources: map[string]int64{},
		seen: map[sheetName]idSet{}, kept: idSet{}}
	err = b.clean(ctx)
	if err == nil {
		err = b.write(ctx, "beginning an import", func(tx *transaction) error { return w.begin(ctx, tx) })
	}
	if err != nil {
		w.release()
		return nil, err
	}
	b.mu.Lock()
	b.importing = w
	b.mu.Unlock()
	return w, nil
}

// lockImports takes the lock under which alone imports are written and removed.
func (b *Book) lockImports() (*fileLock, error) {
	if b.writer == nil {
		return nil, problem(app.CodeUnavailable, "the book was opened for reading only", "")
	}
	lock, err := takeLock(filepath.Join(b.dir, importLockName))
	if errors.Is(err, errHeld) {
		return nil, problem(app.CodeInUse, "another import is running", "try again when it has finished")
	}
	return lock, explain("locking the book for an import", err)
}

func (w *importWriter) begin(ctx context.Context, tx *transaction) error {
	b := w.batch
	var taken int
	err := tx.QueryRowContext(ctx, `SELECT count(*) FROM batch WHERE shop = ? AND id = ?`, w.book.shop, b.ID).Scan(&taken)
	if err != nil {
		return err
	}
	if taken > 0 {
		return problem(app.CodeConflict, fmt.Sprintf("an import %s is in the book already", b.ID), "")
	}
	err = tx.QueryRowContext(ctx, `INSERT INTO list (shop, name, current, next_version) VALUES (?, ?, 0, 2)
		ON CONFLICT (shop, name) DO UPDATE SET next_version = next_version + 1
		RETURNING id, current, next_version - 1`, w.book.shop, b.List).Scan(&w.list, &w.current, &w.version)
	if err != nil {
		return err
	}
	if w.keys, err = bump(ctx, tx, w.book.shop, metaNextKeys); err != nil {
		return err
	}
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(id), 0) + 1 FROM sheet_row`).Scan(&w.first); err != nil {
		return err
	}
	w.next = w.first
	if b.At == 0 {
		b.At = w.book.clock().UnixMilli()
	}
	return tx.QueryRowContext(ctx, `INSERT INTO batch (shop, id, list, version, file, hash, standing, state, leftover, revision, at,
		who, device, counts, keys, first_row, last_row) VALUES (?, ?, ?, ?, ?, ?, ?, 'staging', 1, 0, ?, ?, ?, '{}', ?, ?, ?) RETURNING seq`,
		w.book.shop, b.ID, w.list, w.version, b.File, b.Hash, string(b.Standing), b.At, b.By.Who, b.By.Device, w.keys, w.first, w.first-1).
		Scan(&w.seq)
}

// Version is the version that is being written.
func (w *importWriter) Version() int64 { return w.version }

// in refuses a call that comes at the wrong time.
func (w *importWriter) in(allowed ...phase) error {
	for _, p := range allowed {
		if w.phase == p {
			return nil
		}
	}
	return problem(app.CodeConflict, "this import has ended or is not finished", "begin a new one")
}

// release gives back what an import holds.
func (w *importWriter) release() {
	w.proof.Close()
	w.shelf.Close()
	w.lock.release()
}

// end ends the import.
func (w *importWriter) end(p phase) {
	w.phase = p
	w.release()
	w.book.mu.Lock()
	if w.book.importing == w {
		w.book.importing = nil
	}
	w.book.mu.Unlock()
}

// Source makes sure that a source is known. What it newly says of itself counts
// from Commit on.
func (w *importWriter) Source(ctx context.Context, s statement.Source) error {
	if err := w.in(phaseStaging); err != nil {
		return err
	}
	if s.ID == "" {
		return problem(app.CodeInvalid, "a source needs an id", "")
	}
	return w.book.write(ctx, "writing a source", func(tx *transaction) error {
		n, changed, err := putSource(ctx, tx, w.list, w.version, s)
		if err != nil {
			return err
		}
		w.sources[s.ID] = n
		w.sourcesChanged = w.sourcesChanged || changed
		return nil
	})
}

// Recurring counts how many of these row hashes stand in the list's current
// version, and how many in the current version of the other list that holds
// most of them (the first by name among equals).
func (w *importWriter) Recurring(ctx context.Context, hashes []string) (same, other int, otherList string, err error) {
	found := map[int64]int{}
	var names map[int64]string
	err = w.book.read(ctx, w.book.readers, func(r *reader) error {
		if names, err = r.listNames(ctx); err != nil {
			return err
		}
		for len(hashes) > 0 {
			n := min(len(hashes), listSizes[len(listSizes)-1])
			if err := r.countHashes(ctx, hashes[:n], found); err != nil {
				return err
			}
			hashes = hashes[n:]
		}
		return nil
	})
	for list, n := range found {
		if list != w.list && (n > other || n == other && names[list] < otherList) {
			other, otherList = n, names[list]
		}
	}
	return found[w.list], other, otherList, explain("comparing with the lists in the book", err)
}

func (r *reader) listNames(ctx context.Context) (map[int64]string, error) {
	names := map[int64]string{}
	err := each(ctx, r.tx, `SELECT id, name FROM list WHERE shop = ?`, []any{r.shop}, 2, func(rec *record) error {
		names[rec.num(0)] = rec.text(1)
		return nil
	})
	return names, err
}

// countHashes counts, list by list, the hashes that stand in current versions.
// A hash that stands twice in one list counts once.
func (r *reader) countHashes(ctx context.Context, hashes []string, found map[int64]int) error {
	size := listSizes[len(listSizes)-1]
	args := make([]any, 0, size)
	for i := range size {
		args = append(args, packID(hashes[min(i, len(hashes)-1)]))
	}
	type place struct {
		list int64
		hash string
	}
	once := map[place]bool{}
	return each(ctx, r.tx, rowsByHash(size), args, 4, func(rec *record) error {
		p := place{rec.num(0), rec.id(3)}
		if r.snap.counts(p.list, rec.num(1), rec.num(2)) && !once[p] {
			once[p] = true
			found[p.list]++
		}
		return nil
	})
}
