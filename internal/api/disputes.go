package api

import (
	"net/http"

	"crossbin/internal/app"
	"crossbin/internal/fit"
)

// Limits of a list of disputes: how many are given when nobody says, and at
// most.
const (
	usualDisputes = 50
	mostDisputes  = 1000
)

// Disputes lists contradictions in the book.
type Disputes struct {
	Revision int64     `json:"revision"`
	Count    int       `json:"count"` // how many there are in all
	Disputes []Dispute `json:"disputes"`
}

// Dispute is one contradiction with its sides.
type Dispute struct {
	ID        string   `json:"id"`
	Kind      string   `json:"kind"`
	Type      string   `json:"type"`
	Attribute string   `json:"attribute"`
	Numbers   []string `json:"numbers"`
	Sides     []Side   `json:"sides"`
}

// Side is one side of a dispute, and who says so.
type Side struct {
	Says  string `json:"says"`
	Steps []Step `json:"steps"`
}

// DisputesJSON gives the disputes in the shape that the API and the command
// line print.
func DisputesJSON(a app.DisputesAnswer) any {
	return Disputes{Revision: a.Revision, Count: a.Count, Disputes: each(a.Disputes, func(d fit.Dispute) Dispute {
		return Dispute{ID: d.ID, Kind: string(d.Kind), Type: d.Type, Attribute: d.Attribute, Numbers: list(d.Numbers),
			Sides: each(d.Sides, func(s fit.Side) Side { return Side{Says: s.Says, Steps: each(s.Steps, step)} })}
	})}
}

func (a *API) getDisputes(r *http.Request) (any, error) {
	p, err := readParams(r, []string{"type", "limit"})
	if err != nil {
		return nil, err
	}
	partType, err := p.one("type")
	if err != nil {
		return nil, err
	}
	limit, err := p.number("limit", 1, mostDisputes, usualDisputes)
	if err != nil {
		return nil, err
	}
	found, err := a.ask.Disputes(r.Context(), partType, limit)
	if err != nil {
		return nil, err
	}
	return DisputesJSON(found), nil
}
