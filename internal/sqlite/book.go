package sqlite

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"crossbin/internal/app"
)

// FileName is the name of the SQLite file in a book's folder.
const FileName = "book.sqlite"

// defaultShop is the shop of a new book when nobody names one.
const defaultShop = "main"

// smallBook is the size up to which a book is checked whole each time it is
// opened: SQLite reads 8 MB in well under 50 ms. Verify checks any size.
const smallBook = 8 << 20

// Options say how a book is opened; the zero value serves.
type Options struct {
	Shop     string           // of a new book, "" is "main"; a book that is there must be this shop's
	Clock    func() time.Time // nil is time.Now
	Logger   *slog.Logger     // nil drops what would be logged
	ReadOnly bool             // never write, as beside a server
}

// Book is a book on SQLite. Its methods may be called from many goroutines.
type Book struct {
	dir, shop string
	clock     func() time.Time
	log       *slog.Logger
	readers   *sql.DB
	writer    *sql.DB // nil when opened for reading only
	watcher   watcher
	portion   portions
	known     atomic.Pointer[snapshot]

	mu        sync.Mutex
	importing *importWriter // the import that holds the lock, if any
}

// Open opens the book in a folder and makes it when there is none, unless it is
// opened for reading only. Errors: CodeNotFound for no book, CodeTooNew,
// CodeDamaged, CodeConflict for another shop's book, CodeInUse, CodeUnavailable.
func Open(ctx context.Context, dir string, opts Options) (*Book, error) {
	b := &Book{dir: dir, clock: opts.Clock, log: opts.Logger, portion: usualPortions}
	if b.clock == nil {
		b.clock = time.Now
	}
	if b.log == nil {
		b.log = slog.New(slog.DiscardHandler)
	}
	if err := b.open(ctx, opts); err != nil {
		b.Close()
		return nil, explain("opening the book in "+dir, err)
	}
	return b, nil
}

func (b *Book) open(ctx context.Context, opts Options) error {
	steps, err := migrations()
	if err != nil {
		return err
	}
	if err := b.prepareFolder(opts); err != nil {
		return err
	}
	if opts.ReadOnly {
		b.readers = openReaders(b.file())
		if current, err := b.isCurrent(ctx, steps); err != nil || current {
			return errors.Join(err, b.settleShop(ctx, opts.Shop))
		}
		b.readers.Close() // an older book, or one just being made: bring it up to date first
	}
	if err := b.openForWriting(ctx, steps, opts); err != nil {
		return err
	}
	b.readers = openReaders(b.file())
	if opts.ReadOnly {
		err = b.writer.Close()
		b.writer = nil
	}
	return errors.Join(err, b.settleShop(ctx, opts.Shop))
}

func (b *Book) isCurrent(ctx context.Context, steps []migration) (bool, error) {
	if err := checkSchema(ctx, b.readers, steps); err != nil {
		return false, err
	}
	version, err := userVersion(ctx, b.readers)
	return version == len(steps), err
}

func (b *Book) prepareFolder(opts Options) error {
	err := checkHeader(b.file())
	switch {
	case !errors.Is(err, os.ErrNotExist):
		return err
	case opts.ReadOnly:
		return problem(app.CodeNotFound, "there is no book yet", "bring a list in with crossbin import, or name the book with --book")
	}
	return os.MkdirAll(b.dir, 0o755)
}

// checkHeader looks at the first bytes of the file before the engine touches
// it (layout: sqlite.org/fileformat2, section 1.3). An empty file is a new book.
func checkHeader(file string) error {
	f, err := os.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	head := make([]byte, 100)
	switch n, err := io.ReadFull(f, head); {
	case n == 0 && errors.Is(err, io.EOF):
		return nil
	case err != nil || string(head[:16]) != "SQLite format 3\x00":
		return problem(app.CodeDamaged, FileName+" is no SQLite file", "put a backup in its place")
	}
	if mark := binary.BigEndian.Uint32(head[68:]); mark != 0 && mark != bookMark {
		return problem(app.CodeDamaged, FileName+" is another program's database", "name another folder, or put a backup in its place")
	}
	return nil
}

// openForWriting opens the writer first: readers cannot switch a file to the
// write-ahead log.
func (b *Book) openForWriting(ctx context.Context, steps []migration, opts Options) error {
	b.writer = openWriter(b.file())
	if err := patiently(ctx, func() error { return b.writer.PingContext(ctx) }); err != nil {
		return err
	}
	if err := patiently(ctx, func() error { return migrate(ctx, b.writer, steps) }); err != nil {
		return err
	}
	shop := opts.Shop
	if shop == "" {
		shop = defaultShop
	}
	err := b.write(ctx, "opening the book", func(tx *transaction) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO meta (shop, name, value) SELECT ?, 'revision', 0
			WHERE NOT EXISTS (SELECT 1 FROM meta WHERE name = 'revision')`, shop)
		return err
	})
	if err != nil {
		return err
	}
	return checkSmall(ctx, b.writer, b.file())
}

// patiently repeats what found the book busy: the switch to the write-ahead
// log does not wait by itself while another process opens the same new book.
func patiently(ctx context.Context, f func() error) error {
	deadline := time.Now().Add(busyMillis * time.Millisecond)
	for {
		err := f()
		if !isBusy(err) || time.Now().After(deadline) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func checkSmall(ctx context.Context, q querier, file string) error {
	info, err := os.Stat(file)
	if err != nil || info.Size() > smallBook {
		return err
	}
	var verdict string
	if err := q.QueryRowContext(ctx, `PRAGMA quick_check(1)`).Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return problem(app.CodeDamaged, "the book is damaged: "+verdict, "put a backup in its place")
	}
	return nil
}

// settleShop takes the shop from the book and refuses another one's.
func (b *Book) settleShop(ctx context.Context, wanted string) error {
	if err := b.readers.QueryRowContext(ctx, `SELECT shop FROM meta WHERE name = 'revision'`).Scan(&b.shop); err != nil {
		return err
	}
	if wanted != "" && wanted != b.shop {
		return problem(app.CodeConflict, fmt.Sprintf("this is the book of the shop %q, not of %q", b.shop, wanted), "name the shop's own book")
	}
	return nil
}

func (b *Book) file() string { return filepath.Join(b.dir, FileName) }

// Dir is the book's folder.
func (b *Book) Dir() string { return b.dir }

// Shop names the shop whose book this is.
func (b *Book) Shop() string { return b.shop }

// Close ends all connections. An import that is still open is left as a killed
// one would be: nothing of it is read, and the next Sweep removes it.
func (b *Book) Close() error {
	b.mu.Lock()
	w := b.importing
	b.importing = nil
	b.mu.Unlock()
	if w != nil {
		w.release()
	}
	err := b.watcher.close()
	if b.readers != nil {
		err = errors.Join(err, b.readers.Close())
	}
	if b.writer != nil {
		err = errors.Join(err, b.writer.Close())
	}
	return err
}
