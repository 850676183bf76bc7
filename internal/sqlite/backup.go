package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"

	"crossbin/internal/app"
)

// Backup copies the book into a file while it is in use: one consistent
// snapshot, written beside, checked, synced and renamed to its place, so that a
// good older copy is replaced only by a good new one. To restore, put the file
// into an empty folder as book.sqlite.
func (b *Book) Backup(ctx context.Context, to string) error {
	if same, err := samePath(to, b.file()); err != nil || same {
		return errors.Join(err, problem(app.CodeInvalid, "a book cannot be copied onto itself", "name another file"))
	}
	part := to + ".part"
	if err := removeIfThere(part); err != nil {
		return explain("writing the backup "+to, err)
	}
	err := b.copyTo(ctx, part)
	if err == nil {
		err = os.Rename(part, to)
	}
	if err != nil {
		os.Remove(part)
		return explain("writing the backup "+to, err)
	}
	return explain("writing the backup "+to, syncDir(filepath.Dir(to)))
}

// copyTo writes the copy with a connection of its own: the readers' may only
// query, and the writer must stay free.
func (b *Book) copyTo(ctx context.Context, part string) error {
	keys := commonKeys()
	keys.Set("mode", "ro")
	db := pool(newConnector(b.file(), keys, nil), 1)
	defer db.Close()
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, part); err != nil {
		return err
	}
	if err := checkCopy(ctx, part); err != nil {
		return err
	}
	return syncFile(part) // SQLite does not sync what it vacuums into
}

func checkCopy(ctx context.Context, file string) error {
	db := openReaders(file)
	defer db.Close()
	findings, err := checkPages(ctx, db)
	if err == nil && len(findings) > 0 {
		return problem(app.CodeDamaged, "the copy is damaged: "+findings[0].Detail, "check the disk")
	}
	return err
}

func checkPages(ctx context.Context, db *sql.DB) ([]Finding, error) {
	var out []Finding
	err := each(ctx, db, `PRAGMA quick_check(100)`, nil, 1, func(r *record) error {
		if text := r.text(0); text != "ok" {
			out = append(out, Finding{"pages", text})
		}
		return nil
	})
	return out, err
}

func samePath(a, b string) (bool, error) {
	a, err := filepath.Abs(a)
	if err != nil {
		return false, err
	}
	b, err = filepath.Abs(b)
	return a == b, err
}

func removeIfThere(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}

func syncFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
