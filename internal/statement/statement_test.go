package statement

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

func fitment(number string, clauses map[vehicle.Fact]string) Statement {
	s := Statement{Kind: KindFitment, Source: "src", Type: "alternator", A: part.Ref{Key: number}, Scope: vehicle.NewScope()}
	for f, v := range clauses {
		s.Scope.Want(f, v)
	}
	return s
}

// A statement is known by what it says, not where it stands.
func TestPlaceIsNoPartOfTheID(t *testing.T) {
	a := fitment("A1", map[vehicle.Fact]string{vehicle.FactModelCode: "KV31"})
	b := a
	b.Place = Place{File: "x.csv", Row: 9, Cell: "C9", Text: "row"}
	if Identify("main", "parts", a, 0) != Identify("main", "parts", b, 0) {
		t.Error("the place changes the id")
	}
}

// Whatever a statement says is part of its id.
func TestContentIsPartOfTheID(t *testing.T) {
	base := fitment("A1", map[vehicle.Fact]string{vehicle.FactModelCode: "KV31"})
	link := Statement{Kind: KindLink, A: part.Ref{Key: "A1"}, Link: Link{Relation: Same, B: part.Ref{Key: "B1"}}}
	tests := map[string][2]Statement{
		"source":     {base, with(base, func(s *Statement) { s.Source = "other" })},
		"number":     {base, with(base, func(s *Statement) { s.A.Key = "A2" })},
		"maker":      {base, with(base, func(s *Statement) { s.A.Maker = "M" })},
		"type":       {base, with(base, func(s *Statement) { s.Type = "starter" })},
		"note":       {base, with(base, func(s *Statement) { s.Note = "n" })},
		"none":       {base, with(base, func(s *Statement) { s.Kind = KindNone })},
		"serial":     {base, with(base, func(s *Statement) { s.Scope.Serial.From = 5 })},
		"built":      {base, with(base, func(s *Statement) { s.Scope.Built.From = 5 })},
		"quantity":   {base, with(base, func(s *Statement) { s.Scope.Quantity = 2 })},
		"clause":     {base, fitment("A1", map[vehicle.Fact]string{vehicle.FactModelCode: "KV32"})},
		"relation":   {link, with(link, func(s *Statement) { s.Link.Relation = LookAlike })},
		"both ways":  {link, with(link, func(s *Statement) { s.Link.BothWays = vehicle.Yes })},
		"kit":        {link, with(link, func(s *Statement) { s.Link.Kit = true })},
		"change":     {link, with(link, func(s *Statement) { s.Link.Changes = []Change{{Task: "t", Pieces: []string{"p"}}} })},
		"condition":  {link, with(link, func(s *Statement) { s.Link.Conditions = []string{"AT"} })},
		"set":        {link, with(link, func(s *Statement) { s.Link.Set = []part.Ref{{Key: "C1"}} })},
		"value":      {Statement{Kind: KindValue, Value: Value{Attribute: "volts", Value: part.Value{Raw: "12"}}}, Statement{Kind: KindValue, Value: Value{Attribute: "volts", Value: part.Value{Raw: "24"}}}},
		"engine":     {Statement{Kind: KindEngine, Engine: Engine{"ZF20", "ZF"}}, Statement{Kind: KindEngine, Engine: Engine{"ZF22", "ZF"}}},
		"part maker": {Statement{Kind: KindPart, Part: PartName{Printed: "A-1"}}, Statement{Kind: KindPart, Part: PartName{Printed: "A1"}}},
	}
	for name, pair := range tests {
		t.Run(name, func(t *testing.T) {
			if Identify("main", "parts", pair[0], 0) == Identify("main", "parts", pair[1], 0) {
				t.Error("two different statements have one id")
			}
		})
	}
	if Identify("main", "parts", base, 0) == Identify("main", "other", base, 0) || Identify("main", "parts", base, 0) == Identify("b", "parts", base, 0) {
		t.Error("shop and list are no part of the id")
	}
}

