package numbers

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"crossbin/internal/part"
)

var update = flag.Bool("update", false, "write the golden files")

const golden = "../../testdata/numbers/misread.txt"

// How much is measured, and what must be reached.
const (
	measuredKeys     = 100_000
	measuredReadings = 5000
	worstErrors      = 3
	mustBeFirst      = 0.95
	mustBeInFive     = 0.99
)

// tally counts how the readings of one kind went.
type tally struct {
	readings, first, inFive int
	ceiling                 int // first for who knew how the errors were made
	otherNumber             int // the reading is, character by character, another number
	betterElse              int // another number explains the reading better
	equalElse               int // another number explains it just as well
	compared                int // of the readings, those of which edit distance was asked
	editFirst, editInFive   int
}

func (t *tally) add(o tally) {
	t.readings += o.readings
	t.first += o.first
	t.inFive += o.inFive
	t.ceiling += o.ceiling
	t.otherNumber += o.otherNumber
	t.betterElse += o.betterElse
	t.equalElse += o.equalElse
	t.compared += o.compared
	t.editFirst += o.editFirst
	t.editInFive += o.editInFive
}

// The true number stands first, or among the first five, as often as was asked;
// the figures are those of the golden file.
func TestMisreadNumbersAreFound(t *testing.T) {
	columns := measure()
	all := columns[len(columns)-1].tally
	if got := share(all.first, all.readings); got < mustBeFirst {
		t.Errorf("first in %.4f of all readings, want %.2f", got, mustBeFirst)
	}
	if got := share(all.inFive, all.readings); got < mustBeInFive {
		t.Errorf("among the first five in %.4f of all readings, want %.2f", got, mustBeInFive)
	}
	if edit := share(all.editFirst, all.compared); share(all.first, all.readings) <= edit {
		t.Errorf("first in %.4f of all readings by plain edit distance: no worse than the error model", edit)
	}
	got := report(columns)
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("figures have changed; look whether they should have, then run with -update:\n%s", got)
	}
}

// misreading is one question of the measurement.
type misreading struct {
	list, errors int
	truth, text  string
}

// draw makes the readings, list by list in turn.
func draw(keys []string) []misreading {
	m := newMaker(1997)
	out := make([]misreading, measuredReadings)
	for i := range out {
		at := i % len(lists)
		truth := keys[m.IntN(len(keys))]
		n := m.howMany(len(truth), worstErrors)
		out[i] = misreading{at, n, truth, m.misread(truth, n, lists[at].alike())}
	}
	return out
}

// column is a kind of readings with its figures.
type column struct {
	name string
	tally
}

// measure asks every reading, two at a time, and sums up by the number of
// errors, by list and over all.
func measure() []column {
	keys := newMaker(2026).numbers(measuredKeys)
	slices.Sort(keys)
	questions := draw(keys)
	tallies := make([]tally, len(questions))
	x := Build(keys, 1)
	var wait sync.WaitGroup
	for from := range 2 {
		wait.Go(func() {
			for i := from; i < len(questions); i += 2 {
				tallies[i] = ask(x, questions[i])
				if i%editEvery == 0 {
					tallies[i].compare(keys, questions[i])
				}
			}
		})
	}
	wait.Wait()
	var columns []column
	for n := range worstErrors {
		columns = append(columns, column{name: []string{"one error", "two errors", "three errors"}[n]})
	}
	for _, l := range lists {
		columns = append(columns, column{name: l.name})
	}
	columns = append(columns, column{name: "all"})
	for i, one := range tallies {
		columns[questions[i].errors-1].add(one)
		columns[worstErrors+questions[i].list].add(one)
		columns[len(columns)-1].add(one)
	}
	return columns
}

// shown is how many matches are asked for: enough that who knows better how the
// errors were made finds the true one among them.
const shown = 200

