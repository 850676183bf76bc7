package importers_test

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"crossbin/data"
	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// options are those of the program: its own part types and words.
func options(t testing.TB) importers.Options {
	t.Helper()
	opt, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	return opt
}

var shipped = sync.OnceValues(func() (importers.Options, error) {
	types, err := data.PartTypes()
	if err != nil {
		return importers.Options{}, err
	}
	words, err := data.Words()
	return importers.Options{Types: types, Words: words, List: "list", Shop: "shop"}, err
})

// readFile reads a whole file.
func readFile(t testing.TB, path string) ([]importers.Table, []app.Row) {
	t.Helper()
	f, err := sheet.Open(path, sheet.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reading, err := importers.Read(context.Background(), f, options(t))
	if err != nil {
		t.Fatal(err)
	}
	var rows []app.Row
	err = reading.Each(context.Background(), func(r app.Row) error {
		rows = append(rows, r)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return reading.Tables(), rows
}

// readText reads a csv file of the given text.
func readText(t testing.TB, name, text string) ([]importers.Table, []app.Row) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+".csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return readFile(t, path)
}

// report prints what was read for a person: tables, rows, what they say, what
// is wrong.
func report(tables []importers.Table, rows []app.Row) string {
	var b strings.Builder
	for _, t := range tables {
		fmt.Fprintf(&b, "table %q %s, headings %v, rows %d to %d\n", t.Sheet, t.Kind, t.HeadingRows, t.FirstRow, t.LastRow)
		for _, c := range t.Columns {
			fmt.Fprintf(&b, "  %s %q %v: %s\n", c.Letter, c.Heading, c.Fields, c.Why)
		}
	}
	count := map[app.RowState]int{}
	for _, r := range rows {
		count[r.State]++
		fmt.Fprintf(&b, "row %d %s", r.Place.Row, r.State)
		if r.Why != "" {
			fmt.Fprintf(&b, ": %s", r.Why)
		}
		if r.From != "" {
			fmt.Fprintf(&b, " [from %q: %s %s]", r.From, r.Standing, r.Manner)
		}
		b.WriteByte('\n')
		for _, s := range r.Statements {
			fmt.Fprintf(&b, "  %s %s\n", s.Place.Cell, says(s))
		}
		for _, p := range r.Postings {
			fmt.Fprintf(&b, "  shelf %s\n", posting(p))
		}
		for _, p := range r.Problems {
			fmt.Fprintf(&b, "  ! %s %s: %q, wanted %s\n", p.Cell, p.Rule, p.Got, p.Wanted)
		}
	}
	fmt.Fprintf(&b, "%d rows: %d taken, %d flagged, %d refused, %d skipped\n", len(rows), count[app.Taken], count[app.Flagged], count[app.Refused], count[app.Skipped])
	return b.String()
}

// says prints a statement.
func says(s statement.Statement) string {
	text := ""
	switch s.Kind {
	case statement.KindPart:
		text = fmt.Sprintf("part %s %q %s %q", number(s.A.Maker, s.A.Key), s.Part.Printed, s.Part.Role, s.Part.Name)
	case statement.KindFitment:
		text = fmt.Sprintf("fitment %s into %s", number(s.A.Maker, s.A.Key), scope(s.Scope))
	case statement.KindNone:
		text = "none in " + scope(s.Scope)
	case statement.KindLink:
		text = link(s)
	case statement.KindValue:
		text = fmt.Sprintf("value %s %s=%s", number(s.A.Maker, s.A.Key), s.Value.Attribute, s.Value.Value)
		if s.Value.Value.Doubt != "" {
			text += " (" + s.Value.Value.Doubt + ")"
		}
	case statement.KindEngine:
		text = fmt.Sprintf("engine %s of family %s", s.Engine.Code, s.Engine.Family)
	}
	if s.Type != "" {
		text += " [" + s.Type + "]"
	}
	if s.Note != "" {
		text += fmt.Sprintf(" note %q", s.Note)
	}
	return text
}

func number(maker, key string) string { return strings.TrimSpace(maker + " " + key) }

func link(s statement.Statement) string {
	l := s.Link
	text := fmt.Sprintf("link %s %s %s", number(s.A.Maker, s.A.Key), l.Relation, number(l.B.Maker, l.B.Key))
	for _, m := range l.Set {
		text += " + " + number(m.Maker, m.Key)
	}
	if l.Kit {
		text += " kit"
	}
	if l.BothWays != vehicle.Unknown {
		text += " both ways " + l.BothWays.String()
	}
	for _, c := range l.Changes {
		text += fmt.Sprintf(" change %q %d min %q", c.Task, c.Minutes, c.Pieces)
	}
	if len(l.Conditions) > 0 {
		text += fmt.Sprintf(" if %q", l.Conditions)
	}
	if l.Reason != "" {
		text += fmt.Sprintf(" because %q", l.Reason)
	}
	return text
}

func scope(s vehicle.Scope) string {
	var texts []string
	for _, f := range slices.Sorted(maps.Keys(s.Text)) {
		texts = append(texts, fmt.Sprintf("%s=%s", f, s.Text[f]))
	}
	if s.Built.Known() {
		texts = append(texts, "built="+s.Built.String())
	}
	if !s.Serial.IsAny() {
		texts = append(texts, "serial="+s.Value(vehicle.FactSerial))
	}
	if s.Position != "" {
		texts = append(texts, "position="+s.Position)
	}
	if s.Quantity != 0 {
		texts = append(texts, fmt.Sprintf("quantity=%d", s.Quantity))
	}
	return strings.Join(texts, " ")
}

func posting(p shelf.Posting) string {
	text := fmt.Sprintf("%s bin %q %s", number(p.Part.Maker, p.Part.Key), p.Bin, p.Condition)
	if p.Counted {
		text += fmt.Sprintf(" counted %d", p.Quantity)
	}
	if p.Held > 0 || p.Job != "" {
		text += fmt.Sprintf(" held %d for %q", p.Held, p.Job)
	}
	if p.Day != "" {
		text += " on " + p.Day
	}
	return text
}

// TestGolden reads each file of testdata/importers and holds what was read
// against the report beside it. With UPDATE=1 the reports are written anew.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("../testdata/importers/*.csv")
	if err != nil || len(files) < 12 {
		t.Fatalf("files %v, %v", files, err)
	}
	for _, path := range files {
		name := strings.TrimSuffix(filepath.Base(path), ".csv")
		t.Run(name, func(t *testing.T) {
			got := report(readFile(t, path))
			golden := strings.TrimSuffix(path, ".csv") + ".golden"
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s reads differently:\n%s", golden, firstDifference(string(want), got))
			}
		})
	}
}

// firstDifference shows the first line that is not the same.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		a, b := at(w, i), at(g, i)
		if a != b {
			return fmt.Sprintf("line %d\n got  %s\n want %s", i+1, b, a)
		}
	}
	return ""
}

func at(lines []string, i int) string {
	if i >= len(lines) {
		return "(end)"
	}
	return lines[i]
}
