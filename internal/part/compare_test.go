package part

import (
	"testing"

	"pgregory.net/rapid"
)

func read(t *testing.T, a Attribute, raw string) Value {
	t.Helper()
	v, err := ReadValue(a, raw)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// everyWay gives a case for each way to differ, so that the outcome names it.
func everyWay() []Case {
	return []Case{
		{When: More, Difference: Minor, Note: "more"}, {When: Less, Difference: WontMount, Effect: "less"},
		{When: Missing, Difference: WorksWrong, Effect: "missing"}, {When: Extra, Difference: Minor, Note: "extra"},
		{When: Differs, Difference: WorksWrong, Effect: "differs"},
	}
}

const agrees = When("agrees")

// Each comparison by the rule that it stands for.
func TestComparisons(t *testing.T) {
	number := Attribute{Name: "n", Title: "n", Kind: KindNumber, Unit: "mm"}
	word := Attribute{Name: "w", Title: "w", Kind: KindWord}
	set := Attribute{Name: "s", Title: "s", Kind: KindSet}
	yesNo := Attribute{Name: "b", Title: "b", Kind: KindBool}
	size := Attribute{Name: "z", Title: "z", Kind: KindSize, Unit: "mm"}
	span := Attribute{Name: "r", Title: "r", Kind: KindRange, Unit: "mm"}
	thread := Attribute{Name: "t", Title: "t", Kind: KindThread}
	clock := Attribute{Name: "c", Title: "c", Kind: KindNumber, Unit: "o'clock"}
	angle := Attribute{Name: "a", Title: "a", Kind: KindNumber, Unit: "°"}
	for _, tt := range []struct {
		rule          string
		a             Attribute
		compare       Comparison
		tolerance     float64
		percent       float64
		wanted, found string
		want          When // agrees, open or the way in which it differs
	}{
		{"equal numbers", number, Equal, 0, 0, "12", "12.0", agrees},
		{"equal numbers in two units", number, Equal, 0, 0, "25.4", "1 in", agrees},
		{"equal, more", number, Equal, 0, 0, "12", "12.1", More},
		{"equal, less", number, Equal, 0, 0, "12", "11.9", Less},
		{"equal words", word, Equal, 0, 0, "Oval", "oval", agrees},
		{"equal, other word", word, Equal, 0, 0, "oval", "round", Differs},
		{"equal sets in any order", set, Equal, 0, 0, "a, b", "b, a", agrees},
		{"equal bool, missing", yesNo, Equal, 0, 0, "yes", "no", Missing},
		{"equal bool, extra", yesNo, Equal, 0, 0, "no", "yes", Extra},
		{"within, at the tolerance", number, Within, 1, 0, "12", "13", agrees},
		{"within, over the tolerance", number, Within, 1, 0, "12", "13.01", More},
		{"within, under the tolerance", number, Within, 1, 0, "12", "10.9", Less},
		{"within per cent, at the end", number, Within, 0, 10, "200", "220", agrees},
		{"within per cent, beyond it", number, Within, 0, 10, "200", "221", More},
		{"within round the clock", clock, Within, 1, 0, "12", "1", agrees},
		{"round the clock the shorter way", clock, Within, 1, 0, "11", "2", More},
		{"within round the circle", angle, Within, 20, 0, "350", "5", agrees},
		{"at least, equal", number, AtLeast, 0, 0, "80", "80", agrees},
		{"at least, less", number, AtLeast, 0, 0, "80", "79", Less},
		{"at least per cent", number, AtLeast, 0, 10, "80", "72", agrees},
		{"at least, more is spoken of", number, AtLeast, 0, 0, "80", "90", More},
		{"at most, equal", number, AtMost, 0, 0, "80", "80", agrees},
		{"at most, more", number, AtMost, 0, 0, "80", "81", More},
		{"at most, less is spoken of", number, AtMost, 0, 0, "80", "79", Less},
		{"includes, count", number, Includes, 0, 0, "3", "2", Less},
		{"includes, the same functions", set, Includes, 0, 0, "a, b", "b, a", agrees},
		{"includes, one missing", set, Includes, 0, 0, "a, b", "a, c", Missing},
		{"includes, one extra", set, Includes, 0, 0, "a", "a, c", Extra},
		{"includes, nothing wanted", set, Includes, 0, 0, "none", "a", Extra},
		{"includes, nothing offered", set, Includes, 0, 0, "a", "none", Missing},
		{"includes bool, has it", yesNo, Includes, 0, 0, "yes", "yes", agrees},
		{"includes bool, lacks it", yesNo, Includes, 0, 0, "yes", "no", Missing},
		{"includes bool, has it for nothing", yesNo, Includes, 0, 0, "no", "yes", Extra},
		{"in range, inside the vehicle's", span, InRange, 0, 0, "140-165", "150", agrees},
		{"in range, at the end", span, InRange, 2, 0, "140-165", "167", agrees},
		{"in range, above", span, InRange, 2, 0, "140-165", "168", More},
		{"in range, below", span, InRange, 2, 0, "140-165", "137", Less},
		{"in range, inside the candidate's", span, InRange, 0, 0, "150", "140-165", agrees},
		{"in range, outside the candidate's", span, InRange, 0, 0, "170", "140-165", Less},
		{"in range, two fixed values", span, InRange, 2, 0, "150", "152", agrees},
		{"in range, ranges that meet", span, InRange, 0, 0, "140-165", "160-180", agrees},
		{"handed, same side", word, Handed, 0, 0, "left", "left", agrees},
		{"handed, mirror image", word, Handed, 0, 0, "left", "right", Differs},
		{"handed, goes on both", word, Handed, 0, 0, "left", "either", agrees},
		{"handed, both are wanted", word, Handed, 0, 0, "either", "left", Differs},
		{"any says nothing", word, Any, 0, 0, "a", "b", agrees},
		{"any number says nothing", number, Any, 0, 0, "1", "9", agrees},
		{"size within", size, Within, 5, 0, "350x668x16", "352x664x20", agrees},
		{"size, one dimension off", size, Within, 5, 0, "350x668x16", "350x668x26", More},
		{"size, one not given", size, Within, 5, 0, "350x668x16", "350x668", "open"},
		{"size, one not given and another off", size, Within, 5, 0, "350x668x16", "350x600", Less},
		{"thread, the same", thread, Equal, 0, 0, "M10x1.25", "m10×1,25", agrees},
		{"thread, another pitch", thread, Equal, 0, 0, "M10x1.25", "M10x1.5", Differs},
		{"thread, another diameter", thread, Equal, 0, 0, "M10", "M8", Differs},
		{"thread, pitch not given", thread, Equal, 0, 0, "M10x1.25", "M10", "open"},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			a := tt.a
			a.Compare, a.Tolerance, a.Percent, a.Cases = tt.compare, tt.tolerance, tt.percent, everyWay()
			out := Compare(a, read(t, a, tt.wanted), read(t, a, tt.found), nil)
			got := out.Case.When
			switch {
			case out.Agrees:
				got = agrees
			case out.Open != "":
				got = "open"
			}
			if got != tt.want {
				t.Errorf("got %q, want %q (%+v)", got, tt.want, out)
			}
		})
	}
}

