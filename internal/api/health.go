package api

import "net/http"

// Health is the answer of GET /healthz.
type Health struct {
	Status string `json:"status"`
}

// getHealth reads the book once: a server whose book cannot be read is not well.
func (a *API) getHealth(r *http.Request) (any, error) {
	if _, err := a.ask.Lists(r.Context()); err != nil {
		return nil, err
	}
	return Health{Status: "ok"}, nil
}
