package web

import (
	"net/url"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/vehicle"
)

func TestQuestionAsTyped(t *testing.T) {
	f := &fake{result: allVerdicts()}
	get(handler(f), "/?type=alternator&frame=+ZQX30-0123456+&transmission=AT&drive=4WD&side=RHD&turbo=no&option_ac=yes&option_cold=no&with=abs,ps&part=DA+100%2F471&seen_ribs=+5+&seen_amps=%3F&seen_pins=&ref=mail")
	want := app.FitRequest{Frame: "ZQX30-0123456", Type: "alternator", Transmission: "AT", Drive: "4WD", Side: "RHD", Turbo: "no",
		Observed: []app.Observed{{Attribute: "amps", Value: "?"}, {Attribute: "ribs", Value: "5"}},
		With:     []string{"abs", "ac", "ps"}, Without: []string{"cold"}, Part: "DA 100/471", Explain: true}
	if diff := cmp.Diff(want, f.asked); diff != "" {
		t.Error(diff)
	}
}

// An answer has an address, and the address asks the same question.
func TestAddressAsksTheSameQuestion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var q question
		for _, f := range q.texts() {
			*f.at = rapid.StringMatching(`([A-Za-z0-9]([A-Za-z0-9/&=+%#?;"' éü年-]{0,10}[A-Za-z0-9])?)?`).Draw(t, f.name)
		}
		for _, o := range rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z_]{1,6}`), 0, 4, rapid.ID).Draw(t, "options") {
			q.setOption(o, rapid.SampledFrom([]string{"yes", "no"}).Draw(t, o))
		}
		for _, name := range rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z_:]{1,6}`), 0, 3, rapid.ID).Draw(t, "unseen") {
			q = q.notSeen(name)
		}
		for _, name := range rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z_]{1,6}`), 0, 3, rapid.ID).Draw(t, "seen") {
			q = q.saw(name, rapid.StringMatching(`[0-9a-z?][0-9a-z ,.&=]{0,4}[0-9a-z]`).Draw(t, name))
		}
		slices.Sort(q.With)
		slices.Sort(q.Without)
		u, err := url.Parse(q.address())
		if err != nil {
			t.Fatal(err)
		}
		got, err := readQuestion(u.Query())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(q, got); diff != "" {
			t.Fatal(diff)
		}
	})
}

func TestAnsweringALookAddsOneFact(t *testing.T) {
	q := question{FitRequest: app.FitRequest{Frame: "ZQX30-0123456", Without: []string{"ac"}}}
	tests := []struct {
		fact  vehicle.Fact
		value string
		want  string // address, "" where the value cannot be picked
	}{
		{vehicle.FactTransmission, "MT", "/?frame=ZQX30-0123456&option_ac=no&transmission=MT"},
		{vehicle.FactDrive, "4WD", "/?drive=4WD&frame=ZQX30-0123456&option_ac=no"},
		{vehicle.OptionFact("ac"), "YES", "/?frame=ZQX30-0123456&option_ac=yes"},
		{vehicle.OptionFact("cold"), "no", "/?frame=ZQX30-0123456&option_ac=no&option_cold=no"},
		{vehicle.FactTransmission, "another", ""},
		{vehicle.FactBuilt, "1997-05", ""},
		{"ribs", "5", ""},
	}
	for _, tt := range tests {
		next, ok := q.answered(tt.fact, tt.value)
		if got := next.address(); ok != (tt.want != "") || ok && got != tt.want {
			t.Errorf("%s %s: got %s, want %s", tt.fact, tt.value, got, tt.want)
		}
	}
	if got := q.option("ac"); got != "no" || len(q.With) != 0 {
		t.Errorf("the question that was asked has changed: %s %v", got, q.With)
	}
}

// "Can't see it" is always an answer and is not asked again.
func TestWhatCannotBeSeenIsNotAskedAgain(t *testing.T) {
	r := allVerdicts()
	for _, q := range []question{{Unseen: []string{"transmission"}}, question{}.saw("ribs", cannotSee), question{}.saw("ribs", "5")} {
		if looks := open(r.Looks, q); len(looks) != 1 {
			t.Errorf("%+v: got %+v", q, looks)
		}
	}
	want := []string{"/?unseen=transmission", "/?seen_ribs=%3F"}
	for i, l := range lookViews(r, question{}) {
		if l.CannotSee != want[i] {
			t.Errorf("%s: got %q, want %q", l.Title, l.CannotSee, want[i])
		}
	}
	if got := unknowns(r, question{Unseen: []string{"option:ac", "drive"}}); len(got) != 0 {
		t.Errorf("got %+v", got)
	}
}

// What was seen on the part's attributes is one press away, and can be taken
// back in the form.
func TestMeasuresAreAnsweredAndTakenBack(t *testing.T) {
	q := question{FitRequest: app.FitRequest{Type: "generator", Frame: "ZQX30-0123456"}}.saw("ribs", "5").saw("amps", "?").saw("pins", "3").saw("pins", "")
	if got, want := lookViews(allVerdicts(), q)[1].Results[1].Address, "/?frame=ZQX30-0123456&seen_amps=%3F&seen_ribs=6&type=generator"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	var got []string
	for _, f := range New(&fake{}, partTypes(), nil).askForm(q).Seen {
		got = append(got, f.Name+" "+f.Label+" "+f.Value)
	}
	if diff := cmp.Diff([]string{"seen_amps Rated output ?", "seen_ribs Pulley ribs 5"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestWindowsSayWhatToLookAt(t *testing.T) {
	looks := []fit.Look{{Attribute: "ribs", Where: "count them", TellsApart: []fit.Result{{Value: "5", Candidates: []int{0}}, {Value: "6", Candidates: []int{1}}}}}
	tests := []struct {
		name  string
		c     fit.Candidate
		looks []fit.Look
		want  []string
	}{
		{"a fact that decides", fit.Candidate{DependsOn: []vehicle.Fact{"option:ac"}, GoesInWhen: map[vehicle.Fact][]string{"option:ac": {"yes"}}}, looks, []string{"Air conditioning? Goes in with: yes"}},
		{"a fact without values", fit.Candidate{DependsOn: []vehicle.Fact{"engine"}}, looks, []string{"Engine?"}},
		{"a look that speaks of it", fit.Candidate{}, looks, []string{"Pulley ribs: count them"}},
		{"nothing at all", fit.Candidate{}, nil, []string{"Hold it against the one that comes off, before anything else does."}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, windowLines(0, tt.c, fit.Answer{Type: alternator(), Looks: tt.looks})); diff != "" {
				t.Error(diff)
			}
		})
	}
}
