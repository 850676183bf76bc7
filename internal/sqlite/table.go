package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"strconv"
	"strings"

	"crossbin/internal/statement"
)

// table is one of the tables that hold statements. They begin alike (see the
// schema); put and get carry what is the table's own.
type table struct {
	name string
	own  []string // columns after the common ones
	put  func(args []any, s *statement.Statement) []any
	get  func(r *record, at int, s *statement.Statement)
	keys []string // columns that name part keys
}

// commonColumns stand first in every table of statements.
var commonColumns = []string{"pos", "id", "list", "since", "until", "source", "cell", "type", "key", "maker", "note"}

// tables are all tables of statements, in the order of the kinds.
var tables = []*table{&partTable, &fitmentTable, &linkTable, &valueTable, &engineTable}

// tableOf gives the table that holds a kind; nil for an unknown one.
func tableOf(k statement.Kind) *table {
	switch k {
	case statement.KindPart:
		return &partTable
	case statement.KindFitment, statement.KindNone:
		return &fitmentTable
	case statement.KindLink:
		return &linkTable
	case statement.KindValue:
		return &valueTable
	case statement.KindEngine:
		return &engineTable
	}
	return nil
}

// rowShift is how far a sheet row's number is shifted to make room for the
// numbers of its statements: 65,536 of each kind in one row, four times what
// the longest cell that a spreadsheet allows can name.
const rowShift = 16

func posOf(row int64, n int) int64 { return row<<rowShift | int64(n) }

// posRange gives the positions of all statements in some sheet rows, both ends
// included.
func posRange(first, last int64) (from, to int64) { return first << rowShift, (last+1)<<rowShift - 1 }

// rowsPerInsert is how many rows one INSERT carries; more than 50 brings no
// more speed.
const rowsPerInsert = 50

// bulk inserts rows of one table, many in one statement. Two parameters are the
// same for all rows: list and since.
type bulk struct {
	head      string // INSERT INTO t (...) VALUES
	row       func(b *strings.Builder, at int)
	perRow    int // parameters of a row
	full      string
	list      int64
	since     int64
	args      []any
	rows, all int
}

// newBulk makes an inserter. columns names every column; those called list,
// since and until are filled by the inserter itself.
func newBulk(name string, columns []string, list, since int64) *bulk {
	b := &bulk{head: "INSERT INTO " + name + " (" + strings.Join(columns, ", ") + ") VALUES ", list: list, since: since}
	for _, c := range columns {
		if c != "list" && c != "since" && c != "until" {
			b.perRow++
		}
	}
	b.row = func(out *strings.Builder, at int) { writeRow(out, columns, at) }
	b.full = b.text(rowsPerInsert)
	b.args = make([]any, 0, 2+rowsPerInsert*b.perRow)
	return b
}

func writeRow(out *strings.Builder, columns []string, at int) {
	for i, c := range columns {
		out.WriteString(map[bool]string{true: "(", false: ", "}[i == 0])
		switch c {
		case "list":
			out.WriteString("?1")
		case "since":
			out.WriteString("?2")
		case "until":
			out.WriteString(strconv.FormatInt(unended, 10))
		default:
			fmt.Fprintf(out, "?%d", at)
			at++
		}
	}
	out.WriteString(")")
}

func (b *bulk) text(rows int) string {
	var out strings.Builder
	out.WriteString(b.head)
	for i := range rows {
		if i > 0 {
			out.WriteString(", ")
		}
		b.row(&out, 3+i*b.perRow)
	}
	return out.String()
}

// begin starts a row; the caller appends exactly its parameters to args.
func (b *bulk) begin() {
	if len(b.args) == 0 {
		b.args = append(b.args, b.list, b.since)
	}
	b.rows++
	b.all++
}

// end ends a row and writes when enough have come together.
func (b *bulk) end(ctx context.Context, tx *sql.Tx) error {
	if b.rows < rowsPerInsert {
		return nil
	}
	return b.flush(ctx, tx)
}

func (b *bulk) flush(ctx context.Context, tx *sql.Tx) error {
	if b.rows == 0 {
		return nil
	}
	text := b.full
	if b.rows < rowsPerInsert {
		text = b.text(b.rows)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	_, err := tx.ExecContext(context.WithoutCancel(ctx), text, b.args...)
	b.args, b.rows = b.args[:0], 0
	return err
}
