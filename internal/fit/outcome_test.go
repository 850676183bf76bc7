package fit

import (
	"strings"
	"testing"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// outcome makes one on a KV31 with the given clauses; the van of the tests where
// the frame is given.
func outcome(kind OutcomeKind, frame string, clauses ...string) Outcome {
	o := Outcome{ID: "o1", Kind: kind, Type: "alternator", Part: ref("A"), Frame: frame, Facts: vehicle.NewFacts()}
	o.Facts.Set(vehicle.FactModelCode, "KV31", vehicle.Stamped)
	o.Facts.Set(vehicle.FactEngine, "ZF20", vehicle.Stamped)
	for f, v := range scope(clauses...).Text {
		o.Facts.Set(f, v, vehicle.Seen)
	}
	return o
}

func changed(o Outcome, change func(*Outcome)) Outcome {
	change(&o)
	return o
}

// Each row names the rule on outcomes that it guards.
func TestOutcomes(t *testing.T) {
	sure := func(o *Outcome) { o.LabelRead, o.AttributeRead, o.FrameRead = true, true, true }
	passed := func(o *Outcome) { o.TestPassed = true }
	tests := []struct {
		rule     string
		outcomes []Outcome
		want     string
		reason   string
	}{
		{"went in and the test passed", []Outcome{changed(outcome(WentIn, ""), passed)}, "fits proven 880", "went in here and stayed"},
		{"went in and has not come back for 90 days", []Outcome{changed(outcome(WentIn, ""), func(o *Outcome) { o.DaysIn = 90 })}, "fits proven 880", ""},
		{"silence is not success", []Outcome{changed(outcome(WentIn, ""), func(o *Outcome) { o.DaysIn = 89 })}, "fits stated 880", ""},
		{"went in with a change", []Outcome{changed(outcome(WentInWithChange, ""), func(o *Outcome) {
			o.TestPassed, o.Changes = true, []statement.Change{{Task: "re-pin the plug"}}
		})}, "fits_with_change proven 880", "re-pin the plug"},
		{"did not go, all read: out", []Outcome{changed(outcome(DidNotFit, "", "transmission=MT"), sure)}, "ruled_out stated 880", "did not go"},
		{"did not go, not all read: caps the others", []Outcome{outcome(DidNotFit, "")}, "check_first stated 880", "a vehicle like this one"},
		{"did not go on this very vehicle", []Outcome{outcome(DidNotFit, "KV310123456")}, "ruled_out stated 880", ""},
		{"came back, wrong for the vehicle", []Outcome{changed(outcome(CameBack, ""), func(o *Outcome) { o.Why = WrongForVehicle })}, "check_first stated 880", ""},
		{"came back, the unit died: not against the fit", []Outcome{changed(outcome(CameBack, ""), func(o *Outcome) { o.Why = UnitDied })}, "fits stated 880", ""},
		{"came back for another cause: against nobody", []Outcome{changed(outcome(CameBack, ""), func(o *Outcome) { o.Why = AnotherCause })}, "fits stated 880", ""},
		{"not as ordered is no fitting", []Outcome{outcome(NotAsOrdered, "")}, "fits stated 880", ""},
		{"both stand: a person has to say", []Outcome{changed(outcome(WentIn, ""), passed), changed(outcome(DidNotFit, ""), sure)}, "check_first proven 880", "a person"},
		{"another vehicle in a fact that splits", []Outcome{changed(outcome(WentIn, "", "transmission=AT"), passed)}, "fits stated 880", ""},
		{"another part type", []Outcome{changed(outcome(DidNotFit, ""), func(o *Outcome) { o.Type = "starter" })}, "fits stated 880", ""},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			b.fit("own", "A", "model_code=KV31")
			b.k.Outcomes = tt.outcomes
			f := van("transmission=MT")
			f.Frame = vehicle.Frame{ModelCode: "KV31", Serial: "0123456"}
			a := b.ask(f)
			if got := verdictOf(a, "A"); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
			if got := find(t, a, "A").Reason; !strings.Contains(got, tt.reason) {
				t.Errorf("got reason %q, want %q in it", got, tt.reason)
			}
		})
	}
}

// A proof lifts a look-alike; it never lifts what bolts on and works wrongly.
func TestWhatAProofLifts(t *testing.T) {
	proof := changed(outcome(WentIn, ""), func(o *Outcome) { o.TestPassed, o.Part = true, ref("B") })
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.link("maker", "A", statement.StandsIn, "B")
	b.link("forum", "A", statement.LookAlike, "B")
	b.k.Outcomes = []Outcome{proof}
	if got := find(t, b.ask(van()), "B").Verdict; got == RuledOut {
		t.Error("the look-alike still rules it out")
	}
	b.value("own", "A", "volts", "12")
	b.value("own", "B", "volts", "24")
	c := find(t, b.ask(van()), "B")
	if c.Verdict != RuledOut || c.RuledOut.Kind != WorksWrong {
		t.Errorf("got %s %+v, want it ruled out: it bolts on and works wrongly", c.Verdict, c.RuledOut)
	}
}

// What outcomes taught of a source is what its statements are worth.
func TestLearnedReliability(t *testing.T) {
	b := newBook()
	b.fit("rebuilder", "A", "model_code=KV31")
	b.k.Tallies = statement.Tallies{{Source: "rebuilder", Type: "alternator"}: {Right: 20}, {Source: "rebuilder", Type: "starter"}: {Wrong: 50}}
	if got := verdictOf(b.ask(van()), "A"); got != "fits stated 875" {
		t.Errorf("got %q, want fits at .875", got)
	}
}

// An outcome on one side of a serial break says nothing about the other side.
func TestOutcomeStopsAtASerialBreak(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "serial=0-124999")
	b.fit("own", "A", "model_code=KV31", "serial=125000-199999")
	o := outcome(WentIn, "")
	o.TestPassed, o.Facts.Serial = true, 130000
	b.k.Outcomes = []Outcome{o}
	care := alternator()
	care.SplitBy = append(care.SplitBy, "serial")
	a := Ask(Question{Facts: van(), Type: care, Shop: "main"}, b.k)
	if got := verdictOf(a, "A"); got != "fits stated 880" {
		t.Errorf("got %q: the outcome was made behind the break", got)
	}
	b.k.Outcomes[0].Facts.Serial = 120000
	if got := verdictOf(Ask(Question{Facts: van(), Type: care, Shop: "main"}, b.k), "A"); got != "fits proven 880" {
		t.Errorf("got %q, want proven", got)
	}
}
