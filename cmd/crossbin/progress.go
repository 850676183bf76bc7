package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"
)

// progress shows on a terminal how far a long import came: rows and rate, after
// the first second and then twice a second.
type progress struct {
	out         io.Writer
	name        string
	clock       func() time.Time
	start, last time.Time
	shown       bool
}

// progress makes one for a file; where the error stream is no terminal it says
// nothing.
func (p *program) progress(name string) *progress {
	out := io.Discard
	if f, ok := p.stderr.(*os.File); ok && isatty.IsTerminal(f.Fd()) {
		out = f
	}
	now := p.clock()
	return &progress{out: out, name: name, clock: p.clock, start: now, last: now.Add(500 * time.Millisecond)}
}

func (g *progress) at(rows int) {
	now := g.clock()
	if now.Sub(g.last) < 500*time.Millisecond {
		return
	}
	g.last, g.shown = now, true
	fmt.Fprintf(g.out, "\r%s: %d rows, %.0f a second  ", g.name, rows, float64(rows)/now.Sub(g.start).Seconds())
}

func (g *progress) end() {
	if g.shown {
		fmt.Fprint(g.out, "\r\033[K")
	}
}
