package api

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/httpserver"
	"crossbin/internal/vehicle"
)

const ask = "/api/v1/fit?frame=ZQX30-0123456&type=alternator"

// The keys of the answer are the contract of design 13.
func TestFitAnswerHasTheKeysOfTheContract(t *testing.T) {
	c := newContract(t, &fake{result: allVerdicts()})
	var got map[string]any
	if err := json.Unmarshal(c.ask(true, "GET", ask, "").Body.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	top := "candidates candidates_left_out cautions looks notes reference revision type vehicle warnings"
	if keys := strings.Join(sortedKeys(got), " "); keys != top {
		t.Errorf("got %s\nwant %s", keys, top)
	}
	first := got["candidates"].([]any)[0].(map[string]any)
	want := "against basis changes confidence depends_on goes_in_when name notes numbers position quantity reason shelf trails verdict"
	if keys := strings.Join(sortedKeys(first), " "); keys != want {
		t.Errorf("got %s\nwant %s", keys, want)
	}
	step := first["trails"].([]any)[0].([]any)[0].(map[string]any)
	want = "cell direction file kind reliability row sheet source standing statement text"
	if keys := strings.Join(sortedKeys(step), " "); keys != want {
		t.Errorf("got %s\nwant %s", keys, want)
	}
	wantVehicle := map[string]any{"frame": "ZQX30-0123456", "model_code": "ZQX30", "serial": "0123456",
		"engine": map[string]any{"value": "XQ20D", "how": "stamped"}, "built": map[string]any{"value": "1997-01…1997-12", "how": "plate"},
		"options": map[string]any{"cold": map[string]any{"value": "yes", "how": "seen"}}, "unknown": []any{"option:ac"}}
	if diff := cmp.Diff(wantVehicle, got["vehicle"]); diff != "" {
		t.Error(diff)
	}
}

func TestFitPrintsFiguresAsTheyAreCompared(t *testing.T) {
	c := newContract(t, &fake{result: allVerdicts()})
	body := c.ask(true, "GET", ask, "").Body.String()
	for _, want := range []string{`"confidence":0.988`, `"tells_apart":[["5",[0]],["6",[]]]`, `"number":"TA-200/B"`, `"free":2`,
		`"reference":{"ribs":{"value":"5","from":"seen on the vehicle"}}`, `"basis":"by_kin","confidence":0.880}`} {
		if !strings.Contains(body, want) {
			t.Errorf("no %s in %s", want, body)
		}
	}
	if got := string(thousandths(880)); got != "0.880" {
		t.Errorf("got %s, want 0.880", got)
	}
	if strings.Contains(body, "null") {
		t.Errorf("an empty list is [], never null: %s", body)
	}
}

func TestEachVerdictIsAnAnswer(t *testing.T) {
	for _, c := range allVerdicts().Candidates {
		t.Run(string(c.Verdict), func(t *testing.T) {
			r := allVerdicts()
			r.Candidates, r.Stock, r.Looks = []fit.Candidate{c}, nil, nil
			for _, explain := range []string{"", "&explain=1"} {
				w := newContract(t, &fake{result: r}).ask(true, "GET", ask+explain, "")
				if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), `"verdict":"`+string(c.Verdict)+`"`) {
					t.Errorf("got %d %s", w.Code, w.Body)
				}
			}
		})
	}
}

func TestNoneIsAnAnswer(t *testing.T) {
	r := allVerdicts()
	r.None = &fit.None{Note: "no alternator, charging by converter, high voltage: trained people only", Trails: r.Candidates[0].Trails}
	r.Candidates, r.Stock = nil, nil
	body := newContract(t, &fake{result: r}).ask(true, "GET", ask, "").Body.String()
	if !strings.Contains(body, `"none":{"note":"no alternator`) || !strings.Contains(body, `"candidates":[]`) {
		t.Errorf("got %s", body)
	}
}

func TestAnEmptyAnswerHasEmptyLists(t *testing.T) {
	r := app.FitResult{Answer: fit.Answer{Facts: vehicle.NewFacts()}}
	body := newContract(t, &fake{result: r}).ask(true, "GET", ask, "").Body.String()
	want := `{"revision":0,"vehicle":{"unknown":[]},"type":"","reference":{},"warnings":[],"notes":[],"candidates":[],"candidates_left_out":0,"looks":[],"cautions":[]}`
	if strings.TrimSpace(body) != want {
		t.Errorf("got  %s\nwant %s", body, want)
	}
}

// The printed arithmetic leads to the printed confidence, by hand.
func TestArithmeticCanBeRedone(t *testing.T) {
	r := allVerdicts()
	r.Request.Explain = true
	for _, c := range FitJSON(r).(Fit).Candidates {
		t.Run(c.Verdict, func(t *testing.T) {
			if len(c.Arithmetic.Trails) != len(c.Trails) {
				t.Fatalf("got %d trails, want %d", len(c.Arithmetic.Trails), len(c.Trails))
			}
			sum := 0.0
			for _, tr := range c.Arithmetic.Trails {
				product := 1.0
				for _, row := range tr.Rows {
					product *= 2*row - 1
				}
				reliability := 0.5 + 0.5*product
				near(t, "reliability", tr.Reliability, reliability)
				near(t, "log-odds", tr.LogOdds, math.Log(reliability/(1-reliability)))
				if tr.Counted {
					sum += math.Log(reliability / (1 - reliability))
				}
			}
			near(t, "sum", c.Arithmetic.Sum, sum)
			want := fmt.Sprintf("%.3f", math.Floor(1000/(1+math.Exp(-sum))+1e-6)/1000)
			if len(c.Trails) > 0 && (string(c.Confidence) != want || c.Arithmetic.Confidence != c.Confidence) {
				t.Errorf("confidence %s, by hand %s", c.Confidence, want)
			}
		})
	}
}

