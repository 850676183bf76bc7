package api

import (
	"encoding/json"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Fit is the answer to a fit question.
type Fit struct {
	Revision   int64                `json:"revision"`
	Vehicle    Vehicle              `json:"vehicle"`
	Type       string               `json:"type"`
	Reference  map[string]Reference `json:"reference"` // by attribute, what measured candidates were compared with
	Warnings   []string             `json:"warnings"`  // of reading the question
	Notes      []string             `json:"notes"`     // said before anything else
	None       *None                `json:"none,omitempty"`
	Candidates []Candidate          `json:"candidates"`
	LeftOut    int                  `json:"candidates_left_out"`
	Looks      []Look               `json:"looks"`
	Cautions   []string             `json:"cautions"`
}

// Reference is one value that candidates were compared with, and whose it is:
// seen on the vehicle, or of a part that is listed for it.
type Reference struct {
	Value string `json:"value"`
	From  string `json:"from"`
}

// None says that the vehicle has no such part at all, and who says so.
type None struct {
	Note   string   `json:"note"`
	Trails [][]Step `json:"trails"`
}

// Candidate is one part that may go in.
type Candidate struct {
	Numbers    []Number            `json:"numbers"` // its own number first
	Name       string              `json:"name"`
	Verdict    string              `json:"verdict"`
	Basis      string              `json:"basis"`
	Reason     string              `json:"reason"`
	Confidence json.Number         `json:"confidence"` // three decimals, rounded down
	RuledOut   *Ruling             `json:"ruled_out,omitempty"`
	Changes    []Change            `json:"changes"`
	DependsOn  []string            `json:"depends_on"`
	GoesInWhen map[string][]string `json:"goes_in_when"` // values of depends_on under which it goes in
	Against    []string            `json:"against"`
	Notes      []string            `json:"notes"`
	Quantity   int                 `json:"quantity"`
	Position   string              `json:"position"`
	Trails     [][]Step            `json:"trails"`
	Shelf      []ShelfLine         `json:"shelf"`
	Arithmetic *Arithmetic         `json:"arithmetic,omitempty"`
}

// Number is one number of a candidate, as printed, with what its own trails
// carry.
type Number struct {
	Maker      string      `json:"maker"`
	Number     string      `json:"number"`
	Role       string      `json:"role"`
	Basis      string      `json:"basis"`
	Confidence json.Number `json:"confidence"`
}

// Ruling is the reason of a ruled-out candidate.
type Ruling struct {
	Kind      string `json:"kind"`
	Attribute string `json:"attribute"`
	Wanted    string `json:"wanted"`
	Found     string `json:"found"`
	Effect    string `json:"effect"`
	By        []Step `json:"by"`
}

// Change is a named task that makes a candidate go in.
type Change struct {
	Task    string   `json:"task"`
	Minutes int      `json:"minutes"` // our guess; 0 where nobody said
	Pieces  []string `json:"pieces"`
}

// ShelfLine is what stands in one bin in one condition.
type ShelfLine struct {
	Bin       string `json:"bin"`
	Condition string `json:"condition"`
	OnHand    int    `json:"on_hand"`
	Held      int    `json:"held"`
	Free      int    `json:"free"`
	Seen      string `json:"seen"` // day, "" where not said
}

// Look is one observation that would tell candidates apart.
type Look struct {
	Attribute  string   `json:"attribute"`
	Where      string   `json:"where"`
	Effort     int      `json:"effort"`
	TellsApart []Result `json:"tells_apart"`
}

// Result is one result of a look and the places of the candidates that it
// leaves; it prints as ["5", [0, 2]].
type Result struct {
	Value      string
	Candidates []int
}

// MarshalJSON prints a result as a pair.
func (r Result) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{r.Value, list(r.Candidates)})
}

// FitJSON gives an answer in the one shape that the API and the command line
// print. The arithmetic is there when the request asked to explain.
func FitJSON(r app.FitResult) any {
	out := Fit{Revision: r.Revision, Vehicle: vehicleJSON(r.Facts, r.Unknown), Type: r.Type.Name,
		Reference: map[string]Reference{}, Warnings: list(r.Warnings), Notes: list(r.Notes), LeftOut: r.LeftOut,
		Candidates: make([]Candidate, len(r.Candidates)), Looks: each(r.Looks, look), Cautions: cautions(r.Cautions)}
	for _, v := range r.Reference {
		out.Reference[v.Attribute] = Reference{Value: v.Value, From: v.From}
	}
	if r.None != nil {
		out.None = &None{Note: r.None.Note, Trails: each(r.None.Trails, trail)}
	}
	for i, c := range r.Candidates {
		out.Candidates[i] = candidate(c)
		if i < len(r.Stock) {
			out.Candidates[i].Shelf = each(r.Stock[i], shelfLine)
		}
		if r.Request.Explain {
			out.Candidates[i].Arithmetic = arithmetic(c)
		}
	}
	return out
}

func candidate(c fit.Candidate) Candidate {
	return Candidate{Numbers: each(c.Numbers, number), Name: c.Name, Verdict: string(c.Verdict), Basis: string(c.Basis),
		Reason: c.Reason, Confidence: thousandths(c.Confidence), RuledOut: ruling(c.RuledOut),
		Changes: each(c.Changes, change), DependsOn: each(c.DependsOn, factName), GoesInWhen: goesInWhen(c.GoesInWhen),
		Against: list(c.Against), Notes: list(c.Notes), Quantity: c.Quantity, Position: c.Position,
		Trails: each(c.Trails, trail), Shelf: []ShelfLine{}}
}

func number(n fit.Number) Number {
	return Number{Maker: n.Maker, Number: n.Number, Role: string(n.Role), Basis: string(n.Basis), Confidence: thousandths(n.Confidence)}
}

func ruling(r *fit.Ruling) *Ruling {
	if r == nil {
		return nil
	}
	return &Ruling{Kind: string(r.Kind), Attribute: r.Attribute, Wanted: r.Wanted, Found: r.Found, Effect: r.Effect, By: each(r.By, step)}
}

func change(c statement.Change) Change {
	return Change{Task: c.Task, Minutes: c.Minutes, Pieces: list(c.Pieces)}
}

func factName(f vehicle.Fact) string { return string(f) }

func goesInWhen(m map[vehicle.Fact][]string) map[string][]string {
	out := map[string][]string{}
	for f, values := range m {
		out[string(f)] = list(values)
	}
	return out
}

func shelfLine(l shelf.Line) ShelfLine {
	return ShelfLine{Bin: l.Bin, Condition: string(l.Condition), OnHand: l.OnHand, Held: l.Held, Free: l.Free(), Seen: l.Seen}
}

func look(l fit.Look) Look {
	return Look{Attribute: l.Attribute, Where: l.Where, Effort: l.Effort,
		TellsApart: each(l.TellsApart, func(r fit.Result) Result { return Result(r) })}
}
