// Command crossbin keeps what a repair shop knows about which part fits which
// vehicle, and answers from it.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"crossbin/internal/app"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := &program{stdout: os.Stdout, stderr: os.Stderr, clock: time.Now}
	code := p.run(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}

// program is the one program: where it writes, and what time it is.
type program struct {
	stdout, stderr io.Writer
	clock          func() time.Time
	flags          flags
	exit           int // of a question that is answered no: 1
}

// flags is the whole command line.
type flags struct {
	Book    string           `help:"Folder of the shop book; else crossbin-book in the current folder." env:"CROSSBIN_BOOK" type:"path" placeholder:"DIR"`
	JSON    bool             `help:"Print the answer as JSON, the same that the API gives."`
	Verbose bool             `short:"v" help:"Say more on the error stream about what is done."`
	Version kong.VersionFlag `help:"Print the version and stop."`

	Demo     demoCommand     `cmd:"" help:"Make a demo book, answer three questions on it, then serve it."`
	Import   importCommand   `cmd:"" help:"Bring sheets in."`
	Lists    listsCommand    `cmd:"" help:"Show the lists of the book, their versions, and when each was read."`
	Fit      fitCommand      `cmd:"" help:"Which parts fit a vehicle?"`
	Identify identifyCommand `cmd:"" help:"Which part is this?"`
	Find     findCommand     `cmd:"" help:"Search everything in the book."`
	Serve    serveCommand    `cmd:"" help:"Serve the pages and the API."`
	Backup   backupCommand   `cmd:"" help:"Copy the book while it is in use."`
	Verify   verifyCommand   `cmd:"" help:"Check the book."`
}

// parsed ends a parse that printed what it had to say (help, version).
type parsed int

func (p *program) run(ctx context.Context, args []string) (code int) {
	out := &output{to: p.stdout}
	p.stdout = out
	defer func() {
		if r := recover(); r != nil {
			end, ok := r.(parsed)
			if !ok {
				panic(r)
			}
			code = int(end)
		}
	}()
	parser, err := kong.New(&p.flags, kong.Name("crossbin"), kong.Writers(p.stdout, p.stderr),
		kong.Description("Which part fits which vehicle, how sure, why, and is one on the shelf."),
		kong.Vars{"version": version()}, kong.UsageOnError(), kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Exit(func(code int) { panic(parsed(code)) }))
	if err != nil {
		return p.fail(err)
	}
	command, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(p.stderr, "crossbin: %s; see crossbin --help\n", err)
		return exitUse
	}
	command.BindTo(ctx, (*context.Context)(nil))
	err = command.Run(p)
	if err == nil && out.err != nil {
		err = &app.Error{Code: app.CodeInternal, Message: "the answer could not be written: " + out.err.Error(), Hint: "look at where it goes, and at the space there"}
	}
	if err != nil {
		return p.fail(err)
	}
	return p.exit
}

// fail prints an error as one line and gives its exit code.
func (p *program) fail(err error) int {
	if errors.Is(err, context.Canceled) {
		fmt.Fprintln(p.stderr, "crossbin: interrupted; nothing was left half done")
		return exitInterrupted
	}
	var said *app.Error
	if !errors.As(err, &said) {
		fmt.Fprintf(p.stderr, "crossbin: %s\n", err)
		return exitDefect
	}
	fmt.Fprintf(p.stderr, "crossbin: %s\n", said)
	if said.Cause != nil && p.flags.Verbose {
		fmt.Fprintf(p.stderr, "  because: %s\n", said.Cause)
	}
	return exitOf(said.Code)
}

// log gives the logger: quiet unless asked.
func (p *program) log() *slog.Logger {
	level := slog.LevelWarn
	if p.flags.Verbose {
		level = slog.LevelInfo
	}
	return slog.New(slog.NewTextHandler(p.stderr, &slog.HandlerOptions{Level: level}))
}
