package main

import (
	"cmp"
	"context"
	"errors"
	"os"
	"path/filepath"

	"crossbin/data"
	"crossbin/internal/app"
	"crossbin/internal/fulltext"
	"crossbin/internal/part"
	"crossbin/internal/sqlite"
)

// defaultBook is the folder of the book where nobody names one.
const defaultBook = "crossbin-book"

// opened is a book with everything that answers from it.
type opened struct {
	*app.Service
	book  *sqlite.Book
	owner *sqlite.Owner   // nil beside a server
	index *fulltext.Index // nil beside a server, or where nobody asked for it
}

// openBook opens the book for a command. Where owning is wanted and free, the
// command owns the index for as long as it runs; beside a server it does not.
func (p *program) openBook(ctx context.Context, want want) (*opened, error) {
	p.flags.Book = p.book()
	types, err := data.PartTypes()
	if err != nil {
		return nil, err
	}
	standings, err := data.Standings()
	if err != nil {
		return nil, err
	}
	groups, err := data.Confusions()
	if err != nil {
		return nil, err
	}
	confusions, err := part.NewConfusions(groups)
	if err != nil {
		return nil, err
	}
	o := &opened{}
	if want != toRead {
		o.owner, err = sqlite.AcquireOwner(p.flags.Book)
		if err != nil && !(want == toWrite && app.CodeOf(err) == app.CodeInUse) {
			return nil, err
		}
	}
	o.book, err = sqlite.Open(ctx, p.flags.Book, sqlite.Options{Clock: p.clock, Logger: p.log(), ReadOnly: want == toRead})
	if err != nil {
		return nil, errors.Join(err, o.owner.Release())
	}
	o.Service = &app.Service{Book: o.book, Types: types, Standings: standings, Clock: p.clock, Log: p.log(),
		Confusions: confusions, NumbersOf: (&numberCache{confusions: confusions}).of}
	return o, nil
}

// want says what a command needs of the book.
type want int

const (
	toRead  want = iota // the book alone, read only: beside a server or not
	toWrite             // write, and own the index if it is free
	toOwn               // own the index or refuse
)

// withIndex opens the index of an owned book and lets it catch up.
func (o *opened) withIndex(ctx context.Context) error {
	if o.owner == nil || o.index != nil {
		return nil
	}
	index, err := openIndex(ctx, o.book, filepath.Join(o.book.Dir(), "index"), o.Log)
	if err != nil {
		return err
	}
	o.index, o.Index = index, index
	return o.CatchUp(ctx)
}

// close ends everything in the reverse order.
func (o *opened) close() error {
	var errs []error
	if o.index != nil {
		errs = append(errs, o.index.Close())
	}
	errs = append(errs, o.book.Close(), o.owner.Release())
	return errors.Join(errs...)
}

// book gives the folder of the book.
func (p *program) book() string { return cmp.Or(p.flags.Book, defaultBook) }

// mustBeThere refuses to make a book out of a question.
func mustBeThere(dir string) error {
	if _, err := os.Stat(filepath.Join(dir, "book.sqlite")); err != nil {
		return &app.Error{Code: app.CodeNotFound, Message: "there is no book in " + dir, Hint: "bring a list in first: crossbin import parts.xlsx", Cause: err}
	}
	return nil
}
