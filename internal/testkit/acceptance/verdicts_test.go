package acceptance

import (
	"fmt"
	"testing"

	"crossbin/data"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// The standard trails of data/verdicts must each get the verdict that stands
// beside them: the table is plain text that a person of the trade extends.
func TestVerdictTable(t *testing.T) {
	cases, err := data.Verdicts()
	if err != nil {
		t.Fatal(err)
	}
	standings, err := data.Standings()
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) < 10 {
		t.Fatalf("only %d rows in the table", len(cases))
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			k := fit.Knowledge{Standings: standings, Sources: map[string]statement.Source{}}
			for i, trail := range c.Trails {
				addTrail(&k, i, trail)
			}
			f := vehicle.NewFacts()
			f.Set(vehicle.FactModelCode, "KV31", vehicle.Stamped)
			a := fit.Ask(fit.Question{Facts: f, Type: part.Type{Name: "alternator", HighCare: c.HighCare}, Shop: "main", Part: part.Ref{Key: "END"}}, k)
			got := a.Candidates[0]
			if string(got.Verdict) != c.Verdict || c.Confidence >= 0 && got.Confidence != c.Confidence {
				t.Errorf("row %d: got %s %d, want %s %d", c.Line, got.Verdict, got.Confidence, c.Verdict, c.Confidence)
			}
		})
	}
}

// addTrail makes a trail of as many statements as it has steps: a fitment, then
// links to parts of its own, the last of which is the part that is asked for.
func addTrail(k *fit.Knowledge, n int, trail []data.VerdictStep) {
	number := func(step int) part.Ref {
		if step == len(trail)-1 {
			return part.Ref{Key: "END"}
		}
		return part.Ref{Key: fmt.Sprintf("T%dS%d", n, step)}
	}
	for i, step := range trail {
		src := statement.Source{ID: fmt.Sprintf("%s|%s|%s|%d", step.Standing, step.Manner, step.Source, n), Shop: "main", Standing: step.Standing, Manner: step.Manner}
		if step.Source != "" {
			src.ID = step.Source
		}
		k.Sources[src.ID] = src
		s := statement.Statement{ID: fmt.Sprintf("t%ds%d", n, i), Source: src.ID, A: number(0),
			Place: statement.Place{File: fmt.Sprint(n), Row: i + 1}}
		if i == 0 {
			s.Kind, s.Scope = statement.KindFitment, vehicle.NewScope()
			s.Scope.Want(vehicle.FactModelCode, "KV31")
			k.Fitments = append(k.Fitments, s)
			continue
		}
		s.Kind, s.A = statement.KindLink, number(i-1)
		s.Link = statement.Link{Relation: statement.Same, B: number(i)}
		k.Links = append(k.Links, s)
	}
}
