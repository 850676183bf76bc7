package acceptance

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"testing"

	"crossbin/data"
	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
	"crossbin/internal/testkit"
)

// The order in which lists come in changes no answer: what a number means is
// settled when a question is asked.
func TestOrderOfListsChangesNothing(t *testing.T) {
	files, questions, err := data.Demo()
	if err != nil {
		t.Fatal(err)
	}
	backward := slices.Clone(files)
	slices.Reverse(backward)
	one, other := demoShop(t, files), demoShop(t, backward)
	asked := []app.FitRequest{
		{Frame: "KV31-0123456", Engine: "UQ20", Built: "1997-05", Type: "alternator"},
		{Frame: "KT43-0031207", Engine: "YQ28T", Built: "1999-04", Transmission: "MT", Type: "alternator"},
		{Frame: "ZW52-0207114", Engine: "YQ28T", Built: "1998-02", Type: "alternator", Part: "98760-60350"},
		{Engine: "UQ", Type: "radiator"}, {Frame: "BW18-0001000", Type: "alternator"}, {Frame: "KV31-0123456", Type: "starter"},
		{ModelCode: "KV31", Type: "water pump"},
	}
	if len(questions) == 0 {
		t.Fatal("the demo asks nothing")
	}
	for _, q := range asked {
		a, b := one.Ask(q), other.Ask(q)
		if got, want := answerText(b), answerText(a); got != want {
			t.Errorf("%+v:\ngot  %s\nwant %s", q, got, want)
		}
	}
}

func answerText(r app.FitResult) string {
	text := fmt.Sprint(r.Notes, r.None != nil)
	for i, c := range r.Candidates {
		text += fmt.Sprintf("\n%v %s %s %d %v %v %q", c.Numbers, c.Verdict, c.Basis, c.Confidence, c.DependsOn, c.Changes, c.Reason)
		for _, l := range r.Stock[i] {
			text += fmt.Sprintf(" %s %s %d/%d", l.Bin, l.Condition, l.OnHand, l.Held)
		}
	}
	return text
}

// demoShop brings the demo's workbooks in, in the given order.
func demoShop(t *testing.T, files []data.DemoFile) *testkit.Shop {
	t.Helper()
	s := testkit.NewShop(t)
	words, err := data.Words()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range files {
		f, err := sheet.OpenReader(d.Name, bytes.NewReader(d.Bytes), int64(len(d.Bytes)), sheet.DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		reading, err := importers.Read(t.Context(), f, importers.Options{Types: s.Types, Words: words, List: d.As, Shop: "main"})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Import(context.Background(), app.ImportRequest{File: d.Name, Hash: f.Hash, As: d.As, Standing: d.Standing}, reading); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	return s
}
