package sqlite

import (
	"context"
	"database/sql"
	"database/sql/driver"

	"crossbin/internal/app"
)

// transaction is a transaction on the writing connection. Many rows go in
// through insert, which passes by database/sql: that would copy and check every
// value once more.
type transaction struct {
	*sql.Tx
	conn     *sql.Conn
	prepared map[string]driver.Stmt
}

// write runs a transaction on the one writing connection. The transaction is
// not cut short by the context: callers look at it between statements.
func (b *Book) write(ctx context.Context, doing string, change func(tx *transaction) error) error {
	if b.writer == nil {
		return problem(app.CodeUnavailable, doing+": the book was opened for reading only", "")
	}
	conn, err := b.writer.Conn(ctx)
	if err != nil {
		return explain(doing, err)
	}
	err = inTransaction(ctx, conn, change)
	if isIO(err) {
		// What the disk holds is not known: forget the connection with all
		// that it remembers, and read again.
		conn.Raw(func(any) error { return driver.ErrBadConn })
	}
	conn.Close()
	return explain(doing, err)
}

func inTransaction(ctx context.Context, conn *sql.Conn, change func(tx *transaction) error) error {
	sqlTx, err := conn.BeginTx(context.WithoutCancel(ctx), nil)
	if err != nil {
		return err
	}
	tx := &transaction{Tx: sqlTx, conn: conn, prepared: map[string]driver.Stmt{}}
	defer tx.Rollback()
	err = change(tx)
	for _, s := range tx.prepared {
		s.Close() // back to the connection's prepared statements
	}
	if err != nil {
		return err
	}
	return tx.Commit()
}

// insert runs a statement with values that the driver takes as they are:
// int64, string, []byte. Parameters that are left out are NULL.
func (t *transaction) insert(text string, args []driver.NamedValue) error {
	return t.conn.Raw(func(raw any) error {
		s, ok := t.prepared[text]
		if !ok {
			var err error
			if s, err = raw.(driver.Conn).Prepare(text); err != nil {
				return err
			}
			t.prepared[text] = s
		}
		_, err := s.(driver.StmtExecContext).ExecContext(context.Background(), args)
		return err
	})
}
