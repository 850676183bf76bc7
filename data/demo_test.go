package data

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Rule: the demo brings its workbooks in a fixed order, each as a list with a
// standing, and none is empty.
func TestDemoFiles(t *testing.T) {
	files, _, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		name, as string
		standing statement.Standing
	}{
		{"engine-families.csv", "engine families", statement.OwnList},
		{"parts-list.xlsx", "parts list", statement.OwnList},
		{"cross-references.xlsx", "cross-references", statement.OwnList},
		{"rebuilder-list.csv", "rebuilder", statement.RebuildersList},
		{"import-yard.csv", "import yard", statement.OtherShop},
		{"shelf-count.xlsx", "shelf count", statement.OwnList},
	}
	if len(files) != len(want) {
		t.Fatalf("got %d files, want %d", len(files), len(want))
	}
	for i, w := range want {
		f := files[i]
		if f.Name != w.name || f.As != w.as || f.Standing != w.standing {
			t.Errorf("file %d: got %s as %q (%s), want %s as %q (%s)", i, f.Name, f.As, f.Standing, w.name, w.as, w.standing)
		}
		if zipped := strings.HasPrefix(string(f.Bytes), "PK"); zipped != strings.HasSuffix(f.Name, ".xlsx") {
			t.Errorf("%s: got zip archive %t", f.Name, zipped)
		}
	}
}

// Rule: the three questions cover the three answers that a shop acts on at
// once, and one of them asks for a part by number.
func TestDemoQuestions(t *testing.T) {
	_, questions, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"fits", "fits_with_change", "ruled_out"}
	if len(questions) != len(want) {
		t.Fatalf("got %d questions, want %d", len(questions), len(want))
	}
	for i, q := range questions {
		args := strings.Join(q.Args, " ")
		if q.Expect.Verdict != want[i] {
			t.Errorf("%s: got verdict %s, want %s", q.Title, q.Expect.Verdict, want[i])
		}
		if got, wanted := strings.Contains(args, "--part "+q.Expect.Number), want[i] == "ruled_out"; got != wanted {
			t.Errorf("%s: asks for the part by number: got %t, want %t", q.Title, got, wanted)
		}
		if !strings.Contains(args, "--frame ") || !strings.Contains(args, "--type ") {
			t.Errorf("%s: args %q, want a frame number and a part type", q.Title, args)
		}
	}
}

// Rule: a mistake in the scenario is an error that says where.
func TestDemoMistakes(t *testing.T) {
	const files = "files: [{name: a.csv, as: a, standing: own list}]\n"
	tests := []struct{ name, scenario, want string }{
		{"missing workbook", "files: [{name: b.csv, as: b, standing: own list}]", "b.csv"},
		{"no list name", "files: [{name: a.csv, standing: own list}]", "list name"},
		{"no list has this standing", "files: [{name: a.csv, as: a, standing: hearsay}]", `"hearsay"`},
		{"workbook left out", "files: []", "a.csv is not listed"},
		{"unknown field", "files: [{name: a.csv, sheet: 1}]", "sheet"},
		{"question without args", files + "questions: [{title: t, situation: s, expect: {number: n, verdict: fits}}]", "question 1"},
		{"question without a verdict", files + "questions: [{title: t, situation: s, args: [--frame], expect: {number: n}}]", "question 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			from := fstest.MapFS{
				"demo/a.csv": {Data: []byte("x")},
				scenarioFile: {Data: []byte(tt.scenario)},
			}
			_, _, err := loadDemo(from)
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), scenarioFile) {
				t.Errorf("got %v, want an error that names %s and %s", err, scenarioFile, tt.want)
			}
		})
	}
	if _, _, err := loadDemo(fstest.MapFS{}); err == nil {
		t.Error("no scenario at all: got no error")
	}
}