func with(s Statement, change func(*Statement)) Statement {
	change(&s)
	return s
}

// No two lists of texts are joined to the same bytes.
func TestHashKeepsTextsApart(t *testing.T) {
	if Hash("ab", "c") == Hash("a", "bc") || Hash("a") == Hash("a", "") {
		t.Error("different texts, one hash")
	}
}

// Sorting a sheet changes no id: equals are numbered, and the set of ids is the
// same in any order.
func TestNumbererInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		numbers := rapid.SliceOfN(rapid.SampledFrom([]string{"A", "B", "C"}), 1, 8).Draw(t, "numbers")
		ids := func(order []string) []string {
			n := NewNumberer("main", "parts")
			var out []string
			for _, x := range order {
				out = append(out, n.ID(fitment(x, nil)))
			}
			slices.Sort(out)
			return out
		}
		got, want := ids(rapid.Permutation(numbers).Draw(t, "order")), ids(numbers)
		if !slices.Equal(got, want) || len(slices.Compact(got)) != len(numbers) {
			t.Errorf("got %v, want %v", got, want)
		}
	})
}

func TestReliability(t *testing.T) {
	weights := Standings{{Standing: OwnList, R: .88}, {Standing: OtherShop, R: .55}, {Standing: Hearsay, R: .4}, {Standing: Hearsay, Manner: Photo, R: .6},
		{Standing: OwnMeasurement, Manner: Tape, R: .7}}
	tests := []struct {
		rule   string
		source Source
		asking string
		want   float64
	}{
		{"own list at home", Source{Shop: "main", Standing: OwnList}, "main", .88},
		{"own list of another shop is other shop", Source{Shop: "b", Standing: OwnList}, "main", .55},
		{"a manner of its own", Source{Standing: Hearsay, Manner: Photo}, "main", .6},
		{"a manner without a weight of its own", Source{Standing: Hearsay, Manner: Tape}, "main", .4},
		{"a standing without weights carries nothing", Source{Standing: BoxLabel}, "main", .5},
		{"a standing with a manner only", Source{Shop: "main", Standing: OwnMeasurement}, "main", .5},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			if got := weights.Reliability(tt.source, tt.asking); got != tt.want {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// Copies count as the source that they copy, through any chain; a ring of
// copies is one source whoever asks.
func TestRoot(t *testing.T) {
	sources := map[string]Source{"a": {}, "b": {CopiedFrom: "a"}, "c": {CopiedFrom: "b"}, "x": {CopiedFrom: "y"}, "y": {CopiedFrom: "z"}, "z": {CopiedFrom: "y"}}
	for id, want := range map[string]string{"a": "a", "b": "a", "c": "a", "x": "y", "y": "y", "z": "y", "gone": "gone"} {
		if got := Root(id, sources); got != want {
			t.Errorf("%s: got %s, want %s", id, got, want)
		}
	}
}

func TestWords(t *testing.T) {
	if !OwnList.Known() || Standing("rumour").Known() || !OwnFitting.Own() || MakersBook.Own() {
		t.Error("a standing is not told apart")
	}
	if got := StandingNames(); got[:11] != "own fitting" {
		t.Errorf("got %q", got)
	}
	if (Source{List: "parts"}).Title() != "parts" || (Source{List: "parts", Name: "Dock"}).Title() != "Dock" {
		t.Error("a source has the wrong title")
	}
	for name, l := range map[string]Link{"change": {Relation: StandsIn, Changes: []Change{{}}}, "same": {Relation: Same}, "set": {Relation: StandsIn, Set: []part.Ref{{}}}} {
		if l.Word() {
			t.Errorf("%s: rests on no mere word", name)
		}
	}
	if !(Link{Relation: StandsIn}).Word() {
		t.Error("an equivalent rests on somebody's word")
	}
}
