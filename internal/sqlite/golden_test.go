package sqlite

import (
	"context"
	"fmt"
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
		{"parts by key", wayText(&partTable, partByKey, 4, false)},
		{"values by key", wayText(&valueTable, valueByKey, 4, false)},
		{"links by the first number", wayText(&linkTable, linkByA, 4, false)},
		{"links by the second number", wayText(&linkTable, linkByB, 4, false)},
		{"fitments by model code and part type", wayText(&fitmentTable, fitmentByCode, 4, true)},
		{"fitments by engine and part type", wayText(&fitmentTable, fitmentByEngine, 4, true)},
		{"fitments by model and part type", wayText(&fitmentTable, fitmentByModel, 4, true)},
		{"fitments by key and part type", wayText(&fitmentTable, fitmentByKey, 4, true)},
		{"fitments by one model code and part type", wayText(&fitmentTable, fitmentByCode, 1, true)},
		{"fitments by model code", wayText(&fitmentTable, fitmentByCode, 4, false)},
		{"fitments by engine", wayText(&fitmentTable, fitmentByEngine, 4, false)},
		{"fitments by model", wayText(&fitmentTable, fitmentByModel, 4, false)},
		{"fitments by key", wayText(&fitmentTable, fitmentByKey, 4, false)},
		{"stock by key", inList(movementsOfKeys, 4)},
		{"parts on hand", partsOnHand},
		{"ledger of one bin", ledgerOfBin},
		{"ledger of all bins", ledgerOfAll},
		{"movements of an import", postedByBatch},
		{"movements behind an undo", laterMovements},
		{"change feed", changesAfter},
		{"all keys", allKeys()},
		{"import: rows that stand", standingRows},
		{"import: rows by hash", rowsByHash(4)},
		{"import: rows that a version ended", endedRows},
		{"import: statements that a version ended", gone},
		{"import: what a list says of the shelf", postingsByBin},
	}
}

// TestPlansAreGolden: every hot query goes through the index made for it.
func TestPlansAreGolden(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	var out strings.Builder
	for _, q := range hotQueries() {
		fmt.Fprintf(&out, "%s\n", q.name)
		err := each(context.Background(), b.readers, "EXPLAIN QUERY PLAN "+q.text, make([]any, strings.Count(q.text, "?")), 4, func(r *record) error {
			fmt.Fprintf(&out, "    %s\n", r.text(3))
			return nil
		})
		if err != nil {
			t.Fatalf("%s: %v", q.name, err)
		}
	}
	golden(t, "../../testdata/plans.txt", out.String())
	if strings.Contains(strings.ReplaceAll(out.String(), "SCAN CONSTANT ROW", ""), "SCAN") {
		t.Error("a hot query scans a table")
	}
}
