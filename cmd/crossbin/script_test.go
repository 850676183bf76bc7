package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run the real program.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"crossbin": func() {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		p := &program{stdout: os.Stdout, stderr: os.Stderr, clock: time.Now}
		code := p.run(ctx, os.Args[1:])
		stop()
		os.Exit(code)
	}})
}

func TestScripts(t *testing.T) {
	sheets, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{Dir: "testdata/script", RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("SHEETS", sheets)
			e.Setenv("CROSSBIN_BOOK", filepath.Join(e.WorkDir, "book"))
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"code": exitCode, "json": jsonField, "appears": appears, "eventually": eventually, "address": address, "keep": keep,
		}})
}

// exitCode runs a command that must end with a code: code 3 crossbin import x.
func exitCode(ts *testscript.TestScript, neg bool, args []string) {
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	if err != nil {
		m := regexp.MustCompile(`exit status (\d+)`).FindStringSubmatch(err.Error())
		if m == nil {
			ts.Fatalf("%v", err)
		}
		fmt.Sscan(m[1], &got)
	}
	if fmt.Sprint(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// jsonField holds a field of the JSON on the last standard output: json
// candidates.0.verdict fits. A dash stands for a field that is not there, len
// for how many a list holds.
func jsonField(ts *testscript.TestScript, neg bool, args []string) {
	v := field(ts, args[0])
	got := fmt.Sprint(v)
	if v == nil {
		got = "-"
	}
	if (got == strings.Join(args[1:], " ")) == neg {
		ts.Fatalf("%s: got %q, want %q", args[0], got, strings.Join(args[1:], " "))
	}
}

func field(ts *testscript.TestScript, path string) any {
	var v any
	d := json.NewDecoder(strings.NewReader(ts.ReadFile("stdout")))
	d.UseNumber()
	ts.Check(d.Decode(&v))
	for _, step := range strings.Split(path, ".") {
		v = into(v, step)
	}
	return v
}

func into(v any, step string) any {
	switch x := v.(type) {
	case map[string]any:
		return x[step]
	case []any:
		if step == "len" {
			return len(x)
		}
		var i int
		if _, err := fmt.Sscan(step, &i); err == nil && i < len(x) {
			return x[i]
		}
	}
	return nil
}

// keep puts a field of the JSON on the last standard output into an environment
// variable: keep BATCH files.0.batch.
func keep(ts *testscript.TestScript, neg bool, args []string) {
	ts.Setenv(args[0], fmt.Sprint(field(ts, args[1])))
}

// patience is how long a script waits for another process.
const patience = 20 * time.Second

// appears waits for a file that another process writes.
func appears(ts *testscript.TestScript, neg bool, args []string) {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if _, err := os.Stat(ts.MkAbs(args[0])); (err == nil) != neg {
			return
		}
	}
	ts.Fatalf("%s: waited %s", args[0], patience)
}

// eventually runs a command until its output holds a text: eventually 'free'
// crossbin find x.
func eventually(ts *testscript.TestScript, neg bool, args []string) {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if ts.Exec(args[1], args[2:]...) == nil && strings.Contains(ts.ReadFile("stdout"), args[0]) {
			return
		}
	}
	ts.Fatalf("%q never appeared", args[0])
}

// address puts the address of the running server into an environment variable.
func address(ts *testscript.TestScript, neg bool, args []string) {
	text := strings.TrimSpace(ts.ReadFile(filepath.Join(ts.Getenv("CROSSBIN_BOOK"), "server.address")))
	ts.Setenv(args[0], text)
}
