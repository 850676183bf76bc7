package testkit

import (
	"context"
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"time"

	"crossbin/data"
	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/sqlite"
	"crossbin/internal/statement"
)

// Shop is a shop with a real book in a folder of the test, fed with sheets
// written as csv.
type Shop struct {
	*app.Service
	t   testing.TB
	now time.Time
}

// NewShop opens an empty shop that is closed with the test. Its clock stands
// still at noon of 2026-11-02 and moves a minute with each list.
func NewShop(t testing.TB) *Shop {
	t.Helper()
	s := &Shop{t: t, now: time.Date(2026, 11, 2, 12, 0, 0, 0, time.UTC)}
	clock := func() time.Time { return s.now }
	book, err := sqlite.Open(t.Context(), t.TempDir(), sqlite.Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := book.Close(); err != nil {
			t.Error(err)
		}
	})
	types, err := data.PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	standings, err := data.Standings()
	if err != nil {
		t.Fatal(err)
	}
	s.Service = &app.Service{Book: book, Types: types, Standings: standings, Clock: clock, Log: slog.New(slog.DiscardHandler)}
	return s
}

// List brings a sheet in as a version of a list; the test ends where that
// fails. Columns of the text are parted by "|", blanks around them are dropped.
func (s *Shop) List(name string, standing statement.Standing, table string) app.ImportReport {
	s.t.Helper()
	rep, err := s.TryList(name, standing, table)
	if err != nil {
		s.t.Fatal(err)
	}
	return rep
}

// TryList is List for tests that expect an error.
func (s *Shop) TryList(name string, standing statement.Standing, table string) (app.ImportReport, error) {
	s.t.Helper()
	s.now = s.now.Add(time.Minute)
	text := csvOf(table)
	f, err := sheet.OpenReader(name+".csv", strings.NewReader(text), int64(len(text)), sheet.DefaultLimits())
	if err != nil {
		return app.ImportReport{}, err
	}
	defer f.Close()
	words, err := data.Words()
	if err != nil {
		return app.ImportReport{}, err
	}
	reading, err := importers.Read(context.Background(), f, importers.Options{Types: s.Types, Words: words, List: name, Shop: "main"})
	if err != nil {
		return app.ImportReport{}, err
	}
	return s.Import(context.Background(), app.ImportRequest{File: name + ".csv", Hash: f.Hash, As: name, Standing: standing}, reading)
}

// csvOf turns a table with "|" between its columns into csv.
func csvOf(table string) string {
	var b strings.Builder
	for line := range strings.Lines(strings.TrimSpace(table)) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		for i, c := range cells {
			cells[i] = `"` + strings.ReplaceAll(strings.TrimSpace(c), `"`, `""`) + `"`
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	return b.String()
}

// Ask asks a fit question; the test ends where that fails.
func (s *Shop) Ask(req app.FitRequest) app.FitResult {
	s.t.Helper()
	r, err := s.Fit(context.Background(), req)
	if err != nil {
		s.t.Fatal(err)
	}
	return r
}

// Verdicts gives "verdict basis confidence" of every number of an answer, by
// number as printed.
func Verdicts(r app.FitResult) map[string]string {
	out := map[string]string{}
	for _, c := range r.Candidates {
		for _, n := range c.Numbers {
			out[n.Number] = fmt.Sprintf("%s %s %d", c.Verdict, n.Basis, n.Confidence)
		}
	}
	return out
}

// CandidateOf gives the candidate that bears a number; the test ends where there
// is none.
func CandidateOf(t testing.TB, r app.FitResult, number string) fit.Candidate {
	t.Helper()
	key, _, err := part.Key(number)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Candidates {
		for _, ref := range c.Refs {
			if ref.Key == key {
				return c
			}
		}
	}
	t.Fatalf("%s is not among the candidates %v", number, Verdicts(r))
	return fit.Candidate{}
}
