package fit

import (
	"fmt"
	"testing"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// book builds the knowledge of a test, one invented row at a time.
type book struct {
	k   Knowledge
	row int
}

func newBook() *book {
	return &book{k: Knowledge{Sources: map[string]statement.Source{}, Engines: vehicle.Engines{},
		Standings: statement.Standings{
			{Standing: statement.OwnFitting, R: .95}, {Standing: statement.MakersBook, R: .92}, {Standing: statement.OwnList, R: .88},
			{Standing: statement.RebuildersList, R: .75}, {Standing: statement.OtherShop, R: .55},
			{Standing: statement.Hearsay, R: .4}, {Standing: statement.Hearsay, Manner: statement.Photo, R: .6}}}}
}

// source gives the id of a source "own", "own2", "maker", "rebuilder",
// "fitting", "forum", "forum2", "phone", "gossip"; digits make further ones.
func (b *book) source(name string) string {
	standings := map[string]statement.Source{
		"own": {Standing: statement.OwnList}, "maker": {Standing: statement.MakersBook}, "rebuilder": {Standing: statement.RebuildersList},
		"fitting": {Standing: statement.OwnFitting}, "forum": {Standing: statement.Hearsay, Manner: statement.Photo},
		"phone": {Standing: statement.OtherShop}, "gossip": {Standing: statement.Hearsay}}
	base := name
	for len(base) > 0 && base[len(base)-1] >= '0' && base[len(base)-1] <= '9' {
		base = base[:len(base)-1]
	}
	s, ok := standings[base]
	if !ok {
		panic("no source " + name)
	}
	s.ID, s.Shop, s.List = name, "main", name
	if have, ok := b.k.Sources[name]; ok {
		s.CopiedFrom = have.CopiedFrom
	}
	b.k.Sources[name] = s
	return name
}

func (b *book) statement(source string, kind statement.Kind, number string) statement.Statement {
	b.row++
	return statement.Statement{ID: fmt.Sprintf("s%03d", b.row), Kind: kind, Source: b.source(source), A: ref(number), Type: "alternator",
		Place: statement.Place{File: source + ".csv", Row: b.row, Cell: "A1"}}
}

// ref reads "NUMBER" or "NUMBER@MAKER".
func ref(number string) part.Ref {
	for i := range number {
		if number[i] == '@' {
			return part.Ref{Key: number[:i], Maker: number[i+1:]}
		}
	}
	return part.Ref{Key: number}
}

func (b *book) fit(source, number string, clauses ...string) *statement.Statement {
	s := b.statement(source, statement.KindFitment, number)
	s.Scope = scope(clauses...)
	b.k.Fitments = append(b.k.Fitments, s)
	return &b.k.Fitments[len(b.k.Fitments)-1]
}

func (b *book) none(source string, clauses ...string) *statement.Statement {
	s := b.fit(source, "", clauses...)
	s.Kind = statement.KindNone
	return s
}

func (b *book) link(source, a string, rel statement.Relation, c string) *statement.Link {
	s := b.statement(source, statement.KindLink, a)
	s.Type = ""
	s.Link = statement.Link{Relation: rel, B: ref(c), PrintedA: a, PrintedB: c}
	b.k.Links = append(b.k.Links, s)
	return &b.k.Links[len(b.k.Links)-1].Link
}

func (b *book) part(source, number string) *statement.Statement {
	s := b.statement(source, statement.KindPart, number)
	s.Part = statement.PartName{Printed: s.A.Key, Maker: s.A.Maker, Role: statement.VehicleMaker}
	b.k.Parts = append(b.k.Parts, s)
	return &b.k.Parts[len(b.k.Parts)-1]
}

func (b *book) value(source, number, attribute, raw string) {
	s := b.statement(source, statement.KindValue, number)
	a, _ := alternator().Attribute(attribute)
	v, err := part.ReadValue(a, raw)
	if err != nil {
		panic(err)
	}
	s.Value = statement.Value{Attribute: attribute, Value: v}
	b.k.Values = append(b.k.Values, s)
}

// scope reads clauses "fact=value"; serial=from-to, built=from..to.
func scope(clauses ...string) vehicle.Scope {
	s := vehicle.NewScope()
	for _, c := range clauses {
		var fact, value string
		for i := range c {
			if c[i] == '=' {
				fact, value = c[:i], c[i+1:]
				break
			}
		}
		switch vehicle.Fact(fact) {
		case vehicle.FactSerial:
			s.Serial.Width = 7
			fmt.Sscanf(value, "%d-%d", &s.Serial.From, &s.Serial.To)
		case vehicle.FactBuilt:
			var y1, m1, y2, m2 int
			fmt.Sscanf(value, "%d-%d..%d-%d", &y1, &m1, &y2, &m2)
			s.Built = vehicle.Interval{From: vehicle.MonthOf(y1, m1), To: vehicle.MonthOf(y2, m2)}
		default:
			s.Want(vehicle.Fact(fact), value)
		}
	}
	return s
}

// van is the vehicle of most tests: KV31-0123456 with the engine ZF20.
func van(clauses ...string) vehicle.Facts {
	f := vehicle.NewFacts()
	f.Set(vehicle.FactModelCode, "KV31", vehicle.Stamped)
	f.Set(vehicle.FactEngine, "ZF20", vehicle.Stamped)
	f.Serial = 123456
	for _, c := range clauses {
		s := scope(c)
		for fact, v := range s.Text {
			f.Set(fact, v, vehicle.Seen)
		}
		if s.Built.Known() {
			f.Built, f.BuiltHow = s.Built, vehicle.Plate
		}
	}
	return f
}

func alternator() part.Type {
	return part.Type{Name: "alternator", RidesOn: part.OnEngine, SplitBy: []string{"engine", "transmission", "built"},
		Attributes: []part.Attribute{
			{Name: "volts", Title: "volts", Kind: part.KindNumber, Unit: "V", Compare: part.Equal, OnVehicle: part.Sight{How: "label", Effort: 1},
				Cases: []part.Case{{When: part.Differs, Difference: part.WorksWrong, Effect: "wrong voltage class"}}},
			{Name: "ribs", Title: "ribs", Kind: part.KindNumber, Unit: "count", Compare: part.Equal, OnVehicle: part.Sight{How: "count", Effort: 1},
				Cases: []part.Case{{When: part.Less, Difference: part.Adaptable, Change: "move the pulley over", Minutes: 30},
					{When: part.More, If: "belt_line=agrees", Difference: part.Minor, Note: "use the right grooves"}}},
			{Name: "belt_line", Title: "belt line", Kind: part.KindNumber, Unit: "mm", Compare: part.Within, Tolerance: 1,
				Cases: []part.Case{{When: part.Differs, Difference: part.WontMount}}},
			{Name: "mount", Title: "mount", Kind: part.KindWord, Compare: part.Equal,
				Cases: []part.Case{{When: part.Differs, Difference: part.WontMount}}},
			{Name: "colour", Title: "colour", Kind: part.KindWord, Compare: part.Any},
		}}
}

func (b *book) ask(f vehicle.Facts) Answer {
	return Ask(Question{Facts: f, Type: alternator(), Shop: "main"}, b.k)
}

func (b *book) askPart(f vehicle.Facts, number string) Answer {
	return Ask(Question{Facts: f, Type: alternator(), Shop: "main", Part: ref(number)}, b.k)
}

// verdictOf gives "verdict basis confidence" of a part, "" where it is not
// listed.
func verdictOf(a Answer, number string) string {
	for _, c := range a.Candidates {
		for _, n := range c.Numbers {
			if n.Ref == ref(number) {
				return fmt.Sprintf("%s %s %d", c.Verdict, n.Basis, n.Confidence)
			}
		}
	}
	return ""
}

func find(t *testing.T, a Answer, number string) Candidate {
	t.Helper()
	for _, c := range a.Candidates {
		for _, r := range c.Refs {
			if r == ref(number) {
				return c
			}
		}
	}
	t.Fatalf("%s is not among the candidates: %+v", number, a.Candidates)
	return Candidate{}
}
