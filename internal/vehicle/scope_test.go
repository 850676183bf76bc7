package vehicle

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func known(clauses map[Fact]string) Facts {
	f := NewFacts()
	for fact, v := range clauses {
		f.Set(fact, v, Seen)
	}
	return f
}

// Each row names the rule of a clause that it guards.
func TestClause(t *testing.T) {
	engines := Engines{"ZF20": {"ZF"}, "ZF22": {"ZF"}, "QL15": {"QL"}}
	family := NewFacts()
	family.Families = []string{"ZF"}
	tests := []struct {
		rule string
		fact Fact
		want string
		have Facts
		tri  Tri
	}{
		{"unknown is not no", OptionFact("ac"), "no", NewFacts(), Unknown},
		{"known and equal", OptionFact("ac"), "no", known(map[Fact]string{OptionFact("ac"): "No"}), Yes},
		{"known and different", OptionFact("ac"), "no", known(map[Fact]string{OptionFact("ac"): "yes"}), No},
		{"codes lose their dashes", FactModelCode, "KV-31", known(map[Fact]string{FactModelCode: "kv31"}), Yes},
		{"another prefix is never yes", FactPrefix, "GF", known(map[Fact]string{FactPrefix: "GH"}), Unknown},
		{"the same prefix", FactPrefix, "GF", known(map[Fact]string{FactPrefix: "GF-"}), Yes},
		{"an engine code", FactEngine, "ZF20", known(map[Fact]string{FactEngine: "ZF-20"}), Yes},
		{"another engine code", FactEngine, "ZF22", known(map[Fact]string{FactEngine: "ZF20"}), No},
		{"no engine known", FactEngine, "ZF22", NewFacts(), Unknown},
		{"only the family known, a code of it", FactEngine, "ZF22", family, Unknown},
		{"only the family known, a code of another", FactEngine, "QL15", family, No},
		{"only the family known, a code of none", FactEngine, "XX10", family, Unknown},
		{"only the family known, the family wanted", FactEngine, "ZF", family, Yes},
		{"a name inside a name", FactModel, "Kogata Van", known(map[Fact]string{FactModel: "Kogata"}), Unknown},
		{"another name", FactModel, "Kogata", known(map[Fact]string{FactModel: "Hayase"}), No},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			s := NewScope()
			s.Want(tt.fact, tt.want)
			if got := s.Judge(tt.have, engines); got != tt.tri {
				t.Errorf("got %s, want %s", got, tt.tri)
			}
		})
	}
	code := known(map[Fact]string{FactEngine: "ZF20"})
	code.Families = []string{"ZF"}
	s := NewScope()
	s.Want(FactEngine, "ZF")
	if got := s.Judge(code, engines); got != Yes {
		t.Errorf("a clause on the family: got %s, want yes", got)
	}
}

// The model code is the identity; a sales name beside it changes nothing.
func TestModelCodeOutranksNames(t *testing.T) {
	s := NewScope()
	s.Want(FactModelCode, "KV31")
	s.Want(FactModel, "Kogata Van")
	s.Want(FactMaker, "Tamuro")
	f := known(map[Fact]string{FactModelCode: "KV31", FactModel: "Kogata 1.5"})
	if got := s.Clause(FactModel, f, nil); got != Yes {
		t.Errorf("got %s, want yes", got)
	}
	if got := s.Judge(f, nil); got != Unknown {
		t.Errorf("got %s, want unknown: two makers may use one code", got)
	}
	f.Set(FactMaker, "Tamuro", Told)
	if got := s.Judge(f, nil); got != Yes {
		t.Errorf("the same maker: got %s, want yes", got)
	}
	f.Set(FactMaker, "Other", Told)
	if got := s.Judge(f, nil); got != No {
		t.Errorf("another maker: got %s, want no", got)
	}
}

