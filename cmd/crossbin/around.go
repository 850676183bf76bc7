package main

import (
	"context"
	"fmt"

	"crossbin/internal/api"
	"crossbin/internal/app"
	"crossbin/internal/fit"
)

// around answers a question about a part without a vehicle: both directions,
// and where it goes.
func (p *program) around(ctx context.Context, s *app.Service, req app.FitRequest) error {
	r, err := s.Around(ctx, req)
	if err != nil {
		return err
	}
	if p.flags.JSON {
		return p.printJSON(api.AroundJSON(r))
	}
	fmt.Fprintf(p.stdout, "%s %s\n", numbersOf(r.Part.Numbers), r.Part.Name)
	fmt.Fprintf(p.stdout, "  %s\n", shelfWords(r.Stock[r.Part.Ref.Key]))
	for _, a := range r.Against {
		fmt.Fprintf(p.stdout, "  against: %s\n", a)
	}
	p.printRelatives("what can replace it", r, r.Forward)
	p.printRelatives("what it can replace", r, r.Backward)
	fmt.Fprintln(p.stdout, "\nvehicles that it goes into:")
	if len(r.Vehicles) == 0 {
		fmt.Fprintln(p.stdout, "  none known")
	}
	for _, v := range r.Vehicles {
		fmt.Fprintf(p.stdout, "  %s: %s", verdictWords[v.Verdict], api.ScopeWords(v.Scope))
		if v.Number != r.Part.Numbers[0].Number {
			fmt.Fprintf(p.stdout, " (by %s)", v.Number)
		}
		fmt.Fprintf(p.stdout, "  %d.%03d\n", v.Confidence/1000, v.Confidence%1000)
	}
	return nil
}

func (p *program) printRelatives(title string, r app.AroundResult, relatives []fit.Relative) {
	fmt.Fprintf(p.stdout, "\n%s:\n", title)
	if len(relatives) == 0 {
		fmt.Fprintln(p.stdout, "  nothing known")
	}
	for _, o := range relatives {
		line := verdictWords[o.Verdict] + ": " + o.Reason
		if o.RuledOut != nil && o.RuledOut.Kind == fit.WorksWrong {
			line = o.Reason
		}
		fmt.Fprintf(p.stdout, "  %s %s\n    %s\n    %s\n", numbersOf(o.Numbers), o.Name, line, shelfWords(r.Stock[o.Ref.Key]))
	}
}
