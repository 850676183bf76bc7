package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// undone is an import on its way back.
type undone struct {
	app.Batch
	seq, list, keys int64
	current         int64 // version that counts before the undo
	previous        int64 // version that counts after it
}

// Undo takes back the newest version of a list: the one before counts again,
// and what the import posted is reversed by movements dated now. A bin that it
// counted and where others have booked since is left and named in the report.
// Errors: CodeNotFound, CodeConflict for a batch that is not the newest of its
// list or was undone before, CodeInUse while an import runs.
func (b *Book) Undo(ctx context.Context, batch string, by app.Actor) (app.UndoReport, error) {
	lock, err := b.lockImports()
	if err != nil {
		return app.UndoReport{}, err
	}
	defer lock.release()
	var report app.UndoReport
	err = b.write(ctx, "undoing an import", func(tx *transaction) error {
		u, err := b.findUndo(ctx, tx, batch)
		if err != nil {
			return err
		}
		report, err = b.undo(ctx, tx, u, by)
		return err
	})
	if err != nil {
		return app.UndoReport{}, err
	}
	if err := b.clean(ctx); err != nil {
		// The undo stands; what it left is read by nobody and goes with the next sweep.
		b.log.Warn("rows of an undone import are left", "batch", batch, "error", err)
	}
	return report, nil
}

func (b *Book) findUndo(ctx context.Context, tx *transaction, batch string) (undone, error) {
	u := undone{}
	err := tx.QueryRowContext(ctx, `SELECT b.seq, b.id, b.list, l.name, b.version, b.file, b.state, b.keys, l.current,
		(SELECT coalesce(max(version), 0) FROM batch p WHERE p.list = b.list AND p.state = 'committed' AND p.version < b.version)
		FROM batch b JOIN list l ON l.id = b.list WHERE b.shop = ? AND b.id = ?`, b.shop, batch).
		Scan(&u.seq, &u.ID, &u.list, &u.List, &u.Version, &u.File, &u.State, &u.keys, &u.current, &u.previous)
	switch {
	case errors.Is(err, sql.ErrNoRows), err == nil && u.State == app.Staging:
		return u, problem(app.CodeNotFound, fmt.Sprintf("there is no import %s in the book", batch), "crossbin lists names the imports")
	case err != nil:
		return u, err
	case u.State == app.Undone:
		return u, problem(app.CodeConflict, fmt.Sprintf("the import %s was undone before", batch), "")
	case u.Version != u.current:
		return u, problem(app.CodeConflict, fmt.Sprintf("the list %s has a newer version than that of import %s", u.List, batch), "undo the newer one first")
	}
	return u, nil
}

