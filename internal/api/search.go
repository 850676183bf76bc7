package api

import (
	"net/http"

	"crossbin/internal/app"
)

// Limits of a search: how many hits are given when nobody says, and at most.
const (
	usualHits = 20
	mostHits  = 100
)

func (a *API) getSearch(r *http.Request) (any, error) {
	p, err := readParams(r, []string{"q", "limit"})
	if err != nil {
		return nil, err
	}
	words, err := p.one("q")
	if err != nil {
		return nil, err
	}
	if words == "" {
		return nil, &app.Error{Code: app.CodeInvalid, Message: "nothing to search for", Hint: "send q= with a number or words"}
	}
	limit, err := p.number("limit", 1, mostHits, usualHits)
	if err != nil {
		return nil, err
	}
	found, err := a.ask.Find(r.Context(), words, limit)
	if err != nil {
		return nil, err
	}
	found.Hits = list(found.Hits)
	return found, nil
}
