package sqlite

import (
	"context"
	"database/sql/driver"
	"strings"
)

// rowsPerInsert is how many rows one INSERT carries; more than 50 brings no
// more speed.
const rowsPerInsert = 50

// bulk inserts rows of one table, many in one statement. A row is begun, gets
// its values column by column, and is ended.
type bulk struct {
	head    string // INSERT INTO t (...) VALUES
	columns int
	full    string
	args    []driver.NamedValue
	at      int // the parameter that was set last
	rows    int
}

func newBulk(head, name string, columns ...string) *bulk {
	b := &bulk{head: head + " INTO " + name + " (" + strings.Join(columns, ", ") + ") VALUES ", columns: len(columns)}
	b.full = b.statement(rowsPerInsert)
	b.args = make([]driver.NamedValue, 0, rowsPerInsert*b.columns)
	return b
}

func (b *bulk) statement(rows int) string {
	row := "(?" + strings.Repeat(", ?", b.columns-1) + ")"
	return b.head + row + strings.Repeat(", "+row, rows-1)
}

// int sets the next column to a number.
func (b *bulk) int(n int64) {
	b.at++
	b.args = append(b.args, driver.NamedValue{Ordinal: b.at, Value: n})
}

// text sets the next column to a text, which may be empty.
func (b *bulk) text(s string) {
	b.at++
	b.args = append(b.args, driver.NamedValue{Ordinal: b.at, Value: s})
}

// value sets the next column to what the driver takes; nil is NULL.
func (b *bulk) value(v any) {
	b.at++
	if v != nil {
		b.args = append(b.args, driver.NamedValue{Ordinal: b.at, Value: v})
	}
}

// texts sets the next columns to texts; an empty one is NULL, which takes no
// room.
func (b *bulk) texts(texts ...string) {
	for _, s := range texts {
		b.at++
		if s != "" {
			b.args = append(b.args, driver.NamedValue{Ordinal: b.at, Value: s})
		}
	}
}

// intOrNull sets the next column to a number; zero is NULL.
func (b *bulk) intOrNull(n int64) {
	if n == 0 {
		b.at++
		return
	}
	b.int(n)
}

// flag sets the next column to 1, or NULL.
func (b *bulk) flag(yes bool) {
	if yes {
		b.int(1)
		return
	}
	b.at++
}

// end ends a row and writes when enough have come together.
func (b *bulk) end(ctx context.Context, tx *transaction) error {
	b.rows++
	if b.rows < rowsPerInsert {
		return nil
	}
	return b.flush(ctx, tx)
}

// flush writes what is left.
func (b *bulk) flush(ctx context.Context, tx *transaction) error {
	if b.rows == 0 {
		return nil
	}
	text := b.full
	if b.rows < rowsPerInsert {
		text = b.statement(b.rows)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	err := tx.insert(text, b.args)
	clear(b.args) // let go of the texts
	b.args, b.at, b.rows = b.args[:0], 0, 0
	return err
}
