package data

import (
	"math"
	"slices"
	"strings"
	"testing"

	"crossbin/internal/statement"
)

func TestStandings(t *testing.T) {
	weights, err := Standings()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		standing statement.Standing
		manner   statement.Manner
		want     float64
	}{
		{statement.OwnFitting, "", .95}, {statement.OwnReading, "", .92}, {statement.OwnMeasurement, statement.Calliper, .85},
		{statement.OwnMeasurement, statement.Tape, .7}, {statement.OwnMeasurement, statement.Photo, .5}, {statement.OwnList, "", .88},
		{statement.OwnList, statement.Fitting, .88}, {statement.MakersBook, statement.Fitting, .92}, {statement.MakersBook, statement.Specification, .88},
		{statement.UnitLabel, "", .9}, {statement.RebuildersList, "", .75}, {statement.BoxLabel, "", .65}, {statement.OtherShop, "", .55},
		{statement.Hearsay, "", .4}, {statement.Hearsay, statement.Photo, .6}, {"stranger", "", .5},
	} {
		if got := weights.Start(tt.standing, tt.manner); got != tt.want {
			t.Errorf("%s %s: got %v, want %v", tt.standing, tt.manner, got, tt.want)
		}
	}
	for _, w := range weights {
		if w.Usual == "" {
			t.Errorf("%s %s: no usual failure", w.Standing, w.Manner)
		}
	}
}

func TestConfusions(t *testing.T) {
	groups, err := Confusions()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, g := range groups {
		got = append(got, string(g))
	}
	if want := []string{"0ODQ", "1IL7", "2Z", "5S", "6G", "8B", "UV"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// The table must agree with the start weights: r(trail) = 1/2 + 1/2 prod(2r-1),
// one trail counted for each source, odds multiplied.
func TestVerdictTableAgreesWithTheWeights(t *testing.T) {
	weights, err := Standings()
	if err != nil {
		t.Fatal(err)
	}
	cases, err := Verdicts()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			sum, seen, strong := 0.0, map[string]bool{}, false
			for _, trail := range c.Trails {
				product, all, counted := 1.0, true, !seen[trail[0].Source]
				for _, step := range trail {
					r := weights.Start(step.Standing, step.Manner)
					product *= max(2*r-1, 0)
					all = all && r >= .75
					seen[step.Source] = true
				}
				if r := (1 + product) / 2; counted {
					sum += math.Log(r / (1 - r))
					strong = strong || all
				}
			}
			confidence := int(math.Floor(1000/(1+math.Exp(-sum)) + 1e-9))
			if c.Confidence >= 0 && confidence != c.Confidence {
				t.Errorf("confidence: got %d, want %d", confidence, c.Confidence)
			}
			bar, verdict := 770, "check_first"
			if c.HighCare {
				bar = 950
			}
			switch {
			case confidence <= 500:
				verdict = "not_known"
			case strong && confidence >= bar:
				verdict = "fits"
			}
			if verdict != c.Verdict {
				t.Errorf("got %s, want %s", verdict, c.Verdict)
			}
		})
	}
}

func TestStandardTrailsAreThere(t *testing.T) {
	cases, err := Verdicts()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"own list/fits/880", "own list > own list/fits/788", "own list > own list > own list/check_first/719",
		"maker's book > maker's book > maker's book/fits/796", "maker's book > maker's book > maker's book > maker's book/check_first/748",
		"rebuilder's list/check_first/750", "rebuilder's list | rebuilder's list/fits/900", "maker's book > own list/fits/819",
		"maker's book > rebuilder's list/check_first/710", "hearsay | hearsay | hearsay | hearsay/check_first/835",
	} {
		if !slices.ContainsFunc(cases, func(c VerdictCase) bool { return !c.HighCare && inWords(c) == want }) {
			t.Errorf("no row for %s", want)
		}
	}
}