func TestAMissingValueIsALookNotAnAnswer(t *testing.T) {
	a := Attribute{Name: "ribs", Title: "ribs", Kind: KindNumber, Unit: "count", Compare: Equal, Cases: everyWay()}
	known := read(t, a, "5")
	for _, pair := range [][2]Value{{{}, known}, {known, {}}, {{}, {}}} {
		if out := Compare(a, pair[0], pair[1], nil); out.Agrees || out.Open != "ribs=known" || out.Difference != "" {
			t.Errorf("got %+v", out)
		}
		if _, known := Agrees(a, pair[0], pair[1]); known {
			t.Error("nobody knows whether it agrees")
		}
	}
}

func TestCasesAreTriedInOrder(t *testing.T) {
	a := Attribute{Name: "foot", Title: "foot", Kind: KindNumber, Unit: "mm", Compare: AtMost, Cases: []Case{
		{When: More, Over: 2, Difference: WontMount, Effect: "too wide"},
		{When: More, If: "engine=AB1", Difference: Minor, Note: "known to go"},
		{When: More, Difference: Adaptable, Change: "press the bush back", Minutes: 10},
		{When: Differs, Difference: WorksWrong, Effect: "not for the agreeing direction"},
	}}
	for _, tt := range []struct {
		name         string
		found        string
		holds, known bool
		want         Difference
		open         string
	}{
		{"over the limit", "43", false, false, WontMount, ""},
		{"at the limit the next case, condition holds", "42", true, true, Minor, ""},
		{"condition does not hold", "42", false, true, Adaptable, ""},
		{"condition not known", "42", false, false, "", "engine=AB1"},
		{"differs does not speak of a direction that agrees", "30", false, false, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			out := Compare(a, read(t, a, "40"), read(t, a, tt.found), func(string) (bool, bool) { return tt.holds, tt.known })
			if out.Difference != tt.want || out.Open != tt.open {
				t.Errorf("got %q open %q, want %q open %q", out.Difference, out.Open, tt.want, tt.open)
			}
		})
	}
}

