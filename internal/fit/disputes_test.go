package fit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

func (b *book) disputes() []Dispute {
	return Disputes(Question{Type: alternator(), Shop: "main"}, b.k)
}

// disputeTexts gives "kind attribute numbers: side (statements); side ..." of each.
func disputeTexts(ds []Dispute) []string {
	var out []string
	for _, d := range ds {
		var sides []string
		for _, s := range d.Sides {
			ids := make([]string, len(s.Steps))
			for i, step := range s.Steps {
				ids[i] = step.Statement.ID
			}
			sides = append(sides, s.Says+" ("+strings.Join(ids, " ")+")")
		}
		out = append(out, strings.TrimSpace(string(d.Kind)+" "+d.Attribute)+" "+strings.Join(d.Numbers, " ")+": "+strings.Join(sides, "; "))
	}
	return out
}

func TestDisputes(t *testing.T) {
	tests := []struct {
		name string
		book func(b *book)
		want []string
	}{
		{"values of one part contradict one another", func(b *book) {
			b.value("own", "A", "ribs", "5")
			b.value("maker", "A", "ribs", "6")
			b.value("maker2", "A", "ribs", "6")
		}, []string{"value ribs A: ribs 5 (s001); ribs 6 (s002 s003)"}},
		{"equal values do not", func(b *book) {
			b.value("own", "A", "ribs", "5")
			b.value("maker", "A", "ribs", "5.0")
		}, nil},
		{"nor do values that nobody compares", func(b *book) {
			b.value("own", "A", "colour", "red")
			b.value("maker", "A", "colour", "blue")
		}, nil},
		{"a source at 0.5 or below cannot contradict", func(b *book) {
			b.value("own", "A", "ribs", "5")
			b.value("gossip", "A", "ribs", "6")
		}, nil},
		{"numbers joined by same links are one part", func(b *book) {
			b.value("own", "A", "ribs", "5")
			b.value("maker", "C", "ribs", "6")
			b.link("own", "A", statement.Same, "B")
			b.link("own", "B", statement.Same, "C")
		}, []string{"value ribs A C: ribs 5 (s001); ribs 6 (s002)"}},
		{"a link that stands in has ends that differ in a deciding attribute", func(b *book) {
			b.value("own", "A", "volts", "12")
			b.value("own", "B", "volts", "24")
			b.value("own", "A", "ribs", "6") // only adaptable: no dispute
			b.value("own", "B", "ribs", "5")
			b.link("rebuilder", "A", statement.StandsIn, "B")
			b.link("rebuilder2", "A", statement.StandsIn, "B")
			b.link("maker", "A", statement.ReplacedBy, "B")
		}, []string{"link_ends volts A B: B goes in place of A (s005 s006); B replaces A (s007); A has volts 12 (s001); B has volts 24 (s002)"}},
		{"the ends of a link speak for the numbers that are the same part", func(b *book) {
			b.value("own", "A2", "volts", "12")
			b.value("own", "B2", "volts", "24")
			b.link("own", "A", statement.Same, "A2")
			b.link("own", "B2", statement.Same, "B")
			b.link("maker", "A", statement.StandsIn, "B")
		}, []string{"link_ends volts A B: B goes in place of A (s005); A has volts 12 (s001); B has volts 24 (s002)"}},
		{"a kit is not the part", func(b *book) {
			b.value("own", "A", "volts", "12")
			b.value("own", "B", "volts", "24")
			b.link("maker", "A", statement.ReplacedBy, "B").Kit = true
		}, nil},
		{"a same link is held by what each end has of its own", func(b *book) {
			b.value("own", "A", "volts", "12")
			b.value("own", "B", "volts", "24")
			b.link("maker", "B", statement.Same, "A")
		}, []string{"link_ends volts A B: B and A are the same part (s003); B has volts 24 (s002); A has volts 12 (s001)",
			"value volts A B: volts 12 (s001); volts 24 (s002)"}},
		{"numbers that replace one another in a ring", func(b *book) {
			b.link("own", "A", statement.ReplacedBy, "B")
			b.link("maker", "A", statement.ReplacedBy, "B")
			b.link("own", "B", statement.ReplacedBy, "C")
			b.link("own", "C", statement.ReplacedBy, "A")
			b.link("own", "C", statement.ReplacedBy, "D") // leads out of the ring
		}, []string{"ring A B C: B replaces A (s001 s002); C replaces B (s003); A replaces C (s004)"}},
		{"both ways is no ring", func(b *book) {
			b.link("own", "A", statement.ReplacedBy, "B").BothWays = vehicle.Yes
			b.link("own", "B", statement.ReplacedBy, "A")
		}, nil},
		{"one says the same, another a look-alike", func(b *book) {
			b.link("own", "A", statement.Same, "B")
			b.link("maker", "B", statement.StandsIn, "A") // the other way round, too
			b.link("fitting", "B", statement.LookAlike, "A")
			b.link("fitting", "B", statement.LookAlike, "C")
		}, []string{"same_and_alike A B: A and B go for one another (s001 s002); A and B only look alike (s003)"}},
		{"vehicles have none, and a part goes into them", func(b *book) {
			b.none("maker", "model_code=KV31").Note = "charged by a converter"
			b.fit("own", "A", "model_code=KV31", "transmission=AT")
			b.fit("own2", "A", "model_code=KV31", "engine=ZF20")
			b.fit("own", "B", "model_code=LT40")
		}, []string{"none_and_fitment A: these vehicles have none: charged by a converter (s001); A goes into them (s002 s003)"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBook()
			tt.book(b)
			if got := disputeTexts(b.disputes()); !slices.Equal(got, tt.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(tt.want, "\n"))
			}
		})
	}
}