func (b *Book) undo(ctx context.Context, tx *transaction, u undone, by app.Actor) (app.UndoReport, error) {
	report := app.UndoReport{List: u.List, Version: u.previous}
	if _, err := tx.ExecContext(ctx, `UPDATE list SET current = ? WHERE id = ?`, u.previous, u.list); err != nil {
		return report, err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE batch SET state = 'undone', leftover = 1 WHERE seq = ?`, u.seq); err != nil {
		return report, err
	}
	reversals, left, err := b.reversals(ctx, tx, u, by)
	if err != nil {
		return report, err
	}
	if err := book(ctx, tx, b.shop, reversals); err != nil {
		return report, err
	}
	report.Reversed, report.LeftCounts = len(reversals), left
	report.Revision, err = nextRevision(ctx, tx, b.shop, u.keys)
	return report, err
}

// posted is a movement of the import that is being undone.
type posted struct {
	booking
	seq int64
}

// reversals plans the movements that take back what an import posted.
func (b *Book) reversals(ctx context.Context, tx *transaction, u undone, by app.Actor) (out []booking, left []string, err error) {
	all, order, err := b.postedBy(ctx, tx, u.ID)
	if err != nil {
		return nil, nil, err
	}
	stands, err := standsOf(ctx, tx, b.shop, order)
	if err != nil {
		return nil, nil, err
	}
	now := b.clock().UnixMilli()
	for _, bin := range order {
		ok, err := b.reversible(ctx, tx, u.ID, bin, all[bin], stands[bin])
		if err != nil {
			return nil, nil, err
		}
		if !ok {
			left = append(left, binText(all[bin][0]))
			continue
		}
		for _, p := range all[bin] {
			out = append(out, reversal(p, u, by, now, len(out)+1))
		}
	}
	slices.Sort(left)
	return out, left, nil
}

const postedByBatch = `SELECT seq, once, kind, key, maker, bin, condition, printed, on_hand, held, job FROM movement INDEXED BY movement_batch
	WHERE shop = ? AND batch = ? AND kind <> 'reverse' ORDER BY seq`

func (b *Book) postedBy(ctx context.Context, tx *transaction, batch string) (map[binKey][]posted, []binKey, error) {
	all := map[binKey][]posted{}
	var order []binKey
	err := each(ctx, tx, postedByBatch, []any{b.shop, batch}, 11, func(r *record) error {
		p := posted{seq: r.num(0), booking: booking{Movement: shelf.Movement{
			Key: r.id(1), Kind: shelf.Kind(r.text(2)), Part: part.Ref{Key: r.text(3), Maker: r.text(4)}, Bin: r.text(5),
			Condition: shelf.Condition(r.text(6)), Printed: r.text(7), OnHand: int(r.num(8)), Held: int(r.num(9)), Job: r.text(10)}}}
		if all[p.bin()] == nil {
			order = append(order, p.bin())
		}
		all[p.bin()] = append(all[p.bin()], p)
		return nil
	})
	return all, order, err
}

// laterMovements finds a movement behind one of this batch that stands: not a
// reversal, and not reversed.
const laterMovements = `SELECT EXISTS (SELECT 1 FROM movement m INDEXED BY movement_bin
	WHERE m.shop = ?1 AND m.key = ?2 AND m.maker = ?3 AND m.bin = ?4 AND m.condition = ?5 AND m.seq > ?6
	AND coalesce(m.batch, '') <> ?7 AND m.kind <> 'reverse' AND NOT EXISTS (SELECT 1 FROM movement r INDEXED BY movement_bin
		WHERE r.shop = ?1 AND r.key = ?2 AND r.maker = ?3 AND r.bin = ?4 AND r.condition = ?5 AND r.reverses = m.seq))`

// reversible reports whether what a batch posted in a bin can be taken back: a
// count only while nobody has booked there since, anything only down to zero.
func (b *Book) reversible(ctx context.Context, tx *transaction, batch string, bin binKey, ps []posted, s stand) (bool, error) {
	counted := false
	for _, p := range ps {
		counted = counted || p.Kind == shelf.Count
		s.onHand -= p.OnHand
		s.held -= p.Held
	}
	if s.onHand < 0 || s.held < 0 || !counted {
		return s.onHand >= 0 && s.held >= 0, nil
	}
	var later bool
	err := tx.QueryRowContext(ctx, laterMovements, b.shop, bin.key, bin.maker, bin.bin, bin.condition, ps[0].seq, batch).Scan(&later)
	return !later, err
}

func binText(p posted) string {
	number := p.Printed
	if number == "" {
		number = p.Part.Key
	}
	return fmt.Sprintf("%s (%s, %s)", p.Bin, number, p.Condition)
}

func reversal(p posted, u undone, by app.Actor, at int64, n int) booking {
	m := p.Movement
	m.ID, m.Key, m.Kind = fmt.Sprintf("%s-undo-%06d", u.ID, n), statement.Hash("reverse", p.Key), shelf.Reverse
	m.OnHand, m.Held = -p.OnHand, -p.Held
	m.Reason, m.Batch, m.At, m.Who, m.Device = "import of "+u.File+" undone", u.ID, at, by.Who, by.Device
	return booking{Movement: m, reverses: p.seq}
}
