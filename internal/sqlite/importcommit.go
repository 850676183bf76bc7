package sqlite

import (
	"context"

	"crossbin/internal/app"
)

// Commit makes the new version count: it moves the current version, the
// revision and the change feed and posts the stock, in one transaction. When
// nothing was added, dropped, moved or posted the revision stays. Commit may be
// repeated after an error: where the first one came through after all, the
// second says so.
func (w *importWriter) Commit(ctx context.Context, counts app.Counts) (int64, error) {
	if w.phase == phaseCommitted {
		return w.revision, nil
	}
	if err := w.in(phaseFinished); err != nil {
		return 0, err
	}
	var revision int64
	err := w.book.write(ctx, "committing an import", func(tx *transaction) (err error) {
		revision, err = w.commit(ctx, tx, counts)
		return err
	})
	if err != nil {
		return 0, err
	}
	w.revision = revision
	w.end(phaseCommitted)
	return revision, nil
}

func (w *importWriter) commit(ctx context.Context, tx *transaction, counts app.Counts) (int64, error) {
	state, revision, err := w.state(ctx, tx)
	if err != nil || state == app.Committed {
		return revision, err
	}
	if counts.Postings, err = w.post(ctx, tx); err != nil {
		return 0, err
	}
	if counts.Added+counts.Dropped+counts.Moved+counts.Postings > 0 || w.sourcesChanged {
		revision, err = nextRevision(ctx, tx, w.book.shop, w.keys)
	} else {
		revision, err = getMeta(ctx, tx, w.book.shop, metaRevision)
	}
	if err != nil {
		return 0, err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE list SET current = ? WHERE id = ?`, w.version, w.list); err != nil {
		return 0, err
	}
	_, err = tx.ExecContext(ctx, `UPDATE batch SET state = 'committed', leftover = 0, revision = ?, counts = ?, last_row = ? WHERE seq = ?`,
		revision, countsText(counts), w.next-1, w.seq)
	return revision, err
}

// post books the stock, planned once more: others may have booked since Finish.
func (w *importWriter) post(ctx context.Context, tx *transaction) (n int, err error) {
	if !w.shelfChanges {
		return 0, nil
	}
	err = w.eachBooking(ctx, tx, func(_ []binChange, bookings []booking) error {
		n += len(bookings)
		return book(ctx, tx, w.book.shop, bookings)
	})
	return n, err
}

// state reads how far the batch came. Without one, somebody has removed it.
func (w *importWriter) state(ctx context.Context, q querier) (app.BatchState, int64, error) {
	var state string
	var revision int64
	err := q.QueryRowContext(ctx, `SELECT state, revision FROM batch WHERE seq = ?`, w.seq).Scan(&state, &revision)
	return app.BatchState(state), revision, err
}

// Abandon removes what was staged. After a Commit it does nothing.
func (w *importWriter) Abandon(ctx context.Context) error {
	if w.phase == phaseCommitted || w.phase == phaseAbandoned {
		return nil
	}
	state, _, err := w.state(ctx, w.book.writer)
	if err != nil {
		return explain("abandoning an import", err)
	}
	if state == app.Committed { // by a Commit that came through in spite of its error
		w.end(phaseCommitted)
		return nil
	}
	err = w.book.clean(ctx)
	w.end(phaseAbandoned)
	return err
}
