package api

import (
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/statement"
)

// Disputes come with both places.
func TestDisputes(t *testing.T) {
	side := func(says, id string) fit.Side {
		return fit.Side{Says: says, Steps: []fit.Step{stepOf(id, statement.KindValue, source("stock", statement.OwnList), 6, 0.88)}}
	}
	f := &fake{disputes: app.DisputesAnswer{Revision: 3, Count: 4, Disputes: []fit.Dispute{{ID: "d1", Kind: fit.DisputeValue, Type: "alternator",
		Attribute: "amps", Numbers: []string{"TA-100"}, Sides: []fit.Side{side("70", "s1"), side("75", "s2")}}}}}
	body := newContract(t, f).ask(true, "GET", "/api/v1/disputes?type=alternator&limit=1", "").Body.String()
	for _, want := range []string{`"count":4`, `"kind":"value"`, `"says":"75"`, `"row":6`} {
		if !strings.Contains(body, want) {
			t.Errorf("%s is missing in %s", want, body)
		}
	}
	newContract(t, &fake{}).ask(true, "GET", "/api/v1/disputes", "")
}
