package sqlite

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

var movementColumns = []string{"shop", "seq", "id", "once", "kind", "key", "maker", "bin", "condition", "printed", "on_hand", "held",
	"counted", "job", "reason", "batch", "reverses", "day", "at", "who", "device"}

// booking is a movement on its way into the ledger.
type booking struct {
	shelf.Movement
	reverses int64 // seq of the movement that it takes back
}

func (b *booking) bin() binKey {
	return binKey{b.Part.Key, b.Part.Maker, b.Bin, string(b.Condition)}
}

// book adds movements to the ledger in their order.
func book(ctx context.Context, tx *transaction, shop string, bookings []booking) error {
	var seq int64
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(seq), 0) FROM movement WHERE shop = ?`, shop).Scan(&seq); err != nil {
		return err
	}
	b := newBulk("INSERT", "movement", movementColumns...)
	for i := range bookings {
		seq++
		putMovement(b, shop, seq, &bookings[i])
		if err := b.end(ctx, tx); err != nil {
			return err
		}
	}
	return b.flush(ctx, tx)
}

func putMovement(b *bulk, shop string, seq int64, m *booking) {
	b.text(shop)
	b.int(seq)
	b.text(m.ID)
	b.value(packID(m.Key))
	b.text(string(m.Kind))
	b.text(m.Part.Key)
	b.text(m.Part.Maker)
	b.text(m.Bin)
	b.text(string(m.Condition))
	b.texts(m.Printed)
	b.int(int64(m.OnHand))
	b.int(int64(m.Held))
	if m.Kind == shelf.Count {
		b.int(int64(m.Counted))
	} else {
		b.value(nil)
	}
	b.texts(m.Job, m.Reason, m.Batch)
	b.intOrNull(m.reverses)
	b.texts(m.Day)
	b.int(m.At)
	b.texts(m.Who, m.Device)
}

// stand is what the ledger says of a bin.
type stand struct {
	onHand, held int
	last         string // batch of the last movement, "" for one by hand
	any          bool
}

// Questions on the ledger name their index: without it the planner takes the
// primary key for its shop, which is the whole ledger.
const (
	ledgerOfBin = `SELECT key, maker, bin, condition, sum(on_hand), sum(held), max(seq), batch FROM movement INDEXED BY movement_bin
		WHERE shop = ? AND key = ? AND maker = ? AND bin = ? AND condition = ? GROUP BY key, maker, bin, condition`
	ledgerOfKeys = `SELECT key, maker, bin, condition, sum(on_hand), sum(held), max(seq), batch FROM movement INDEXED BY movement_bin
		WHERE shop = ? AND key BETWEEN ? AND ? GROUP BY key, maker, bin, condition`
	partsOnHand = `SELECT key, maker FROM movement INDEXED BY movement_bin
		WHERE shop = ? GROUP BY key, maker HAVING sum(on_hand) > 0 ORDER BY key, maker`
	movementsOfKeys = `SELECT key, maker, bin, condition, printed, on_hand, held, day FROM movement INDEXED BY movement_bin
		WHERE shop = ?0 AND key IN (%s) ORDER BY seq`
)

// binsAtOnce is the number of bins from which on the ledger is summed from the
// first key to the last in one go, instead of bin by bin.
const binsAtOnce = 200

// standsOf sums the ledger for some bins.
func standsOf(ctx context.Context, q querier, shop string, bins []binKey) (map[binKey]stand, error) {
	out := map[binKey]stand{}
	take := func(r *record) error {
		out[binKey{r.text(0), r.text(1), r.text(2), r.text(3)}] = stand{onHand: int(r.num(4)), held: int(r.num(5)), last: r.text(7), any: true}
		return nil
	}
	if len(bins) >= binsAtOnce {
		byKey := func(a, b binKey) int { return strings.Compare(a.key, b.key) }
		first, last := slices.MinFunc(bins, byKey), slices.MaxFunc(bins, byKey)
		return out, each(ctx, q, ledgerOfKeys, []any{shop, first.key, last.key}, 8, take)
	}
	for _, b := range bins {
		if err := each(ctx, q, ledgerOfBin, []any{shop, b.key, b.maker, b.bin, b.condition}, 8, take); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Stock gives the shelf lines of parts with any of the keys: what lies or is
// held in a bin, summed over the ledger, in the order of shelf.Sort. An empty
// bin has no line.
func (r *reader) Stock(ctx context.Context, keys []string) ([]shelf.Line, error) {
	lines := map[binKey]*shelf.Line{}
	err := r.eachIn(ctx, prepared.stock, keys, 8, func(rec *record) error {
		k := binKey{rec.text(0), rec.text(1), rec.text(2), rec.text(3)}
		l := lines[k]
		if l == nil {
			l = &shelf.Line{Part: part.Ref{Key: k.key, Maker: k.maker}, Bin: k.bin, Condition: shelf.Condition(k.condition)}
			lines[k] = l
		}
		if printed := rec.text(4); printed != "" {
			l.Printed = printed
		}
		l.OnHand += int(rec.num(5))
		l.Held += int(rec.num(6))
		l.Seen = max(l.Seen, rec.text(7))
		return nil
	})
	var out []shelf.Line
	for _, l := range lines {
		if l.OnHand != 0 || l.Held != 0 {
			out = append(out, *l)
		}
	}
	shelf.Sort(out)
	return out, explain("reading the shelf", err)
}

// once is the idempotency key of a movement that an import posts.
func onceKey(w *importWriter, kind shelf.Kind, bin binKey, job string) string {
	return statement.Hash("import", w.batch.List, fmt.Sprint(w.version), string(kind), bin.key, bin.maker, bin.bin, bin.condition, job)
}

// OnShelf gives the part references of which units are on hand anywhere.
func (r *reader) OnShelf(ctx context.Context) ([]part.Ref, error) {
	var out []part.Ref
	err := each(ctx, r.tx, partsOnHand, []any{r.shop}, 2, func(rec *record) error {
		out = append(out, part.Ref{Key: rec.text(0), Maker: rec.text(1)})
		return nil
	})
	return out, explain("reading the shelf", err)
}
