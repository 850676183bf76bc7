package sqlite

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// TestSchemaIsGolden: a change of the schema is a readable difference.
func TestSchemaIsGolden(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	var out strings.Builder
	err := each(context.Background(), b.readers, `SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name <> 'sqlite_sequence'
		ORDER BY tbl_name, type = 'table' DESC, name`, nil, 1, func(r *record) error {
		out.WriteString(r.text(0) + ";\n\n")
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "../../testdata/schema.sql", out.String())
}

// hotQueries are the queries that questions and imports run again and again.
func hotQueries() []struct{ name, text string } {
	gone := (&difference{t: &linkTable}).goneText("s.id")
	return []struct{ name, text string }{
		{"revision", readMeta},
		{"parts by one key", keyText(&partTable, 1)},
		{"parts by key", keyText(&partTable, 4)},
		{"values by key", keyText(&valueTable, 4)},
		{"links by one number on either side", keyText(&linkTable, 1)},
		{"links by number on either side", keyText(&linkTable, 4)},
		{"fitments by key", keyText(&fitmentTable, 4)},
		{"fitments by one model code and part type", wayText(wayModelCode, 1, true)},
		{"fitments by model code and part type", wayText(wayModelCode, 4, true)},
		{"fitments by engine and part type", wayText(wayEngine, 4, true)},
		{"fitments by model and part type", wayText(wayModel, 4, true)},
		{"fitments by model code", wayText(wayModelCode, 4, false)},
		{"stock by key", inShop(movementsOfKeys, 4)},
		{"parts on hand", partsOnHand},
		{"ledger of one bin", ledgerOfBin},
		{"ledger of many bins", ledgerOfKeys},
		{"movements of an import", postedByBatch},
		{"movements behind an undo", laterMovements},
		{"change feed", changesAfter},
		{"all keys", allKeys()},
		{"import: rows that stand", standingRows},
		{"import: rows by hash", rowsByHash(4)},
		{"import: rows that a version ended", endedRows},
		{"import: statements that a version ended", gone},
		{"import: keys removed", ways()[0].remove[0]},
		{"import: fitment ways removed", ways()[1].remove[0]},
		{"import: hashes removed", ways()[2].remove[0]},
		{"import: what a list says of the shelf", postingsByBin},
	}
}

// parameters counts the parameters of a query.
func parameters(text string) int {
	named := map[string]bool{}
	for i, c := range text {
		if c == '?' {
			name := text[i+1:]
			if end := strings.IndexFunc(name, func(r rune) bool { return r < '0' || r > '9' }); end > 0 {
				named[name[:end]] = true
			} else if end == 0 {
				named[fmt.Sprint("at ", i)] = true
			} else {
				named[name] = true
			}
		}
	}
	return len(named)
}

// TestPlansAreGolden: every hot query goes through the index made for it.
func TestPlansAreGolden(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	var out strings.Builder
	for _, q := range hotQueries() {
		fmt.Fprintf(&out, "%s\n", q.name)
		err := each(context.Background(), b.readers, "EXPLAIN QUERY PLAN "+q.text, make([]any, parameters(q.text)), 4, func(r *record) error {
			fmt.Fprintf(&out, "    %s\n", r.text(3))
			return nil
		})
		if err != nil {
			t.Fatalf("%s: %v", q.name, err)
		}
	}
	golden(t, "../../testdata/plans.txt", out.String())
	for _, scan := range regexp.MustCompile(`SCAN .*`).FindAllString(out.String(), -1) {
		if scan != "SCAN k" && scan != "SCAN CONSTANT ROW" { // k is a list of rows already found, or all keys
			t.Errorf("a hot query scans a table: %s", scan)
		}
	}
}
