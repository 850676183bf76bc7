package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"crossbin/internal/api"
	"crossbin/internal/httpserver"
	"crossbin/internal/web"
)

// noticeEvery is how often the server looks for what other processes wrote:
// well inside the quarter of a second in which it must notice.
const noticeEvery = 100 * time.Millisecond

type serveCommand struct {
	Listen string `help:"Address to listen on; this computer only." default:"127.0.0.1:8531" placeholder:"HOST:PORT"`
}

// Run serves the book until it is told to end.
func (c *serveCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toOwn)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	return p.serve(ctx, o, c.Listen)
}

// serve answers over HTTP from an owned book and keeps the index fed.
func (p *program) serve(ctx context.Context, o *opened, listen string) error {
	if err := o.book.Sweep(ctx); err != nil {
		return err
	}
	if err := o.withIndex(ctx); err != nil {
		return err
	}
	pages := web.New(o.Service, o.Types.All(), time.Local)
	server, err := httpserver.New(httpserver.Config{Listen: listen, Logger: p.log(), ErrorPage: pages.ErrorPage,
		Handler: httpserver.NewRouter(api.New(o.Service, o.Types.All()).Register, pages.Register)})
	if err != nil {
		return err
	}
	if err := o.owner.Publish(server.Address()); err != nil {
		return errors.Join(err, server.Close())
	}
	fmt.Fprintf(p.stdout, "Open http://%s/ in a browser; Ctrl-C ends it.\n", server.Address())
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	noticed := make(chan struct{})
	go func() {
		defer close(noticed)
		o.keepUp(ctx)
	}()
	err = server.Run(ctx)
	stop()
	<-noticed
	return err
}

// keepUp lets the index catch up with what other processes write, until the
// server ends.
func (o *opened) keepUp(ctx context.Context) {
	tick := time.NewTicker(noticeEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		if err := o.CatchUp(ctx); err != nil && ctx.Err() == nil {
			o.Log.Error("the index is behind the book", "error", err)
		}
	}
}
