package sqlite

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"net/url"
	"path/filepath"
	"strconv"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// Settings of a connection. Those that the driver takes as keys of the data
// source name go there, the others are PRAGMAs of the connect hook: either way
// every connection of a pool has them.
const (
	busyMillis  = 5000     // wait for another process's transaction
	writerCache = -65536   // KiB: the indexes that an import fills
	readerCache = -16384   // KiB: most reading goes through the mapped file
	mappedBytes = 1 << 31  // reader's window on the file, SQLite cuts it to its limit
	walPages    = 4000     // checkpoint after this many pages, 16 MB
	walBytes    = 64 << 20 // the log file shrinks to this after a checkpoint
	keptQueries = 64       // prepared statements kept by each connection
	readers     = 4        // beyond this the hand-over costs more than it gains on two cores
)

var writerPragmas = []string{
	"PRAGMA temp_store = MEMORY",
	"PRAGMA wal_autocheckpoint = " + strconv.Itoa(walPages),
	"PRAGMA journal_size_limit = " + strconv.Itoa(walBytes),
}

var readerPragmas = []string{
	"PRAGMA temp_store = MEMORY",
	"PRAGMA mmap_size = " + strconv.Itoa(mappedBytes),
}

// connector opens connections that all have the same settings.
type connector struct {
	dsn    string
	driver *sqlite3.SQLiteDriver
}

// Connect opens one connection.
func (c connector) Connect(context.Context) (driver.Conn, error) { return c.driver.Open(c.dsn) }

// Driver gives the driver beneath.
func (c connector) Driver() driver.Driver { return c.driver }

func newConnector(file string, keys url.Values, pragmas []string) connector {
	hook := func(conn *sqlite3.SQLiteConn) error {
		for _, p := range pragmas {
			if _, err := conn.Exec(p, nil); err != nil {
				return err
			}
		}
		return nil
	}
	path := (&url.URL{Path: filepath.ToSlash(file)}).EscapedPath()
	return connector{dsn: "file:" + path + "?" + keys.Encode(), driver: &sqlite3.SQLiteDriver{ConnectHook: hook}}
}

func commonKeys() url.Values {
	return url.Values{
		"_busy_timeout":       {strconv.Itoa(busyMillis)},
		"_foreign_keys":       {"1"},
		"_recursive_triggers": {"1"}, // so that a replacing insert meets the ledger's delete trigger
		"_stmt_cache_size":    {strconv.Itoa(keptQueries)},
	}
}

// openWriter gives the pool of the one writing connection. Its transactions are
// immediate: one that reads first and then writes would fail at once where
// another process has written in between. Commits are synced (FULL), because
// what was acknowledged must outlive a power cut.
func openWriter(file string) *sql.DB {
	keys := commonKeys()
	keys.Set("_txlock", "immediate")
	keys.Set("_journal_mode", "WAL")
	keys.Set("_synchronous", "FULL")
	keys.Set("_cache_size", strconv.Itoa(writerCache))
	return pool(newConnector(file, keys, writerPragmas), 1)
}

// openReaders gives the pool of read-only connections.
func openReaders(file string) *sql.DB {
	return pool(newConnector(file, readerKeys(), readerPragmas), readers)
}

// openUnmapped gives one read-only connection without a window on the file: for
// reading through all of it without making it all resident.
func openUnmapped(file string) *sql.DB {
	return pool(newConnector(file, readerKeys(), []string{"PRAGMA temp_store = MEMORY"}), 1)
}

func readerKeys() url.Values {
	keys := commonKeys()
	keys.Set("mode", "ro")
	keys.Set("_query_only", "1")
	keys.Set("_cache_size", strconv.Itoa(readerCache))
	return keys
}

func pool(c connector, size int) *sql.DB {
	db := sql.OpenDB(c)
	db.SetMaxOpenConns(size)
	db.SetMaxIdleConns(size)
	db.SetConnMaxLifetime(0)
	return db
}
