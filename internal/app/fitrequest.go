package app

import (
	"crossbin/internal/fit"
	"crossbin/internal/shelf"
)

// FitRequest is a fit question as typed on a command line, a page or in JSON.
// Empty fields are unknown, which never means "no".
type FitRequest struct {
	Frame        string     `json:"frame,omitempty"`
	VIN          string     `json:"vin,omitempty"`
	Maker        string     `json:"maker,omitempty"`
	Model        string     `json:"model,omitempty"`
	ModelCode    string     `json:"model_code,omitempty"` // an emission prefix may stand before it
	Engine       string     `json:"engine,omitempty"`     // code or family
	EngineHow    string     `json:"engine_how,omitempty"` // stamped, plate, paper, seen, told
	Built        string     `json:"built,omitempty"`      // 1997-05, 1997, H9.5 ...
	BuiltHow     string     `json:"built_how,omitempty"`  // stamped, plate, paper (first registration), seen, told
	Transmission string     `json:"transmission,omitempty"`
	Drive        string     `json:"drive,omitempty"`
	Side         string     `json:"side,omitempty"`
	Turbo        string     `json:"turbo,omitempty"`
	Market       string     `json:"market,omitempty"`
	With         []string   `json:"with,omitempty"`
	Without      []string   `json:"without,omitempty"`
	Observed     []Observed `json:"observed,omitempty"` // seen or measured on the vehicle
	Type         string     `json:"-"`                  // part type: one of the names in PartTypes
	PartMaker    string     `json:"-"`                  // with Part
	Part         string     `json:"-"`                  // a number: "does this one go in?"
	Explain      bool       `json:"-"`
}

// NamesVehicle reports whether the question names a vehicle at all.
func (req FitRequest) NamesVehicle() bool {
	return req.Frame != "" || req.VIN != "" || req.ModelCode != "" || req.Engine != "" || req.Model != "" || req.Maker != ""
}

// FitResult is the answer with what stands on the shelf of each candidate.
type FitResult struct {
	fit.Answer
	Request  FitRequest
	Warnings []string       // of reading the request: "the check digit ..."
	Stock    [][]shelf.Line // one slice a candidate, in the order of Candidates
}
