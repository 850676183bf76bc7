package sqlite

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"crossbin/internal/statement"
)

// namedKey says that a sheet row names a part key, in statements of some kinds.
// An import gathers many of them and writes them in order, so that every page of
// the table is written once for all of them and not in every transaction.
type namedKey struct {
	key   string
	row   int64
	kinds int
}

// noteKeys gathers the keys that a new row names.
func (s *staging) noteKeys(row int64, said []statement.Statement) {
	clear(s.inRow)
	for i := range said {
		st := &said[i]
		bit := tableOf(st.Kind).bit
		if bit == 0 {
			continue
		}
		if st.A.Key != "" {
			s.inRow[st.A.Key] |= bit
		}
		if st.Kind == statement.KindLink && st.Link.B.Key != "" {
			s.inRow[st.Link.B.Key] |= bit
		}
	}
	for key, kinds := range s.inRow {
		// The key alone is kept, not the row that it may be a piece of.
		s.named = append(s.named, namedKey{strings.Clone(key), row, kinds})
	}
}

// fillKeys writes the gathered keys. In the first version of a list all of them
// are news, and go into the change feed too.
func (w *importWriter) fillKeys(ctx context.Context, tx *transaction) error {
	slices.SortFunc(w.named, func(a, b namedKey) int {
		return cmp.Or(strings.Compare(a.key, b.key), cmp.Compare(a.row, b.row))
	})
	ways := newBulk("INSERT OR IGNORE", "row_key", "key", "sheet_row", "kinds")
	news := newBulk("INSERT OR IGNORE", "change_key", "keys", "key")
	for i, n := range w.named {
		ways.text(n.key)
		ways.int(n.row)
		ways.int(int64(n.kinds))
		if err := ways.end(ctx, tx); err != nil {
			return err
		}
		if w.current == 0 && (i == 0 || n.key != w.named[i-1].key) {
			news.int(w.keys)
			news.text(n.key)
			if err := news.end(ctx, tx); err != nil {
				return err
			}
		}
	}
	if err := ways.flush(ctx, tx); err != nil {
		return err
	}
	return news.flush(ctx, tx)
}
