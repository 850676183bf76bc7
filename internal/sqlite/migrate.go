package sqlite

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"strconv"
	"time"

	"crossbin/internal/app"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

// bookMark is the application_id of a book's file, "XBIN" in ASCII.
const bookMark = 0x5842494E

// migration is one step of the schema; steps only go forward.
type migration struct {
	number int
	name   string
	sql    string
}

func (m migration) checksum() string {
	sum := sha256.Sum256([]byte(m.sql))
	return hex.EncodeToString(sum[:])
}

// migrations lists the embedded steps; their numbers run from 1 without a gap.
func migrations() ([]migration, error) {
	names, err := fs.Glob(migrationFiles, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	var out []migration
	for i, name := range names { // Glob sorts
		text, err := migrationFiles.ReadFile(name)
		if err != nil {
			return nil, err
		}
		base := name[len("migrations/"):]
		number, err := strconv.Atoi(base[:4])
		if err != nil || number != i+1 {
			return nil, fmt.Errorf("migration %s is out of order", base)
		}
		out = append(out, migration{number, base, string(text)})
	}
	return out, nil
}

// migrate brings the schema up to date, each step in a transaction of its own.
// A book of a newer program is refused, and one whose earlier steps are not
// ours.
func migrate(ctx context.Context, db *sql.DB, steps []migration) error {
	if err := checkSchema(ctx, db, steps); err != nil {
		return err
	}
	for _, m := range steps {
		if err := migrateOne(ctx, db, m); err != nil {
			return fmt.Errorf("migration %s: %w", m.name, err)
		}
	}
	return nil
}

func migrateOne(ctx context.Context, db *sql.DB, m migration) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	done, err := userVersion(ctx, tx)
	if err != nil || done >= m.number {
		return err
	}
	stamp := []string{
		m.sql,
		`CREATE TABLE IF NOT EXISTS migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, checksum TEXT NOT NULL, at INTEGER NOT NULL) STRICT`,
		fmt.Sprintf("PRAGMA application_id = %d", bookMark),
		fmt.Sprintf("PRAGMA user_version = %d", m.number),
	}
	for _, s := range stamp {
		if _, err := tx.ExecContext(ctx, s); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO migration VALUES (?, ?, ?, ?)`, m.number, m.name, m.checksum(), time.Now().UnixMilli()); err != nil {
		return err
	}
	return tx.Commit()
}

// checkSchema refuses a file that is no book, a book of a newer program, and
// one that was made by steps other than ours.
func checkSchema(ctx context.Context, q querier, steps []migration) error {
	version, err := userVersion(ctx, q)
	if err != nil {
		return err
	}
	if version > len(steps) {
		return problem(app.CodeTooNew, fmt.Sprintf("the book was made by a newer program (schema %d, this one knows %d)", version, len(steps)), "use the newer program")
	}
	if err := checkMark(ctx, q, version); err != nil || version == 0 {
		return err
	}
	rows, err := q.QueryContext(ctx, `SELECT number, checksum FROM migration ORDER BY number`)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var number int
		var sum string
		if err := rows.Scan(&number, &sum); err != nil {
			return err
		}
		if number < 1 || number > len(steps) || steps[number-1].checksum() != sum {
			return problem(app.CodeDamaged, fmt.Sprintf("step %d of the book's schema is not the one that this program knows", number), "use the program that made the book")
		}
	}
	return rows.Err()
}

func checkMark(ctx context.Context, q querier, version int) error {
	var mark, tables int
	if err := q.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&mark); err != nil {
		return err
	}
	if err := q.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema`).Scan(&tables); err != nil {
		return err
	}
	if mark == bookMark || version == 0 && mark == 0 && tables == 0 {
		return nil
	}
	return problem(app.CodeDamaged, "the file is a database, but no book", "name another folder, or put a backup in its place")
}

func userVersion(ctx context.Context, q querier) (int, error) {
	var v int
	err := q.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&v)
	return v, err
}
