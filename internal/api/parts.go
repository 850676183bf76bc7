package api

import (
	"net/http"

	"crossbin/internal/app"
)

// getPart answers about one part without a vehicle: what can replace it, what it
// can replace, where it goes.
func (a *API) getPart(r *http.Request) (any, error) {
	p, err := readParams(r, names(questionFields()))
	var q app.FitRequest
	for _, f := range questionFields() {
		if err == nil {
			*f.at(&q), err = p.one(f.name)
		}
	}
	if err == nil && q.Part == "" {
		err = &app.Error{Code: app.CodeInvalid, Message: "which part?", Hint: "send part with a number, and part_maker where several bear it"}
	}
	if err != nil {
		return nil, err
	}
	around, err := a.ask.Around(r.Context(), q)
	if err != nil {
		return nil, err
	}
	return AroundJSON(around), nil
}
