package importers_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
)

// pools are what the cells of made tables hold: good values, and damage.
var pools = map[string][]string{
	"OE No":          {"98760-50090", "98760-50091 / 98760-50092", "98760-50093 → 98760-50094", "98760-50095 + 98760-50096", "", "none", "1.2E+10", "98760-50090/91"},
	"Unit No":        {"100211-1230", "", "-", "9K", "100211-1240"},
	"Our No":         {"A101", "A102", "A103", "", "?"},
	"Part type":      {"Alternator", "Radiator", "Gizmo", ""},
	"Make":           {"Kestrel", "Ostara", ""},
	"Model":          {"Arrow", "Bolt / Dart", "all", ""},
	"Model code":     {"KV31", "GF-KV31", "KV31/41", "KV31-ABC", ""},
	"Years":          {"1996-1999", "96-01", "H8.9~H11.8", "?", "facelift", ""},
	"Volts":          {"12", "24V", "strong", ""},
	"Amps":           {"80", "80A?", "12V 80A", ""},
	"Qty":            {"2", "2+1 core", "many", "O", ""},
	"Bin":            {"A-1", "A-2; A-3", ""},
	"Condition":      {"new", "reman", "quite nice", ""},
	"Superseded by":  {"98760-50200", "98760-50201 + 98760-50202", ""},
	"Interchange No": {"98760-50300; 98760-50301", ""},
	"Where from":     {"forum", "our list", "Mo", ""},
}

// makeTable draws headings and rows.
func makeTable(t *rapid.T) (heads []string, rows [][]string) {
	all := []string{}
	for h := range pools {
		all = append(all, h)
	}
	slices.Sort(all)
	heads = append([]string{"OE No", "Our No"}, rapid.SliceOfNDistinct(rapid.SampledFrom(slices.DeleteFunc(all, func(h string) bool { return h == "OE No" || h == "Our No" })), 1, 10, rapid.ID).Draw(t, "heads")...)
	for range rapid.IntRange(1, 8).Draw(t, "rows") {
		var row []string
		for _, h := range heads {
			row = append(row, rapid.SampledFrom(pools[h]).Draw(t, h))
		}
		rows = append(rows, row)
	}
	return heads, rows
}

func asCSV(heads []string, rows [][]string) string {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(append([][]string{heads}, rows...)); err != nil {
		panic(err)
	}
	return b.String()
}

// readMade reads a made table from a folder of its own.
func readMade(dir string, opt importers.Options, text string) ([]app.Row, error) {
	path := filepath.Join(dir, "made.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		return nil, err
	}
	f, err := sheet.Open(path, sheet.Limits{})
	if err != nil {
		return nil, err
	}
	defer f.Close()
	reading, err := importers.Read(context.Background(), f, opt)
	if err != nil {
		return nil, err
	}
	var rows []app.Row
	err = reading.Each(context.Background(), func(r app.Row) error {
		rows = append(rows, r)
		return nil
	})
	return rows, err
}

// contents are the statements and postings of rows, in no order.
func contents(rows []app.Row) []string {
	var out []string
	for _, r := range rows {
		for _, s := range r.Statements {
			out = append(out, r.From+" "+statement.Content(s))
		}
		for _, p := range r.Postings {
			out = append(out, posting(p))
		}
	}
	slices.Sort(out)
	return out
}

// Sorting a sheet, by rows or by columns, changes nothing of what it says.
func TestOrderChangesNothing(t *testing.T) {
	opt, dir := options(t), t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		heads, rows := makeTable(t)
		before, err := readMade(dir, opt, asCSV(heads, rows))
		if err != nil {
			t.Fatal(err)
		}
		columns := rapid.Permutation(indexes(len(heads))).Draw(t, "columns")
		order := rapid.Permutation(indexes(len(rows))).Draw(t, "order")
		moved := make([][]string, len(rows))
		for i, from := range order {
			moved[i] = permuted(rows[from], columns)
		}
		after, err := readMade(dir, opt, asCSV(permuted(heads, columns), moved))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := contents(after), contents(before); !slices.Equal(got, want) {
			t.Fatalf("rows say something else in another order: %s", firstDifference(strings.Join(want, "\n"), strings.Join(got, "\n")))
		}
	})
}

