package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"crossbin/internal/app"
)

var bg = context.Background()

// TestSettings asks two connections of each pool for their settings: a PRAGMA
// that reaches one connection only would be seen.
func TestSettings(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	second := openWriter(b.file()) // the writer's pool has one connection: ask another pool made alike
	defer second.Close()
	common := map[string]string{"foreign_keys": "1", "busy_timeout": "5000", "temp_store": "2", "journal_mode": "wal", "recursive_triggers": "1"}
	tests := []struct {
		name  string
		pools [2]*sql.DB
		want  map[string]string
	}{
		{"writer", [2]*sql.DB{b.writer, second}, map[string]string{"synchronous": "2", "query_only": "0", "wal_autocheckpoint": "4000",
			"journal_size_limit": "67108864", "cache_size": "-65536", "mmap_size": "0"}},
		{"reader", [2]*sql.DB{b.readers, b.readers}, map[string]string{"query_only": "1", "mmap_size": "2147418112", "cache_size": "-16384"}},
	}
	for _, tt := range tests {
		var conns []*sql.Conn
		for _, p := range tt.pools {
			c, err := p.Conn(bg) // both are held at once, so they are two
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			conns = append(conns, c)
		}
		for i, c := range conns {
			for _, want := range []map[string]string{common, tt.want} {
				for name, value := range want {
					var got string
					if err := c.QueryRowContext(bg, "PRAGMA "+name).Scan(&got); err != nil || got != value {
						t.Errorf("%s connection %d: %s is %q (%v), want %q", tt.name, i+1, name, got, err, value)
					}
				}
			}
		}
	}
	if _, err := b.readers.Exec(`DELETE FROM meta`); err == nil {
		t.Error("a reader could write")
	}
}

// TestEightWriters: transactions that read first and then write lose nothing,
// from one pool and from eight.
func TestEightWriters(t *testing.T) {
	dir := t.TempDir()
	shared := openBook(t, dir, Options{})
	tests := []struct {
		name string
		book func() *Book
	}{
		{"one pool", func() *Book { return shared }},
		{"eight pools", func() *Book { return openBook(t, dir, Options{}) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			const writers, each = 8, 25
			var wait sync.WaitGroup
			for range writers {
				b := tt.book()
				wait.Go(func() {
					for range each {
						if err := addOne(b, tt.name); err != nil {
							t.Errorf("write: %v", err)
						}
					}
				})
			}
			wait.Wait()
			if got := count(t, shared, readMeta, "main", tt.name); got != writers*each {
				t.Errorf("got %d writes, want %d", got, writers*each)
			}
		})
	}
}

// addOne reads a number and writes one more.
func addOne(b *Book, name string) error {
	return b.write(bg, "counting", func(tx *transaction) error {
		n, err := getMeta(bg, tx, "main", name)
		if err != nil {
			return err
		}
		_, err = tx.Exec(`INSERT OR REPLACE INTO meta VALUES ('main', ?, ?)`, name, n+1)
		return err
	})
}

func TestShop(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{Shop: "north"})
	if b.Shop() != "north" {
		t.Errorf("got shop %q, want north", b.Shop())
	}
	if again := openBook(t, dir, Options{}); again.Shop() != "north" {
		t.Errorf("opened without a shop: got %q, want north", again.Shop())
	}
	_, err := Open(bg, dir, Options{Shop: "south"})
	wantCode(t, "another shop's book", err, app.CodeConflict)
	if b := openBook(t, t.TempDir(), Options{}); b.Shop() != "main" {
		t.Errorf("a new book: got shop %q, want main", b.Shop())
	}
}

func TestReadOnly(t *testing.T) {
	dir := t.TempDir()
	_, err := Open(bg, filepath.Join(dir, "none"), Options{ReadOnly: true})
	wantCode(t, "no book", err, app.CodeNotFound)
	if _, err := os.Stat(filepath.Join(dir, "none")); !errors.Is(err, os.ErrNotExist) {
		t.Error("a reader made the folder")
	}
	writing := openBook(t, dir, Options{})
	rows := madeSheet("yard", "Q", 20)
	mustBring(t, writing, "1", "yard", rows)
	reading := openBook(t, dir, Options{ReadOnly: true})
	check := func(when string) {
		if got := holdings(t, reading, 20, "Q")["Q"]; got != whole(20) {
			t.Errorf("%s: got %v, want %v", when, got, whole(20))
		}
	}
	check("beside a writer")
	_, err = reading.OpenImport(bg, app.Batch{ID: "2", List: "yard"})
	wantCode(t, "an import", err, app.CodeUnavailable)
	_, err = reading.Post(bg, nil)
	wantCode(t, "a posting", err, app.CodeUnavailable)
	if err := reading.Sweep(bg); err != nil {
		t.Errorf("sweep: %v", err)
	}
	reading.Close()
	writing.Close()
	reading = openBook(t, dir, Options{ReadOnly: true})
	check("alone")
}

// TestManyOpenANewBook: processes that meet over a new book all get it.
func TestManyOpenANewBook(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	for i := range 6 {
		wait.Go(func() {
			b, err := Open(bg, dir, Options{})
			if err != nil {
				t.Errorf("opener %d: %v", i, err)
				return
			}
			b.Close()
		})
	}
	wait.Wait()
}

