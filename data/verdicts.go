package data

import (
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"crossbin/internal/statement"
)

// VerdictCase is one row of the verdict table: trails, and what must come out.
type VerdictCase struct {
	Name       string
	Line       int             // in verdicts.csv
	Trails     [][]VerdictStep // each a chain of statements
	HighCare   bool
	Verdict    string // fits, check_first, not_known
	Confidence int    // thousandths, rounded down; -1 where it does not matter
}

// VerdictStep is one statement of a trail, by who says it.
type VerdictStep struct {
	Standing statement.Standing
	Manner   statement.Manner
	// Source tells sources apart: two steps with the same Source come from one
	// source. It is unique in the row where the table names no letter.
	Source string
}

var (
	verdictWords = []string{"fits", "check_first", "not_known"}
	stepPattern  = regexp.MustCompile(`^([a-z' ]+?)(?: \(([a-z]+)\))?(?: ([A-Z]))?$`)
)

// Verdicts reads the verdict table.
func Verdicts() ([]VerdictCase, error) {
	f, err := files.Open("verdicts.csv")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readVerdicts("verdicts.csv", f)
}

func readVerdicts(file string, r io.Reader) ([]VerdictCase, error) {
	rows, err := readTable(file, r, "name", "trails", "care", "verdict", "confidence")
	if err != nil {
		return nil, err
	}
	var out []VerdictCase
	for _, row := range rows {
		c := VerdictCase{Name: row.cells["name"], Line: row.line, Verdict: row.cells["verdict"], HighCare: row.cells["care"] == "high"}
		if c.Trails, err = readTrails(file, row); err != nil {
			return nil, err
		}
		if !c.HighCare && row.cells["care"] != "normal" {
			return nil, mistake(file, row.line, "care is normal or high, not %q", row.cells["care"])
		}
		if !slices.Contains(verdictWords, c.Verdict) {
			return nil, mistake(file, row.line, "verdict %q is not one of %q", c.Verdict, verdictWords)
		}
		if c.Confidence, err = readConfidence(file, row); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func readTrails(file string, row record) ([][]VerdictStep, error) {
	var trails [][]VerdictStep
	for i, text := range strings.Split(row.cells["trails"], "|") {
		var trail []VerdictStep
		for _, step := range strings.Split(text, ">") {
			m := stepPattern.FindStringSubmatch(strings.TrimSpace(step))
			if m == nil || !slices.Contains(standings, statement.Standing(m[1])) || !slices.Contains(manners, statement.Manner(m[2])) {
				return nil, mistake(file, row.line, "%q is no standing with its manner in brackets", strings.TrimSpace(step))
			}
			source := m[1] + " " + m[3]
			if m[3] == "" {
				source += "of trail " + strconv.Itoa(i+1)
			}
			trail = append(trail, VerdictStep{Standing: statement.Standing(m[1]), Manner: statement.Manner(m[2]), Source: source})
		}
		trails = append(trails, trail)
	}
	return trails, nil
}

func readConfidence(file string, row record) (int, error) {
	text := row.cells["confidence"]
	if text == "" {
		return -1, nil
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || f <= 0 || f >= 1 {
		return 0, mistake(file, row.line, "confidence %q is not between 0 and 1", text)
	}
	return int(math.Round(f * 1000)), nil
}
