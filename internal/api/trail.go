package api

import (
	"encoding/json"
	"fmt"
	"math"

	"crossbin/internal/fit"
)

// Step is one statement of a trail, down to the cell where it stands.
type Step struct {
	Statement   string  `json:"statement"`
	Kind        string  `json:"kind"`
	Source      string  `json:"source"`
	Standing    string  `json:"standing"`
	File        string  `json:"file"`
	Sheet       string  `json:"sheet"` // "" for csv
	Row         int     `json:"row"`
	Cell        string  `json:"cell"`
	Text        string  `json:"text"` // the row as it was read, cells joined with tabs
	Direction   string  `json:"direction"`
	Reliability float64 `json:"reliability"`
}

func trail(t fit.Trail) []Step { return each(t.Steps, step) }

func step(s fit.Step) Step {
	p := s.Statement.Place
	return Step{Statement: s.Statement.ID, Kind: string(s.Statement.Kind), Source: s.Source.Title(),
		Standing: string(s.Source.Standing), File: p.File, Sheet: p.Sheet, Row: p.Row, Cell: p.Cell, Text: p.Text,
		Direction: string(s.Direction), Reliability: s.Reliability}
}

// Arithmetic is how a confidence came about, to be redone by hand: a trail is
// worth r = 1/2 + 1/2 prod(2r - 1) over its rows, the counted trails add up
// their log-odds ln(r / (1 - r)), and the confidence is 1 / (1 + e^-sum),
// rounded down to three places.
type Arithmetic struct {
	Trails     []TrailSum  `json:"trails"` // in the order of the candidate's trails
	Sum        json.Number `json:"sum"`    // of the log-odds of the counted trails
	Confidence json.Number `json:"confidence"`
}

// TrailSum is what one trail is worth.
type TrailSum struct {
	Rows        []float64   `json:"rows"` // reliability of each row, which counts once in a trail
	Reliability json.Number `json:"reliability"`
	LogOdds     json.Number `json:"log_odds"`
	Counted     bool        `json:"counted"` // one of those that share no source
	Starred     bool        `json:"starred"` // holds a link that only suggests
}

func arithmetic(c fit.Candidate) *Arithmetic {
	out, sum := Arithmetic{Trails: []TrailSum{}, Confidence: thousandths(c.Confidence)}, 0.0
	for _, t := range c.Trails {
		odds := logOdds(t.Reliability)
		if t.Counted {
			sum += odds
		}
		out.Trails = append(out.Trails, TrailSum{Rows: rowReliabilities(t.Steps), Reliability: decimal(t.Reliability),
			LogOdds: decimal(odds), Counted: t.Counted, Starred: t.Starred})
	}
	out.Sum = decimal(sum)
	return &out
}

// logOdds is bounded where a reliability leaves its open interval, since JSON
// knows no infinity.
func logOdds(r float64) float64 {
	const most = 50 // 1 - 2e-22
	switch {
	case r <= 0:
		return -most
	case r >= 1:
		return most
	}
	return math.Log(r / (1 - r))
}

// rowReliabilities gives one reliability for each row that a trail uses,
// however many of its statements.
func rowReliabilities(steps []fit.Step) []float64 {
	out, seen := []float64{}, map[string]bool{}
	for _, s := range steps {
		p := s.Statement.Place
		key := fmt.Sprintf("%s\x00%s\x00%s\x00%d", s.Source.List, p.File, p.Sheet, p.Row)
		if !seen[key] {
			seen[key] = true
			out = append(out, s.Reliability)
		}
	}
	return out
}