// demoRows reads one workbook of the demo as an import does.
func demoRows(t *testing.T, f DemoFile) []app.Row {
	t.Helper()
	types, err := PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	words, err := Words()
	if err != nil {
		t.Fatal(err)
	}
	file, err := sheet.OpenReader(f.Name, bytes.NewReader(f.Bytes), int64(len(f.Bytes)), sheet.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reading, err := importers.Read(t.Context(), file, importers.Options{Types: types, Words: words, List: f.As, Shop: "demo"})
	if err != nil {
		t.Fatal(err)
	}
	var rows []app.Row
	err = reading.Each(t.Context(), func(r app.Row) error {
		rows = append(rows, r)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// demoWorld is what the demo's workbooks say, counted.
type demoWorld struct {
	states     map[app.RowState]int
	parts      map[part.Ref]bool // parts that a row names first
	links      int               // rows of the cross-reference sheet
	lines      map[[3]string]bool
	families   map[string]bool
	types      map[string]bool // part types with a fitment
	nones      []string
	statements []statement.Statement
}

func readDemo(t *testing.T) demoWorld {
	t.Helper()
	files, _, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	w := demoWorld{states: map[app.RowState]int{}, parts: map[part.Ref]bool{}, lines: map[[3]string]bool{},
		families: map[string]bool{}, types: map[string]bool{}}
	for _, f := range files {
		for _, row := range demoRows(t, f) {
			w.states[row.State]++
			w.take(f.As, row.Statements)
		}
	}
	return w
}

func (w *demoWorld) take(list string, statements []statement.Statement) {
	w.statements = append(w.statements, statements...)
	for _, s := range statements {
		switch s.Kind {
		case statement.KindPart:
			if list == "parts list" && s.A == statements[0].A {
				w.parts[s.A] = true
			}
		case statement.KindLink:
			if list == "cross-references" {
				w.links++
			}
		case statement.KindEngine:
			w.families[s.Engine.Family] = true
		case statement.KindNone:
			w.nones = append(w.nones, s.Type)
		case statement.KindFitment:
			w.types[s.Type] = true
			text := s.Scope.Text
			if line := [3]string{text[vehicle.FactModelCode], text[vehicle.FactEngine], text[vehicle.FactTransmission]}; line[0] != "" && line[1] != "" && line[2] != "" {
				w.lines[line] = true
			}
		}
	}
}

// Rule: the demo is large enough to be a shop's, and no row of it is refused.
func TestDemoSize(t *testing.T) {
	w := readDemo(t)
	least := []struct {
		what      string
		got, want int
	}{
		{"parts", len(w.parts), 120},
		{"cross-references", w.links, 80},
		{"lines of model code, engine and gearbox", len(w.lines), 25},
		{"engine families", len(w.families), 6},
		{"part types with fitments", len(w.types), 4},
		{"part types that a vehicle has none of", len(w.nones), 2},
		{"rows taken", w.states[app.Taken], 240},
		{"rows flagged", w.states[app.Flagged], 3},
	}
	for _, l := range least {
		if l.got < l.want {
			t.Errorf("%s: got %d, want at least %d", l.what, l.got, l.want)
		}
	}
	if got := w.states[app.Refused]; got != 0 {
		t.Errorf("rows refused: got %d, want 0", got)
	}
}

// Rule: the contradictions that the README promises are in the workbooks.
func TestDemoContradictions(t *testing.T) {
	w := readDemo(t)
	var amps, rulings []string
	for _, s := range w.statements {
		if s.Kind == statement.KindValue && s.A.Key == "9876050240" && s.Value.Attribute == "amps" {
			amps = append(amps, s.Value.Value.String())
		}
		if s.Kind == statement.KindLink && s.A.Key == "9876260210" && s.Link.B.Key == "9876260211" {
			rulings = append(rulings, string(s.Link.Relation))
		}
	}
	if slices.Sort(amps); !slices.Contains(amps, "70") || !slices.Contains(amps, "75") {
		t.Errorf("amps of 98760-50240: got %v, want 70 and 75", amps)
	}
	if slices.Sort(rulings); !slices.Equal(rulings, []string{"look_alike", "same"}) {
		t.Errorf("98762-60210 and -60211: got %v, want look_alike and same", rulings)
	}
	next := map[string]string{}
	for _, s := range w.statements {
		if s.Kind == statement.KindLink && s.Link.Relation == statement.ReplacedBy && strings.HasPrefix(s.A.Key, "98715QB4") {
			next[s.A.Key] = s.Link.B.Key
		}
	}
	const first = "98715QB4003"
	if got := next[next[next[first]]]; got != first || next[first] == first {
		t.Errorf("ring of replacements from %s: got %v", first, next)
	}
}
