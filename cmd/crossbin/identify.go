package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"crossbin/internal/api"
	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
)

type identifyCommand struct {
	Number  string   `help:"The number as far as it can be read: ? is one unreadable character, * any run of them." placeholder:"NUMBER"`
	Maker   string   `help:"Maker on the part."`
	Type    string   `help:"Part type: alternator, radiator ..."`
	Label   []string `help:"A line of the label as it is; give it once a line." placeholder:"LINE" sep:"none"`
	Measure []string `sep:"none" help:"Measured on the part: ribs=5, amps=75A." placeholder:"NAME=VALUE"`
	Frame   string   `help:"Frame number of the vehicle that it came off." placeholder:"NUMBER"`
	Engine  string   `help:"Engine of the vehicle that it came off." placeholder:"CODE"`
}

// Run ranks what the part may be; nothing that explains it is exit code 1.
func (c *identifyCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	req := app.IdentifyRequest{Number: c.Number, Maker: c.Maker, Type: c.Type, Label: c.Label,
		Vehicle: app.FitRequest{Frame: c.Frame, Engine: c.Engine}}
	for _, text := range c.Measure {
		m, err := app.ReadObserved(text)
		if err != nil {
			return err
		}
		req.Measured = append(req.Measured, m)
	}
	r, err := o.Identify(ctx, req)
	if err != nil {
		return err
	}
	if len(r.Suspects) == 0 {
		p.exit = exitNothing
	}
	if p.flags.JSON {
		return p.printJSON(api.IdentifyJSON(r))
	}
	p.printIdentify(r)
	return nil
}

func (p *program) printIdentify(r app.IdentifyResult) {
	for _, l := range r.Lines {
		fmt.Fprintf(p.stdout, "  %q: %s", l.Raw, l.Kind)
		if l.Text != "" && l.Text != l.Raw {
			fmt.Fprintf(p.stdout, " %s", l.Text)
		}
		if l.Doubt != "" {
			fmt.Fprintf(p.stdout, " (%s)", l.Doubt)
		}
		fmt.Fprintln(p.stdout)
	}
	if len(r.Suspects) == 0 {
		fmt.Fprintln(p.stdout, "nothing in the book explains what was read")
	}
	for i, s := range r.Suspects {
		p.printSuspect(i+1, s, r)
	}
	if r.LeftOut > 0 {
		fmt.Fprintf(p.stdout, "\nand %d more that explain it less well\n", r.LeftOut)
	}
	for _, s := range r.Suggestions {
		fmt.Fprintf(p.stdout, "\nmay also be meant: %s, if a zero was lost or left out\n", s)
	}
}

func (p *program) printSuspect(n int, s fit.Suspect, r app.IdentifyResult) {
	how := "a reading that is close, never a certain one"
	switch {
	case s.Exact:
		how = "every character agrees"
	case len(s.Marks) == 0:
		how = "by what was measured"
	}
	fmt.Fprintf(p.stdout, "\n%2d  %s  %s  (%s; %.0f of 100 among these)\n", n, numbersOf(s.Numbers), s.Name, how, 100*s.Share)
	if len(s.Marks) > 0 && !s.Exact {
		fmt.Fprintf(p.stdout, "    read  %s\n    book  %s\n    %s\n", readLine(s.Marks), bookLine(s.Marks), markWords(s.Marks))
	}
	for _, c := range s.Agrees {
		fmt.Fprintf(p.stdout, "    agrees: %s %s\n", c.Attribute, c.Known)
	}
	for _, c := range s.Differs {
		fmt.Fprintf(p.stdout, "    differs: %s measured %s, the book says %s\n", c.Attribute, c.Measured, c.Known)
	}
	if len(s.Unknown) > 0 {
		fmt.Fprintf(p.stdout, "    not known of it: %s\n", strings.Join(s.Unknown, ", "))
	}
	fmt.Fprintf(p.stdout, "    %s\n", shelfWords(r.Stock[s.Ref]))
}

// readLine and bookLine stand above one another, a place a column.
func readLine(marks []part.Mark) string {
	return column(marks, func(m part.Mark) string { return m.Read })
}

func bookLine(marks []part.Mark) string {
	return column(marks, func(m part.Mark) string { return m.Key })
}

func column(marks []part.Mark, text func(part.Mark) string) string {
	var b strings.Builder
	for _, m := range marks {
		width := max(len([]rune(m.Read)), len([]rune(m.Key)), 1)
		fmt.Fprintf(&b, "%-*s", width, text(m))
	}
	return b.String()
}

func markWords(marks []part.Mark) string {
	var words []string
	for i, m := range marks {
		if m.Kind != part.MarkAgrees {
			words = append(words, fmt.Sprintf("place %d %s", i+1, m.Kind))
		}
	}
	return strings.Join(words, ", ")
}