// Two scopes meet when they name a vehicle alike and contradict in no clause.
func TestOverlap(t *testing.T) {
	tests := []struct {
		name string
		a, b []string
		want bool
	}{
		{"same model code", []string{"model_code=KV31"}, []string{"model_code=KV31"}, true},
		{"another model code", []string{"model_code=KV31"}, []string{"model_code=KV32"}, false},
		{"a code here and an engine there", []string{"model_code=KV31"}, []string{"engine=ZF20"}, false},
		{"everything", nil, []string{"model_code=KV31"}, false},
		{"gearbox contradicts", []string{"model_code=KV31", "transmission=AT"}, []string{"model_code=KV31", "transmission=MT"}, false},
		{"engine and its family", []string{"engine=ZF20"}, []string{"engine=ZF"}, true},
		{"engine of another family", []string{"engine=ZF20"}, []string{"engine=XQ"}, false},
		{"model name spelled differently beside the code", []string{"model_code=KV31", "model=KOGATA"}, []string{"model_code=KV31", "model=KOGATA VAN"}, true},
		{"model name alone", []string{"model=KOGATA"}, []string{"model=KOGATA", "maker=ORVANE"}, true},
		{"model name of another maker", []string{"model=KOGATA", "maker=KESTRO"}, []string{"model=KOGATA", "maker=ORVANE"}, false},
		{"serials meet", []string{"model_code=KV31", "serial=1-100"}, []string{"model_code=KV31", "serial=100-200"}, true},
		{"serials apart", []string{"model_code=KV31", "serial=1-99"}, []string{"model_code=KV31", "serial=100-200"}, false},
		{"serials apart, the other way", []string{"model_code=KV31", "serial=100-200"}, []string{"model_code=KV31", "serial=1-99"}, false},
		{"built meets", []string{"model_code=KV31", "built=1993-01..1995-01"}, []string{"model_code=KV31", "built=1995-01..1996-01"}, true},
		{"built apart", []string{"model_code=KV31", "built=1993-01..1994-12"}, []string{"model_code=KV31", "built=1995-01..1996-01"}, false},
	}
	b := newBook()
	b.k.Engines["ZF20"] = []string{"ZF"}
	w := newWorld(Question{Facts: vehicle.NewFacts(), Type: alternator()}, b.k)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, got := range []bool{w.overlap(scope(tt.a...), scope(tt.b...)), w.overlap(scope(tt.b...), scope(tt.a...))} {
				if got != tt.want {
					t.Errorf("got %v, want %v", got, tt.want)
				}
			}
		})
	}
}

