package web

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

func TestVerdictLines(t *testing.T) {
	tests := []struct {
		name, want string
		c          fit.Candidate
	}{
		{"fits", "fits|your list says so", fit.Candidate{Verdict: fit.Fits, Reason: "your list says so"}},
		{"works wrong, said by the reason itself", "bolts on, but never|no pump", fit.Candidate{Verdict: fit.RuledOut, Reason: "bolts on, but never: no pump", RuledOut: &fit.Ruling{Kind: fit.WorksWrong}}},
		{"works wrong, not said by it", "bolts on, but never|no pump", fit.Candidate{Verdict: fit.RuledOut, Reason: "no pump", RuledOut: &fit.Ruling{Kind: fit.WorksWrong}}},
		{"does not mount", "does not mount|ears 20, wanted 30", fit.Candidate{Verdict: fit.RuledOut, Reason: "does not mount: ears 20, wanted 30", RuledOut: &fit.Ruling{Kind: fit.WontMount}}},
		{"a look-alike", "ruled out|looks the same and is not", fit.Candidate{Verdict: fit.RuledOut, Reason: "looks the same and is not", RuledOut: &fit.Ruling{Kind: fit.BlockedLook}}},
		{"nothing known", "not known|", fit.Candidate{Verdict: fit.NotKnown}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			verdict, reason := verdictLine(tt.c)
			if got := verdict + "|" + reason; got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestShelfWords(t *testing.T) {
	lines := []shelf.Line{{Bin: "A-1", Condition: shelf.New, OnHand: 2, Held: 2}, {Bin: "A-2", Condition: shelf.Quarantine, OnHand: 5}}
	if got := newShelf(lines); len(got.Free) != 0 || got.Words != "None free on the shelf" || len(got.Lines) != 2 {
		t.Errorf("held and suspect units are not offered: %+v", got)
	}
	lines = append(lines, shelf.Line{Bin: "B-7", Condition: shelf.New, OnHand: 1})
	if diff := cmp.Diff([]binView{{"B-7", 1}}, newShelf(lines).Free); diff != "" {
		t.Error(diff)
	}
}

func TestStatementsAsSentences(t *testing.T) {
	link := func(r statement.Relation) statement.Statement {
		return statement.Statement{Kind: statement.KindLink, Link: statement.Link{Relation: r, PrintedA: "A1", PrintedB: "B2"}}
	}
	alike := link(statement.LookAlike)
	alike.Link.Reason = "other ears"
	tests := []struct {
		s    statement.Statement
		want string
	}{
		{link(statement.Same), "A1 and B2 are one part"}, {link(statement.ReplacedBy), "A1 is replaced by B2"},
		{link(statement.StandsIn), "B2 goes in the place of A1"}, {alike, "A1 and B2 only look alike: other ears"},
		{statement.Statement{Kind: statement.KindLink, Link: statement.Link{Relation: statement.Same}}, "the one and the other are one part"},
		{statement.Statement{Kind: statement.KindFitment}, "goes into this vehicle"}, {statement.Statement{Kind: statement.KindNone}, "this vehicle has none"},
		{statement.Statement{Kind: statement.KindPart}, "names this part"},
		{statement.Statement{Kind: statement.KindEngine, Engine: statement.Engine{Code: "XQ20D", Family: "XQ"}}, "engine XQ20D belongs to XQ"},
		{statement.Statement{Kind: statement.KindValue, Value: statement.Value{Attribute: "ribs", Value: part.Value{Numbers: []float64{5}}}}, "ribs is 5"},
	}
	for _, tt := range tests {
		if got := says(tt.s); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

func TestVehicleNames(t *testing.T) {
	with := func(set map[vehicle.Fact]string) vehicle.Facts {
		f := vehicle.NewFacts()
		for fact, v := range set {
			f.Set(fact, v, vehicle.Told)
		}
		return f
	}
	vin := vehicle.NewFacts()
	vin.VIN = "1M8GDM9AXKP042788" // published example, 49 CFR 565.15
	tests := []struct {
		f    vehicle.Facts
		want string
	}{
		{allVerdicts().Facts, "ZQX30-0123456"}, {vin, "1M8GDM9AXKP042788"}, {with(map[vehicle.Fact]string{vehicle.FactModelCode: "ZQX30"}), "ZQX30"},
		{with(map[vehicle.Fact]string{vehicle.FactMaker: "Toriyama", vehicle.FactModel: "Heron"}), "TORIYAMA HERON"},
		{with(map[vehicle.Fact]string{vehicle.FactEngine: "XQ20D"}), "engine XQ20D"}, {vehicle.NewFacts(), "this vehicle"},
	}
	for _, tt := range tests {
		if got := vehicleName(tt.f); !strings.EqualFold(got, tt.want) {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

func TestTrailHeadings(t *testing.T) {
	tests := []struct {
		t    fit.Trail
		some bool
		want string
	}{
		{fit.Trail{Counted: true}, true, "This counts"}, {fit.Trail{}, true, "This does not count again: it shares a source"},
		{fit.Trail{}, false, "What is said"}, {fit.Trail{Counted: true, Starred: true}, true, "This counts; it holds a link that only suggests"},
	}
	for _, tt := range tests {
		if got := trailHeading(tt.t, tt.some); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// Statements of one row count once in a trail.
func TestWorthCountsARowOnce(t *testing.T) {
	a := fitment(ownList, "a", 6, 0.88, "")
	b := link(ownList, "b", 6, 0.88, statement.Link{})
	c := link(ownList, "c", 7, 0.75, statement.Link{})
	want := "1/2 + 1/2 × (2 × 0.880 − 1) × (2 × 0.750 − 1) = 0.690000"
	if got := worth(fit.Trail{Steps: []fit.Step{a, b, c}, Reliability: 0.69}); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestCounts(t *testing.T) {
	tests := []struct {
		c    fit.Candidate
		want string
	}{{fit.Candidate{Quantity: 1}, ""}, {fit.Candidate{Quantity: 4}, "4 on this vehicle"}, {fit.Candidate{Quantity: 2, Position: "front"}, "2 on this vehicle, front"}, {fit.Candidate{Quantity: 1, Position: "left"}, "left"}}
	for _, tt := range tests {
		if got := countWords(tt.c); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
	for n, want := range map[int]string{0: "", 6: "", 1: "under a minute"} {
		if got := effortTitle(n); got != want {
			t.Errorf("%d: got %q", n, got)
		}
	}
	if got := countHeading(app.FindAnswer{Count: 1, Hits: make([]app.FindHit, 1)}); got != "One part" {
		t.Errorf("got %q", got)
	}
}

func TestMeasuresCarryTheirUnit(t *testing.T) {
	tests := []struct{ attribute, value, want string }{
		{"amps", "70", "70 A"}, {"amps", "", ""}, {"ribs", "5", "5"}, {"vacuum_pump", "not_known", "not known"}, {"transmission", "AT", "automatic"},
	}
	for _, tt := range tests {
		if got := measureTitle(alternator(), tt.attribute, tt.value); got != tt.want {
			t.Errorf("%s %s: got %q, want %q", tt.attribute, tt.value, got, tt.want)
		}
	}
	c := fit.Candidate{Verdict: fit.RuledOut, Name: "Alternator", RuledOut: &fit.Ruling{Kind: fit.WorksWrong, Attribute: "amps", Wanted: "70", Found: "50"}}
	tag := newTag(1, c, fit.Answer{Type: alternator()})
	if diff := cmp.Diff([]string{"Rated output", "wanted: 70 A", "this one: 50 A"}, tag.Back); diff != "" {
		t.Error(diff)
	}
	if tag.Name != "" {
		t.Errorf("the page's heading says %q already", tag.Name)
	}
}
