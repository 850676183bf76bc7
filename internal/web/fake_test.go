package web

import (
	"context"
	"math"
	"sync"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// fake answers what it was given and keeps what it was asked.
type fake struct {
	result app.FitResult
	around app.AroundResult
	found  app.FindAnswer
	lists  []app.List
	err    error
	asked  app.FitRequest
	words  string
	calls  int
	mu     sync.Mutex // a browser asks from another goroutine
}

func (f *fake) Fit(_ context.Context, r app.FitRequest) (app.FitResult, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.asked = r
	f.calls++
	return f.result, f.err
}

func (f *fake) Around(_ context.Context, r app.FitRequest) (app.AroundResult, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.asked = r
	f.calls++
	return f.around, f.err
}

func (f *fake) Find(_ context.Context, words string, _ int) (app.FindAnswer, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.words = words
	f.calls++
	return f.found, f.err
}

// last gives the last question and how many there were.
func (f *fake) last() (app.FitRequest, int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.asked, f.calls
}

func (f *fake) Lists(context.Context) ([]app.List, error) { return f.lists, f.err }

// partTypes are invented types, as many as a small shop has.
func partTypes() []part.Type {
	types := []part.Type{alternator()}
	for _, name := range []string{"battery", "belt", "brake caliper", "fuel pump", "radiator", "starter", "thermostat", "water pump", "wheel bearing"} {
		types = append(types, part.Type{Name: name, SplitBy: []string{"option:abs", "option:cold"}})
	}
	return types
}

func alternator() part.Type {
	return part.Type{Name: "alternator", Words: []string{"generator"}, RidesOn: part.OnEngine,
		SplitBy: []string{"engine", "option:ac", "transmission", "built"}, GoesWith: []string{"belt", "washer of the main cable"},
		Cautions: []part.Caution{{Text: "Disconnect the battery before the main cable comes off: it is always live"},
			{Text: "Photograph the belt run before the belt comes off"}},
		Attributes: []part.Attribute{{Name: "ribs", Title: "pulley ribs"}, {Name: "vacuum_pump", Title: "vacuum pump"}, {Name: "amps", Title: "rated output", Unit: "A"}}}
}

var (
	ownList   = statement.Source{ID: "own", List: "alternators", Standing: statement.OwnList}
	makerBook = statement.Source{ID: "book", List: "maker", Name: "parts book 1996", Standing: statement.MakersBook}
	rebuilder = statement.Source{ID: "reb", List: "rebuilder", Standing: statement.RebuildersList}
)

func fitment(src statement.Source, id string, row int, r float64, text string) fit.Step {
	return fit.Step{Source: src, Reliability: r, Statement: statement.Statement{ID: id, Kind: statement.KindFitment, Source: src.ID,
		Place: statement.Place{File: src.List + ".xlsx", Sheet: "Sheet1", Row: row, Cell: "C6", Text: text}}}
}

func link(src statement.Source, id string, row int, r float64, l statement.Link) fit.Step {
	s := fitment(src, id, row, r, l.PrintedA+"\t"+l.PrintedB)
	s.Statement.Kind, s.Statement.Link, s.Direction = statement.KindLink, l, fit.Forward
	return s
}

func trailOf(counted bool, steps ...fit.Step) fit.Trail {
	product := 1.0
	for _, s := range steps {
		product *= 2*s.Reliability - 1
	}
	return fit.Trail{Steps: steps, Reliability: 0.5 + 0.5*product, Counted: counted}
}

func candidateOf(v fit.Verdict, reason string, numbers []fit.Number, trails ...fit.Trail) fit.Candidate {
	sum := 0.0
	for _, t := range trails {
		if t.Counted {
			sum += logOdds(t.Reliability)
		}
	}
	return fit.Candidate{Numbers: numbers, Verdict: v, Basis: fit.Stated, Reason: reason, Quantity: 1, Trails: trails,
		Confidence: int(1000/(1+math.Exp(-sum)) + 1e-6)}
}

// allVerdicts is an answer with one candidate of each verdict.
func allVerdicts() app.FitResult {
	whole := candidateOf(fit.Fits, "your list says so, not tried here",
		[]fit.Number{{Maker: "Toriyama", Number: "98760-50090", Role: statement.VehicleMaker}, {Maker: "Denkai", Number: "DA 100-471", Role: statement.UnitMaker}, {Number: "ALT-044", Role: statement.Own}},
		trailOf(true, fitment(ownList, "s1", 6, 0.88, "98760-50090\tZQX30\tXQ20D\t9505-\tA-03-2\t2")),
		trailOf(true, fitment(makerBook, "s2", 118, 0.92, "98760-50090\tE-ZQX30\tXQ20D")),
		trailOf(false, fitment(ownList, "s1", 6, 0.88, "98760-50090\tZQX30"), link(ownList, "s3", 7, 0.88, statement.Link{Relation: statement.Same, PrintedA: "98760-50090", PrintedB: "DA 100-471"})))
	whole.Name, whole.Notes = "Alternator 12 V 80 A, internal regulator", []string{"the list speaks of RHD; nothing differs on it"}
	changed := candidateOf(fit.FitsWithChange, "a rebuilder’s list says so for 98760-50090, and this goes in its place",
		[]fit.Number{{Maker: "Denkai", Number: "DA 100-478/B", Role: statement.UnitMaker}},
		trailOf(true, fitment(ownList, "s1", 6, 0.88, "98760-50090\tZQX30"), link(rebuilder, "s4", 31, 0.75, statement.Link{Relation: statement.StandsIn, PrintedA: "98760-50090", PrintedB: "DA 100-478/B"})))
	changed.Name, changed.Changes = "Alternator 12 V 90 A, solid pulley", []statement.Change{{Task: "Move the pulley over from the old unit", Minutes: 20, Pieces: []string{"N-22 nut"}}}
	check := candidateOf(fit.CheckFirst, "same engine in another vehicle: Toriyama Heron ZQX40", []fit.Number{{Maker: "Denkai", Number: "DA 100-512", Role: statement.UnitMaker}},
		trailOf(true, fitment(ownList, "s5", 9, 0.88, "DA 100-512\tZQX40\tXQ20D")))
	check.DependsOn = []vehicle.Fact{"transmission", "option:ac"}
	check.GoesInWhen = map[vehicle.Fact][]string{"transmission": {"AT", "CVT"}, "option:ac": {"yes"}}
	check.Against = []string{"parts book 1996 says 70 A, your list says 80 A (alternators.xlsx, row 9)"}
	ruled := candidateOf(fit.RuledOut, "bolts on, but never: no vacuum pump, the brakes lose their assistance", []fit.Number{{Maker: "Denkai", Number: "DA 100-399", Role: statement.UnitMaker}},
		trailOf(true, fitment(ownList, "s6", 10, 0.88, "DA 100-399\tZQX30")))
	ruled.RuledOut = &fit.Ruling{Kind: fit.WorksWrong, Attribute: "vacuum_pump", Wanted: "yes", Found: "no", Effect: "the brakes lose their assistance",
		By: []fit.Step{{Source: ownList, Reliability: 0.88, Statement: statement.Statement{Kind: statement.KindValue, Value: statement.Value{Attribute: "vacuum pump", Value: part.Value{Words: []string{"no"}}},
			Place: statement.Place{File: "alternators.xlsx", Sheet: "Sheet1", Row: 10, Cell: "F10", Text: "DA 100-399\tno pump"}}}}}
	blank := candidateOf(fit.NotKnown, "nothing in the book speaks for it", []fit.Number{{Maker: "Okabe", Number: "OK-7", Role: statement.Other}})
	facts := vehicle.NewFacts()
	facts.Frame = vehicle.Frame{Raw: "ZQX30-0123456", ModelCode: "ZQX30", Serial: "0123456", SerialNumber: 123456, Width: 7}
	facts.Serial, facts.Built, facts.BuiltHow = 123456, vehicle.Interval{From: vehicle.MonthOf(1997, 5), To: vehicle.MonthOf(1997, 5)}, vehicle.Plate
	facts.Set(vehicle.FactModelCode, "ZQX30", vehicle.Stamped)
	facts.Set(vehicle.FactEngine, "XQ20D", vehicle.Stamped)
	facts.Set(vehicle.OptionFact("cold"), "yes", vehicle.Seen)
	return app.FitResult{
		Answer: fit.Answer{Revision: 12, Facts: facts, Type: alternator(), Unknown: []vehicle.Fact{"option:ac", "transmission", "drive"},
			Notes:      []string{"1,544 before a change at 0125000: read the last four again"},
			Candidates: []fit.Candidate{whole, changed, check, ruled, blank}, LeftOut: 2, Cautions: alternator().Cautions,
			Looks: []fit.Look{
				{Attribute: "transmission", Where: "pedals, selector, plate", Effort: 1, TellsApart: []fit.Result{{Value: "AT", Candidates: []int{0, 1, 2}}, {Value: "CVT", Candidates: []int{0, 1, 2}}, {Value: "MT", Candidates: []int{0, 1}}}},
				{Attribute: "ribs", Where: "count the ribs of the belt", Effort: 2, TellsApart: []fit.Result{{Value: "5", Candidates: []int{0}}, {Value: "6", Candidates: []int{1, 2}}}}}},
		Warnings: []string{"seven digits behind the hyphen: read the plate once more"},
		Stock: [][]shelf.Line{
			{{Bin: "A-03-2", Condition: shelf.UsedTested, OnHand: 3, Held: 1, Seen: "2026-11-02"}, {Bin: "C-01", Condition: shelf.Core, OnHand: 1}},
			{{Bin: "B-11", Condition: shelf.New, OnHand: 1, Seen: "2026-10-19"}}, nil, {{Bin: "B-12", Condition: shelf.NotSaid, OnHand: 1}}, nil},
	}
}
