package api

import (
	"encoding/json"
	"fmt"

	"crossbin/internal/app"
)

// readMeasures reads what was seen or measured on the vehicle as the query holds
// it, one "ribs=5" each; a value may hold commas, so it is never split.
func readMeasures(texts []string) ([]app.Observed, error) {
	var out []app.Observed
	for _, text := range texts {
		o, err := app.ReadObserved(text)
		if err != nil {
			return nil, err
		}
		out = append(out, o)
	}
	return out, checkCount("measure", len(out))
}

// checkObserved refuses keys of observations that nobody knows.
func checkObserved(vehicle map[string]json.RawMessage) error {
	var each []json.RawMessage
	if err := readValue(vehicle, "observed", &each); err != nil {
		return err
	}
	for i, raw := range each {
		where := fmt.Sprintf("observed[%d]", i)
		if _, err := readObject(where, raw, []string{"attribute", "value", "how", "by", "on"}); err != nil {
			return err
		}
	}
	return nil
}

// checkObservations bounds what was seen, wherever it came from.
func checkObservations(of []app.Observed) error {
	if err := checkCount("observed", len(of)); err != nil {
		return err
	}
	for _, o := range of {
		for _, text := range []string{o.Attribute, o.Value, o.How, o.By, o.On} {
			if err := checkText("an observation", text); err != nil {
				return err
			}
		}
		if o.Attribute == "" || o.Value == "" {
			return &app.Error{Code: app.CodeInvalid, Message: "an observation needs attribute and value", Hint: `send {"attribute": "ribs", "value": "5"}`}
		}
	}
	return nil
}