func near(t *testing.T, what string, got json.Number, want float64) {
	t.Helper()
	if f, err := got.Float64(); err != nil || math.Abs(f-want) > 1e-6 {
		t.Errorf("%s: got %s, by hand %f", what, got, want)
	}
}

// A row counts once in a trail, however many of its statements it uses.
func TestRowsCountOnceInATrail(t *testing.T) {
	own := source("stock", "own list")
	steps := []fit.Step{stepOf("a", "fitment", own, 6, 0.88), stepOf("b", "link", own, 6, 0.88), stepOf("c", "link", own, 7, 0.9)}
	if diff := cmp.Diff([]float64{0.88, 0.9}, rowReliabilities(steps)); diff != "" {
		t.Error(diff)
	}
}

func TestLogOddsStayNumbers(t *testing.T) {
	for _, r := range []float64{0, 1, -1, 2} {
		if got := logOdds(r); math.IsInf(got, 0) || math.IsNaN(got) {
			t.Errorf("%f: got %f", r, got)
		}
	}
}

func TestBothWaysOfAskingAskTheSame(t *testing.T) {
	want := app.FitRequest{Frame: "ZQX30-0123456", VIN: "v", Maker: "Toriyama", Model: "Kite", ModelCode: "E-ZQX30", Engine: "XQ20D",
		EngineHow: "stamped", Built: "1997-05", BuiltHow: "paper", Transmission: "AT", Drive: "4WD", Side: "RHD", Turbo: "yes",
		Market: "JP", With: []string{"ac", "cold"}, Without: []string{"abs"}, Observed: []app.Observed{{Attribute: "ribs", Value: "5"}, {Attribute: "terminals", Value: "lamp, sense"}}, Type: "alternator", Part: "TA-200/B", PartMaker: "Toriyama & Sons", Explain: true}
	f := &fake{result: allVerdicts()}
	c := newContract(t, f)
	query := "/api/v1/fit?frame=ZQX30-0123456&vin=v&maker=Toriyama&model=Kite&model_code=E-ZQX30&engine=XQ20D&engine_how=stamped&built=1997-05" +
		"&built_how=paper&transmission=AT&drive=4WD&side=RHD&turbo=yes&market=JP&with=ac,cold&without=abs&measure=ribs%3D5&measure=terminals=lamp,+sense&type=alternator" +
		"&part=TA-200%2FB&part_maker=Toriyama+%26+Sons&explain=1"
	c.ask(true, "GET", query, "")
	if diff := cmp.Diff(want, f.asked); diff != "" {
		t.Error("GET", diff)
	}
	c.ask(true, "GET", strings.Replace(query, "with=ac,cold", "with=ac&with=cold", 1), "")
	if diff := cmp.Diff(want, f.asked); diff != "" {
		t.Error("GET, repeated", diff)
	}
	c.ask(true, "POST", "/api/v1/fit", `{"vehicle": {"frame": "ZQX30-0123456", "vin": "v", "maker": "Toriyama", "model": "Kite", "model_code": "E-ZQX30",
		"engine": "XQ20D", "engine_how": "stamped", "built": "1997-05", "built_how": "paper", "transmission": "AT", "drive": "4WD", "side": "RHD",
		"turbo": "yes", "market": "JP", "with": ["ac", "cold"], "without": ["abs"],
		"observed": [{"attribute": "ribs", "value": "5"}, {"attribute": "terminals", "value": "lamp, sense"}]},
		"type": "alternator", "part": {"maker": "Toriyama & Sons", "number": "TA-200/B"}, "explain": true}`)
	if diff := cmp.Diff(want, f.asked); diff != "" {
		t.Error("POST", diff)
	}
}

func TestErrorsOfTheApplicationBecomeProblems(t *testing.T) {
	for _, k := range httpserver.Kinds() {
		f := &fake{err: &app.Error{Code: k.Code, Message: "it is so", Hint: "do this"}}
		c := newContract(t, f)
		for _, target := range []string{ask, "/api/v1/parts?part=x", "/api/v1/search?q=x", "/api/v1/lists", "/api/v1/imports", "/healthz"} {
			if k.Status == http.StatusBadRequest {
				continue // the contract takes 400 as "not allowed by the document"
			}
			if w := c.ask(true, "GET", target, ""); w.Code != k.Status || !strings.Contains(w.Body.String(), "it is so") {
				t.Errorf("%s %s: got %d %s", k.Code, target, w.Code, w.Body)
			}
		}
	}
}
