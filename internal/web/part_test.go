package web

import (
	"net/http"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/vehicle"
)

// bothWays is all about one part.
func bothWays() app.AroundResult {
	cs := allVerdicts().Candidates
	relative := func(i int, key string) fit.Relative {
		c := cs[i]
		return fit.Relative{Ref: part.Ref{Key: key}, Numbers: c.Numbers, Name: c.Name, Verdict: c.Verdict, Reason: c.Reason, Confidence: c.Confidence,
			Changes: c.Changes, RuledOut: c.RuledOut, Trails: c.Trails}
	}
	scope := vehicle.NewScope()
	scope.Want(vehicle.FactModelCode, "ZQX30")
	scope.Want(vehicle.FactEngine, "XQ20D")
	scope.Want("option:ac", "yes")
	return app.AroundResult{Around: fit.Around{Type: alternator(), Part: relative(0, "A"), Forward: []fit.Relative{relative(1, "B"), relative(3, "D")},
		Backward: []fit.Relative{relative(2, "C")}, Against: []string{"two lists disagree on its amps"},
		Vehicles: []fit.Place{{Scope: scope, Number: "98760-50090", Verdict: fit.Fits, Confidence: 880, Trails: cs[0].Trails},
			{Scope: vehicle.NewScope(), Number: "DA 100-512", Verdict: fit.CheckFirst}}},
		Stock: map[string][]shelf.Line{"A": {{Bin: "A-03-2", Condition: shelf.New, OnHand: 2}}, "B": {{Bin: "B-11", Condition: shelf.New, OnHand: 1}}}}
}

// A part in hand is answered in both directions.
func TestPartPageAnswersBothWays(t *testing.T) {
	f := &fake{around: bothWays()}
	text := words(get(handler(f), "/part?part=98760-50090&part_maker=Toriyama&type=alternator").Body.String())
	if f.asked.Part != "98760-50090" || f.asked.PartMaker != "Toriyama" || f.asked.Type != "alternator" {
		t.Errorf("asked %+v", f.asked)
	}
	at := -1
	for _, want := range []string{"98760-50090 Toriyama", "DA 100-471 Denkai", "On the shelf: bin A-03-2, 2 free", "Against: two lists disagree", "Does it go into this vehicle?",
		"What can replace it", "Tag 1, Fits with a change", "On the shelf: bin B-11, 1 free", "Tag 2, Bolts on, but never", "What it can replace", "Tag 3, Check first",
		"Where it goes", "Fits: ZQX30, engine XQ20D, with air conditioning", "Check first: every vehicle by DA 100-512"} {
		i := strings.Index(text, want)
		if i < at {
			t.Errorf("no %q, or not in its place, in\n%s", want, text)
		}
		at = max(at, i)
	}
}

// A part without a vehicle leads to the page about the part.
func TestAPartAloneLeadsToItsPage(t *testing.T) {
	f := &fake{}
	w := get(handler(f), "/?part=DA+100%2F471&type=alternator")
	if got := w.Header().Get("Location"); w.Code != http.StatusSeeOther || got != "/part?part=DA+100%2F471&type=alternator" || f.calls != 0 {
		t.Errorf("got %d %q", w.Code, got)
	}
}
