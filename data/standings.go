package data

import (
	"io"
	"slices"
	"strconv"

	"crossbin/internal/statement"
)

var (
	standings = []statement.Standing{
		statement.OwnFitting, statement.OwnReading, statement.OwnMeasurement, statement.OwnList, statement.MakersBook,
		statement.UnitLabel, statement.RebuildersList, statement.BoxLabel, statement.OtherShop, statement.Hearsay,
	}
	manners = []statement.Manner{
		statement.AnyManner, statement.Fitting, statement.Specification, statement.Calliper, statement.Tape, statement.Photo,
	}
)

// Standings reads the start weights of every standing and manner. Weights are
// chances between 0 and 1; standings.csv says how each usually fails.
func Standings() (statement.Standings, error) {
	f, err := files.Open("standings.csv")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readStandings("standings.csv", f)
}

func readStandings(file string, r io.Reader) (statement.Standings, error) {
	rows, err := readTable(file, r, "standing", "manner", "weight", "usual failure")
	if err != nil {
		return nil, err
	}
	var out statement.Standings
	for _, row := range rows {
		w := statement.Weight{
			Standing: statement.Standing(row.cells["standing"]), Manner: statement.Manner(row.cells["manner"]),
			Usual: row.cells["usual failure"],
		}
		if !slices.Contains(standings, w.Standing) {
			return nil, mistake(file, row.line, "unknown standing %q", w.Standing)
		}
		if !slices.Contains(manners, w.Manner) {
			return nil, mistake(file, row.line, "unknown manner %q", w.Manner)
		}
		w.R, err = strconv.ParseFloat(row.cells["weight"], 64)
		if err != nil || !(w.R > 0 && w.R < 1) {
			return nil, mistake(file, row.line, "weight %q is no chance between 0 and 1", row.cells["weight"])
		}
		if slices.ContainsFunc(out, func(o statement.Weight) bool { return o.Standing == w.Standing && o.Manner == w.Manner }) {
			return nil, mistake(file, row.line, "%s %s stands here twice", w.Standing, w.Manner)
		}
		out = append(out, w)
	}
	return out, completeStandings(file, out)
}

// completeStandings asks for a general weight of every standing.
func completeStandings(file string, weights statement.Standings) error {
	for _, s := range standings {
		if !slices.ContainsFunc(weights, func(w statement.Weight) bool { return w.Standing == s && w.Manner == statement.AnyManner }) {
			return mistake(file, 1, "no general weight for %q", s)
		}
	}
	return nil
}
