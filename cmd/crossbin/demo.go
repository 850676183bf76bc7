package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/alecthomas/kong"

	"crossbin/data"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
)

type demoCommand struct {
	Once   bool   `help:"Answer the questions and stop."`
	Listen string `help:"Address to serve the demo book on." default:"127.0.0.1:8531"`
}

// Run makes the demo book, answers its questions in full and serves it.
func (c *demoCommand) Run(ctx context.Context, p *program) (err error) {
	temporary := p.flags.Book == ""
	if temporary {
		if p.flags.Book, err = os.MkdirTemp("", "crossbin-demo-"); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, os.RemoveAll(p.flags.Book)) }()
	}
	files, questions, err := data.Demo()
	if err != nil {
		return err
	}
	o, err := p.openBook(ctx, toOwn)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	if err := c.fill(ctx, p, o, files); err != nil {
		return err
	}
	for i, q := range questions {
		if err := c.answer(ctx, p, o, i+1, q); err != nil {
			return err
		}
	}
	p.exit = exitAnswered
	if c.Once {
		return nil
	}
	fmt.Fprintf(p.stdout, "\nThe demo book stands in %s%s.\n", p.flags.Book, map[bool]string{true: " until you end this program"}[temporary])
	return p.serve(ctx, o, c.Listen)
}

// fill brings the demo's workbooks in. A folder that holds anything else is
// left alone.
func (c *demoCommand) fill(ctx context.Context, p *program, o *opened, files []data.DemoFile) error {
	lists, err := o.Lists(ctx)
	if err != nil {
		return err
	}
	for _, l := range lists {
		if !slices.ContainsFunc(files, func(f data.DemoFile) bool { return f.As == l.Name }) {
			return &app.Error{Code: app.CodeConflict, Message: fmt.Sprintf("the book in %s holds the list %q and is no demo book", p.flags.Book, l.Name),
				Hint: "name an empty folder with --book"}
		}
	}
	fmt.Fprintln(p.stdout, "An island workshop keeps imported vans, light trucks and 4x4s running. Its sheets are brought in:")
	for _, f := range files {
		opened, err := sheet.OpenReader(f.Name, bytes.NewReader(f.Bytes), int64(len(f.Bytes)), sheet.DefaultLimits())
		if err != nil {
			return unreadable(err)
		}
		rep, err := importFile(ctx, o.Service, opened, app.ImportRequest{File: f.Name, Hash: opened.Hash, As: f.As, Standing: f.Standing, By: actor()})
		if err := errors.Join(err, opened.Close()); err != nil {
			return unreadable(err)
		}
		fmt.Fprintf(p.stdout, "  %-22s %3d rows: %d taken, %d flagged, %d refused, %d skipped; %d statements, %d stock postings\n",
			f.Name, rep.Read, rep.Taken, rep.Flagged, rep.Refused, rep.Skipped, rep.Added+rep.Kept+rep.Moved, rep.Postings)
	}
	return nil
}

// answer asks one question as the command line would.
func (c *demoCommand) answer(ctx context.Context, p *program, o *opened, n int, q data.DemoQuestion) error {
	fmt.Fprintf(p.stdout, "\n%s\n%d. %s. %s\n", rule, n, q.Title, q.Situation)
	fmt.Fprintf(p.stdout, "   crossbin fit %s\n\n", shellWords(q.Args))
	var ask fitCommand
	parser, err := kong.New(&ask, kong.Name("fit"), kong.Exit(func(int) {}))
	if err != nil {
		return err
	}
	if _, err := parser.Parse(q.Args); err != nil {
		return err
	}
	return ask.ask(ctx, p, o.Service)
}

const rule = "--------------------------------------------------------------------------------"

func shellWords(args []string) string {
	var b bytes.Buffer
	for i, a := range args {
		if i > 0 {
			b.WriteByte(' ')
		}
		if filepath.Base(a) != a || bytes.ContainsAny([]byte(a), " \"'") {
			fmt.Fprintf(&b, "%q", a)
			continue
		}
		b.WriteString(a)
	}
	return b.String()
}
