package fit

import (
	"slices"
	"strings"
	"testing"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// lookable is the alternator of the other tests with more that can be seen and
// more that comparisons hang on.
func lookable() part.Type {
	t := alternator()
	for i := range t.Attributes {
		switch a := &t.Attributes[i]; a.Name {
		case "belt_line":
			a.OnVehicle = part.Sight{How: "straight edge on the pulleys", Effort: 3}
		case "mount":
			a.OffVehicle = part.Sight{How: "look at the ears", Effort: 1}
		}
	}
	t.Attributes = append(t.Attributes,
		part.Attribute{Name: "amps", Title: "rated output", Kind: part.KindNumber, Unit: "A", Compare: part.AtLeast, OnVehicle: part.Sight{How: "label by mirror", Effort: 2},
			Cases: []part.Case{{When: part.Less, Difference: part.WorksWrong, Effect: "flat battery"},
				{When: part.More, If: "main_fuse>=amps", Difference: part.Minor},
				{When: part.More, Difference: part.Adaptable, Change: "heavier cable"}}},
		part.Attribute{Name: "main_fuse", Title: "main fuse", Kind: part.KindNumber, Unit: "A", Compare: part.Any, OnVehicle: part.Sight{How: "read the fusible link", Effort: 2}},
		part.Attribute{Name: "terminals", Title: "terminals", Kind: part.KindSet, Compare: part.Includes,
			Cases: []part.Case{{When: part.Missing, Wanted: "report", If: "reports=yes", Difference: part.WorksWrong, Effect: "fault code"},
				{When: part.Missing, Wanted: "report", Difference: part.Minor},
				{When: part.Missing, Wanted: "tacho", If: "side=RHD", Difference: part.WorksWrong, Effect: "rev counter dead"},
				{When: part.Missing, Wanted: "field", If: "option:ac=no", Difference: part.Minor},
				{When: part.Missing, Wanted: "sense", If: "reports=known", Difference: part.Minor},
				{When: part.Missing, Wanted: "booster", If: "main_fuse>=50", Difference: part.WorksWrong, Effect: "the fuse blows"}}},
		part.Attribute{Name: "reports", Title: "the engine control reads the load", Kind: part.KindBool, Compare: part.Any, OnVehicle: part.Sight{How: "a wire in the plug", Effort: 1}},
		part.Attribute{Name: "core", Title: "core", Kind: part.KindSize, Unit: "mm", Compare: part.Within, OnVehicle: part.Sight{How: "tape", Effort: 3},
			Cases: []part.Case{{When: part.Differs, Difference: part.WontMount}}})
	return t
}

func (b *book) valueOf(source, number, attribute, raw string) {
	s := b.statement(source, statement.KindValue, number)
	a, _ := lookable().Attribute(attribute)
	v, err := part.ReadValue(a, raw)
	if err != nil {
		panic(err)
	}
	s.Value = statement.Value{Attribute: attribute, Value: v}
	b.k.Values = append(b.k.Values, s)
}

// printed gives the looks of an answer, one a line: "ribs: 5=A 6=B".
func printed(a Answer) string {
	var lines []string
	for _, l := range a.Looks {
		line := l.Attribute + ":"
		for _, r := range l.TellsApart {
			line += " " + strings.ReplaceAll(r.Value, " ", "_") + "="
			var keys []string
			for _, i := range r.Candidates {
				ref := a.Candidates[i].Refs[0]
				keys = append(keys, strings.TrimSuffix(ref.Key+"@"+ref.Maker, "@"))
			}
			slices.Sort(keys)
			line += strings.Join(keys, "+")
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

func TestLooks(t *testing.T) {
	const code = "model_code=KV31"
	tests := []struct {
		rule  string
		build func(b *book)
		q     Question
		want  string
	}{
		{"nothing open, nothing to look at", func(*book) {}, Question{}, ""},
		{"one part that goes in is no question", func(b *book) { b.fit("own", "A", code) }, Question{}, ""},
		{"a fact on which it hangs, with the result that leaves none", func(b *book) { b.fit("own", "A", code, "transmission=AT") }, Question{},
			"transmission: AT=A MT="},
		{"what is known of other gearboxes is a result too", func(b *book) {
			b.fit("own", "A", code, "transmission=AT")
			b.fit("own", "B", code, "transmission=CVT")
		}, Question{}, "transmission: AT=A CVT=B MT="},
		{"a fact of which anything may turn out", func(b *book) { b.fit("own", "A", code, "engine=ZF20") }, Question{Facts: engineUnknown()},
			"engine: ZF20=A another="},
		{"an option", func(b *book) {
			b.fit("own", "A", code, "option:ac=YES")
			b.fit("own", "B", code, "option:ac=NO")
		}, Question{}, "option:ac: NO=B YES=A"},
		{"a fact that cannot be seen is not asked again", func(b *book) { b.fit("own", "A", code, "transmission=AT") },
			Question{CannotSee: map[string]bool{"transmission": true}}, ""},
		{"the same values tell nothing apart", func(b *book) {
			two(b, "ribs", "5", "5")
		}, Question{}, ""},
		{"different values", func(b *book) { two(b, "ribs", "5", "6") }, Question{}, "ribs: 5=A 6=B"},
		{"a value that is not known stands under every result", func(b *book) {
			two(b, "ribs", "5", "6")
			b.fit("own", "C", code)
		}, Question{}, "ribs: 5=A+C 6=B+C"},
		{"a doubtful or disputed value is not known", func(b *book) {
			two(b, "ribs", "5", "6")
			for _, n := range []string{"C", "D"} {
				b.fit("own", n, code)
			}
			b.valueOf("own", "C", "ribs", "5?")
			b.valueOf("own", "D", "ribs", "5")
			b.valueOf("maker", "D", "ribs", "6")
		}, Question{}, "ribs: 5=A+C+D 6=B+C+D"},
		{"more than at least is wanted stays", func(b *book) { two(b, "amps", "70", "90") }, Question{Observed: seen("main_fuse", "100")},
			"amps: 70=A+B 90=B"},
		{"values within the tolerance tell nothing apart", func(b *book) { two(b, "belt_line", "12", "12.5") }, Question{}, ""},
		{"information only tells nothing apart", func(b *book) { two(b, "main_fuse", "80", "100") }, Question{}, ""},
		{"what is seen only off the vehicle is not asked before it is off", func(b *book) { two(b, "mount", "ear", "saddle") }, Question{}, ""},
		{"what is seen off the vehicle, with the part in the hand", func(b *book) { two(b, "mount", "ear", "saddle") },
			Question{Observed: on("the part that came off", seen("volts", "12"))}, "mount: ear=A saddle=B"},
		{"parts that go for one another are no question", func(b *book) {
			two(b, "ribs", "5", "6")
			b.link("maker", "A", statement.StandsIn, "B")
		}, Question{}, ""},
		{"parts that go for one another and hang on a fact: only the fact", func(b *book) {
			two(b, "ribs", "5", "6")
			for i := range b.k.Fitments {
				b.k.Fitments[i].Scope.Want(vehicle.FactTransmission, "AT")
			}
			b.link("maker", "A", statement.StandsIn, "B")
		}, Question{}, "transmission: AT=A+B MT="},
		{"a kit does not make parts go for one another", func(b *book) {
			two(b, "ribs", "5", "6")
			b.link("maker", "A", statement.StandsIn, "B").Kit = true
		}, Question{}, "ribs: 5=A 6=B"},
		{"numbers of one part are no question", func(b *book) {
			b.fit("own", "A", code)
			b.fit("own", "B", code, "transmission=AT")
			b.link("own", "A", statement.Same, "C")
			b.link("own", "A", statement.Same, "B")
		}, Question{Facts: van("transmission=AT")}, ""},
		{"which maker?", func(b *book) {
			b.part("own", "A@M1")
			b.part("own", "A@M2")
			b.fit("own", "A", code)
			b.fit("own", "B", code)
		}, Question{}, "part_maker: M1=A@M1+B M2=A@M2+B"},
		{"a row that names the maker asks for none", func(b *book) {
			b.part("own", "A@M1")
			b.part("own", "A@M2")
			b.fit("own", "A@M1", code)
		}, Question{}, ""},
		{"a part behind a link from one maker's number", func(b *book) {
			b.part("own", "A@M1")
			b.part("own", "A@M2")
			b.fit("own", "A", code)
			b.link("own", "A@M1", statement.StandsIn, "B")
		}, Question{}, "part_maker: M1=A@M1+B M2=A@M2"},
		{"a maker that nobody can read is not asked again", func(b *book) {
			b.part("own", "A@M1")
			b.part("own", "A@M2")
			b.fit("own", "A", code)
		}, Question{CannotSee: map[string]bool{"part_maker": true}}, ""},
		{"the condition of a link", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B").Conditions = []string{"only 4WD"}
		}, Question{}, "drive: 2WD=A 4WD=A+B"},
		{"a condition of one of two links", func(b *book) {
			b.fit("own", "A", code)
			b.fit("own", "C", code)
			b.link("maker", "A", statement.StandsIn, "B").Conditions = []string{"only 4WD"}
			b.link("maker", "C", statement.StandsIn, "B").Conditions = []string{"only 2WD"}
		}, Question{}, "drive: 2WD=A+B+C 4WD=A+B+C"},
		{"a comparison that hangs on another attribute", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.valueOf("own", "A", "ribs", "4")
			b.valueOf("own", "B", "ribs", "5")
			b.valueOf("own", "B", "belt_line", "12")
		}, Question{}, "ribs: 4=A 5=B\nbelt_line: 12=A+B another=A"},
		{"a comparison that hangs on a number of the vehicle", standIn("amps", "70", "90"), Question{}, "amps: 70=A 90=B\nmain_fuse: less_than_90=A at_least_90=A+B"},
		{"where none goes as it is, the one that goes with a change", standIn("amps", "70", "90"), Question{Part: ref("B")}, "main_fuse: less_than_90=B at_least_90=B"},
		{"two numbers of the vehicle", func(b *book) {
			standIn("amps", "70", "90")(b)
			b.link("maker", "A", statement.StandsIn, "C")
			b.valueOf("own", "C", "amps", "110")
		}, Question{CannotSee: map[string]bool{"amps": true}}, "main_fuse: less_than_90=A at_least_90,_less_than_110=A+B at_least_110=A+B+C"},
		{"a comparison that hangs on yes or no", standIn("terminals", "report", "lamp"), Question{}, "reports: no=A+B yes=A"},
		{"comparisons with two parts that hang on different things", func(b *book) {
			standIn("terminals", "report", "lamp")(b)
			b.fit("own", "C", code)
			b.link("rebuilder", "C", statement.StandsIn, "B")
			b.valueOf("own", "C", "amps", "70")
			b.valueOf("own", "B", "amps", "90")
		}, Question{CannotSee: map[string]bool{"amps": true, "main_fuse": true}}, "reports: no=A+B+C yes=A+B+C"},
		{"a comparison with one of two parts, where the other one asks for nothing", func(b *book) {
			b.fit("own", "A", code, "transmission=AT")
			b.fit("own", "C", code, "transmission=AT")
			b.link("maker", "A", statement.StandsIn, "B")
			b.link("rebuilder", "C", statement.StandsIn, "B")
			b.valueOf("own", "A", "terminals", "report")
			b.valueOf("own", "B", "terminals", "lamp")
		}, Question{}, "transmission: AT=A+B+C MT="},
		{"a comparison that hangs on a fact", standIn("terminals", "tacho", "lamp"), Question{}, "side: LHD=A+B RHD=A"},
		{"a comparison that hangs on an option, and goes either way", standIn("terminals", "field", "lamp"), Question{}, "option:ac: NO=A+B YES=A+B"},
		{"a comparison that hangs on somebody having looked", standIn("terminals", "sense", "lamp"), Question{}, "reports: no=A+B yes=A+B"},
		{"a comparison with a fixed number of the vehicle", standIn("terminals", "booster", "lamp"), Question{}, "main_fuse: less_than_50=A+B at_least_50=A"},
		{"half a size", standIn("core", "450x400", "450x400x26"), Question{}, "core: 450_x_400=A+B 450_x_400_x_26=A+B another="},
		{"a known prefix against another", func(b *book) { b.fit("own", "A", code, "emission_prefix=GF") }, Question{Facts: van("emission_prefix=GH")},
			"emission_prefix: the_same_part_under_both_prefixes=A another_part_under_another_prefix="},
		{"around a break both, and both looks", func(b *book) {
			b.fit("own", "A", code, "built=1993-08..1997-05")
			b.fit("own", "B", code, "built=1997-06..2001-07")
			b.valueOf("own", "A", "ribs", "5")
			b.valueOf("own", "B", "ribs", "6")
		}, Question{Facts: van("built=1997-05..1997-05")}, "ribs: 5=A 6=B\nbuilt: from_1997-02_to_1997-05=A from_1997-06_to_1997-08=B"},
		{"spans that overlap", func(b *book) {
			b.fit("own", "A", code, "built=1993-08..1997-05")
			b.fit("own", "B", code, "built=1996-01..2001-07")
		}, Question{}, "built: to_1993-07= from_1993-08_to_1995-12=A from_1996-01_to_1997-05=A+B from_1997-06_to_2001-07=B from_2001-08="},
		{"serials", func(b *book) {
			b.fit("own", "A", code, "serial=0-4999")
			b.fit("own", "B", code, "serial=5000-")
		}, Question{Facts: noSerial()}, "serial: up_to_0004999=A from_0005000=B"},
		{"a fact on which it hangs and goes in either way", func(b *book) {
			b.fit("own", "A", code, "transmission=AT")
			b.fit("rebuilder", "A", code, "transmission=MT")
		}, Question{}, "transmission: AT=A MT=A"},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			tt.build(b)
			tt.q.Type, tt.q.Shop = lookable(), "main"
			if tt.q.Facts.Text == nil {
				tt.q.Facts = van()
			}
			if got := printed(Ask(tt.q, b.k)); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// two parts that fit, with one attribute known of each.
func two(b *book, attribute, ofA, ofB string) {
	b.fit("own", "A", "model_code=KV31")
	b.fit("own", "B", "model_code=KV31")
	b.valueOf("own", "A", attribute, ofA)
	b.valueOf("own", "B", attribute, ofB)
}

// standIn makes a book with A that fits, B that is said to do the job, and one
// attribute known of each.
func standIn(attribute, ofA, ofB string) func(*book) {
	return func(b *book) {
		b.fit("own", "A", "model_code=KV31")
		b.link("maker", "A", statement.StandsIn, "B")
		b.valueOf("own", "A", attribute, ofA)
		b.valueOf("own", "B", attribute, ofB)
	}
}

func seen(attribute, raw string) map[string]Observation {
	a, _ := lookable().Attribute(attribute)
	v, err := part.ReadValue(a, raw)
	if err != nil {
		panic(err)
	}
	return map[string]Observation{attribute: {Value: v}}
}

func on(where string, o map[string]Observation) map[string]Observation {
	for a, v := range o {
		v.On = where
		o[a] = v
	}
	return o
}

func noSerial() vehicle.Facts {
	f := van()
	f.Serial = vehicle.NoSerial
	return f
}