func ask(x *Index, q misreading) tally {
	r, c := read(q.text), model()
	best, _, err := x.Matches(context.Background(), r, c, shown)
	if err != nil {
		panic(err)
	}
	t := tally{readings: 1, otherNumber: count(q.text != q.truth && x.Exact(q.text))}
	t.inFive = count(slices.ContainsFunc(best[:min(5, len(best))], func(m Match) bool { return m.Key == q.truth }))
	t.ceiling = count(newCeiling(lists[q.list].alike()).first(best, q.text, q.truth))
	if len(best) > 0 {
		own := part.LogLikelihood(r, q.truth, c)
		t.first = count(best[0].Key == q.truth)
		t.betterElse = count(best[0].LogLikelihood > own)
		t.equalElse = count(best[0].Key != q.truth && best[0].LogLikelihood == own)
	}
	return t
}

// editEvery: plain edit distance to every key takes long, so it is asked of
// every fifth reading.
const editEvery = 5

func (t *tally) compare(sorted []string, q misreading) {
	rank := editRank(sorted, q.text, q.truth)
	t.compared, t.editFirst, t.editInFive = 1, count(rank == 0), count(rank < 5)
}

// editRank is how many keys are nearer to a reading by edit distance than the
// true one, or as near and before it.
func editRank(sorted []string, text, truth string) (rank int) {
	e := newEdits(text)
	limit := e.distance(truth, len(text)+len(truth))
	e = newEdits(text)
	for _, k := range sorted {
		if d := e.distance(k, limit); d < limit || d == limit && k < truth {
			rank++
			if rank == 5 {
				return rank
			}
		}
	}
	return rank
}

// edits is plain edit distance (one for a character put in, taken out or
// changed), with the rows of what two keys in a row begin with kept.
type edits struct {
	text string
	rows [][]int
	key  string
	done int // characters of key that have a row
}

func newEdits(text string) *edits {
	e := &edits{text: text, rows: make([][]int, 1, maxLength)}
	e.rows[0] = make([]int, len(text)+1)
	for j := range e.rows[0] {
		e.rows[0][j] = j
	}
	return e
}

// distance is exact up to a limit, and any number above it beyond.
func (e *edits) distance(key string, limit int) int {
	same := min(common(e.key, key), e.done)
	e.key = key
	for i := same; i < len(key); i++ {
		if slices.Min(e.rows[i]) > limit {
			e.done = i
			return limit + 1
		}
		if len(e.rows) == i+1 {
			e.rows = append(e.rows, make([]int, len(e.text)+1))
		}
		old, row := e.rows[i], e.rows[i+1]
		row[0] = i + 1
		for j := range len(e.text) {
			change := old[j]
			if e.text[j] != key[i] {
				change++
			}
			row[j+1] = min(change, old[j+1]+1, row[j]+1)
		}
	}
	e.done = len(key)
	return e.rows[len(key)][len(e.text)]
}

func share(n, of int) float64 { return float64(n) / float64(max(1, of)) }

// report writes the figures for people, one kind of readings a row.
func report(columns []column) string {
	var b strings.Builder
	fmt.Fprintf(&b, `Misread part numbers: how often the true number is found.

%d made-up numbers in families, %d readings of them with one to three errors.
Each character goes wrong in %.0f of 100, by three published lists of look-alikes in
turn. Of the first, the error model knows all, of the others less than half; its
rates are others too. Equal scores are settled by the order of keys.

first, in five   the true number stands first, is among the first five
ceiling          stands first for who knows how the errors were made: what is
                 missing to 100 the readings do not tell
edit, in five    the same by plain edit distance, asked of every fifth reading
another          the reading is, character by character, another number
better, as well  another number explains the reading better, just as well

Recomputed by the tests of internal/numbers.

%-16s %8s %7s %7s %8s %7s %7s %8s %7s %8s
`, measuredKeys, measuredReadings, 100*slipRate,
		"", "readings", "first", "in five", "ceiling", "edit", "in five", "another", "better", "as well")
	for _, c := range columns {
		fmt.Fprintf(&b, "%-16s %8d %7s %7s %8s %7s %7s %8d %7d %8d\n", c.name, c.readings,
			percent(c.first, c.readings), percent(c.inFive, c.readings), percent(c.ceiling, c.readings),
			percent(c.editFirst, c.compared), percent(c.editInFive, c.compared),
			c.otherNumber, c.betterElse, c.equalElse)
	}
	return b.String()
}

func percent(n, of int) string { return fmt.Sprintf("%.1f", 100*share(n, of)) }
