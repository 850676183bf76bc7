package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"crossbin/internal/api"
)

// disputes lists what contradicts what in the book: "find dispute:" for all,
// "find dispute: starter" for one part type. It reads the book alone.
func (c *findCommand) disputes(ctx context.Context, p *program, partType string) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	found, err := o.Disputes(ctx, partType, c.Limit)
	if err != nil {
		return err
	}
	if found.Count == 0 {
		p.exit = exitNothing
	}
	if p.flags.JSON {
		return p.printJSON(api.DisputesJSON(found))
	}
	if found.Count == 0 {
		fmt.Fprintln(p.stdout, "nothing in the book contradicts itself")
	}
	for _, d := range found.Disputes {
		fmt.Fprintf(p.stdout, "%s %s", d.Type, strings.Join(d.Numbers, ", "))
		if d.Attribute != "" {
			fmt.Fprintf(p.stdout, ": %s", d.Attribute)
		}
		fmt.Fprintln(p.stdout)
		for _, side := range d.Sides {
			fmt.Fprintf(p.stdout, "  %s\n", side.Says)
			for _, s := range side.Steps {
				pl := s.Statement.Place
				fmt.Fprintf(p.stdout, "    - %s, %s %s %s (%s, %.2f)\n", s.Source.Title(), pl.File, pl.Sheet, pl.Cell, s.Source.Standing, s.Reliability)
			}
		}
	}
	if more := found.Count - len(found.Disputes); more > 0 {
		fmt.Fprintf(p.stdout, "and %d more\n", more)
	}
	return nil
}
