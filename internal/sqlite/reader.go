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
	return b.read(ctx, func(r *reader) error { return question(r) })
}

func (b *Book) read(ctx context.Context, question func(*reader) error) error {
	const doing = "reading the book"
	conn, err := b.readers.Conn(ctx)
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

// way is one way into a table of statements: a column and its list of values.
type way struct {
	column string
	byType bool // the index holds the part type behind the column
}

var (
	partByKey       = way{column: "key"}
	valueByKey      = way{column: "key"}
	linkByA         = way{column: "key"}
	linkByB         = way{column: "b_key"}
	fitmentByKey    = way{column: "key", byType: true}
	fitmentByCode   = way{column: "model_code", byType: true}
	fitmentByEngine = way{column: "engine", byType: true}
	fitmentByModel  = way{column: "model", byType: true}
)

// listSizes are the lengths of value lists in queries: few texts, so that every
// connection keeps them prepared.
var listSizes = []int{1, 4, 16, 64, 256}

// sizeFor is the list length for some values, at most the greatest one.
func sizeFor(values int) int {
	for _, size := range listSizes {
		if size >= values {
			return size
		}
	}
	return listSizes[len(listSizes)-1]
}

// inList puts a list of n parameters in the place of %s.
func inList(query string, n int) string {
	return strings.Replace(query, "%s", "?"+strings.Repeat(", ?", n-1), 1)
}

// selectText is the query for statements of a table with some condition; "" is
// none. Each statement comes with its row.
func selectText(t *table, where string) string {
	var b strings.Builder
	b.WriteString("SELECT ")
	for _, c := range commonColumns {
		b.WriteString("s." + c + ", ")
	}
	b.WriteString("r.sheet, r.line, r.text")
	for _, c := range t.own {
		b.WriteString(", s." + c)
	}
	b.WriteString(" FROM " + t.name + " s CROSS JOIN sheet_row r ON r.id = s.pos >> 16")
	if where != "" {
		b.WriteString(" WHERE " + where)
	}
	return b.String()
}

// wayText is the query of a way for a list of n values.
func wayText(t *table, w way, n int, typed bool) string {
	where := inList("s."+w.column+" IN (%s)", n)
	if typed {
		where += " AND s.type = ?"
	}
	return selectText(t, where)
}

// ownColumns is where a table's own columns begin in a result.
var ownColumns = len(commonColumns) + 3

// statements gives the current statements of a table under a condition, in no
// order.
func (r *reader) statements(ctx context.Context, t *table, where string, args []any) ([]statement.Statement, error) {
	var out []statement.Statement
	err := r.scan(ctx, t, selectText(t, where), args, func(_ int64, s statement.Statement) { out = append(out, s) })
	return out, err
}

func (r *reader) scan(ctx context.Context, t *table, query string, args []any, yield func(pos int64, s statement.Statement)) error {
	return each(ctx, r.tx, query, args, ownColumns+len(t.own), func(rec *record) error {
		if r.snap.counts(rec.num(2), rec.num(3), rec.num(4)) {
			yield(rec.num(0), r.statement(t, rec))
		}
		return nil
	})
}

func (r *reader) statement(t *table, rec *record) statement.Statement {
	sheet := r.snap.sheets[rec.num(11)]
	s := statement.Statement{
		ID:     rec.id(1),
		Source: r.snap.sources[rec.num(5)],
		Type:   rec.text(7),
		A:      part.Ref{Key: rec.text(8), Maker: rec.text(9)},
		Note:   rec.text(10),
		Place:  statement.Place{File: sheet.file, Sheet: sheet.sheet, Cell: rec.text(6), Row: int(rec.num(12)), Text: rec.text(13)},
	}
	t.get(rec, ownColumns, &s)
	return s
}

// gathering collects statements that several ways lead to, each once.
type gathering struct {
	r        *reader
	t        *table
	partType string
	keep     func(*statement.Statement) bool // nil keeps all
	seen     map[int64]bool                  // positions
	out      []statement.Statement
	err      error
}

func (r *reader) gather(t *table) *gathering { return &gathering{r: r, t: t, seen: map[int64]bool{}} }

// add follows one way for all its values.
func (g *gathering) add(ctx context.Context, w way, values []string) {
	values = slices.Compact(slices.Sorted(slices.Values(values)))
	for len(values) > 0 && g.err == nil {
		n := min(len(values), listSizes[len(listSizes)-1])
		g.err = g.follow(ctx, w, values[:n])
		values = values[n:]
	}
}

func (g *gathering) follow(ctx context.Context, w way, values []string) error {
	size := sizeFor(len(values))
	args := make([]any, 0, size+1)
	for i := range size {
		args = append(args, values[min(i, len(values)-1)]) // the last one fills the list up
	}
	typed := w.byType && g.partType != ""
	if typed {
		args = append(args, g.partType)
	}
	return g.r.scan(ctx, g.t, wayText(g.t, w, size, typed), args, g.take)
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

func (r *reader) byKeys(ctx context.Context, t *table, w way, keys []string) ([]statement.Statement, error) {
	g := r.gather(t)
	g.add(ctx, w, keys)
	return g.done()
}

// eachIn runs a query for a list of values of any length. The query's first
// parameter is the shop; %s stands for the list.
func (r *reader) eachIn(ctx context.Context, query string, values []string, columns int, yield func(*record) error) error {
	values = slices.Compact(slices.Sorted(slices.Values(values)))
	for chunk := range slices.Chunk(values, listSizes[len(listSizes)-1]) {
		size := sizeFor(len(chunk))
		args := append(make([]any, 0, size+1), r.shop)
		for i := range size {
			args = append(args, chunk[min(i, len(chunk)-1)])
		}
		if err := each(ctx, r.tx, inList(query, size), args, columns, yield); err != nil {
			return err
		}
	}
	return nil
}
