package sqlite

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"crossbin/internal/app"
)

// Some tests need a process that can be killed or whose disk fails: the test
// program starts itself again with one of these jobs.
const (
	jobEnv  = "CROSSBIN_TEST_JOB"
	dirEnv  = "CROSSBIN_TEST_DIR"
	faultIn = "CROSSBIN_FAULT"
)

const crashRows = 400

func TestMain(m *testing.M) {
	jobs := map[string]func(dir string) error{"import": jobImport, "undo": jobUndo, "limit": jobLimit, "space": jobSpace, "sync": jobSync}
	if job, ok := jobs[os.Getenv(jobEnv)]; ok {
		if err := job(os.Getenv(dirEnv)); err != nil {
			fmt.Println("error", app.CodeOf(err), err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// job starts this program with a job.
func job(t *testing.T, name, dir string, env ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(append(os.Environ(), jobEnv+"="+name, dirEnv+"="+dir), env...)
	cmd.Stderr = os.Stderr
	return cmd
}

// jobImport brings the sheet of the word in CROSSBIN_TEST_WORD in.
func jobImport(dir string) error {
	word := os.Getenv("CROSSBIN_TEST_WORD")
	b, err := Open(bg, dir, Options{})
	if err != nil {
		return err
	}
	b.portion = portions{step: 50, fill: 100, gather: 200, feed: 50} // more steps to be killed between
	fmt.Println("started")
	if err := b.Sweep(bg); err != nil {
		return err
	}
	if _, err := bring(bg, b, os.Getenv("CROSSBIN_TEST_BATCH"), "yard", madeSheet("yard", word, crashRows), 20); err != nil {
		return err
	}
	fmt.Println("committed")
	return b.Close()
}

// jobUndo undoes an import.
func jobUndo(dir string) error {
	b, err := Open(bg, dir, Options{})
	if err != nil {
		return err
	}
	fmt.Println("started")
	if _, err := b.Undo(bg, os.Getenv("CROSSBIN_TEST_BATCH"), app.Actor{Who: "Ines"}); err != nil {
		return err
	}
	fmt.Println("committed")
	return b.Close()
}

// runAndKill runs a job and kills it after a while, 0 for never. It reports
// whether the job had said "committed", and how long it ran after its start.
func runAndKill(t *testing.T, cmd *exec.Cmd, after time.Duration) (acknowledged bool, took time.Duration) {
	t.Helper()
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	var began time.Time
	for lines.Scan() {
		switch lines.Text() {
		case "started":
			began = time.Now()
			if after > 0 {
				time.AfterFunc(after, func() { cmd.Process.Signal(syscall.SIGKILL) })
			}
		case "committed":
			acknowledged = true
		default:
			t.Errorf("the job said %q", lines.Text())
		}
	}
	took = time.Since(began)
	if err := cmd.Wait(); err != nil && after == 0 {
		t.Fatalf("job: %v", err)
	}
	return acknowledged, took
}

// TestKilledImport kills imports at moments spread over their length and some
// beyond, because an import after a killed one has to sweep first: the book
// holds the version before or the new one, whole, and what was acknowledged is
// there.
func TestKilledImport(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{})
	mustBring(t, b, "start", "yard", madeSheet("yard", "A", crashRows))
	env := func(word string, n int) []string {
		return []string{"CROSSBIN_TEST_WORD=" + word, fmt.Sprintf("CROSSBIN_TEST_BATCH=%04d", n)}
	}
	_, whole1 := runAndKill(t, job(t, "import", dir, env("B", 0)...), 0)
	standing, next := "B", "A"
	const moments = 10
	random := rand.New(rand.NewPCG(1, 2))
	came := 0
	for i := range moments {
		after := time.Duration((float64(i) + random.Float64()) / moments * 1.6 * float64(whole1))
		acknowledged, _ := runAndKill(t, job(t, "import", dir, env(next, i+1)...), max(after, time.Millisecond))
		got := holdings(t, b, crashRows, standing, next)
		switch {
		case got[next] == whole(crashRows) && got[standing] == [3]int{}:
			standing, next = next, standing
			came++
		case got[standing] == whole(crashRows) && got[next] == [3]int{} && !acknowledged:
		default:
			t.Fatalf("killed after %v, acknowledged %v: got %v, want one version whole", after, acknowledged, got)
		}
		mustVerify(t, b)
	}
	t.Logf("an import takes %v; of %d killed ones %d had come to count", whole1, moments, came)
	if err := b.Sweep(bg); err != nil {
		t.Fatal(err)
	}
	if got := holdings(t, b, crashRows, standing)[standing]; got != whole(crashRows) {
		t.Errorf("after the sweep: got %v, want %v", got, whole(crashRows))
	}
	if n := count(t, b, `SELECT count(*) FROM batch WHERE leftover = 1`); n != 0 {
		t.Errorf("%d imports are left after the sweep", n)
	}
	mustVerify(t, b)
}

// TestKilledUndo kills undos likewise.
func TestKilledUndo(t *testing.T) {
	dir := t.TempDir()
	b := openBook(t, dir, Options{})
	mustBring(t, b, "start", "yard", madeSheet("yard", "A", crashRows))
	var length time.Duration
	for i := range 6 {
		batch := "undo" + strconv.Itoa(i)
		mustBring(t, b, batch, "yard", madeSheet("yard", "B", crashRows))
		_, took := runAndKill(t, job(t, "undo", dir, "CROSSBIN_TEST_BATCH="+batch), length*time.Duration(i)/5)
		length = max(length, took)
		got := holdings(t, b, crashRows, "A", "B")
		undone := got["A"] == whole(crashRows) && got["B"] == [3]int{}
		if !undone && (got["B"] != whole(crashRows) || got["A"] != [3]int{}) {
			t.Fatalf("undo %d: got %v, want one version whole", i, got)
		}
		mustVerify(t, b)
		if !undone {
			if _, err := b.Undo(bg, batch, app.Actor{}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := b.Sweep(bg); err != nil {
		t.Fatal(err)
	}
	mustVerify(t, b)
	if n := count(t, b, `SELECT count(*) FROM sheet_row`); n != crashRows {
		t.Errorf("got %d rows after all undos, want the %d of the first version", n, crashRows)
	}
}

// jobLimit imports a sheet for which the file size limit leaves no room.
func jobLimit(dir string) error {
	signal.Ignore(syscall.SIGXFSZ)
	return failingImport(dir, func() error {
		const limit = 256 << 10
		return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: limit})
	})
}

// jobSpace imports a sheet while the disk says that it is full.
func jobSpace(dir string) error {
	return failingImport(dir, func() error { return os.Setenv(faultIn, "space") })
}

func failingImport(dir string, spoil func() error) error {
	b, err := Open(bg, dir, Options{})
	if err != nil {
		return err
	}
	w, err := begin(bg, b, "full", "yard")
	if err != nil {
		return err
	}
	if err := spoil(); err != nil {
		return err
	}
	_, err = stageAll(bg, w, madeSheet("yard", "B", 3000), 500)
	return err
}

// TestFullDisk: the error is clear, and the book is as it was.
func TestFullDisk(t *testing.T) {
	tests := []struct {
		name, job, want string
		preload         bool
	}{
		{"file size limit", "limit", "the disk reports an error", false},
		{"no space left", "space", "the disk is full, nothing was changed", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			b := openBook(t, dir, Options{})
			mustBring(t, b, "start", "yard", madeSheet("yard", "A", 50))
			b.Close()
			cmd := job(t, tt.job, dir)
			if tt.preload {
				cmd.Env = append(cmd.Env, "LD_PRELOAD="+buildFault(t))
			}
			out, err := cmd.Output()
			if err == nil || !strings.HasPrefix(string(out), "error internal writing rows: "+tt.want) {
				t.Errorf("got %q (%v), want an error that says %q", out, err, tt.want)
			}
			b = openBook(t, dir, Options{})
			if got := holdings(t, b, 50, "A", "B"); got["A"] != whole(50) || got["B"] != [3]int{} {
				t.Errorf("got %v, want the version before", got)
			}
			mustVerify(t, b)
			mustBring(t, b, "again", "yard", madeSheet("yard", "B", 50))
			mustVerify(t, b)
		})
	}
}

// buildFault builds the library that makes the disk fail. It needs the C
// compiler that has also built the SQLite driver.
func buildFault(t *testing.T) string {
	t.Helper()
	library := filepath.Join(t.TempDir(), "fault.so")
	out, err := exec.Command("cc", "-shared", "-fPIC", "-O1", "-o", library, "testdata/fault.c", "-ldl").CombinedOutput()
	if err != nil {
		t.Fatalf("cc: %v\n%s", err, out)
	}
	return library
}

// jobSync commits an import while the disk cannot sync, then once more when it
// can, then a third time.
func jobSync(dir string) error {
	b, err := Open(bg, dir, Options{})
	if err != nil {
		return err
	}
	w, err := begin(bg, b, "sync", "yard")
	if err != nil {
		return err
	}
	counts, err := stageAll(bg, w, madeSheet("yard", "B", 50), 50)
	if err != nil {
		return err
	}
	os.Setenv(faultIn, "sync")
	_, err = w.Commit(bg, counts)
	fmt.Println("first", app.CodeOf(err), err)
	if os.Getenv("CROSSBIN_TEST_REPEAT") == "" {
		return nil
	}
	os.Unsetenv(faultIn)
	for _, name := range []string{"second", "third"} {
		revision, err := w.Commit(bg, counts)
		fmt.Println(name, revision, err)
	}
	return nil
}

// TestCommitThatCannotSync: what such a commit wrote may still be there after
// reopening. Repeating it does no harm, and without repeating the book holds
// one version whole.
func TestCommitThatCannotSync(t *testing.T) {
	library := buildFault(t)
	for _, repeat := range []string{"", "yes"} {
		dir := t.TempDir()
		b := openBook(t, dir, Options{})
		mustBring(t, b, "start", "yard", madeSheet("yard", "A", 50))
		b.Close()
		out, err := job(t, "sync", dir, "LD_PRELOAD="+library, "CROSSBIN_TEST_REPEAT="+repeat).Output()
		text := string(out)
		if err != nil || !strings.HasPrefix(text, "first internal committing an import: the disk reports an error") {
			t.Errorf("got %q (%v), want the first commit to fail", text, err)
		}
		b = openBook(t, dir, Options{})
		got := holdings(t, b, 50, "A", "B")
		before := got["A"] == whole(50) && got["B"] == [3]int{}
		after := got["B"] == whole(50) && got["A"] == [3]int{}
		if !before && !after || repeat != "" && !after {
			t.Errorf("repeated %q: got %v, want one version whole", repeat, got)
		}
		if repeat != "" && !strings.Contains(text, "second 2 <nil>\nthird 2 <nil>\n") {
			t.Errorf("got %q, want the same revision from both repeated commits", text)
		}
		if err := b.Sweep(bg); err != nil {
			t.Fatal(err)
		}
		mustVerify(t, b)
		mustBring(t, b, "again", "yard", madeSheet("yard", "B", 50))
		if got := holdings(t, b, 50, "B")["B"]; got != whole(50) {
			t.Errorf("brought in once more: got %v, want %v", got, whole(50))
		}
	}
}
