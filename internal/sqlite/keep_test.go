package sqlite

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

// TestUndoInterrupted: an undo whose process ended before the rows were removed
// is complete for every reader, and the next import removes them first.
func TestUndoInterrupted(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{})
	mustBring(t, b, "1", "yard", madeSheet("yard", "A", 30))
	mustBring(t, b, "2", "yard", madeSheet("yard", "B", 30))
	err := b.write(bg, "undoing", func(tx *transaction) error { // the transaction alone, as if killed behind it
		u, err := b.findUndo(bg, tx, "2")
		if err != nil {
			return err
		}
		_, err = b.undo(bg, tx, u, app.Actor{})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	check := func(when string) {
		t.Helper()
		if got := holdings(t, b, 30, "A", "B"); got["A"] != whole(30) || got["B"] != [3]int{} {
			t.Errorf("%s: got %v, want the first version", when, got)
		}
	}
	check("before the sweep")
	w, err := begin(bg, b, "3", "yard")
	if err != nil {
		t.Fatal(err)
	}
	if n := count(t, b, `SELECT count(*) FROM sheet_row`); n != 30 {
		t.Errorf("the next import begins with %d rows, want 30", n)
	}
	counts, err := stageAll(bg, w, madeSheet("yard", "A", 30), 10)
	if err != nil || counts.Kept != 60 || counts.Added+counts.Dropped+counts.Moved != 0 {
		t.Errorf("got %+v %v, want all kept", counts, err)
	}
	if _, err := w.Commit(bg, counts); err != nil {
		t.Fatal(err)
	}
	check("after the next import")
	mustVerify(t, b)
}

// TestSweepLeavesNothing: after a sweep every table is as it was before the
// import that was killed.
func TestSweepLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{})
	mustBring(t, b, "1", "yard", madeSheet("yard", "A", 30))
	before := dump(t, b)
	for _, list := range []string{"yard", "new list"} {
		w, err := begin(bg, b, "killed", list)
		if err != nil {
			t.Fatal(err)
		}
		s := madeSource(list)
		s.Standing = statement.Hearsay
		if err := w.Source(bg, s); err != nil {
			t.Fatal(err)
		}
		if _, err := stageAll(bg, w, madeSheet(list, "B", 30), 10); err != nil {
			t.Fatal(err)
		}
		b.Close()
		b = openBook(t, dir, Options{})
		if err := b.Sweep(bg); err != nil {
			t.Fatal(err)
		}
		if after := dump(t, b); after != before {
			t.Errorf("%s: the book is not as before:\n%s", list, difflines(before, after))
		}
	}
}

