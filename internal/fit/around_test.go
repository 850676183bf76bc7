package fit

import (
	"fmt"
	"testing"

	"crossbin/internal/statement"
)

func relatives(rs []Relative) map[string]string {
	out := map[string]string{}
	for _, r := range rs {
		out[r.Ref.Key] = fmt.Sprintf("%s %d", r.Verdict, r.Confidence)
	}
	return out
}

// What can replace a part and what it can replace are two questions.
func TestBothDirections(t *testing.T) {
	b := newBook()
	b.link("maker", "OLD", statement.ReplacedBy, "P")
	b.link("maker", "P", statement.ReplacedBy, "NEW")
	b.link("maker", "P", statement.StandsIn, "CHG").Changes = []statement.Change{{Task: "swap the pulley", Minutes: 30}}
	b.link("maker", "P", statement.StandsIn, "KIT").Kit = true
	b.link("maker", "P", statement.StandsIn, "ALIKE")
	b.link("fitting", "P", statement.LookAlike, "ALIKE").Reason = "24 volt"
	b.fit("own", "OLD", "model_code=KV31")
	b.fit("own", "P", "model_code=LT40")
	b.fit("own", "NEW", "model_code=XX1")
	a := AskAround(Question{Type: alternator(), Shop: "main", Part: ref("P")}, b.k)

	want := map[string]string{"NEW": "fits 920", "CHG": "fits_with_change 920", "ALIKE": "ruled_out 920"}
	if got := relatives(a.Forward); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("forward: got %v, want %v", got, want)
	}
	want = map[string]string{"OLD": "fits 920"}
	if got := relatives(a.Backward); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("backward: got %v, want %v", got, want)
	}
	places := map[string]string{}
	for _, p := range a.Vehicles {
		places[p.Scope.Text["model_code"]] = fmt.Sprintf("%s %d", p.Verdict, p.Confidence)
	}
	want = map[string]string{"LT40": "fits 880", "KV31": "fits 819"}
	if fmt.Sprint(places) != fmt.Sprint(want) {
		t.Errorf("vehicles: got %v, want %v", places, want)
	}
}

// A deciding difference beats the link in either direction.
func TestRelativesAreCompared(t *testing.T) {
	b := newBook()
	b.link("maker", "P", statement.StandsIn, "Q")
	b.value("own", "P", "volts", "12")
	b.value("own", "Q", "volts", "24")
	for _, asked := range []string{"P", "Q"} {
		a := AskAround(Question{Type: alternator(), Shop: "main", Part: ref(asked)}, b.k)
		all := append(a.Forward, a.Backward...)
		if len(all) != 1 || all[0].Verdict != RuledOut || all[0].RuledOut.Kind != WorksWrong {
			t.Errorf("%s: got %+v, want the other one ruled out", asked, all)
		}
	}
}
