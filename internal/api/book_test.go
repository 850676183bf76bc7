package api

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/statement"
)

func TestListsAndImportsKeepTheirSums(t *testing.T) {
	counts := app.Counts{Read: 10, Taken: 6, Flagged: 2, Refused: 1, Skipped: 1, Added: 5, Dropped: 4, Kept: 3, Moved: 2, Postings: 7}
	f := &fake{
		lists: []app.List{{Name: "stock", Standing: statement.OwnList, Version: 2, File: "stock.xlsx", Batch: "b2", ReadAt: 1_793_616_000_123, Counts: counts},
			{Name: "withdrawn", Standing: statement.Hearsay}},
		imports: []app.Batch{{ID: "b2", List: "stock", Version: 2, State: app.Committed, At: 1_793_616_000_123, By: app.Actor{Who: "Ume", Device: "counter"}, Counts: counts}},
	}
	c := newContract(t, f)
	for _, target := range []string{"/api/v1/lists", "/api/v1/imports"} {
		body := c.ask(true, "GET", target, "").Body.String()
		for _, want := range []string{`"rows_read":10`, `"rows_taken":6`, `"rows_flagged":2`, `"rows_refused":1`, `"rows_skipped":1`, "2026-11-02T10:40:00.123Z"} {
			if !strings.Contains(body, want) {
				t.Errorf("%s: no %s in %s", target, want, body)
			}
		}
	}
	if body := newContract(t, &fake{}).ask(true, "GET", "/api/v1/lists", "").Body.String(); strings.TrimSpace(body) != `{"lists":[]}` {
		t.Errorf("no lists: got %s", body)
	}
}

func TestTypesSayWhatIsCompared(t *testing.T) {
	var got Types
	if err := json.Unmarshal(newContract(t, &fake{}).ask(true, "GET", "/api/v1/types", "").Body.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Types) != 1 || got.Types[0].Name != "alternator" || got.Types[0].Attributes[0].OnVehicle.Effort != 1 {
		t.Errorf("got %+v", got)
	}
	if got.Types[0].Attributes[0].OffVehicle != nil {
		t.Error("a sight that cannot be had is left out")
	}
}

func TestSearchAsksWithinItsBounds(t *testing.T) {
	f := &fake{found: app.FindAnswer{Query: "98 5?", Count: 1,
		Hits:  []app.FindHit{{Key: "985", Numbers: []app.FindNumber{{Maker: "Toriyama", Number: "98-5", Role: "own"}}, Engines: []string{}, ModelCodes: []string{}}},
		Hints: []app.FindHint{{Text: "5?", Looks: "partly_readable_number", Say: "5? is a partly readable number: ask which part it is"}}}}
	c := newContract(t, f)
	c.ask(true, "GET", "/api/v1/search?q=98+5%3F", "")
	if f.words != "98 5?" || f.limit != usualHits {
		t.Errorf("got %q %d", f.words, f.limit)
	}
	f.found = app.FindAnswer{} // nothing found: an empty list, not null
	c.ask(true, "GET", "/api/v1/search?q=a&limit=100", "")
	if f.limit != 100 {
		t.Errorf("got %d", f.limit)
	}
}

func TestHealthAndDocument(t *testing.T) {
	c := newContract(t, &fake{})
	c.ask(true, "GET", "/healthz", "")
	w := httptest.NewRecorder()
	c.handler.ServeHTTP(w, httptest.NewRequest("GET", "/api/v1/openapi.yaml", nil))
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "openapi: 3.1.0") || w.Header().Get("Content-Type") != "application/yaml" {
		t.Errorf("got %d %s", w.Code, w.Header())
	}
}
