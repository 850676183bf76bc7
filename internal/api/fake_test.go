package api

import (
	"context"
	"math"

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

	disputes   app.DisputesAnswer
	specimen   app.IdentifyRequest
	identified app.IdentifyResult
	lists      []app.List
	imports    []app.Batch
	err        error
	asked      app.FitRequest
	words      string
	limit      int
}

func (f *fake) Fit(_ context.Context, r app.FitRequest) (app.FitResult, error) {
	f.asked = r
	return f.result, f.err
}

func (f *fake) Around(_ context.Context, r app.FitRequest) (app.AroundResult, error) {
	f.asked = r
	return f.around, f.err
}

func (f *fake) Identify(_ context.Context, r app.IdentifyRequest) (app.IdentifyResult, error) {
	f.specimen = r
	return f.identified, f.err
}

func (f *fake) Disputes(context.Context, string, int) (app.DisputesAnswer, error) {
	return f.disputes, f.err
}

func (f *fake) Find(_ context.Context, words string, limit int) (app.FindAnswer, error) {
	f.words, f.limit = words, limit
	return f.found, f.err
}

func (f *fake) Lists(context.Context) ([]app.List, error)    { return f.lists, f.err }
func (f *fake) Imports(context.Context) ([]app.Batch, error) { return f.imports, f.err }

// alternator is an invented part type with one of everything.
func alternator() part.Type {
	return part.Type{Name: "alternator", Words: []string{"alternator", "generator"}, RidesOn: part.OnEngine,
		SplitBy: []string{"engine", "option:ac"}, GoesWith: []string{"belt"},
		Cautions: []part.Caution{{Text: "disconnect the battery first", Source: "common practice, no source"}},
		Attributes: []part.Attribute{{Name: "ribs", Title: "ribs", Kind: part.KindNumber, Unit: "count", RidesOn: part.OnEngine,
			OnVehicle: part.Sight{How: "count the ribs of the belt", Effort: 1}, Compare: part.Equal}}}
}

func source(name string, st statement.Standing) statement.Source {
	return statement.Source{ID: "src-" + name, List: name, Standing: st}
}

// stepOf makes one step in a row of a sheet.
func stepOf(id string, kind statement.Kind, src statement.Source, row int, r float64) fit.Step {
	return fit.Step{Source: src, Direction: fit.Forward, Reliability: r, Statement: statement.Statement{ID: id, Kind: kind,
		Source: src.ID, Place: statement.Place{File: src.List + ".xlsx", Sheet: "Sheet1", Row: row, Cell: "C6", Text: "a\tb"}}}
}

// trailOf makes a trail with the reliability that its rows give; every step
// stands in a row of its own.
func trailOf(counted bool, steps ...fit.Step) fit.Trail {
	product := 1.0
	for _, s := range steps {
		product *= 2*s.Reliability - 1
	}
	return fit.Trail{Steps: steps, Reliability: 0.5 + 0.5*product, Counted: counted, Basis: fit.Stated}
}

func candidateOf(n string, v fit.Verdict, b fit.Basis, reason string, trails ...fit.Trail) fit.Candidate {
	sum := 0.0
	for _, t := range trails {
		if t.Counted {
			sum += math.Log(t.Reliability / (1 - t.Reliability))
		}
	}
	c := fit.Candidate{Numbers: []fit.Number{{Maker: "Toriyama", Number: n, Role: statement.UnitMaker, Basis: b, Confidence: 880}}, Verdict: v, Basis: b,
		Reason: reason, Quantity: 1, Trails: trails}
	if len(trails) > 0 {
		c.Confidence = int(1000/(1+math.Exp(-sum)) + 1e-6)
	}
	return c
}

// allVerdicts is an answer with one candidate of each verdict.
func allVerdicts() app.FitResult {
	own, maker := source("stock", statement.OwnList), source("book", statement.MakersBook)
	row := func(id string, n int) fit.Step { return stepOf(id, statement.KindFitment, own, n, 0.88) }
	changed := candidateOf("TA-200/B", fit.FitsWithChange, fit.ByNumber, "move the pulley over", trailOf(true, row("s3", 7), stepOf("s4", statement.KindLink, own, 8, 0.88)))
	changed.Changes = []statement.Change{{Task: "move the pulley over", Minutes: 20, Pieces: []string{"N-22"}}}
	check := candidateOf("TA-300", fit.CheckFirst, fit.ByKin, "same engine in another vehicle", trailOf(true, row("s5", 9)))
	check.DependsOn, check.GoesInWhen = []vehicle.Fact{"option:ac"}, map[vehicle.Fact][]string{"option:ac": {"no"}}
	ruled := candidateOf("TA-400", fit.RuledOut, fit.Stated, "bolts on, but never: no vacuum pump", trailOf(true, row("s6", 10)))
	ruled.RuledOut = &fit.Ruling{Kind: fit.WorksWrong, Attribute: "vacuum_pump", Wanted: "yes", Found: "no",
		Effect: "the brakes lose their assistance", By: []fit.Step{stepOf("s7", statement.KindValue, own, 11, 0.88)}}
	facts := vehicle.NewFacts()
	facts.Frame = vehicle.Frame{Raw: "ZQX30-0123456", ModelCode: "ZQX30", Serial: "0123456", SerialNumber: 123456, Width: 7}
	facts.Serial, facts.Built, facts.BuiltHow = 123456, vehicle.WholeYear(1997), vehicle.Plate
	facts.Set(vehicle.FactModelCode, "ZQX30", vehicle.Stamped)
	facts.Set(vehicle.FactEngine, "XQ20D", vehicle.Stamped)
	facts.Set(vehicle.OptionFact("cold"), "yes", vehicle.Seen)
	return app.FitResult{
		Answer: fit.Answer{Revision: 12, Facts: facts, Type: alternator(), Unknown: []vehicle.Fact{"option:ac"},
			Notes: []string{"1,544 before a change at 0125000: read the last four again"},
			Candidates: []fit.Candidate{
				candidateOf("TA-100", fit.Fits, fit.Stated, "your list says so, not tried here", trailOf(true, row("s1", 6)), trailOf(true, stepOf("s2", statement.KindFitment, maker, 3, 0.92))),
				changed, check, ruled, candidateOf("TA-500", fit.NotKnown, "", "nothing speaks for it")},
			Reference: []fit.ReferenceValue{{Attribute: "ribs", Value: "5", From: "seen on the vehicle"}},
			LeftOut:   2, Cautions: alternator().Cautions,
			Looks: []fit.Look{{Attribute: "ribs", Where: "count them", Effort: 1, TellsApart: []fit.Result{{Value: "5", Candidates: []int{0}}, {Value: "6", Candidates: nil}}}}},
		Warnings: []string{"the frame number is not of the usual shape"},
		Stock:    [][]shelf.Line{{{Bin: "A-03-2", Condition: shelf.UsedTested, OnHand: 3, Held: 1, Seen: "2026-11-02"}}, nil, nil, nil, nil},
	}
}
