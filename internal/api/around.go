package api

import (
	"encoding/json"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/vehicle"
)

// Around is what the book knows around one part: both directions, and the
// vehicles that it goes into.
type Around struct {
	Revision   int64       `json:"revision"`
	Type       string      `json:"type"`
	Numbers    []Number    `json:"numbers"`
	Name       string      `json:"name"`
	Shelf      []ShelfLine `json:"shelf"`
	Against    []string    `json:"against"`
	ReplacedBy []Relative  `json:"can_be_replaced_by"`
	Replaces   []Relative  `json:"can_replace"`
	Vehicles   []Place     `json:"vehicles"`
}

// Relative is a part on the other end of some links.
type Relative struct {
	Numbers    []Number    `json:"numbers"`
	Name       string      `json:"name"`
	Verdict    string      `json:"verdict"`
	Reason     string      `json:"reason"`
	Confidence json.Number `json:"confidence"`
	Changes    []Change    `json:"changes"`
	RuledOut   *Ruling     `json:"ruled_out,omitempty"`
	Trails     [][]Step    `json:"trails"`
	Shelf      []ShelfLine `json:"shelf"`
}

// Place is one set of vehicles.
type Place struct {
	Scope      map[string]string `json:"scope"`
	Number     string            `json:"number"` // whose fitment it is
	Verdict    string            `json:"verdict"`
	Confidence json.Number       `json:"confidence"`
	Trails     [][]Step          `json:"trails"`
}

// AroundJSON gives the answer about one part in the shape that the API and the
// command line print.
func AroundJSON(r app.AroundResult) any {
	lines := func(ref part.Ref) []ShelfLine {
		return each(r.Stock[ref.Key], func(l shelf.Line) ShelfLine { return shelfLine(l) })
	}
	relatives := func(of []fit.Relative) []Relative {
		return each(of, func(o fit.Relative) Relative {
			return Relative{Numbers: each(o.Numbers, number), Name: o.Name, Verdict: string(o.Verdict), Reason: o.Reason,
				Confidence: thousandths(o.Confidence), Changes: each(o.Changes, change), RuledOut: ruling(o.RuledOut),
				Trails: each(o.Trails, trail), Shelf: lines(o.Ref)}
		})
	}
	return Around{Revision: r.Revision, Type: r.Type.Name, Numbers: each(r.Part.Numbers, number), Name: r.Part.Name, Shelf: lines(r.Part.Ref),
		Against: list(r.Against), ReplacedBy: relatives(r.Forward), Replaces: relatives(r.Backward), Vehicles: each(r.Vehicles, place)}
}

func place(p fit.Place) Place {
	out := Place{Scope: map[string]string{}, Number: p.Number, Verdict: string(p.Verdict), Confidence: thousandths(p.Confidence), Trails: each(p.Trails, trail)}
	for _, f := range p.Scope.Facts() {
		out.Scope[string(f)] = p.Scope.Value(f)
	}
	return out
}

// ScopeWords says a scope in one line.
func ScopeWords(s vehicle.Scope) string {
	order := []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactPrefix, vehicle.FactModelCode, vehicle.FactEngine}
	var words []string
	for _, f := range order {
		if v := s.Value(f); v != "" {
			words = append(words, v)
		}
	}
	for _, f := range s.Facts() {
		named := false
		for _, o := range order {
			named = named || o == f
		}
		if option, ok := f.Option(); ok {
			words = append(words, map[string]string{"YES": "with ", "NO": "without "}[s.Value(f)]+option)
		} else if !named {
			words = append(words, s.Value(f))
		}
	}
	if len(words) == 0 {
		return "every vehicle"
	}
	return strings.Join(words, " ")
}