func TestCasesSpeakOfWordsAndDimensions(t *testing.T) {
	pulley := Attribute{Title: "p", Kind: KindWord, Compare: Equal, Cases: []Case{
		{When: Differs, Wanted: "decoupler", Found: "solid", Difference: Adaptable}, {When: Differs, Found: "v", Difference: WontMount}, {When: Differs, Difference: Minor},
	}}
	pins := Attribute{Title: "f", Kind: KindSet, Compare: Includes, Cases: []Case{
		{When: Missing, Wanted: "command", Difference: WorksWrong}, {When: Extra, Found: "tacho", Difference: Minor}, {When: Missing, Difference: Adaptable},
	}}
	core := Attribute{Title: "c", Kind: KindSize, Unit: "mm", Compare: Within, Tolerance: 2, Cases: []Case{
		{When: Differs, Dimension: 3, Difference: WorksWrong}, {When: Differs, Difference: WontMount},
	}}
	for _, tt := range []struct {
		name          string
		a             Attribute
		wanted, found string
		want          Difference
	}{
		{"both words", pulley, "decoupler", "solid", Adaptable},
		{"found word", pulley, "decoupler", "v", WontMount},
		{"neither", pulley, "one_way", "solid", Minor},
		{"the missing word, whatever else is missing", pins, "sense, command", "lamp", WorksWrong},
		{"the extra word", pins, "sense", "sense, tacho", Minor},
		{"another missing word", pins, "sense, lamp", "lamp", Adaptable},
		{"an earlier case wins over an earlier dimension", core, "350x668x16", "340x668x20", WorksWrong},
		{"another dimension", core, "350x668x16", "340x668x16", WontMount},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if out := Compare(tt.a, read(t, tt.a, tt.wanted), read(t, tt.a, tt.found), nil); out.Difference != tt.want {
				t.Errorf("got %q, want %q", out.Difference, tt.want)
			}
		})
	}
}

func TestADifferenceWithoutACaseIsInformation(t *testing.T) {
	a := Attribute{Title: "rows", Kind: KindNumber, Unit: "count", Compare: Equal}
	if out := Compare(a, read(t, a, "2"), read(t, a, "3"), nil); !out.Agrees || out.Wanted != "2" || out.Found != "3" {
		t.Errorf("got %+v", out)
	}
}

func TestDecidingDifferences(t *testing.T) {
	for d, want := range map[Difference]bool{WontMount: true, WorksWrong: true, Adaptable: false, Minor: false, "": false} {
		if d.Deciding() != want {
			t.Errorf("%q deciding: got %v", d, !want)
		}
	}
}

// A candidate with the very value that is wanted always agrees; within is the
// same in both directions; at_least and at_most mirror one another.
func TestComparisonLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := rapid.Float64Range(0, 500)
		x, y := Value{Numbers: []float64{draw.Draw(t, "x")}}, Value{Numbers: []float64{draw.Draw(t, "y")}}
		a := Attribute{Name: "n", Kind: KindNumber, Unit: "mm", Tolerance: rapid.Float64Range(0, 20).Draw(t, "tolerance")}
		says := func(c Comparison, wanted, found Value) bool {
			a.Compare = c
			ok, known := Agrees(a, wanted, found)
			if !known {
				t.Fatal("both are known")
			}
			return ok
		}
		for _, c := range []Comparison{Equal, Within, AtLeast, AtMost, Includes, InRange, Any} {
			if !says(c, x, x) {
				t.Fatalf("%s: a value does not agree with itself", c)
			}
		}
		if says(Within, x, y) != says(Within, y, x) {
			t.Fatal("within has a direction")
		}
		if says(AtLeast, x, y) != says(AtMost, y, x) {
			t.Fatal("at_least is not at_most the other way round")
		}
		if says(Within, x, y) != (says(AtLeast, x, y) && says(AtMost, x, y)) {
			t.Fatal("within is not at_least and at_most together")
		}
	})
}
