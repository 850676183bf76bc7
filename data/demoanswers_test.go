package data

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/sqlite"
	"crossbin/internal/statement"
)

// demoService brings the demo's workbooks into a book of its own.
func demoService(t *testing.T) *app.Service {
	t.Helper()
	ctx := t.Context()
	types, err := PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	standings, err := Standings()
	if err != nil {
		t.Fatal(err)
	}
	clock := func() time.Time { return time.Date(2026, time.November, 5, 9, 0, 0, 0, time.UTC) }
	book, err := sqlite.Open(ctx, t.TempDir(), sqlite.Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := book.Close(); err != nil {
			t.Error(err)
		}
	})
	s := &app.Service{Book: book, Types: types, Standings: standings, Clock: clock}
	files, _, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		bringIn(t, s, f)
	}
	return s
}

func bringIn(t *testing.T, s *app.Service, f DemoFile) {
	t.Helper()
	words, err := Words()
	if err != nil {
		t.Fatal(err)
	}
	file, err := sheet.OpenReader(f.Name, bytes.NewReader(f.Bytes), int64(len(f.Bytes)), sheet.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reading, err := importers.Read(t.Context(), file, importers.Options{Types: s.Types, Words: words, List: f.As, Shop: s.Book.Shop()})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Import(t.Context(), app.ImportRequest{File: f.Name, Hash: file.Hash, As: f.As, Standing: f.Standing}, reading); err != nil {
		t.Fatal(err)
	}
}

// demoRequest reads the flags that the demo's questions use.
func demoRequest(t *testing.T, args []string) app.FitRequest {
	t.Helper()
	req := app.FitRequest{EngineHow: "stamped", BuiltHow: "plate"} // as the command line takes them
	for i := 0; i+1 < len(args); i += 2 {
		value := args[i+1]
		switch args[i] {
		case "--frame":
			req.Frame = value
		case "--engine":
			req.Engine = value
		case "--built":
			req.Built = value
		case "--transmission":
			req.Transmission = value
		case "--with":
			req.With = strings.Split(value, ",")
		case "--without":
			req.Without = strings.Split(value, ",")
		case "--type":
			req.Type = value
		case "--part":
			req.Part = value
		default:
			t.Fatalf("the demo asks with %s: teach this test to read it", args[i])
		}
	}
	return req
}

// Rule: each question of the demo is answered from its workbooks as the
// scenario says, with the confidence that can be redone by hand, and what may
// go in is free on the shelf.
func TestDemoAnswers(t *testing.T) {
	s := demoService(t)
	_, questions, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	// Own list .880; own list then maker's book 1/2 + 1/2 x .76 x .84 = .8192.
	confidence := map[string]int{"fits": 880, "fits_with_change": 819}
	for _, q := range questions {
		t.Run(q.Title, func(t *testing.T) {
			result, err := s.Fit(t.Context(), demoRequest(t, q.Args))
			if err != nil {
				t.Fatal(err)
			}
			at, c := candidateOf(t, result, q.Expect.Number)
			if string(c.Verdict) != q.Expect.Verdict || q.Expect.Basis != "" && string(c.Basis) != q.Expect.Basis {
				t.Errorf("got %s, %s, want %s, %s", c.Verdict, c.Basis, q.Expect.Verdict, q.Expect.Basis)
			}
			if want, ok := confidence[q.Expect.Verdict]; ok && c.Confidence != want {
				t.Errorf("confidence: got %d, want %d thousandths", c.Confidence, want)
			}
			if !strings.Contains(c.Reason+ruling(c), q.Expect.Reason) {
				t.Errorf("reason: got %q %q, want %q in it", c.Reason, ruling(c), q.Expect.Reason)
			}
			if q.Expect.Change != "" && !slices.ContainsFunc(c.Changes, func(ch statement.Change) bool { return ch.Task == q.Expect.Change }) {
				t.Errorf("changes: got %v, want %q", c.Changes, q.Expect.Change)
			}
			if c.Verdict != fit.RuledOut && (at > 1 || c.Free < 1) {
				t.Errorf("stands at %d with %d free, want it among the first two and on the shelf", at+1, c.Free)
			}
			if len(c.DependsOn)+len(c.Against) > 0 {
				t.Errorf("depends on %v, against %v, want neither", c.DependsOn, c.Against)
			}
		})
	}
}

func candidateOf(t *testing.T, result app.FitResult, number string) (int, fit.Candidate) {
	t.Helper()
	key, _, err := part.Key(number)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range result.Candidates {
		if slices.ContainsFunc(c.Refs, func(r part.Ref) bool { return r.Key == key }) {
			return i, c
		}
	}
	t.Fatalf("%s is not among the %d candidates", number, len(result.Candidates))
	return 0, fit.Candidate{}
}

func ruling(c fit.Candidate) string {
	if c.RuledOut == nil {
		return ""
	}
	return c.RuledOut.Effect
}

// Rule: near a change by serial the answer says so first.
func TestDemoBreak(t *testing.T) {
	s := demoService(t)
	result, err := s.Fit(t.Context(), app.FitRequest{Frame: "KV31-0123456", Engine: "UQ20", Type: "alternator"})
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Notes) == 0 || !strings.Contains(result.Notes[0], "1,544 before a change at 0125000") {
		t.Errorf("notes: got %q, want the change at 0125000 first", result.Notes)
	}
}

// Rule: a vehicle without an alternator gets no candidate, and the words that
// the list has for it.
func TestDemoNone(t *testing.T) {
	s := demoService(t)
	result, err := s.Fit(t.Context(), app.FitRequest{Frame: "BW18-0001234", Engine: "HB18", Type: "alternator"})
	if err != nil {
		t.Fatal(err)
	}
	if result.None == nil || !strings.Contains(result.None.Note, "trained people only") {
		t.Fatalf("got %+v, want that it has none", result.None)
	}
	for _, c := range result.Candidates {
		if c.Verdict != fit.RuledOut && c.Verdict != fit.NotKnown {
			t.Errorf("%v: got %s beside a vehicle that has none", c.Refs, c.Verdict)
		}
	}
}
