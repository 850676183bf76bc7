package api

import (
	"encoding/json"
	"net/http"

	"crossbin/internal/app"
)

// field is one fact of the vehicle that is one text.
type field struct {
	name string
	at   func(*app.FitRequest) *string
}

// vehicleFields are the facts of the vehicle, named alike in the query and in
// the body.
func vehicleFields() []field {
	return []field{
		{"frame", func(r *app.FitRequest) *string { return &r.Frame }},
		{"vin", func(r *app.FitRequest) *string { return &r.VIN }},
		{"maker", func(r *app.FitRequest) *string { return &r.Maker }},
		{"model", func(r *app.FitRequest) *string { return &r.Model }},
		{"model_code", func(r *app.FitRequest) *string { return &r.ModelCode }},
		{"engine", func(r *app.FitRequest) *string { return &r.Engine }},
		{"engine_how", func(r *app.FitRequest) *string { return &r.EngineHow }},
		{"built", func(r *app.FitRequest) *string { return &r.Built }},
		{"built_how", func(r *app.FitRequest) *string { return &r.BuiltHow }},
		{"transmission", func(r *app.FitRequest) *string { return &r.Transmission }},
		{"drive", func(r *app.FitRequest) *string { return &r.Drive }},
		{"side", func(r *app.FitRequest) *string { return &r.Side }},
		{"turbo", func(r *app.FitRequest) *string { return &r.Turbo }},
		{"market", func(r *app.FitRequest) *string { return &r.Market }},
	}
}

// questionFields are the texts of the question beside the vehicle, as the query
// names them.
func questionFields() []field {
	return []field{
		{"type", func(r *app.FitRequest) *string { return &r.Type }},
		{"part", func(r *app.FitRequest) *string { return &r.Part }},
		{"part_maker", func(r *app.FitRequest) *string { return &r.PartMaker }},
	}
}

func names(fields []field, more ...string) []string {
	var out []string
	for _, f := range fields {
		out = append(out, f.name)
	}
	return append(out, more...)
}

func (a *API) getFit(r *http.Request) (any, error) {
	q, err := fitFromQuery(r)
	if err != nil {
		return nil, err
	}
	return a.fit(r, q)
}

func (a *API) postFit(r *http.Request) (any, error) {
	q, err := fitFromBody(r)
	if err != nil {
		return nil, err
	}
	return a.fit(r, q)
}

func (a *API) fit(r *http.Request, q app.FitRequest) (any, error) {
	result, err := a.ask.Fit(r.Context(), q)
	if err != nil {
		return nil, err
	}
	result.Request.Explain = q.Explain
	return FitJSON(result), nil
}

// fitFromQuery reads GET /api/v1/fit.
func fitFromQuery(r *http.Request) (app.FitRequest, error) {
	fields := append(vehicleFields(), questionFields()...)
	p, err := readParams(r, names(fields, "with", "without", "measure", "explain"))
	var q app.FitRequest
	for _, f := range fields {
		if err == nil {
			*f.at(&q), err = p.one(f.name)
		}
	}
	if err == nil {
		q.With, err = p.many("with")
	}
	if err == nil {
		q.Without, err = p.many("without")
	}
	if err == nil {
		q.Observed, err = readMeasures(p.values["measure"])
	}
	if err == nil {
		q.Explain, err = p.yes("explain")
	}
	if err == nil {
		err = checkRequest(&q)
	}
	return q, err
}

// fitFromBody reads POST /api/v1/fit.
func fitFromBody(r *http.Request) (app.FitRequest, error) {
	var q app.FitRequest
	if _, err := readParams(r, nil); err != nil {
		return q, err
	}
	raw, err := readBody(r)
	if err != nil {
		return q, err
	}
	body, err := readObject("the body", raw, []string{"vehicle", "type", "part", "explain"})
	if err != nil {
		return q, err
	}
	if err := readVehicle(body, &q); err != nil {
		return q, err
	}
	if err := readPart(body, &q); err != nil {
		return q, err
	}
	if err := readValue(body, "type", &q.Type); err != nil {
		return q, err
	}
	if err := readValue(body, "explain", &q.Explain); err != nil {
		return q, err
	}
	return q, checkRequest(&q)
}

func readVehicle(body map[string]json.RawMessage, q *app.FitRequest) error {
	raw, ok := body["vehicle"]
	if !ok {
		return nil
	}
	known, err := readObject("vehicle", raw, names(vehicleFields(), "with", "without", "observed"))
	if err != nil {
		return err
	}
	if err := checkObserved(known); err != nil {
		return err
	}
	return readValue(body, "vehicle", q)
}

func readPart(body map[string]json.RawMessage, q *app.FitRequest) error {
	raw, ok := body["part"]
	if !ok {
		return nil
	}
	part, err := readObject("part", raw, []string{"maker", "number"})
	if err != nil {
		return err
	}
	if err := readValue(part, "maker", &q.PartMaker); err != nil {
		return err
	}
	return readValue(part, "number", &q.Part)
}