// dump gives all rows of all tables as text, but for counters that only go up.
func dump(t *testing.T, b *Book) string {
	t.Helper()
	var out strings.Builder
	names := append(generationTables(), "row_key", "row_hash", "fitment_way", "sheet_row", "sheet", "source", "batch", "movement", "change", "change_key")
	for _, name := range names {
		columns := count(t, b, `SELECT count(*) FROM pragma_table_info('`+name+`')`)
		err := each(bg, b.readers, `SELECT * FROM `+name+` ORDER BY 1, 2`, nil, int(columns), func(r *record) error {
			fmt.Fprintln(&out, name, r.cells)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out.String()
}

func difflines(a, b string) string {
	old := strings.Split(a, "\n")
	var out []string
	for _, line := range strings.Split(b, "\n") {
		if !slices.Contains(old, line) {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// TestFinishProves: a version that does not hold what was staged is refused.
func TestFinishProves(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	mustBring(t, b, "1", "yard", madeSheet("yard", "A", 30))
	spoilers := []struct{ name, sql string }{
		{"a statement lost", `DELETE FROM part WHERE pos = (SELECT max(pos) FROM part)`},
		{"a kept statement lost", `DELETE FROM link WHERE pos = (SELECT min(pos) FROM link)`},
		{"a row lost", `DELETE FROM sheet_row WHERE id = (SELECT max(id) FROM sheet_row)`},
	}
	for i, s := range spoilers {
		w, err := begin(bg, b, fmt.Sprint("spoiled", i), "yard")
		if err != nil {
			t.Fatal(err)
		}
		rows := append(madeSheet("yard", "A", 30), madeSheet("yard", "B", 50)[40:]...)
		if err := w.Stage(bg, rows); err != nil {
			t.Fatal(err)
		}
		err = b.write(bg, "spoiling", func(tx *transaction) error {
			_, err := tx.Exec(s.sql)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		_, err = w.Finish(bg)
		wantCode(t, s.name, err, app.CodeInternal)
		_, err = w.Commit(bg, app.Counts{})
		wantCode(t, s.name+": commit", err, app.CodeConflict)
		if err := w.Abandon(bg); err != nil {
			t.Fatal(err)
		}
	}
}

func TestBackup(t *testing.T) {
	dir, away := t.TempDir(), t.TempDir()
	b := openBook(t, dir, Options{})
	mustBring(t, b, "1", "yard", madeSheet("yard", "A", 300))
	w, err := begin(bg, b, "2", "yard") // a copy in the middle of an import
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Stage(bg, madeSheet("yard", "B", 300)[:100]); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(away, FileName)
	for range 2 { // the second replaces the first
		if err := b.Backup(bg, to); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Abandon(bg); err != nil {
		t.Fatal(err)
	}
	left, err := os.ReadDir(away)
	if err != nil || len(left) != 1 {
		t.Errorf("got files %v %v, want the copy alone", left, err)
	}
	copied := openBook(t, away, Options{})
	if err := copied.Sweep(bg); err != nil {
		t.Fatal(err)
	}
	if got := holdings(t, copied, 300, "A", "B"); got["A"] != whole(300) || got["B"] != [3]int{} {
		t.Errorf("the copy holds %v", got)
	}
	mustVerify(t, copied)
	wantCode(t, "a copy onto itself", b.Backup(bg, b.file()), app.CodeInvalid)
	if err := b.Backup(bg, filepath.Join(away, "none", "x")); err == nil {
		t.Error("a copy into a missing folder was accepted")
	}
}

// TestBackupKeepsTheGoodOne: a copy that fails leaves the older one as it is.
func TestBackupKeepsTheGoodOne(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	to := filepath.Join(t.TempDir(), "copy")
	if err := b.Backup(bg, to); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(to+".part", 0o755); err != nil { // in the way of the new copy
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(to+".part", "x"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := b.Backup(bg, to); err == nil {
		t.Error("the copy was accepted")
	}
	after, err := os.ReadFile(to)
	if err != nil || string(after) != string(before) {
		t.Errorf("the older copy has changed (%v)", err)
	}
}

// TestVerifyFinds: each check finds what it is there for.
func TestVerifyFinds(t *testing.T) {
	tests := []struct{ name, check, sql string }{
		{"a statement that was changed", "ids", `UPDATE part SET printed = 'other' WHERE pos = (SELECT min(pos) FROM part)`},
		{"a statement without its row", "rows", `UPDATE sheet_row SET id = id + 1000 WHERE id = (SELECT max(id) FROM sheet_row)`},
		{"a key that leads nowhere", "ways", `INSERT INTO row_key VALUES ('NONE', 1, 1)`},
		{"a key of another kind", "ways", `UPDATE row_key SET kinds = 2 WHERE key = 'A000003'`},
		{"a key that is missing", "ways", `DELETE FROM row_key WHERE key = 'A000003'`},
		{"a fitment way that leads nowhere", "ways", `INSERT INTO fitment_way VALUES (1, 'KV31', '', 65536)`},
		{"a hash that leads nowhere", "ways", `INSERT INTO row_hash VALUES ('x', 1)`},
		{"a hash that is missing", "ways", `DELETE FROM row_hash WHERE sheet_row = (SELECT max(id) FROM sheet_row)`},
		{"an unknown source", "sources", `UPDATE part SET source = 77 WHERE pos = (SELECT min(pos) FROM part)`},
		{"a bin below zero", "ledger", `INSERT INTO movement SELECT shop, seq + 1000, id, once || 'x', kind, key, maker, bin, condition, printed, -9, held,
			counted, job, reason, batch, reverses, day, at, who, device FROM movement WHERE seq = 1`},
		{"a movement of no import", "ledger", `INSERT INTO movement SELECT shop, seq + 1000, id, once || 'x', kind, key, maker, bin, condition, printed, 1, held,
			counted, job, reason, 'none', reverses, day, at, who, device FROM movement WHERE seq = 1`},
		{"a version never committed", "versions", `UPDATE list SET current = 1, next_version = 9 WHERE id = (SELECT min(id) FROM list)`},
		{"a version not given out", "versions", `UPDATE list SET next_version = 1`},
		{"a sheet of no list", "keys", `PRAGMA defer_foreign_keys = 1; INSERT INTO sheet (list, file, name) VALUES (99, 'x', 'y')`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := openBook(t, t.TempDir(), Options{})
			mustBring(t, b, "1", "yard", madeSheet("yard", "A", 10))
			if _, err := b.Undo(bg, "1", app.Actor{}); err != nil { // so that version 1 is none that was committed
				t.Fatal(err)
			}
			mustBring(t, b, "2", "yard", madeSheet("yard", "A", 10))
			mustVerify(t, b)
			spoil(t, b, tt.sql)
			findings, err := b.Verify(bg)
			if err != nil {
				t.Fatal(err)
			}
			found := slices.ContainsFunc(findings, func(f Finding) bool {
				return f.Check == tt.check && strings.HasPrefix(f.String(), tt.check+": ")
			})
			if !found {
				t.Errorf("got %v, want a finding of %q", findings, tt.check)
			}
		})
	}
}

// spoil changes the book behind its back, without foreign keys.
func spoil(t *testing.T, b *Book, statements string) {
	t.Helper()
	conn, err := b.writer.Conn(bg)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	for _, s := range []string{`PRAGMA foreign_keys = 0`, statements} {
		if _, err := conn.ExecContext(bg, s); err != nil {
			t.Fatal(err)
		}
	}
}

func TestExplain(t *testing.T) {
	if err := explain("x", nil); err != nil {
		t.Errorf("no error: got %v", err)
	}
	plain := errors.New("plain")
	if err := explain("doing", plain); !errors.Is(err, plain) || app.CodeOf(err) != app.CodeInternal || err.Error() != "doing: plain" {
		t.Errorf("got %v", err)
	}
	known := problem(app.CodeNotFound, "m", "h")
	if err := explain("doing", known); err != known {
		t.Errorf("an error that is explained already: got %v", err)
	}
}
