package sqlite

import (
	"context"
	"fmt"

	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

// reasonGone is written on the count of a bin that a list no longer names.
const reasonGone = "no longer on the list"

// eachBooking plans what the new version says of the shelf, against the ledger
// that tx sees, and hands the movements over in portions. What the list says is
// read beside it: nobody but this import changes that.
func (w *importWriter) eachBooking(ctx context.Context, tx querier, yield func(changes []binChange, bookings []booking) error) error {
	ours, err := batchesOf(ctx, tx, w.list)
	if err != nil {
		return err
	}
	p := planner{w: w, at: w.book.clock().UnixMilli()}
	return binChanges(ctx, w.shelf, w.list, w.current, w.version, func(changes []binChange) error {
		bins := make([]binKey, len(changes))
		for i := range changes {
			bins[i] = changes[i].bin
		}
		stands, err := standsOf(ctx, tx, w.book.shop, bins)
		if err != nil {
			return err
		}
		p.out = nil
		for i := range changes {
			s := stands[changes[i].bin]
			p.count(&changes[i], s, s.last != "" && ours[s.last])
			p.hold(&changes[i], s)
		}
		return yield(changes, p.out)
	})
}

func batchesOf(ctx context.Context, q querier, list int64) (map[string]bool, error) {
	out := map[string]bool{}
	err := each(ctx, q, `SELECT id FROM batch WHERE list = ?`, []any{list}, 1, func(r *record) error {
		out[r.text(0)] = true
		return nil
	})
	return out, err
}

type planner struct {
	w   *importWriter
	at  int64
	n   int // movements so far
	out []booking
}

// count books a bin as the new version counts it. A bin that the list no longer
// names is counted as empty only where the last movement came from this list:
// what others have booked since is theirs.
func (p *planner) count(c *binChange, s stand, lastIsOurs bool) {
	switch {
	case c.after.counted && !c.before.sameCount(&c.after):
		m := p.movement(c, shelf.Count, "")
		m.Counted, m.OnHand, m.Day = c.after.quantity, c.after.quantity-s.onHand, c.after.day
		p.out = append(p.out, m)
	case c.after.rows == 0 && c.before.counted && lastIsOurs && s.onHand != 0:
		m := p.movement(c, shelf.Count, "")
		m.OnHand, m.Reason = -s.onHand, reasonGone
		p.out = append(p.out, m)
	}
}

// hold books the difference between what the list held before and holds now,
// job by job. It never gives free more than is held.
func (p *planner) hold(c *binChange, s stand) {
	for _, job := range c.jobs() {
		delta := max(c.after.held[job]-c.before.held[job], -s.held)
		kind := shelf.Hold
		if delta < 0 {
			kind = shelf.Release
		}
		if delta != 0 {
			m := p.movement(c, kind, job)
			m.Held = delta
			s.held += delta
			p.out = append(p.out, m)
		}
	}
}

func (p *planner) movement(c *binChange, kind shelf.Kind, job string) booking {
	printed := c.after.printed
	if printed == "" {
		printed = c.before.printed
	}
	p.n++
	return booking{Movement: shelf.Movement{
		ID: fmt.Sprintf("%s-%06d", p.w.batch.ID, p.n), Key: onceKey(p.w, kind, c.bin, job), Kind: kind,
		Part: part.Ref{Key: c.bin.key, Maker: c.bin.maker}, Printed: printed, Bin: c.bin.bin, Condition: shelf.Condition(c.bin.condition),
		Job: job, Batch: p.w.batch.ID, At: p.at, Who: p.w.batch.By.Who, Device: p.w.batch.By.Device,
	}}
}
