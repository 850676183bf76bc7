package sqlite

import (
	"context"
	"database/sql"
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// reader answers from one read transaction.
type reader struct {
	tx   *sql.Tx
	shop string
	snap *snapshot
}

// Read runs a question on one snapshot; the Reader ends with the call.
func (b *Book) Read(ctx context.Context, question func(app.Reader) error) error {
	return b.read(ctx, b.readers, func(r *reader) error { return question(r) })
}

func (b *Book) read(ctx context.Context, from *sql.DB, question func(*reader) error) error {
	const doing = "reading the book"
	conn, err := from.Conn(ctx)
	if err != nil {
		return explain(doing, err)
	}
	defer conn.Close()
	tx, err := conn.BeginTx(context.WithoutCancel(ctx), nil)
	if err != nil {
		return explain(doing, err)
	}
	defer tx.Rollback()
	snap, err := b.snapshotOf(ctx, tx)
	if err != nil {
		return explain(doing, err)
	}
	return question(&reader{tx: tx, shop: b.shop, snap: snap})
}

// Revision is the revision of the snapshot.
func (r *reader) Revision() int64 { return r.snap.revision }

// ownColumns is where a table's own columns begin in a result.
var ownColumns = len(commonColumns) + 3

// scan runs a query for statements and hands them over with their positions.
func (r *reader) scan(ctx context.Context, t *table, query string, args []any, yield func(pos int64, s statement.Statement)) error {
	return each(ctx, r.tx, query, args, ownColumns+len(t.own), func(rec *record) error {
		yield(rec.num(0), r.statement(t, rec))
		return nil
	})
}

func (r *reader) statement(t *table, rec *record) statement.Statement {
	sheet := r.snap.sheets[rec.num(8)]
	s := statement.Statement{
		ID:     rec.id(1),
		Source: r.snap.sources[rec.num(2)],
		Type:   rec.text(4),
		A:      part.Ref{Key: rec.text(5), Maker: rec.text(6)},
		Note:   rec.text(7),
		Place:  statement.Place{File: sheet.file, Sheet: sheet.sheet, Cell: rec.text(3), Row: int(rec.num(9)), Text: rec.text(10)},
	}
	t.get(rec, ownColumns, &s)
	return s
}

// gathering collects statements that several ways lead to, each once.
type gathering struct {
	r    *reader
	t    *table
	keep func(*statement.Statement) bool // nil keeps all
	seen map[int64]bool                  // positions
	out  []statement.Statement
	err  error
}

func (r *reader) gather(t *table) *gathering { return &gathering{r: r, t: t, seen: map[int64]bool{}} }

// byKeys adds the statements that name any of some part keys.
func (g *gathering) byKeys(ctx context.Context, keys []string) {
	g.add(ctx, keys, nil, func(n int) string { return prepared.keys[keyQuery{g.t.name, n}] })
}

// add asks for all values, some at a time; more are the arguments behind them.
func (g *gathering) add(ctx context.Context, values []string, more []any, text func(n int) string) {
	values = slices.Compact(slices.Sorted(slices.Values(values)))
	for chunk := range slices.Chunk(values, listSizes[len(listSizes)-1]) {
		if g.err != nil {
			return
		}
		size := sizeFor(len(chunk))
		args := make([]any, 0, size+len(more))
		for i := range size {
			args = append(args, chunk[min(i, len(chunk)-1)]) // the last one fills the list up
		}
		g.err = g.r.scan(ctx, g.t, text(size), append(args, more...), g.take)
	}
}

func (g *gathering) take(pos int64, s statement.Statement) {
	if !g.seen[pos] && (g.keep == nil || g.keep(&s)) {
		g.seen[pos] = true
		g.out = append(g.out, s)
	}
}

// done gives what was gathered, by statement id.
func (g *gathering) done() ([]statement.Statement, error) {
	slices.SortFunc(g.out, func(a, b statement.Statement) int { return strings.Compare(a.ID, b.ID) })
	return g.out, g.err
}

func (r *reader) byKeys(ctx context.Context, t *table, keys []string) ([]statement.Statement, error) {
	g := r.gather(t)
	g.byKeys(ctx, keys)
	return g.done()
}

// eachIn runs a query for a list of values of any length, some at a time; the
// shop is the argument behind them.
func (r *reader) eachIn(ctx context.Context, text map[int]string, values []string, columns int, yield func(*record) error) error {
	values = slices.Compact(slices.Sorted(slices.Values(values)))
	for chunk := range slices.Chunk(values, listSizes[len(listSizes)-1]) {
		size := sizeFor(len(chunk))
		args := make([]any, 0, size+1)
		for i := range size {
			args = append(args, chunk[min(i, len(chunk)-1)])
		}
		if err := each(ctx, r.tx, text[size], append(args, r.shop), columns, yield); err != nil {
			return err
		}
	}
	return nil
}
