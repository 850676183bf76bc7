package sqlite

import (
	"context"
	"fmt"

	"crossbin/internal/app"
	"crossbin/internal/shelf"
)

// Post books movements in one transaction and returns the revision. Each
// carries its idempotency key; when all of them are booked already nothing
// happens. Errors: CodeInvalid for a movement without a key or part,
// CodeConflict when a bin would go below zero or only some keys are new.
func (b *Book) Post(ctx context.Context, movements []shelf.Movement) (revision int64, err error) {
	if err := checkMovements(movements); err != nil {
		return 0, err
	}
	err = b.write(ctx, "booking on the shelf", func(tx *transaction) error {
		revision, err = b.post(ctx, tx, movements)
		return err
	})
	return revision, err
}

func checkMovements(movements []shelf.Movement) error {
	for _, m := range movements {
		if m.Key == "" || m.Part.IsZero() || m.Kind == "" {
			return problem(app.CodeInvalid, "a movement needs a kind, a part and an idempotency key", "")
		}
	}
	return nil
}

func (b *Book) post(ctx context.Context, tx *transaction, movements []shelf.Movement) (int64, error) {
	known := 0
	for _, m := range movements {
		n, err := countOne(ctx, tx, `SELECT count(*) FROM movement WHERE shop = ? AND once = ?`, b.shop, packID(m.Key))
		if err != nil {
			return 0, err
		}
		known += int(n)
	}
	switch {
	case known == len(movements):
		return getMeta(ctx, tx, b.shop, metaRevision)
	case known > 0:
		return 0, problem(app.CodeConflict, "some of these movements are booked already", "look at the shelf and book the others with new keys")
	}
	bookings := make([]booking, len(movements))
	keys := make([]string, len(movements))
	for i, m := range movements {
		bookings[i], keys[i] = booking{Movement: m}, m.Part.Key
	}
	if err := book(ctx, tx, b.shop, bookings); err != nil {
		return 0, err
	}
	if err := b.notBelowZero(ctx, tx, bookings); err != nil {
		return 0, err
	}
	set, err := bump(ctx, tx, b.shop, metaNextKeys)
	if err != nil {
		return 0, err
	}
	if err := addKeys(ctx, tx, set, keys); err != nil {
		return 0, err
	}
	return nextRevision(ctx, tx, b.shop, set)
}

// notBelowZero refuses what would leave a bin with less than nothing.
func (b *Book) notBelowZero(ctx context.Context, tx *transaction, bookings []booking) error {
	bins := make([]binKey, len(bookings))
	for i := range bookings {
		bins[i] = bookings[i].bin()
	}
	stands, err := standsOf(ctx, tx, b.shop, bins)
	if err != nil {
		return err
	}
	for i := range bookings {
		m := &bookings[i]
		if s := stands[m.bin()]; s.onHand < 0 || s.held < 0 {
			return problem(app.CodeConflict, fmt.Sprintf("bin %s would hold %d on hand and %d held of %s", m.Bin, s.onHand, s.held, m.Part.Key), "count the bin")
		}
	}
	return nil
}
