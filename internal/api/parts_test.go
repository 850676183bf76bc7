package api

import (
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// A part without a vehicle is answered in both directions.
func TestPartWithoutAVehicle(t *testing.T) {
	own := part.Ref{Key: "TA100"}
	number := []fit.Number{{Number: "TA-100", Role: statement.Own, Basis: fit.Stated}}
	scope := vehicle.NewScope()
	scope.Want(vehicle.FactModelCode, "ZQX30")
	trails := []fit.Trail{trailOf(true, stepOf("s1", statement.KindLink, source("stock", statement.OwnList), 6, 0.88))}
	f := &fake{around: app.AroundResult{Stock: map[string][]shelf.Line{"TA100": {{Bin: "A-1", Condition: shelf.New, OnHand: 1}}},
		Around: fit.Around{Revision: 3, Type: alternator(), Part: fit.Relative{Ref: own, Numbers: number},
			Forward: []fit.Relative{{Numbers: number, Verdict: fit.RuledOut, Reason: "no pump", RuledOut: &fit.Ruling{Kind: fit.WorksWrong}},
				{Numbers: number, Verdict: fit.FitsWithChange, Confidence: 880, Changes: []statement.Change{{Task: "move the pulley over"}}, Trails: trails}},
			Vehicles: []fit.Place{{Scope: scope, Number: "TA-100", Verdict: fit.Fits, Confidence: 880, Trails: trails}}}}}
	body := newContract(t, f).ask(true, "GET", "/api/v1/parts?part=TA-100%2FB&part_maker=Toriyama&type=alternator", "").Body.String()
	if f.asked.Part != "TA-100/B" || f.asked.PartMaker != "Toriyama" || f.asked.Type != "alternator" {
		t.Errorf("asked %+v", f.asked)
	}
	for _, want := range []string{`"can_replace":[]`, `"scope":{"model_code":"ZQX30"}`, `"bin":"A-1"`, `"verdict":"fits_with_change"`, `"ruled_out":{"kind":"works_wrong"`} {
		if !strings.Contains(body, want) {
			t.Errorf("no %s in %s", want, body)
		}
	}
	newContract(t, &fake{}).ask(true, "GET", "/api/v1/parts?part=unknown", "")
}

func TestScopesInOneLine(t *testing.T) {
	with := func(set map[vehicle.Fact]string) vehicle.Scope {
		s := vehicle.NewScope()
		for f, v := range set {
			s.Want(f, v)
		}
		return s
	}
	tests := []struct {
		scope vehicle.Scope
		want  string
	}{
		{vehicle.NewScope(), "every vehicle"},
		{with(map[vehicle.Fact]string{vehicle.FactEngine: "XQ20D", vehicle.FactModelCode: "ZQX30", vehicle.FactDrive: "4WD"}), "ZQX30 XQ20D 4WD"},
		{with(map[vehicle.Fact]string{vehicle.FactModelCode: "ZQX30", "option:ac": "yes", "option:cold": "no"}), "ZQX30 with ac without cold"},
	}
	for _, tt := range tests {
		if got := ScopeWords(tt.scope); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}
