package fulltext

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"crossbin/internal/app"
)

// Environment of the child that is killed.
const (
	childFolder = "CROSSBIN_TEST_INDEX"
	childDoes   = "CROSSBIN_TEST_DOES"
)

// TestMain makes the test binary a child that writes until it is killed, when
// the environment says so.
func TestMain(m *testing.M) {
	dir := os.Getenv(childFolder)
	if dir == "" {
		os.Exit(m.Run())
	}
	if err := writeForEver(dir, os.Getenv(childDoes)); err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
}

// perRevision is how many documents each revision adds.
const perRevision = 20

// writeForEver writes revision after revision and says each when it is there.
func writeForEver(dir, does string) error {
	ctx := context.Background()
	x, _, err := Open(ctx, dir, 1<<40, quiet())
	if err != nil {
		return err
	}
	fmt.Println("open")
	for revision := x.Revision() + 1; ; revision++ {
		docs := numbers(0, int(revision)*perRevision)
		if does == "rebuild" {
			err = x.Rebuild(ctx, func(yield func(app.Document, error) bool) {
				for _, d := range docs {
					if !yield(d, nil) {
						return
					}
				}
			}, revision)
		} else {
			err = x.Apply(ctx, docs[(revision-1)*perRevision:], revision)
		}
		if err != nil {
			return err
		}
		fmt.Println(revision)
	}
}

// child starts a writer and kills it once it has said so many revisions. It gives
// the last that was said.
func child(t *testing.T, dir, does string, revisions int) int64 {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childFolder+"="+dir, childDoes+"="+does)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Wait() }()
	last := int64(0)
	lines := bufio.NewScanner(out)
	for n := 0; lines.Scan(); n++ {
		if strings.HasPrefix(lines.Text(), "error") {
			t.Fatal(lines.Text())
		}
		if r, err := strconv.ParseInt(lines.Text(), 10, 64); err == nil {
			last = r
		}
		if n == revisions {
			_ = cmd.Process.Kill()
		}
	}
	return last
}

// A writer that is killed at any moment has lost nothing that it said, and the
// documents are those of the revision, no fewer and no more.
func TestKilledWhileWriting(t *testing.T) {
	for _, does := range []string{"apply", "rebuild"} {
		t.Run(does, func(t *testing.T) {
			dir := t.TempDir()
			for round := range 4 {
				said := child(t, dir, does, 5+3*round)
				x, state := opened(t, dir, 1<<40)
				if state != Behind {
					t.Fatalf("round %d: got %s, want %s", round, state, Behind)
				}
				if x.Revision() < said {
					t.Errorf("round %d: revision %d is there, %d was said", round, x.Revision(), said)
				}
				if got, want := count(t, x, "thing"), int(x.Revision())*perRevision; got != want {
					t.Errorf("round %d: got %d documents at revision %d, want %d", round, got, x.Revision(), want)
				}
				if err := x.Check(t.Context()); err != nil {
					t.Errorf("round %d: %v", round, err)
				}
				closed(t, x)
			}
		})
	}
}

// A process that holds the index is told of by a sentence, in another process
// too.
func TestHeldByAnotherProcess(t *testing.T) {
	dir := t.TempDir()
	x, _ := opened(t, dir, 1)
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childFolder+"="+dir, childDoes+"=apply")
	out, err := cmd.Output()
	if err == nil || !strings.Contains(string(out), "is in use by another process") {
		t.Errorf("got %q (%v), want a sentence", out, err)
	}
	if err := x.Apply(t.Context(), numbers(0, 1), 1); err != nil {
		t.Errorf("the holder: %v", err)
	}
	if entries, err := os.ReadDir(dir); err != nil || !slices.ContainsFunc(entries, func(e os.DirEntry) bool { return e.Name() == x.name }) {
		t.Errorf("the holder's generation is gone (%v)", err)
	}
}