func indexes(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func permuted(list []string, order []int) []string {
	out := make([]string, len(order))
	for i, from := range order {
		out[i] = list[from]
	}
	return out
}

// accounting checks what every row must obey: one of four states, rows in the
// order of the file and none left out, refused rows with a reason and nothing in
// the book, flagged rows with a remark, taken rows without one.
func accounting(rows []app.Row) error {
	last := 0
	for _, r := range rows {
		has := len(r.Statements)+len(r.Postings) > 0
		var wrong error
		switch {
		case r.Place.Row != last+1:
			wrong = errors.New("out of order or left out")
		case r.State == app.Taken && (!has || len(r.Problems) > 0):
			wrong = errors.New("taken with a problem, or with nothing")
		case r.State == app.Flagged && (!has || len(r.Problems) == 0):
			wrong = errors.New("flagged without a remark, or with nothing")
		case r.State == app.Refused && (has || len(r.Problems) == 0 && r.Why == ""):
			wrong = errors.New("refused without a reason, or with something")
		case r.State == app.Skipped && (has || r.Why == ""):
			wrong = errors.New("skipped without a reason, or with something")
		case r.State != app.Taken && r.State != app.Flagged && r.State != app.Refused && r.State != app.Skipped:
			wrong = errors.New("in no state")
		}
		if wrong != nil {
			return errors.Join(wrong, errors.New(report(nil, []app.Row{r})))
		}
		last = r.Place.Row
	}
	return nil
}

// Case 16: rows read = taken + flagged + refused + skipped, each in one.
func TestAccounting(t *testing.T) {
	opt, dir := options(t), t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		heads, rows := makeTable(t)
		got, err := readMade(dir, opt, asCSV(heads, rows))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(rows)+1 {
			t.Fatalf("%d rows of %d", len(got), len(rows)+1)
		}
		if err := accounting(got); err != nil {
			t.Fatal(err)
		}
	})
	files, err := filepath.Glob("../testdata/importers/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		_, rows := readFile(t, path)
		if err := accounting(rows); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// FuzzRead reads any bytes as csv: no panic, every row in one state.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("../testdata/importers/*.csv")
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	opt := options(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, err := readMade(t.TempDir(), opt, string(text))
		var unreadable *sheet.UnreadableError
		if errors.As(err, &unreadable) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := accounting(rows); err != nil {
			t.Error(err)
		}
	})
}

// A long list is read beyond the rows that are looked at first, its tables are
// known to go on, and a cancelled reading ends.
func TestLongList(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.csv")
	if err := os.WriteFile(path, []byte("Title\n"+flatList(2500)+"\nOE No,Relation,Other number\n98760-50090,same as,100211-1230\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	tables, rows := readFile(t, path)
	if len(tables) != 1 || !tables[0].More || len(rows) != 2505 {
		t.Errorf("%d tables, more %v, %d rows", len(tables), tables[0].More, len(rows))
	}
	if last := rows[len(rows)-1]; last.State != app.Taken || last.Statements[2].Link.Relation != statement.Same {
		t.Errorf("the second table was not read: %s", report(nil, rows[len(rows)-2:]))
	}
	if err := accounting(rows); err != nil {
		t.Error(err)
	}
	f, err := sheet.Open(path, sheet.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ctx, cancel := context.WithCancel(context.Background())
	reading, err := importers.Read(ctx, f, options(t))
	if err != nil {
		t.Fatal(err)
	}
	stop := errors.New("stop")
	if err := reading.Each(ctx, func(app.Row) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("the receiver's error is %v", err)
	}
	cancel()
	if err := reading.Each(ctx, func(app.Row) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if _, err := importers.Read(context.Background(), f, importers.Options{}); err == nil {
		t.Error("read without words and part types")
	}
}