// A build date is yes when it lies inside by three months at every closed end,
// no when outside by three, else unknown; a stamped month needs no margin.
func TestBuiltClause(t *testing.T) {
	m := MonthOf
	closed := Interval{m(1993, 8), m(1997, 5)}
	tests := []struct {
		name  string
		scope Interval
		built Interval
		how   How
		tri   Tri
	}{
		{"well inside", closed, Interval{m(1995, 1), m(1995, 12)}, Plate, Yes},
		{"two months before the end", closed, Interval{m(1997, 3), m(1997, 3)}, Plate, Unknown},
		{"three months before the end", closed, Interval{m(1997, 2), m(1997, 2)}, Plate, Yes},
		{"two months after the end", closed, Interval{m(1997, 7), m(1997, 7)}, Plate, Unknown},
		{"three months after the end", closed, Interval{m(1997, 8), m(1997, 8)}, Plate, No},
		{"three months before the start", closed, Interval{m(1993, 5), m(1993, 5)}, Plate, No},
		{"stamped in the last month", closed, Interval{m(1997, 5), m(1997, 5)}, Stamped, Yes},
		{"stamped in the month after", closed, Interval{m(1997, 6), m(1997, 6)}, Stamped, No},
		{"month from the serial", closed, Interval{m(1993, 8), m(1993, 8)}, Serial, Yes},
		{"open at the start", Interval{To: m(1997, 5)}, Interval{m(1980, 1), m(1980, 12)}, Plate, Yes},
		{"a year across the end", closed, Interval{m(1997, 1), m(1997, 12)}, Plate, Unknown},
		{"nothing known", closed, Interval{}, Plate, Unknown},
		{"first registration inside", closed, Interval{To: m(1995, 1)}, Paper, Unknown},
		{"first registration before the start", closed, Interval{To: m(1993, 1)}, Paper, No},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := NewScope()
			s.Built = tt.scope
			f := NewFacts()
			f.Built, f.BuiltHow = tt.built, tt.how
			if got := s.Judge(f, nil); got != tt.tri {
				t.Errorf("got %s, want %s", got, tt.tri)
			}
		})
	}
}

func TestSerialClause(t *testing.T) {
	s := NewScope()
	s.Serial = SerialRange{From: 100000, To: 124999, Width: 7}
	for serial, want := range map[int64]Tri{99999: No, 100000: Yes, 124999: Yes, 125000: No, NoSerial: Unknown} {
		f := NewFacts()
		f.Serial = serial
		if got := s.Judge(f, nil); got != want {
			t.Errorf("%d: got %s, want %s", serial, got, want)
		}
	}
	if got := s.Value(FactSerial); got != "0100000…0124999" {
		t.Errorf("got %q", got)
	}
}

func TestOpenAndFailingClauses(t *testing.T) {
	s := NewScope()
	s.Want(FactModelCode, "KV31")
	s.Want(FactTransmission, "AT")
	s.Want(FactDrive, "4WD")
	s.Built = Interval{From: MonthOf(1993, 8)}
	s.Serial.From = 5
	f := known(map[Fact]string{FactModelCode: "KV31", FactDrive: "2WD"})
	if got, want := s.Failing(f, nil), []Fact{FactDrive}; !slices.Equal(got, want) {
		t.Errorf("failing: got %v, want %v", got, want)
	}
	if got, want := s.Open(f, nil), []Fact{FactBuilt, FactSerial, FactTransmission}; !slices.Equal(got, want) {
		t.Errorf("open: got %v, want %v", got, want)
	}
	if got, want := f.Unknown([]Fact{FactTransmission, FactDrive, FactSerial, FactBuilt}), []Fact{FactBuilt, FactSerial, FactTransmission}; !slices.Equal(got, want) {
		t.Errorf("unknown: got %v, want %v", got, want)
	}
	if got := s.Value(FactBuilt); got != "1993-08…" {
		t.Errorf("got %q", got)
	}
	if o, ok := OptionFact("ac").Option(); !ok || o != "ac" {
		t.Errorf("got %q %v", o, ok)
	}
}

// Kleene's conjunction: no beats unknown beats yes, in any order.
func TestAndIsKleenes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tri := rapid.Custom(func(t *rapid.T) Tri { return Tri(rapid.IntRange(0, 2).Draw(t, "tri")) })
		a, b, c := tri.Draw(t, "a"), tri.Draw(t, "b"), tri.Draw(t, "c")
		if a.And(b) != b.And(a) || a.And(b).And(c) != a.And(b.And(c)) || a.And(Yes) != a || a.And(No) != No {
			t.Errorf("%s %s %s", a, b, c)
		}
	})
}

// More known about a vehicle never turns a yes or a no of a text clause into
// something else.
func TestKnowingMoreNeverTurnsAnAnswer(t *testing.T) {
	facts := []Fact{FactTransmission, FactDrive, FactSide, OptionFact("ac")}
	rapid.Check(t, func(t *rapid.T) {
		s, f := NewScope(), NewFacts()
		value := rapid.SampledFrom([]string{"", "A", "B"})
		for _, fact := range facts {
			s.Want(fact, value.Draw(t, "want"))
			f.Set(fact, value.Draw(t, "have"), Seen)
		}
		before := s.Judge(f, nil)
		for _, fact := range facts {
			if !f.Knows(fact) {
				f.Set(fact, rapid.SampledFrom([]string{"A", "B"}).Draw(t, "learned"), Seen)
			}
		}
		if after := s.Judge(f, nil); before != Unknown && after != before {
			t.Errorf("got %s, before %s", after, before)
		}
	})
}
