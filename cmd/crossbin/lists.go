package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jedib0t/go-pretty/v6/table"

	"crossbin/internal/api"
)

type listsCommand struct{}

// Run prints every list with its current version.
func (c *listsCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	lists, err := o.Lists(ctx)
	if err != nil {
		return err
	}
	if p.flags.JSON {
		return p.printJSON(api.ListsJSON(lists))
	}
	if len(lists) == 0 {
		fmt.Fprintln(p.stdout, "no list in this book yet; bring one in: crossbin import parts.xlsx")
		p.exit = exitNothing
		return nil
	}
	t := table.NewWriter()
	t.AppendHeader(table.Row{"list", "standing", "version", "rows", "read from", "read at", "batch"})
	for _, l := range lists {
		t.AppendRow(table.Row{l.Name, l.Standing, l.Version, l.Counts.Read, l.File, time.UnixMilli(l.ReadAt).Local().Format("2006-01-02 15:04"), l.Batch})
	}
	t.SetStyle(table.StyleLight)
	fmt.Fprintln(p.stdout, t.Render())
	return nil
}
