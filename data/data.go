// Package data holds the reference data that the program carries: part types,
// start weights of standings, the verdict table and the look-alike characters.
// Each kind of data is plain text that a person can read and correct; one Go
// file beside it reads it, checks it and hands out typed values. A mistake in a
// file is an error that names the file and the line.
package data

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
)

//go:embed parttypes/*.yaml standings.csv verdicts.csv confusions.csv
var files embed.FS

// mistake is a mistake in a data file: "parttypes/belt.yaml:12: unknown unit".
func mistake(file string, line int, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", file, line, fmt.Sprintf(format, args...))
}

// record is one row of a table by column name, and the line that it stands on.
type record struct {
	line  int
	cells map[string]string
}

// readTable reads a comma-separated table whose first row names the columns;
// lines that begin with # are remarks. Columns must be the wanted ones, in
// their order.
func readTable(file string, r io.Reader, columns ...string) ([]record, error) {
	in := csv.NewReader(r)
	in.Comment = '#'
	in.TrimLeadingSpace = true
	var rows []record
	for {
		cells, err := in.Read()
		if err == io.EOF {
			return rows, tableEnd(file, rows)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		line, _ := in.FieldPos(0)
		if rows == nil {
			if !slices.Equal(cells, columns) {
				return nil, mistake(file, line, "columns are %q, wanted %q", cells, columns)
			}
			rows = []record{}
			continue
		}
		row := record{line: line, cells: map[string]string{}}
		for i, c := range columns {
			row.cells[c] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, row)
	}
}

func tableEnd(file string, rows []record) error {
	if len(rows) == 0 {
		return fmt.Errorf("%s: no rows in the table", file)
	}
	return nil
}
