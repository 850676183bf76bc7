package data

import (
	"strings"
	"testing"
	"testing/fstest"

	"crossbin/internal/statement"
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
