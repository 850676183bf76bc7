package sqlite

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

// Finding is something that Verify does not find as it should be.
type Finding struct {
	Check  string // stable word: pages, keys, rows, sources, ways, ids, ledger, versions
	Detail string
}

// String gives both in one line.
func (f Finding) String() string { return f.Check + ": " + f.Detail }

// sampleOfIDs is for how many statements of each kind the id is computed again:
// all of a small book, an even sample of a big one, so that Verify takes
// seconds beside the check of the pages.
const sampleOfIDs = 100_000

// sums are checks that count what must not be there: each query gives one line
// of text for each thing found.
var sums = []struct{ check, query string }{
	{"ledger", `SELECT 'bin ' || bin || ' holds ' || sum(on_hand) || ' on hand and ' || sum(held) || ' held of ' || key FROM movement
		GROUP BY shop, key, maker, bin, condition HAVING sum(on_hand) < 0 OR sum(held) < 0`},
	{"ledger", `SELECT 'posted more than once: ' || once FROM movement GROUP BY shop, once HAVING count(*) > 1`},
	{"ledger", `SELECT 'movement ' || m.id || ' names an import that is not there: ' || m.batch FROM movement m
		WHERE m.batch IS NOT NULL AND NOT EXISTS (SELECT 1 FROM batch b WHERE b.shop = m.shop AND b.id = m.batch)`},
	{"versions", `SELECT 'list ' || l.name || ' counts version ' || l.current || ', which was never committed' FROM list l
		WHERE l.current > 0 AND NOT EXISTS (SELECT 1 FROM batch b WHERE b.list = l.id AND b.version = l.current AND b.state = 'committed')`},
	{"versions", `SELECT 'import ' || b.id || ' has a version that was not given out' FROM batch b JOIN list l ON l.id = b.list
		WHERE b.version >= l.next_version`},
}

// Verify checks the whole book: pages, foreign keys, that statements agree with
// their rows and sources, that ids are what they stand for, and that the ledger
// adds up. An empty result is a sound book; the error is one of running the
// checks, also CodeDamaged where the file cannot even be read.
func (b *Book) Verify(ctx context.Context) ([]Finding, error) {
	var out []Finding
	db := openUnmapped(b.file())
	defer db.Close()
	err := b.read(ctx, db, func(r *reader) error {
		for _, check := range []func(context.Context) ([]Finding, error){r.checkPages, r.checkForeignKeys, r.checkSums, r.checkRows, r.checkIDs} {
			found, err := check(ctx)
			if err != nil {
				return err
			}
			out = append(out, found...)
		}
		return nil
	})
	return out, explain("checking the book", err)
}

func (r *reader) lines(ctx context.Context, check, query string) ([]Finding, error) {
	var out []Finding
	err := each(ctx, r.tx, query, nil, 1, func(rec *record) error {
		if text := rec.text(0); text != "ok" {
			out = append(out, Finding{check, text})
		}
		return nil
	})
	return out, err
}

func (r *reader) checkPages(ctx context.Context) ([]Finding, error) {
	return r.lines(ctx, "pages", `PRAGMA integrity_check(100)`)
}

func (r *reader) checkForeignKeys(ctx context.Context) ([]Finding, error) {
	var out []Finding
	err := each(ctx, r.tx, `PRAGMA foreign_key_check`, nil, 4, func(rec *record) error {
		out = append(out, Finding{"keys", fmt.Sprintf("row %d of %s names a missing row of %s", rec.num(1), rec.text(0), rec.text(2))})
		return nil
	})
	return out, err
}

func (r *reader) checkSums(ctx context.Context) ([]Finding, error) {
	var out []Finding
	for _, s := range sums {
		found, err := r.lines(ctx, s.check, s.query)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	return out, nil
}

// checkRows holds statements and postings against the rows that they hang on,
// and the ways in against both.
func (r *reader) checkRows(ctx context.Context) ([]Finding, error) {
	type check struct{ name, text, query string }
	var checks []check
	for _, name := range generationTables() {
		checks = append(checks, check{"rows", "%d rows of " + name + " hang on no sheet row",
			`SELECT count(*) FROM ` + name + ` s WHERE NOT EXISTS (SELECT 1 FROM sheet_row r WHERE r.id = s.pos >> 16)`})
	}
	for _, t := range tables {
		checks = append(checks, check{"sources", "%d rows of " + t.name + " name a source that is not there",
			`SELECT count(*) FROM ` + t.name + ` s WHERE s.source NOT IN (SELECT n FROM source)`})
	}
	for _, w := range wayChecks() {
		checks = append(checks, check{"ways", w.text, w.query})
	}
	var out []Finding
	for _, c := range checks {
		n, err := countOne(ctx, r.tx, c.query)
		if err != nil {
			return nil, err
		}
		if n != 0 {
			out = append(out, Finding{c.name, fmt.Sprintf(c.text, n)})
		}
	}
	return out, nil
}

// checkIDs computes the ids of current statements again.
func (r *reader) checkIDs(ctx context.Context) ([]Finding, error) {
	var out []Finding
	for _, t := range tables {
		n, err := countOne(ctx, r.tx, `SELECT count(*) FROM `+t.name)
		if err != nil {
			return nil, err
		}
		query := idText(t, max(1, n/sampleOfIDs))
		err = each(ctx, r.tx, query, nil, ownColumns+len(t.own)+1, func(rec *record) error {
			s := r.statement(t, rec)
			if !isIDOf(r.shop, rec.text(ownColumns+len(t.own)), s) {
				out = append(out, Finding{"ids", fmt.Sprintf("statement %s in row %s says something else than its id", s.ID, placeText(s.Place))})
			}
			if len(out) >= 100 {
				return errEnough
			}
			return nil
		})
		if err != nil && !errors.Is(err, errEnough) {
			return nil, err
		}
	}
	return out, nil
}

// idText is the query for the statements of every n-th row, with the name of
// their list behind them.
func idText(t *table, n int64) string {
	text := selectText(t, t.name+fromStatement, fmt.Sprintf("(s.pos >> 16) %% %d = 0", n))
	return strings.Replace(text, " FROM ", ", l.name FROM ", 1)
}

// errEnough ends a scan that has found as much as anybody reads.
var errEnough = errors.New("enough found")

// mostEquals is how many statements of equal content a list may hold for their
// running numbers to be found again.
const mostEquals = 10_000

func isIDOf(shop, list string, s statement.Statement) bool {
	for running := range mostEquals {
		if statement.Identify(shop, list, s, running) == s.ID {
			return true
		}
	}
	return false
}

var _ app.Book = (*Book)(nil)
