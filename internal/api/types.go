package api

import (
	"net/http"

	"crossbin/internal/part"
)

// Types is the answer of GET /api/v1/types.
type Types struct {
	Types []Type `json:"types"`
}

// Type is one part type: what it rides on, what splits it, what is compared.
type Type struct {
	Name       string      `json:"name"`
	Words      []string    `json:"words"` // what sheets and people call it
	RidesOn    string      `json:"rides_on"`
	SplitBy    []string    `json:"split_by"`
	HighCare   bool        `json:"high_care"`
	GoesWith   []string    `json:"goes_with"`
	Cautions   []string    `json:"cautions"`
	Attributes []Attribute `json:"attributes"`
}

// Attribute is one property that is compared.
type Attribute struct {
	Name       string   `json:"name"`
	Title      string   `json:"title"`
	Kind       string   `json:"kind"`
	Unit       string   `json:"unit"` // "" for words, sets, yes and no
	RidesOn    string   `json:"rides_on"`
	Needed     bool     `json:"needed"`
	Compare    string   `json:"compare"`
	OnVehicle  *Sight   `json:"on_vehicle,omitempty"`
	OffVehicle *Sight   `json:"off_vehicle,omitempty"`
	Words      []string `json:"words"` // the vocabulary, where it is closed
}

// Sight is how an attribute is seen and what that costs, 1 (under a minute) to
// 5 (part out).
type Sight struct {
	How    string `json:"how"`
	Effort int    `json:"effort"`
}

// TypesJSON gives part types as the API prints them.
func TypesJSON(types []part.Type) any {
	return Types{each(types, func(t part.Type) Type {
		return Type{Name: t.Name, Words: list(t.Words), RidesOn: string(t.RidesOn), SplitBy: list(t.SplitBy),
			HighCare: t.HighCare, GoesWith: list(t.GoesWith), Cautions: cautions(t.Cautions),
			Attributes: each(t.Attributes, attribute)}
	})}
}

func cautions(cs []part.Caution) []string {
	return each(cs, func(c part.Caution) string { return c.Text })
}

func attribute(a part.Attribute) Attribute {
	return Attribute{Name: a.Name, Title: a.Title, Kind: string(a.Kind), Unit: a.Unit, RidesOn: string(a.RidesOn),
		Needed: a.Needed, Compare: string(a.Compare), OnVehicle: sight(a.OnVehicle), OffVehicle: sight(a.OffVehicle),
		Words: list(a.Words)}
}

// sight is nil where the attribute cannot be had there.
func sight(s part.Sight) *Sight {
	if s.Effort == 0 {
		return nil
	}
	return &Sight{How: s.How, Effort: s.Effort}
}

func (a *API) getTypes(r *http.Request) (any, error) {
	if _, err := readParams(r, nil); err != nil {
		return nil, err
	}
	return TypesJSON(a.types), nil
}