func inWords(c VerdictCase) string {
	var trails []string
	for _, trail := range c.Trails {
		var steps []string
		for _, s := range trail {
			steps = append(steps, string(s.Standing))
		}
		trails = append(trails, strings.Join(steps, " > "))
	}
	return strings.Join(trails, " | ") + "/" + c.Verdict + "/" + strings.TrimSpace(formatThousandths(c.Confidence))
}

func formatThousandths(n int) string {
	if n < 0 {
		return ""
	}
	return string([]byte{byte('0' + n/100), byte('0' + n/10%10), byte('0' + n%10)})
}

func TestSourcesOfTrails(t *testing.T) {
	const table = "name,trails,care,verdict,confidence\n" +
		"x,own list > own list | own list | rebuilder's list A | rebuilder's list A > hearsay (photo) B,high,fits,\n"
	cases, err := readVerdicts("v.csv", strings.NewReader(table))
	if err != nil {
		t.Fatal(err)
	}
	tr := cases[0].Trails
	if tr[0][0].Source != tr[0][1].Source || tr[0][0].Source == tr[1][0].Source || tr[2][0].Source != tr[3][0].Source || tr[3][0].Source == tr[3][1].Source {
		t.Errorf("got %+v", tr)
	}
	if tr[3][1].Manner != statement.Photo || !cases[0].HighCare || cases[0].Confidence != -1 || cases[0].Line != 2 {
		t.Errorf("got %+v", cases[0])
	}
}

func TestMistakesInTablesAreToldByLine(t *testing.T) {
	all := "standing,manner,weight,usual failure\nown list,,0.88,x\n"
	verdicts := "name,trails,care,verdict,confidence\n"
	standing := func(s string) error { _, err := readStandings("t.csv", strings.NewReader(s)); return err }
	verdict := func(s string) error { _, err := readVerdicts("t.csv", strings.NewReader(s)); return err }
	confusion := func(s string) error { _, err := readConfusions("t.csv", strings.NewReader(s)); return err }
	for _, tt := range []struct {
		name string
		read func(string) error
		text string
		want string
	}{
		{"columns", standing, "# remark\nstanding,weight\n", "t.csv:2:"},
		{"unknown standing", standing, "standing,manner,weight,usual failure\nneighbour,,0.9,x\n", `t.csv:2: unknown standing "neighbour"`},
		{"unknown manner", standing, all + "own list,guess,0.9,x\n", `t.csv:3: unknown manner "guess"`},
		{"weight is no chance", standing, all + "hearsay,,1.5,x\n", "t.csv:3: weight"},
		{"weight is no number", standing, all + "hearsay,,much,x\n", "t.csv:3: weight"},
		{"twice", standing, all + "own list,,0.8,x\n", "t.csv:3:"},
		{"one is missing", standing, all, `no general weight for "own fitting"`},
		{"no rows", standing, "standing,manner,weight,usual failure\n", "no rows"},
		{"too many cells", standing, all + "a,b,c,d,e\n", "line 3"},
		{"unknown step", verdict, verdicts + "x,somebody,normal,fits,\n", "t.csv:2:"},
		{"care", verdict, verdicts + "x,own list,some,fits,\n", "t.csv:2: care"},
		{"verdict", verdict, verdicts + "x,own list,normal,perhaps,\n", "t.csv:2: verdict"},
		{"confidence", verdict, verdicts + "x,own list,normal,fits,88\n", "t.csv:2: confidence"},
		{"verdict columns", verdict, "name\n", "t.csv:1:"},
		{"group of one", confusion, "characters\n0O\nX\n", "t.csv:3:"},
		{"in two groups", confusion, "characters\n0O\nOQ\n", "t.csv:3:"},
		{"no character of a key", confusion, "characters\n0o\n", "t.csv:2:"},
		{"confusion columns", confusion, "groups\n", "t.csv:1:"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if err := tt.read(tt.text); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
}
