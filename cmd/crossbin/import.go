package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os/user"
	"path/filepath"
	"strings"

	"crossbin/data"
	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/sqlite"
	"crossbin/internal/statement"
)

type importCommand struct {
	Files      []string `arg:"" optional:"" name:"file" help:"Workbooks (xlsx) and csv files." type:"path"`
	As         string   `help:"Name of the list that the file is a version of; else the file name tells." placeholder:"LIST"`
	Standing   []string `help:"What kind of source the list is (own list, maker's book, rebuilder's list, other shop, hearsay ...), or NAME=STANDING for a name in its where-from column." placeholder:"STANDING"`
	CopiedFrom string   `help:"Name of the list that this one was copied from: the two then count as one voice." placeholder:"LIST"`
	DryRun     bool     `help:"Say what would change, and change nothing."`
	Strict     bool     `help:"Bring nothing in when a row is refused."`
	Undo       string   `help:"Take back the import with this batch id." placeholder:"BATCH"`
}

// importAnswer is the JSON of an import: sums over all files, then each file.
type importAnswer struct {
	Read    int                `json:"rows_read"`
	Taken   int                `json:"rows_taken"`
	Flagged int                `json:"rows_flagged"`
	Refused int                `json:"rows_refused"`
	Skipped int                `json:"rows_skipped"`
	Files   []app.ImportReport `json:"files"`
}

// Run brings the files in, one after the other.
func (c *importCommand) Run(ctx context.Context, p *program) (err error) {
	if err := c.check(); err != nil {
		return err
	}
	o, err := p.openBook(ctx, toWrite)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	if err := o.book.Sweep(ctx); err != nil {
		return err
	}
	if c.Undo != "" {
		return c.undo(ctx, p, o)
	}
	answer := importAnswer{Files: []app.ImportReport{}}
	for _, f := range c.Files {
		rep, failed := c.one(ctx, p, o, f)
		answer.add(rep)
		if failed != nil {
			return failed
		}
		if !p.flags.JSON {
			p.printImport(rep)
		}
	}
	if p.flags.JSON {
		if err := p.printJSON(answer); err != nil {
			return err
		}
	}
	return p.searchable(ctx, o)
}

func (c *importCommand) check() error {
	switch {
	case c.Undo == "" && len(c.Files) == 0:
		return &app.Error{Code: app.CodeInvalid, Message: "no file to bring in", Hint: "name one: crossbin import parts.xlsx"}
	case c.Undo != "" && len(c.Files) > 0:
		return &app.Error{Code: app.CodeInvalid, Message: "--undo takes back one import and brings no file in", Hint: "leave the file names away"}
	case c.As != "" && len(c.Files) > 1:
		return &app.Error{Code: app.CodeInvalid, Message: "--as names one list, but several files are given", Hint: "bring them in one by one"}
	}
	return nil
}

func (a *importAnswer) add(r app.ImportReport) {
	a.Read, a.Taken, a.Flagged = a.Read+r.Read, a.Taken+r.Taken, a.Flagged+r.Flagged
	a.Refused, a.Skipped = a.Refused+r.Refused, a.Skipped+r.Skipped
	a.Files = append(a.Files, r)
}

// one brings one file in.
func (c *importCommand) one(ctx context.Context, p *program, o *opened, path string) (app.ImportReport, error) {
	f, err := sheet.Open(path, sheet.DefaultLimits())
	if err != nil {
		return app.ImportReport{}, unreadable(err)
	}
	defer f.Close()
	req := app.ImportRequest{File: filepath.Base(path), Hash: f.Hash, As: c.As, CopiedFrom: c.CopiedFrom, DryRun: c.DryRun, Strict: c.Strict, By: actor()}
	if req.Standing, req.Standings, err = readStandings(c.Standing); err != nil {
		return app.ImportReport{}, err
	}
	progress := p.progress(req.File)
	req.Progress = progress.at
	defer progress.end()
	rep, err := importFile(ctx, o.Service, f, req)
	return rep, unreadable(err)
}

// importFile reads an opened file into the book.
func importFile(ctx context.Context, s *app.Service, f *sheet.File, req app.ImportRequest) (app.ImportReport, error) {
	words, err := data.Words()
	if err != nil {
		return app.ImportReport{}, err
	}
	list := cmp.Or(req.As, app.ListName(req.File))
	reading, err := importers.Read(ctx, f, importers.Options{Types: s.Types, Words: words, List: list, Shop: s.Book.Shop()})
	if err != nil {
		return app.ImportReport{}, err
	}
	return s.Import(ctx, req, reading)
}

// unreadable turns what is wrong with a file into the error that people see.
func unreadable(err error) error {
	var bad *sheet.UnreadableError
	if !errors.As(err, &bad) {
		return err
	}
	return &app.Error{Code: app.CodeUnreadable, Message: bad.Error(), Cause: err}
}

// readStandings reads --standing: one for the list, others as NAME=STANDING.
func readStandings(texts []string) (list statement.Standing, named map[string]statement.Standing, err error) {
	for _, text := range texts {
		name, standing, isNamed := strings.Cut(text, "=")
		if !isNamed {
			standing = name
		}
		st := statement.Standing(strings.ToLower(strings.TrimSpace(standing)))
		if !st.Known() {
			return "", nil, &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("no standing %q", standing), Hint: "known are " + statement.StandingNames()}
		}
		if !isNamed {
			list = st
			continue
		}
		if named == nil {
			named = map[string]statement.Standing{}
		}
		named[part.FoldMaker(name)] = st
	}
	return list, named, nil
}

// actor names who runs the command.
func actor() app.Actor {
	a := app.Actor{Device: "command line"}
	if u, err := user.Current(); err == nil {
		a.Who = u.Username
	}
	return a
}

func (c *importCommand) undo(ctx context.Context, p *program, o *opened) error {
	rep, err := o.Undo(ctx, c.Undo, actor())
	if err != nil {
		return err
	}
	if p.flags.JSON {
		if err := p.printJSON(undoAnswer(rep)); err != nil {
			return err
		}
	} else {
		p.printUndo(rep)
	}
	return p.searchable(ctx, o)
}

// searchableLater says who makes it searchable: the server, or a command that
// owns the book just now.
func (p *program) searchableLater() string {
	if _, serving := sqlite.ServerAddress(p.flags.Book); serving {
		return "crossbin: in the book; the server that is running makes it searchable"
	}
	return "crossbin: in the book; another command owns the index just now, the next one makes it searchable"
}

// searchable lets the index catch up, or says who will.
func (p *program) searchable(ctx context.Context, o *opened) error {
	if o.owner == nil {
		fmt.Fprintln(p.stderr, p.searchableLater())
		return nil
	}
	return o.withIndex(ctx)
}
