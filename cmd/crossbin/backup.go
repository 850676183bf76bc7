package main

import (
	"context"
	"errors"
	"fmt"

	"crossbin/internal/app"
)

type backupCommand struct {
	To string `arg:"" help:"File to write the copy to." type:"path"`
}

// Run copies the book while it is in use.
func (c *backupCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	if err := o.book.Backup(ctx, c.To); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "the book is copied to %s; put it back as book.sqlite in an empty folder\n", c.To)
	return nil
}

type verifyCommand struct{}

// Run checks the book and tells everything that it finds.
func (c *verifyCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	found, err := o.book.Verify(ctx)
	if err != nil {
		return err
	}
	for _, f := range found {
		fmt.Fprintln(p.stdout, f)
	}
	if len(found) > 0 {
		return &app.Error{Code: app.CodeDamaged, Message: fmt.Sprintf("the book fails %d of its own checks", len(found)),
			Hint: "put the last backup back, or keep the folder and ask its keeper"}
	}
	fmt.Fprintln(p.stdout, "the book holds")
	return nil
}