// A bare number that may mean the parts of two makers is one dispute, not two.
func TestBareNumberIsOneDispute(t *testing.T) {
	b := newBook()
	b.part("own", "A@ORVANE")
	b.part("own", "A@KESTRO")
	b.link("own", "A", statement.StandsIn, "B")
	b.link("fitting", "A", statement.LookAlike, "B")
	ds := b.disputes()
	if len(ds) != 1 || len(ds[0].Parts) != 3 {
		t.Errorf("got %v", disputeTexts(ds))
	}
}

// A type without a name speaks of the statements that name no type; statements
// of another type are left alone.
func TestDisputesOfNoType(t *testing.T) {
	b := newBook()
	b.link("own", "A", statement.ReplacedBy, "B")
	b.link("own", "B", statement.ReplacedBy, "A")
	b.part("own", "C").Type = "starter"
	b.link("own", "C", statement.ReplacedBy, "D")
	b.link("own", "D", statement.ReplacedBy, "C")
	got := disputeTexts(Disputes(Question{Shop: "main"}, b.k))
	if want := []string{"ring A B: B replaces A (s001); A replaces B (s002)"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// The id of a dispute is that of its kind and statements: places do not matter.
func TestDisputeIDIgnoresPlaces(t *testing.T) {
	b := newBook()
	b.value("own", "A", "ribs", "5")
	b.value("maker", "A", "ribs", "6")
	before := b.disputes()[0]
	b.k.Values[0].Place.Row, b.k.Values[1].Place.File = 99, "moved.csv"
	after := b.disputes()[0]
	if before.ID != after.ID || before.ID != statement.Hash("value", "s001", "s002") {
		t.Errorf("got %s and %s, want the hash of kind and statements", before.ID, after.ID)
	}
	if after.Sides[0].Steps[0].Statement.Place.Row != 99 {
		t.Error("both places are shown as they are now")
	}
}

// drawDisputed makes a random little book full of contradictions.
func drawDisputed(t *rapid.T) *book {
	b := drawBook(t)
	sources := []string{"own", "maker", "rebuilder", "fitting", "forum", "gossip"}
	numbers := []string{"A", "B", "C", "D"}
	for range rapid.IntRange(0, 6).Draw(t, "values") {
		b.value(rapid.SampledFrom(sources).Draw(t, "source"), rapid.SampledFrom(numbers).Draw(t, "number"),
			rapid.SampledFrom([]string{"volts", "ribs", "belt_line"}).Draw(t, "attribute"), rapid.SampledFrom([]string{"5", "12", "24"}).Draw(t, "value"))
	}
	for range rapid.IntRange(0, 2).Draw(t, "look-alikes") {
		b.link(rapid.SampledFrom(sources).Draw(t, "source"), rapid.SampledFrom(numbers).Draw(t, "a"), statement.LookAlike, rapid.SampledFrom(numbers).Draw(t, "b"))
	}
	for range rapid.IntRange(0, 2).Draw(t, "rings") {
		b.link(rapid.SampledFrom(sources).Draw(t, "source"), rapid.SampledFrom(numbers).Draw(t, "a"), statement.ReplacedBy, rapid.SampledFrom(numbers).Draw(t, "b"))
	}
	if rapid.Bool().Draw(t, "none") {
		b.none("maker", "model_code=KV31")
	}
	return b
}

// The order in which statements come changes nothing.
func TestOrderChangesNoDispute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawDisputed(t)
		before := fmt.Sprintf("%+v", b.disputes())
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for _, list := range [][]statement.Statement{b.k.Fitments, b.k.Links, b.k.Values, b.k.Parts} {
			r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		}
		if after := fmt.Sprintf("%+v", b.disputes()); after != before {
			t.Errorf("got\n%s\nbefore\n%s", after, before)
		}
	})
}

