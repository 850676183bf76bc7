package main

import (
	"fmt"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/shelf"
	"crossbin/internal/vehicle"
)

// verdictWords is how a verdict reads in front of its reason.
var verdictWords = map[fit.Verdict]string{
	fit.Fits: "fits", fit.FitsWithChange: "fits with a change", fit.CheckFirst: "check first",
	fit.RuledOut: "does not go", fit.NotKnown: "not known",
}

// verdictLine puts verdict and reason in one line. What bolts on and works
// wrongly speaks for itself.
func verdictLine(c fit.Candidate) string {
	if c.RuledOut != nil && c.RuledOut.Kind == fit.WorksWrong {
		return c.Reason
	}
	return verdictWords[c.Verdict] + ": " + c.Reason
}

// printFit writes the answer for a person.
func (p *program) printFit(r app.FitResult) {
	fmt.Fprintf(p.stdout, "%s for %s\n", r.Type.Name, vehicleWords(r))
	for _, w := range r.Warnings {
		fmt.Fprintf(p.stdout, "  note: %s\n", w)
	}
	for _, n := range r.Notes {
		fmt.Fprintf(p.stdout, "  ! %s\n", n)
	}
	if r.None != nil {
		fmt.Fprintf(p.stdout, "\n  this vehicle has none: %s\n", r.None.Note)
		for _, t := range r.None.Trails {
			p.printTrail(t)
		}
	}
	for i, c := range r.Candidates {
		p.printCandidate(i+1, c, r.Stock[i])
	}
	if len(r.Candidates) == 0 && r.None == nil {
		if len(r.Notes) > 0 {
			fmt.Fprintf(p.stdout, "\n  not known: no part is listed; what is said above comes first\n")
		} else {
			fmt.Fprintf(p.stdout, "\n  not known: nothing in the book speaks of this vehicle and part\n")
		}
	}
	if r.LeftOut > 0 {
		fmt.Fprintf(p.stdout, "\n  and %d more\n", r.LeftOut)
	}
	p.printLooks(r)
	p.printCautions(r)
}

func vehicleWords(r app.FitResult) string {
	f := r.Facts
	var words []string
	if f.Frame.Raw != "" {
		words = append(words, f.Frame.Raw)
	} else if f.VIN != "" {
		words = append(words, f.VIN)
	}
	for _, fact := range []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactModelCode, vehicle.FactEngine, vehicle.FactTransmission,
		vehicle.FactDrive, vehicle.FactSide} {
		k, ok := f.Text[fact]
		switch {
		case !ok, fact == vehicle.FactModelCode && f.Frame.Raw != "":
		case fact == vehicle.FactEngine:
			words = append(words, fmt.Sprintf("engine %s (%s)", k.Value, k.How))
		default:
			words = append(words, k.Value)
		}
	}
	if _, known := f.Get(vehicle.FactEngine); !known && len(f.Families) > 0 {
		words = append(words, "engine family "+strings.Join(f.Families, ", "))
	}
	if f.Built.Known() {
		words = append(words, "built "+f.Built.String())
	}
	for _, o := range r.Request.With {
		words = append(words, "with "+o)
	}
	for _, o := range r.Request.Without {
		words = append(words, "without "+o)
	}
	return strings.Join(words, ", ")
}

func (p *program) printCandidate(n int, c fit.Candidate, lines []shelf.Line) {
	fmt.Fprintf(p.stdout, "\n%2d  %s", n, numberWords(c))
	if c.Name != "" {
		fmt.Fprintf(p.stdout, "  %s", c.Name)
	}
	if c.Quantity > 1 || c.Position != "" {
		fmt.Fprintf(p.stdout, "  (%d needed %s)", c.Quantity, c.Position)
	}
	fmt.Fprintf(p.stdout, "\n    %s\n", verdictLine(c))
	fmt.Fprintf(p.stdout, "    %s\n", shelfWords(lines))
	for _, a := range c.Against {
		fmt.Fprintf(p.stdout, "    against: %s\n", a)
	}
	for _, note := range c.Notes {
		fmt.Fprintf(p.stdout, "    note: %s\n", note)
	}
	if c.Confidence > 0 && c.Verdict != fit.RuledOut {
		fmt.Fprintf(p.stdout, "    why, %s:\n", confidenceWords(c.Confidence))
	}
	for _, t := range c.Trails {
		if t.Counted || len(c.Trails) == 1 {
			p.printTrail(t)
		}
	}
}

// confidenceWords says the figure in words. Nothing is learned from outcomes
// yet, so the words name what the figure rests on.
func confidenceWords(thousandths int) string {
	return fmt.Sprintf("by the start weights right about %d times in 100 (%d.%03d)", thousandths/10, thousandths/1000, thousandths%1000)
}

func numberWords(c fit.Candidate) string { return numbersOf(c.Numbers) }

func numbersOf(numbers []fit.Number) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = n.Number
		if n.Maker != "" {
			words[i] += " (" + n.Maker + ")"
		}
	}
	return strings.Join(words, " = ")
}

func shelfWords(lines []shelf.Line) string {
	if len(lines) == 0 {
		return "on the shelf: none known"
	}
	words := make([]string, len(lines))
	for i, l := range lines {
		bin := l.Bin
		if bin == "" {
			bin = "bin not said"
		}
		words[i] = fmt.Sprintf("%s, %d free of %d (%s)", bin, l.Free(), l.OnHand, l.Condition)
	}
	return "on the shelf: " + strings.Join(words, "; ")
}

func (p *program) printTrail(t fit.Trail) {
	for i, s := range t.Steps {
		lead := "     - "
		if i > 0 {
			lead = "       then "
		}
		pl := s.Statement.Place
		where := pl.File
		if pl.Sheet != "" {
			where += ", sheet " + pl.Sheet
		}
		fmt.Fprintf(p.stdout, "%s%s, %s %s (%s, %.2f)\n", lead, s.Source.Title(), where, pl.Cell, s.Source.Standing, s.Reliability)
	}
}

func (p *program) printLooks(r app.FitResult) {
	if len(r.Looks) == 0 {
		return
	}
	fmt.Fprintln(p.stdout, "\nlook next, the best first:")
	for _, l := range r.Looks {
		fmt.Fprintf(p.stdout, "  %s: %s (effort %d of 5)", l.Attribute, l.Where, l.Effort)
		for _, res := range l.TellsApart {
			fmt.Fprintf(p.stdout, "; %s leaves %s", res.Value, candidateWords(res.Candidates))
		}
		fmt.Fprintln(p.stdout)
	}
}

func candidateWords(positions []int) string {
	if len(positions) == 0 {
		return "none of these"
	}
	words := make([]string, len(positions))
	for i, n := range positions {
		words[i] = fmt.Sprint(n + 1)
	}
	return strings.Join(words, ", ")
}

func (p *program) printCautions(r app.FitResult) {
	if len(r.Cautions) == 0 {
		return
	}
	fmt.Fprintln(p.stdout, "\nbefore you start:")
	for _, c := range r.Cautions {
		fmt.Fprintf(p.stdout, "  - %s [%s]\n", c.Text, c.Source)
	}
}
