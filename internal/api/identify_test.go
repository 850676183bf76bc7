package api

import (
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
)

// An identification is read from the body as the document says, and answered as
// it says.
func TestIdentify(t *testing.T) {
	f := &fake{identified: app.IdentifyResult{Revision: 3, Type: part.Type{Name: "alternator"},
		Lines: []app.LabelLine{{Raw: "12V 80A", Kind: part.LineRating}},
		Suspects: []fit.Suspect{{Numbers: []fit.Number{{Number: "98760-50090", Role: "unit_maker"}}, Share: .9, Reading: -2, Score: -2,
			Marks:   []part.Mark{{Kind: part.MarkConfused, Read: "O", Key: "0"}},
			Agrees:  []fit.Compared{{Attribute: "ribs", Measured: "5", Known: "5"}},
			Unknown: []string{"amps"}}}}}
	body := newContract(t, f).ask(true, "POST", "/api/v1/identify",
		`{"number":"9?760-5OO9O","label":["12V 80A"],"measured":[{"attribute":"ribs","value":"5"}],"vehicle":{"frame":"KV31-0123456"}}`).Body.String()
	if f.specimen.Number != "9?760-5OO9O" || f.specimen.Vehicle.Frame != "KV31-0123456" || len(f.specimen.Label) != 1 || len(f.specimen.Measured) != 1 {
		t.Errorf("got the question %+v", f.specimen)
	}
	for _, want := range []string{`"share":0.900`, `"kind":"confused"`, `"exact":false`, `"unknown":["amps"]`} {
		if !strings.Contains(body, want) {
			t.Errorf("%s is missing in %s", want, body)
		}
	}
}
