package web

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"crossbin/internal/fit"
	"crossbin/internal/statement"
)

// why is what stands behind an answer: the trails down to the cell, and the
// arithmetic to be redone by hand.
type why struct {
	Trails []trailView
	Ruling []stepView // what rules it out
	Sum    string     // how the confidence came about
}

// trailView is one chain of statements.
type trailView struct {
	Heading string
	Counted bool
	Steps   []stepView
	Worth   string // "1/2 + 1/2 × (2 × 0.880 − 1) = 0.880000"
	LogOdds string // "ln(0.880000 / 0.120000) = 1.992430"
}

// stepView is one statement: what it says, who says it, where it stands.
type stepView struct {
	Says, Source, Standing, Place, Reliability, Note string
	Cells                                            []string // the row as it was read
}

func newWhy(c fit.Candidate) why {
	w := why{Trails: trailViews(c.Trails)}
	if c.RuledOut != nil {
		w.Ruling = stepViews(c.RuledOut.By)
	}
	var parts []string
	sum := 0.0
	for _, t := range c.Trails {
		if t.Counted {
			sum += logOdds(t.Reliability)
			parts = append(parts, decimal(logOdds(t.Reliability)))
		}
	}
	if len(parts) > 1 {
		w.Sum = strings.Join(parts, " + ") + " = " + decimal(sum) + "; "
	}
	if len(parts) > 0 {
		w.Sum += fmt.Sprintf("1 / (1 + e^−%s) = %d.%03d, rounded down", decimal(sum), c.Confidence/1000, c.Confidence%1000)
	}
	return w
}

func trailViews(trails []fit.Trail) []trailView {
	var out []trailView
	counts := slices.ContainsFunc(trails, func(t fit.Trail) bool { return t.Counted })
	for _, t := range trails {
		out = append(out, trailView{Heading: trailHeading(t, counts), Counted: t.Counted, Steps: stepViews(t.Steps), Worth: worth(t),
			LogOdds: fmt.Sprintf("ln(%s / %s) = %s", decimal(t.Reliability), decimal(1-t.Reliability), decimal(logOdds(t.Reliability)))})
	}
	return out
}

// trailHeading says whether a trail adds to the confidence, and if not, why.
func trailHeading(t fit.Trail, somethingCounts bool) string {
	heading := "What is said"
	switch {
	case t.Counted:
		heading = "This counts"
	case somethingCounts:
		heading = "This does not count again: it shares a source"
	}
	if t.Starred {
		heading += "; it holds a link that only suggests"
	}
	return heading
}

// worth writes out a trail's reliability; a row counts once in it, however many
// of its statements it uses.
func worth(t fit.Trail) string {
	text, seen := "1/2 + 1/2", map[string]bool{}
	for _, s := range t.Steps {
		p := s.Statement.Place
		key := fmt.Sprintf("%s\x00%s\x00%s\x00%d", s.Source.List, p.File, p.Sheet, p.Row)
		if !seen[key] {
			seen[key] = true
			text += fmt.Sprintf(" × (2 × %.3f − 1)", s.Reliability)
		}
	}
	return text + " = " + decimal(t.Reliability)
}

func decimal(f float64) string { return fmt.Sprintf("%.6f", f) }

func logOdds(r float64) float64 { return math.Log(r / (1 - r)) }

func stepViews(steps []fit.Step) []stepView {
	var out []stepView
	for _, s := range steps {
		out = append(out, stepView{Says: says(s.Statement), Source: s.Source.Title(), Standing: string(s.Source.Standing),
			Place: placeWords(s.Statement.Place), Reliability: fmt.Sprintf("%.3f", s.Reliability), Note: s.Statement.Note,
			Cells: cells(s.Statement.Place.Text)})
	}
	return out
}

// placeWords leads to the cell: file, sheet, row, cell.
func placeWords(p statement.Place) string {
	parts := []string{p.File}
	if p.Sheet != "" {
		parts = append(parts, "sheet "+p.Sheet)
	}
	if p.Row > 0 {
		parts = append(parts, fmt.Sprintf("row %d", p.Row))
	}
	if p.Cell != "" {
		parts = append(parts, "cell "+p.Cell)
	}
	return strings.Join(parts, ", ")
}

func cells(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, "\t")
}

// says puts a statement into a sentence.
func says(s statement.Statement) string {
	switch s.Kind {
	case statement.KindFitment:
		return "goes into this vehicle"
	case statement.KindNone:
		return "this vehicle has none"
	case statement.KindLink:
		return linkWords(s.Link)
	case statement.KindValue:
		return s.Value.Attribute + " is " + s.Value.Value.String()
	case statement.KindEngine:
		return "engine " + s.Engine.Code + " belongs to " + s.Engine.Family
	}
	return "names this part"
}

func linkWords(l statement.Link) string {
	a, b := orElse(l.PrintedA, "the one"), orElse(l.PrintedB, "the other")
	switch l.Relation {
	case statement.Same:
		return a + " and " + b + " are one part"
	case statement.ReplacedBy:
		return a + " is replaced by " + b
	case statement.StandsIn:
		return b + " goes in the place of " + a
	}
	text := a + " and " + b + " only look alike"
	if l.Reason != "" {
		text += ": " + l.Reason
	}
	return text
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