func TestRefusedFiles(t *testing.T) {
	other := func(file string, statements ...string) {
		db, err := sql.Open("sqlite3", file)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		for _, s := range statements {
			if _, err := db.Exec(s); err != nil {
				t.Fatal(err)
			}
		}
	}
	tests := []struct {
		name  string
		spoil func(dir, file string)
		want  app.Code
	}{
		{"no database", func(_, file string) {
			os.WriteFile(file, []byte("these are no rows, and far more text than a header"), 0o644)
		}, app.CodeDamaged},
		{"cut within the header", func(_, file string) { os.Truncate(file, 50) }, app.CodeDamaged},
		{"cut in half", func(_, file string) { cut(t, file, 2) }, app.CodeDamaged},
		{"pages overwritten", func(_, file string) { overwrite(t, file) }, app.CodeDamaged},
		{"another program's database", func(_, file string) {
			os.Remove(file)
			other(file, `PRAGMA application_id = 7`)
		}, app.CodeDamaged},
		{"tables of somebody else", func(_, file string) {
			os.Remove(file)
			other(file, `CREATE TABLE notes (text)`)
		}, app.CodeDamaged},
		{"a newer book", func(_, file string) { other(file, `PRAGMA user_version = 99`) }, app.CodeTooNew},
		{"another schema under our number", func(_, file string) { other(file, `UPDATE migration SET checksum = 'x'`) }, app.CodeDamaged},
	}
	for _, tt := range tests {
		for _, readOnly := range []bool{false, true} {
			dir := t.TempDir()
			b := openBook(t, dir, Options{})
			mustBring(t, b, "1", "yard", madeSheet("yard", "Q", 200))
			b.Close()
			tt.spoil(dir, b.file())
			b, err := Open(bg, dir, Options{ReadOnly: readOnly})
			if err == nil { // a reader opens without reading everything; the question tells
				err = askAll(b)
				b.Close()
			}
			wantCode(t, tt.name, err, tt.want)
		}
	}
}

func askAll(b *Book) error {
	findings, err := b.Verify(bg)
	if err == nil && len(findings) > 0 {
		return problem(app.CodeDamaged, findings[0].String(), "")
	}
	return err
}

func cut(t *testing.T, file string, by int64) {
	t.Helper()
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(file, info.Size()/by); err != nil {
		t.Fatal(err)
	}
}

// overwrite spoils every page but the first ones.
func overwrite(t *testing.T, file string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := 8 * 4096; i < len(data); i += 4096 {
		copy(data[i:], "\xff\xff\xff\xff spoiled")
	}
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestEmptyFileIsANewBook: a process that died while making the book leaves an
// empty file.
func TestEmptyFileIsANewBook(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, FileName), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	mustVerify(t, openBook(t, dir, Options{}))
}

func TestMigrationsAreNumbered(t *testing.T) {
	steps, err := migrations()
	if err != nil || len(steps) == 0 {
		t.Fatalf("got %d steps, %v", len(steps), err)
	}
	for i, s := range steps {
		if s.number != i+1 {
			t.Errorf("step %d has the number %d", i+1, s.number)
		}
	}
}

// TestMigrationStepFails: a step that fails leaves the book at the step before.
func TestMigrationStepFails(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{})
	steps, err := migrations()
	if err != nil {
		t.Fatal(err)
	}
	n := len(steps)
	more := append(steps, migration{n + 1, "good.sql", "CREATE TABLE extra (n INTEGER) STRICT; INSERT INTO extra VALUES (1);"},
		migration{n + 2, "bad.sql", "CREATE TABLE more (n INTEGER) STRICT; INSERT INTO nothing VALUES (1);"})
	if err := migrate(bg, b.writer, more); err == nil {
		t.Fatal("a step that cannot run was accepted")
	}
	version, err := userVersion(bg, b.writer)
	if err != nil || version != n+1 {
		t.Errorf("got version %d (%v), want %d", version, err, n+1)
	}
	if got := count(t, b, `SELECT count(*) FROM sqlite_schema WHERE name IN ('extra', 'more')`); got != 1 {
		t.Errorf("got %d of the new tables, want the first alone", got)
	}
	b.Close()
	_, err = Open(bg, dir, Options{})
	wantCode(t, "a book of the newer program", err, app.CodeTooNew)
}

// TestLockedBook: another process that keeps writing is named, after the wait.
func TestLockedBook(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	conn, err := openWriter(b.file()).Conn(bg)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if _, err := conn.ExecContext(bg, `BEGIN IMMEDIATE`); err != nil {
		t.Fatal(err)
	}
	if _, err := b.writer.Exec(`PRAGMA busy_timeout = 50`); err != nil { // the test need not wait five seconds
		t.Fatal(err)
	}
	_, err = b.OpenImport(bg, app.Batch{ID: "1", List: "yard"})
	wantCode(t, "a writer beside another", err, app.CodeInUse)
	if _, err := conn.ExecContext(bg, `ROLLBACK`); err != nil {
		t.Fatal(err)
	}
	mustBring(t, b, "1", "yard", madeSheet("yard", "Q", 3))
}
