package sqlite

import (
	"context"
	"sync"

	"crossbin/internal/vehicle"
)

// snapshot is what every question on one revision needs: the current versions,
// and the names behind numbers. It is kept between questions and read anew when
// the revision has moved.
type snapshot struct {
	revision int64
	current  map[int64]int64  // list -> version that counts
	sources  map[int64]string // number -> id
	sheets   map[int64]sheetName

	mu      sync.Mutex
	engines vehicle.Engines // read when first asked for
}

// sheetName is one sheet of one file.
type sheetName struct{ file, sheet string }

// counts reports whether what a list says from one version up to another is
// current.
func (s *snapshot) counts(list, since, until int64) bool {
	c := s.current[list]
	return since <= c && c < until
}

// snapshotOf gives the snapshot of the revision that a transaction sees.
func (b *Book) snapshotOf(ctx context.Context, q querier) (*snapshot, error) {
	revision, err := getMeta(ctx, q, b.shop, metaRevision)
	if err != nil {
		return nil, err
	}
	if s := b.known.Load(); s != nil && s.revision == revision {
		return s, nil
	}
	s, err := readSnapshot(ctx, q, revision)
	if err != nil {
		return nil, err
	}
	b.known.Store(s)
	return s, nil
}

func readSnapshot(ctx context.Context, q querier, revision int64) (*snapshot, error) {
	s := &snapshot{revision: revision, current: map[int64]int64{}, sources: map[int64]string{}, sheets: map[int64]sheetName{}}
	err := each(ctx, q, `SELECT id, current FROM list`, nil, 2, func(r *record) error {
		s.current[r.num(0)] = r.num(1)
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = each(ctx, q, `SELECT n, id FROM source`, nil, 2, func(r *record) error {
		s.sources[r.num(0)] = r.id(1)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return s, each(ctx, q, `SELECT id, file, name FROM sheet`, nil, 3, func(r *record) error {
		s.sheets[r.num(0)] = sheetName{r.text(1), r.text(2)}
		return nil
	})
}

// checkEvery is how many rows are read between two looks at the context.
const checkEvery = 256

// each runs a query and hands its rows over one by one. The record is used
// again for the next row. The query does not watch the context, which would
// cost as much as a short query itself; the loop does.
func each(ctx context.Context, q querier, query string, args []any, columns int, yield func(*record) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	rows, err := q.QueryContext(context.WithoutCancel(ctx), query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	r := newRecord(columns)
	for n := 1; rows.Next(); n++ {
		if err := rows.Scan(r.into...); err != nil {
			return err
		}
		if err := yield(r); err != nil {
			return err
		}
		if r.err != nil {
			return r.err
		}
		if n%checkEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return rows.Err()
}
