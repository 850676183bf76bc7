package api

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"crossbin/internal/httpserver"
)

// What the document does not allow is refused, and says what to do. Not every
// refusal can be written in the document: allowed marks those.
func TestRefusedQuestions(t *testing.T) {
	const post = "/api/v1/fit"
	long := strings.Repeat("x", maxValue+1)
	tests := []struct {
		name, method, target, body string
		status                     int
		allowed                    bool // by the document
		says                       string
	}{
		{"an unknown parameter", "GET", ask + "&modelcode=x", "", 400, true, "did you mean model_code?"},
		{"a parameter twice", "GET", ask + "&engine=a&engine=b", "", 400, true, "engine stands twice"},
		{"a value too long", "GET", ask + "&engine=" + long, "", 413, false, "engine is longer than 200 characters"},
		{"too many options", "GET", ask + strings.Repeat("&with=a", maxOptions+1), "", 413, false, "with holds 33 values"},
		{"text that is no UTF-8", "GET", ask + "&engine=%FF", "", 400, true, "engine is not UTF-8"},
		{"a control character", "GET", ask + "&engine=a%00b", "", 400, true, "control character"},
		{"an escape that is none", "GET", ask + "&engine=%zz", "", 400, true, "cannot be read"},
		{"explain that is neither", "GET", ask + "&explain=perhaps", "", 400, false, "neither on nor off"},
		{"no way of knowing", "GET", ask + "&engine_how=dreamt", "", 400, false, "known are stamped"},
		{"no vehicle", "GET", post + "?type=alternator", "", 400, true, "which vehicle?"},
		{"no part type and no part", "GET", post + "?frame=ZQX30-0123456", "", 400, true, "which kind of part?"},
		{"a measurement without a value", "GET", ask + "&measure=ribs", "", 400, true, "no measurement"},
		{"no part number", "GET", "/api/v1/parts", "", 400, false, "which part?"},
		{"a vehicle where none belongs", "GET", "/api/v1/parts?part=a&frame=b", "", 400, true, "no parameter is called frame"},
		{"an observation without a value", "POST", post, `{"vehicle":{"frame":"A","observed":[{"attribute":"ribs"}]},"type":"x"}`, 400, false, "needs attribute and value"},
		{"an unknown key of an observation", "POST", post, `{"vehicle":{"frame":"A","observed":[{"attribute":"ribs","val":"5"}]},"type":"x"}`, 400, false, "did you mean value?"},
		{"observations that are no list", "POST", post, `{"vehicle":{"frame":"A","observed":{}},"type":"x"}`, 400, false, "observed is a JSON object"},
		{"too many observations", "GET", ask + strings.Repeat("&measure=a%3Db", maxOptions+1), "", 413, false, "measure holds 33 values"},
		{"nothing to search for", "GET", "/api/v1/search", "", 400, false, "nothing to search for"},
		{"a limit that is no number", "GET", "/api/v1/search?q=a&limit=many", "", 400, false, "no whole number"},
		{"a limit that is too high", "GET", "/api/v1/search?q=a&limit=101", "", 400, false, "from 1 to 100"},
		{"a parameter where none belongs", "GET", "/api/v1/lists?name=x", "", 400, true, "leave it out"},
		{"a parameter beside a body", "POST", post + "?type=x", `{"vehicle":{"frame":"A"},"type":"x"}`, 400, true, "leave it out"},
		{"an unknown key", "POST", post, `{"vehicle":{"frame":"A"},"type":"x","parts":[]}`, 400, false, "did you mean part?"},
		{"an unknown fact", "POST", post, `{"vehicle":{"chassis":"A"},"type":"x"}`, 400, false, "no key of vehicle is called chassis"},
		{"a key in capitals", "POST", post, `{"vehicle":{"Frame":"A"},"type":"x"}`, 400, false, "did you mean frame?"},
		{"a key twice", "POST", post, `{"type":"x","type":"y","vehicle":{"frame":"A"}}`, 400, true, "type stands twice"},
		{"an unknown key of the part", "POST", post, `{"vehicle":{"frame":"A"},"part":{"no":"1"}}`, 400, false, "no key of part is called no"},
		{"a number for a text", "POST", post, `{"vehicle":{"frame":12},"type":"x"}`, 400, false, "vehicle.frame is a JSON number"},
		{"a text for options", "POST", post, `{"vehicle":{"frame":"A","with":"ac"},"type":"x"}`, 400, false, "vehicle.with is a JSON string"},
		{"a list for the body", "POST", post, `[]`, 400, false, "no JSON object"},
		{"a list for the vehicle", "POST", post, `{"vehicle":[],"type":"x"}`, 400, false, "vehicle is no JSON object"},
		{"a body cut short", "POST", post, `{"vehicle":{"frame":"A"}`, 400, false, "no JSON that can be read"},
		{"two bodies", "POST", post, `{"vehicle":{"frame":"A"},"type":"x"}{}`, 400, true, "no JSON that can be read"},
		{"a long text in a body", "POST", post, `{"vehicle":{"frame":"` + long + `"},"type":"x"}`, 413, false, "frame is longer"},
		{"a long option in a body", "POST", post, `{"vehicle":{"frame":"A","with":["` + long + `"]},"type":"x"}`, 413, false, "with is longer"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := httptest.NewRecorder()
			c := newContract(t, &fake{result: allVerdicts()})
			if tt.allowed || tt.status != http.StatusBadRequest {
				c.handler.ServeHTTP(w, request(tt.method, tt.target, tt.body))
			} else {
				w = c.ask(false, tt.method, tt.target, tt.body)
			}
			if w.Code != tt.status || !strings.Contains(w.Body.String(), tt.says) {
				t.Errorf("got %d %s\nwant %d and %q", w.Code, w.Body, tt.status, tt.says)
			}
			if got := w.Header().Get("Content-Type"); got != "application/problem+json" {
				t.Errorf("got %q", got)
			}
		})
	}
}

func TestBodiesMustBeBoundedJSON(t *testing.T) {
	c := newContract(t, &fake{result: allVerdicts()})
	r := httptest.NewRequest("POST", "/api/v1/fit", strings.NewReader("frame=A"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	c.handler.ServeHTTP(w, r)
	if w.Code != http.StatusUnsupportedMediaType {
		t.Errorf("a form: got %d", w.Code)
	}
	w = httptest.NewRecorder()
	c.handler.ServeHTTP(w, request("POST", "/api/v1/fit", strings.Repeat(" ", httpserver.MaxBody+1)))
	if w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a long body: got %d", w.Code)
	}
}

// Whatever body comes, the API answers with a problem and never with a defect.
func FuzzBody(f *testing.F) {
	for _, s := range []string{`{}`, `{"vehicle":{"frame":"A"},"type":"x"}`, `{"vehicle":null}`, `{"part":{"number":"1"}}`, `[[[`, `{"a":`, "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		r := httptest.NewRequest("POST", "/api/v1/fit", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		httpserver.NewRouter(New(&fake{}, nil).Register).ServeHTTP(w, r)
		if w.Code >= http.StatusInternalServerError {
			t.Errorf("got %d %s", w.Code, w.Body)
		}
	})
}

func TestNearestNames(t *testing.T) {
	known := []string{"frame", "model", "model_code", "with"}
	tests := []struct{ name, want string }{
		{"fram", "frame"}, {"Model-Code", "model_code"}, {"modle", "model"}, {"wiht", "with"}, {"price", ""}, {"", ""}, {"w", ""},
	}
	for _, tt := range tests {
		if got := nearest(tt.name, known); got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.name, got, tt.want)
		}
	}
}
