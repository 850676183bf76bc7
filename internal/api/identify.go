package api

import (
	"encoding/json"
	"net/http"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

// Identify is what a part in hand may be.
type Identify struct {
	Revision    int64     `json:"revision"`
	Type        string    `json:"type"`
	Label       []Line    `json:"label"`
	Suspects    []Suspect `json:"suspects"`
	LeftOut     int       `json:"suspects_left_out"`
	Suggestions []string  `json:"suggestions"` // other numbers, if a zero was lost
	Warnings    []string  `json:"warnings"`
}

// Line is a line of the label and what it was taken for.
type Line struct {
	Raw   string `json:"raw"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
	Doubt string `json:"doubt"`
}

// Suspect is one part that it may be.
type Suspect struct {
	Numbers    []PlainNumber `json:"numbers"`
	Name       string        `json:"name"`
	Exact      bool          `json:"exact"`
	Share      json.Number   `json:"share"` // among the suspects
	Likelihood struct {
		Reading  json.Number `json:"reading"`
		Measures json.Number `json:"measures"`
		Sum      json.Number `json:"sum"`
	} `json:"log_likelihood"`
	Marks     []Mark      `json:"marks"`
	Agrees    []Compared  `json:"agrees"`
	Differs   []Compared  `json:"differs"`
	Unknown   []string    `json:"unknown"`
	ListedFor bool        `json:"listed_for_vehicle"`
	Shelf     []ShelfLine `json:"shelf"`
}

// PlainNumber is a number as printed, and whose it is.
type PlainNumber struct {
	Maker  string `json:"maker"`
	Number string `json:"number"`
	Role   string `json:"role"`
}

func plainNumber(n fit.Number) PlainNumber { return PlainNumber{n.Maker, n.Number, string(n.Role)} }

// Mark is one place of the reading against the number.
type Mark struct {
	Kind string `json:"kind"`
	Read string `json:"read"`
	Book string `json:"book"`
}

// Compared is one attribute of the part in hand against the book.
type Compared struct {
	Attribute string `json:"attribute"`
	Measured  string `json:"measured"`
	Book      string `json:"book"`
}

// IdentifyJSON gives an identification in the shape that the API and the
// command line print.
func IdentifyJSON(r app.IdentifyResult) any {
	return Identify{Revision: r.Revision, Type: r.Type.Name, LeftOut: r.LeftOut, Suggestions: list(r.Suggestions), Warnings: list(r.Warnings),
		Label: each(r.Lines, func(l app.LabelLine) Line { return Line{l.Raw, string(l.Kind), l.Text, l.Doubt} }),
		Suspects: each(r.Suspects, func(s fit.Suspect) Suspect {
			out := suspect(s)
			out.Shelf = each(r.Stock[s.Ref], func(l shelf.Line) ShelfLine { return shelfLine(l) })
			return out
		})}
}

func suspect(s fit.Suspect) Suspect {
	out := Suspect{Numbers: each(s.Numbers, plainNumber), Name: s.Name, Exact: s.Exact, Share: thousandths(int(s.Share*1000 + 0.5)), Unknown: list(s.Unknown),
		ListedFor: s.ListedFor, Agrees: each(s.Agrees, compared), Differs: each(s.Differs, compared),
		Marks: each(s.Marks, func(m part.Mark) Mark { return Mark{string(m.Kind), m.Read, m.Key} })}
	out.Likelihood.Reading, out.Likelihood.Measures, out.Likelihood.Sum = decimal(s.Reading), decimal(s.Measures), decimal(s.Score)
	return out
}

func compared(c fit.Compared) Compared { return Compared{c.Attribute, c.Measured, c.Known} }

func (a *API) postIdentify(r *http.Request) (any, error) {
	q, err := identifyFromBody(r)
	if err != nil {
		return nil, err
	}
	found, err := a.ask.Identify(r.Context(), q)
	if err != nil {
		return nil, err
	}
	return IdentifyJSON(found), nil
}

// identifyFromBody reads POST /api/v1/identify.
func identifyFromBody(r *http.Request) (q app.IdentifyRequest, err error) {
	if _, err := readParams(r, nil); err != nil {
		return q, err
	}
	raw, err := readBody(r)
	if err != nil {
		return q, err
	}
	body, err := readObject("the body", raw, []string{"number", "maker", "type", "label", "measured", "vehicle"})
	if err != nil {
		return q, err
	}
	if err := readVehicle(body, &q.Vehicle); err != nil {
		return q, err
	}
	for key, into := range map[string]any{"number": &q.Number, "maker": &q.Maker, "type": &q.Type, "label": &q.Label, "measured": &q.Measured} {
		if err := readValue(body, key, into); err != nil {
			return q, err
		}
	}
	return q, nil
}
