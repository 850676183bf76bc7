package sqlite

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

func moved(key string, kind shelf.Kind, number string, onHand, held int) shelf.Movement {
	return shelf.Movement{ID: "m-" + key, Key: key, Kind: kind, Part: part.Ref{Key: number}, Bin: "A-1", Condition: shelf.New,
		OnHand: onHand, Held: held, Who: "Ines"}
}

func stockOf(t *testing.T, b *Book, number string) (out []shelf.Line) {
	t.Helper()
	err := b.Read(bg, func(r app.Reader) (err error) {
		out, err = r.Stock(bg, []string{number})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestPost(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	steps := []struct {
		name      string
		movements []shelf.Movement
		revision  int64
		want      app.Code // "" where it is booked
		onHand    int
		held      int
	}{
		{"receive", []shelf.Movement{moved("1", shelf.Receive, "QA1", 3, 0)}, 1, "", 3, 0},
		{"the same key again", []shelf.Movement{moved("1", shelf.Receive, "QA1", 3, 0)}, 1, "", 3, 0},
		{"hold and issue in one", []shelf.Movement{moved("2", shelf.Hold, "QA1", 0, 2), moved("3", shelf.Issue, "QA1", -1, -1)}, 2, "", 2, 1},
		{"below zero on hand", []shelf.Movement{moved("4", shelf.Issue, "QA1", -3, 0)}, 0, app.CodeConflict, 2, 1},
		{"below zero held", []shelf.Movement{moved("5", shelf.Release, "QA1", 0, -2)}, 0, app.CodeConflict, 2, 1},
		{"one key new, one not", []shelf.Movement{moved("1", shelf.Receive, "QA1", 3, 0), moved("6", shelf.Receive, "QA1", 1, 0)}, 0, app.CodeConflict, 2, 1},
		{"no idempotency key", []shelf.Movement{moved("", shelf.Receive, "QA1", 1, 0)}, 0, app.CodeInvalid, 2, 1},
		{"no part", []shelf.Movement{moved("7", shelf.Receive, "", 1, 0)}, 0, app.CodeInvalid, 2, 1},
	}
	for _, s := range steps {
		revision, err := b.Post(bg, s.movements)
		if s.want != "" {
			wantCode(t, s.name, err, s.want)
		} else if err != nil || revision != s.revision {
			t.Errorf("%s: got revision %d and %v, want %d", s.name, revision, err, s.revision)
		}
		if l := stockOf(t, b, "QA1")[0]; l.OnHand != s.onHand || l.Held != s.held {
			t.Errorf("%s: got %d on hand and %d held, want %d and %d", s.name, l.OnHand, l.Held, s.onHand, s.held)
		}
	}
	err := b.Read(bg, func(r app.Reader) error {
		changes, err := r.Changes(bg, 0)
		if got := fmt.Sprint(changes); got != "[{1 QA1} {2 QA1}]" {
			t.Errorf("change feed: got %s", got)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	mustVerify(t, b)
}

// TestPostOnceFromMany: the same key from many hands at once is booked once.
func TestPostOnceFromMany(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if _, err := b.Post(bg, []shelf.Movement{moved("1", shelf.Receive, "QA1", 1, 0)}); err != nil {
				t.Errorf("post: %v", err)
			}
		})
	}
	wait.Wait()
	if got := stockOf(t, b, "QA1")[0].OnHand; got != 1 {
		t.Errorf("got %d on hand, want 1", got)
	}
}

// TestLedgerIsOnlyAddedTo: not even a statement of ours can change a movement.
func TestLedgerIsOnlyAddedTo(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	if _, err := b.Post(bg, []shelf.Movement{moved("1", shelf.Receive, "QA1", 3, 0)}); err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		`UPDATE movement SET on_hand = 9`,
		`DELETE FROM movement`,
		`INSERT OR REPLACE INTO movement SELECT shop, seq, id, once, kind, key, maker, bin, condition, printed, 9, held, counted, job, reason,
			batch, reverses, day, at, who, device FROM movement`,
	} {
		err := b.write(bg, "spoiling", func(tx *transaction) error {
			_, err := tx.Exec(statement)
			return err
		})
		if err == nil || !strings.Contains(err.Error(), "only added to") {
			t.Errorf("%.30s: got %v, want a refusal", statement, err)
		}
	}
	if got := stockOf(t, b, "QA1")[0].OnHand; got != 3 {
		t.Errorf("got %d on hand, want 3", got)
	}
}

// TestUndoAfterByHand: what was issued by hand since keeps a counted bin as it
// is, and what was released by hand is not released twice.
func TestUndoAfterByHand(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	rows := madeSheet("yard", "Q", 4) // counts 1, 2, 3, 1
	rows[2].Postings[0].Counted = false
	rows[2].Postings[0].Held = 1
	if _, err := b.Post(bg, []shelf.Movement{moved("0", shelf.Receive, "Q000002", 2, 0)}); err != nil {
		t.Fatal(err)
	}
	mustBring(t, b, "1", "yard", rows)
	byHand := []shelf.Movement{moved("1", shelf.Issue, "Q000001", -1, 0), moved("2", shelf.Release, "Q000002", 0, -1)}
	if _, err := b.Post(bg, byHand); err != nil {
		t.Fatal(err)
	}
	report, err := b.Undo(bg, "1", app.Actor{Who: "Ines"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(report.LeftCounts, "; "); report.Reversed != 2 || got != "A-1 (Q000001, new); A-1 (Q000002, new)" {
		t.Errorf("got %d reversed and %q left", report.Reversed, got)
	}
	if l := stockOf(t, b, "Q000001")[0]; l.OnHand != 1 {
		t.Errorf("the bin issued from holds %d, want 1", l.OnHand)
	}
	mustVerify(t, b)
}

// TestReleaseNeverBelowZero: a list that no longer holds what somebody released
// by hand releases nothing.
func TestReleaseNeverBelowZero(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	rows := madeSheet("yard", "Q", 1)
	rows[0].Postings[0].Held = 1
	mustBring(t, b, "1", "yard", rows)
	if _, err := b.Post(bg, []shelf.Movement{moved("1", shelf.Release, "Q000000", 0, -1)}); err != nil {
		t.Fatal(err)
	}
	mustBring(t, b, "2", "yard", madeSheet("yard", "Q", 1))
	if l := stockOf(t, b, "Q000000")[0]; l.OnHand != 1 || l.Held != 0 {
		t.Errorf("got %d on hand and %d held, want 1 and 0", l.OnHand, l.Held)
	}
	mustVerify(t, b)
}

// TestBookedBetweenFinishAndCommit: a count is held against the ledger as it
// stands at the commit.
func TestBookedBetweenFinishAndCommit(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	w, err := begin(bg, b, "1", "yard")
	if err != nil {
		t.Fatal(err)
	}
	counts, err := stageAll(bg, w, madeSheet("yard", "Q", 1), 1)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Post(bg, []shelf.Movement{moved("1", shelf.Receive, "Q000000", 7, 0)}); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Commit(bg, counts); err != nil {
		t.Fatal(err)
	}
	if l := stockOf(t, b, "Q000000")[0]; l.OnHand != 1 {
		t.Errorf("got %d on hand, want the 1 that was counted", l.OnHand)
	}
}

// TestManyBins: many bins are planned in portions, and the ledger is summed for
// many at once, with the same result.
func TestManyBins(t *testing.T) {
	b := openBook(t, t.TempDir(), Options{})
	const rows = binsPerPlan + 50
	mustBring(t, b, "1", "yard", madeSheet("yard", "Q", rows))
	mustBring(t, b, "2", "yard", madeSheet("yard", "R", rows))
	if got := holdings(t, b, rows, "Q", "R"); got["Q"] != [3]int{} || got["R"] != whole(rows) {
		t.Errorf("got %v", got)
	}
	if _, err := b.Undo(bg, "2", app.Actor{}); err != nil {
		t.Fatal(err)
	}
	if got := holdings(t, b, rows, "Q", "R"); got["R"] != [3]int{} || got["Q"] != whole(rows) {
		t.Errorf("after the undo: got %v", got)
	}
	mustVerify(t, b)
}