// Every dispute has two sides, different statements, and a part; ids are unique
// and the list is in order.
func TestDisputesAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ds := drawDisputed(t).disputes()
		seen := map[string]bool{}
		for i, d := range ds {
			if len(d.Sides) < 2 || len(d.Statements()) < 2 || len(d.Parts) == 0 || len(d.Numbers) != len(d.Parts) || seen[d.ID] {
				t.Errorf("got %+v", d)
			}
			seen[d.ID] = true
			if i > 0 && ds[i-1].Compare(d) >= 0 {
				t.Errorf("%s stands before %s", ds[i-1].ID, d.ID)
			}
		}
	})
}

// A statement that was set aside is in no dispute, and neither carries nor
// opposes anything in an answer: it is as if it had never been said.
func TestClosedCountsForNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawDisputed(t), drawVehicle(t)
		without := b.k
		b.k.Closed = map[string]bool{}
		for _, list := range []*[]statement.Statement{&without.Fitments, &without.Links, &without.Values} {
			*list = slices.DeleteFunc(slices.Clone(*list), func(s statement.Statement) bool {
				b.k.Closed[s.ID] = rapid.IntRange(0, 3).Draw(t, "closed") == 0
				return b.k.Closed[s.ID]
			})
		}
		bare := &book{k: without}
		if got, want := fmt.Sprintf("%+v", b.disputes()), fmt.Sprintf("%+v", bare.disputes()); got != want {
			t.Errorf("disputes: got\n%s\nwant\n%s", got, want)
		}
		if got, want := answerText(b.ask(f)), answerText(bare.ask(f)); got != want {
			t.Errorf("answer: got\n%s\nwant\n%s", got, want)
		}
	})
}

func answerText(a Answer) string {
	text := ""
	for _, c := range a.Candidates {
		text += fmt.Sprintln(c.Numbers, c.Verdict, c.Reason, c.DependsOn, c.Changes, c.Against, c.Notes)
	}
	return text
}

// Setting all sides but one aside ends a dispute of values.
func TestOneValueEndsTheDispute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawDisputed(t)
		for _, d := range b.disputes() {
			if d.Kind != DisputeValue {
				continue
			}
			b.k.Closed = map[string]bool{}
			for _, side := range d.Sides[1:] {
				for _, s := range side.Steps {
					b.k.Closed[s.Statement.ID] = true
				}
			}
			for _, left := range b.disputes() {
				if left.Kind == DisputeValue && left.Attribute == d.Attribute && slices.Equal(left.Parts, d.Parts) {
					t.Errorf("%v is left", disputeTexts([]Dispute{left}))
				}
			}
			return
		}
	})
}

// What stands against a part in an answer is what is listed as a dispute of it,
// in the same words as ever.
func TestAgainstSaysTheDisputes(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "engine=ZF20")
	b.value("own", "A", "ribs", "5")
	b.value("maker", "A", "ribs", "6")
	b.link("own", "A", statement.ReplacedBy, "B")
	b.link("maker", "B", statement.ReplacedBy, "C")
	b.link("maker2", "C", statement.ReplacedBy, "A")
	b.link("own", "D", statement.StandsIn, "A")
	b.link("forum", "A", statement.LookAlike, "D")
	got := find(t, b.ask(van("transmission=AT")), "A").Against
	want := []string{
		"own, own.csv, row 7 says that the two go for one another, forum, forum.csv, row 8 that they only look alike",
		"replacements go in a ring: own, own.csv, row 4 against maker2, maker2.csv, row 6",
		"sources disagree on ribs: 5 (own, own.csv, row 2), 6 (maker, maker.csv, row 3)",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// One line stands against a part for each replacement that comes back to it.
func TestCirclesComeBackOnce(t *testing.T) {
	b := newBook()
	b.link("own", "A", statement.ReplacedBy, "B")
	b.link("own", "B", statement.ReplacedBy, "A")
	b.link("own", "B", statement.ReplacedBy, "C")
	b.link("own", "C", statement.ReplacedBy, "A")
	w := newWorld(Question{Facts: vehicle.NewFacts(), Type: alternator(), Shop: "main"}, b.k)
	var got []string
	for _, c := range w.circles(part.Ref{Key: "A"}) {
		got = append(got, c.leaves.Statement.ID+"-"+c.returns.Statement.ID)
	}
	if want := []string{"s001-s002", "s001-s004"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
