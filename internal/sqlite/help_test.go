package sqlite

import (
	"context"
	"flag"
	"fmt"
	"os"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

var update = flag.Bool("update", false, "write the golden files anew")

// madeSheet makes a sheet of some rows; word tells sheets apart. Each row has a
// part, a link to the number behind it, and a count.
func madeSheet(list, word string, rows int) []app.StagedRow {
	number := statement.NewNumberer("main", list)
	out := make([]app.StagedRow, rows)
	for i := range out {
		a := part.Ref{Key: fmt.Sprintf("%s%06d", word, i)}
		place := statement.Place{File: list + ".csv", Row: i + 2, Text: fmt.Sprintf("%s\t%d\tan alternator of row %d", word, i, i)}
		said := []statement.Statement{
			{Kind: statement.KindPart, Type: "alternator", A: a, Part: statement.PartName{Printed: a.Key, Role: statement.Own}},
			{Kind: statement.KindLink, A: a, Link: statement.Link{Relation: statement.Same, B: part.Ref{Key: fmt.Sprintf("%s%06d", word, i+1)}}},
		}
		for j := range said {
			said[j].Source, said[j].Place = madeSource(list).ID, place
			said[j].ID = number.ID(said[j])
		}
		out[i] = app.StagedRow{Place: place, Hash: statement.Hash(place.Text), Statements: said,
			Postings: []shelf.Posting{{Part: a, Bin: "A-1", Condition: shelf.New, Quantity: 1 + i%3, Counted: true}}}
	}
	return out
}

func madeSource(list string) statement.Source {
	return statement.Source{ID: statement.SourceID("main", list, ""), Shop: "main", List: list, Standing: statement.OwnList}
}

// begin opens an import of a made list.
func begin(ctx context.Context, b *Book, id, list string) (app.ImportWriter, error) {
	w, err := b.OpenImport(ctx, app.Batch{ID: id, List: list, File: list + ".csv", Standing: statement.OwnList})
	if err != nil {
		return nil, err
	}
	return w, w.Source(ctx, madeSource(list))
}

// bring brings a sheet in, some rows in each transaction.
func bring(ctx context.Context, b *Book, id, list string, rows []app.StagedRow, portion int) (int64, error) {
	w, err := begin(ctx, b, id, list)
	if err != nil {
		return 0, err
	}
	counts, err := stageAll(ctx, w, rows, portion)
	if err != nil {
		return 0, err
	}
	return w.Commit(ctx, counts)
}

func stageAll(ctx context.Context, w app.ImportWriter, rows []app.StagedRow, portion int) (app.Counts, error) {
	for len(rows) > 0 {
		n := min(portion, len(rows))
		if err := w.Stage(ctx, rows[:n]); err != nil {
			return app.Counts{}, err
		}
		rows = rows[n:]
	}
	return w.Finish(ctx)
}

func mustBring(t *testing.T, b *Book, id, list string, rows []app.StagedRow) {
	t.Helper()
	if _, err := bring(context.Background(), b, id, list, rows, 1000); err != nil {
		t.Fatalf("import %s: %v", id, err)
	}
}

// holdings counts, for the made sheets of some words, how many parts, links and
// units the book holds.
func holdings(t *testing.T, b *Book, rows int, words ...string) map[string][3]int {
	t.Helper()
	out := map[string][3]int{}
	err := b.Read(context.Background(), func(r app.Reader) error {
		for _, word := range words {
			var keys []string
			for i := range rows + 1 {
				keys = append(keys, fmt.Sprintf("%s%06d", word, i))
			}
			parts, err := r.Parts(context.Background(), keys)
			if err != nil {
				return err
			}
			links, err := r.Links(context.Background(), keys)
			if err != nil {
				return err
			}
			lines, err := r.Stock(context.Background(), keys)
			if err != nil {
				return err
			}
			units := 0
			for _, l := range lines {
				units += l.OnHand
			}
			out[word] = [3]int{len(parts), len(links), units}
		}
		return nil
	})
	if err != nil {
		t.Fatalf("read: %v", err)
	}
	return out
}

// whole is what holdings counts of a made sheet that counts.
func whole(rows int) [3]int {
	units := 0
	for i := range rows {
		units += 1 + i%3
	}
	return [3]int{rows, rows, units}
}

func mustVerify(t *testing.T, b *Book) {
	t.Helper()
	findings, err := b.Verify(context.Background())
	if err != nil || len(findings) > 0 {
		t.Errorf("verify: got %v %v, want nothing", findings, err)
	}
}

// count asks for one number.
func count(t *testing.T, b *Book, query string, args ...any) int64 {
	t.Helper()
	n, err := countOne(context.Background(), b.readers, query, args...)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return n
}

func wantCode(t *testing.T, what string, err error, want app.Code) {
	t.Helper()
	if err == nil || app.CodeOf(err) != want {
		t.Errorf("%s: got %v, want an error with code %s", what, err, want)
	}
}

// golden holds a text against a file, or writes the file with -update.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s has changed; look at the difference and run go test -update\n%s", file, got)
	}
}
