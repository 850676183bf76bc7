package importers

import (
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// rowReader reads the rows of one sheet. It keeps what a later row may refer
// to: the cells above, and the section that a title began.
type rowReader struct {
	rd    *Reading
	types *memory

	table   *Table
	section part.Type // part type named by a title between the rows
	above   []sheet.Cell
	plans   map[string][]valueColumn

	// of the row that is being read
	row  sheet.Row
	out  app.Row
	seen []bool // columns whose damage was told already
	typ  part.Type
}

// read turns one row into statements.
func (r *rowReader) read(sheetName string, s seenRow) app.Row {
	if s.table != r.table {
		r.table, r.section, r.above, r.plans = s.table, part.Type{}, nil, map[string][]valueColumn{}
	}
	r.row, r.typ = s.row, part.Type{}
	r.seen = make([]bool, len(s.row.Cells))
	usual := len(r.out.Statements)
	r.out = app.Row{Place: r.rd.place(sheetName, s.row), State: app.Skipped}
	if s.as == asData && usual > 0 {
		r.out.Statements = make([]statement.Statement, 0, usual+1) // rows of a table are alike
	}
	switch s.as {
	case asBlank:
		r.out.Why = "blank row"
	case asTitle:
		r.out.Why = "title"
	case asRepeat:
		r.out.Why = "headings again"
	case asHeading:
		r.heading(s.first)
	case asStray:
		r.stray(s.first)
	case asData:
		r.data()
	}
	return r.out
}

// heading reports what is wrong with the headings of a table.
func (r *rowReader) heading(first bool) {
	r.out.Why = "headings"
	if !first {
		return
	}
	for _, p := range r.table.problems {
		r.problem(p.col, p.rule, p.got, p.wanted)
	}
	if r.table.Kind == KindNothing {
		r.problem(-1, "no_number_column", r.table.headings(),
			"no column holds part numbers, so nothing of this table can be used: name one of the columns Part No, OE No or Unit No")
	}
}

func (t *Table) headings() string {
	var texts []string
	for _, c := range t.Columns {
		if c.Heading != "" {
			texts = append(texts, c.Heading)
		}
	}
	return strings.Join(texts, ", ")
}

// stray refuses a row of a sheet without headings; the first one says why.
func (r *rowReader) stray(first bool) {
	r.out.State, r.out.Why = app.Refused, "no headings that are known stand above it"
	if first {
		r.problem(-1, "no_headings", rowText(r.row, ", "),
			"a row of headings such as Part No, Make, Model, Qty above the rows: write one, or give the columns one of the known names")
	}
}

// data reads a row below the headings.
func (r *rowReader) data() {
	if why := r.isTotal(); why != "" {
		r.out.Why = why
		return
	}
	if r.isSection() {
		return
	}
	r.fillDown()
	r.typ = r.partType()
	switch r.table.Kind {
	case KindLinks:
		r.linkRow()
	case KindEngines:
		r.engineRow()
	case KindNothing:
		r.out.Why = "the table has no column of part numbers"
	default:
		r.flatRow()
	}
	r.source()
	if r.row.Hidden {
		r.problem(-1, "hidden_row", "hidden", "the row is hidden; it was read all the same")
	}
	r.settle()
}

// settle gives the row its state.
func (r *rowReader) settle() {
	switch {
	case len(r.out.Statements) == 0 && len(r.out.Postings) == 0:
		r.out.State = app.Refused
		if len(r.out.Problems) == 0 && r.out.Why == "" {
			r.problem(-1, "no_number", rowText(r.row, ", "), "no part number stands in this row, so there is nothing to hang the rest on: write the number")
		}
	case len(r.out.Problems) > 0:
		r.out.State = app.Flagged
	default:
		r.out.State = app.Taken
	}
}

// fillDown puts the cell above where a row says "as above", and keeps the cells
// for the next row.
func (r *rowReader) fillDown() {
	cells := r.row.Cells
	cloned := false
	for i := range cells {
		fields := r.table.columnFields(i)
		if len(fields) == 0 || !r.mark(cells[i].Text).above || slices.Contains(fields, Relation) {
			continue
		}
		if !cloned {
			cells, cloned = slices.Clone(cells), true
		}
		got := cells[i].Text
		cells[i] = sheet.Cell{}
		if i < len(r.above) && strings.TrimSpace(r.above[i].Text) != "" {
			cells[i] = r.above[i]
			r.problem(i, "inferred", got, fmt.Sprintf("read as %q from the row above: write it out if that is wrong", cells[i].Text))
		} else {
			r.problem(i, "nothing_above", got, "the row above holds nothing here: write the value out")
		}
	}
	r.row.Cells, r.above = cells, cells
}

func (t *Table) columnFields(col int) []Field {
	if col >= len(t.Columns) {
		return nil
	}
	return t.Columns[col].Fields
}

// problem notes something that is wrong at a column (from 0; -1 for the row).
func (r *rowReader) problem(col int, rule, got, wanted string) {
	p := app.Problem{File: r.out.Place.File, Sheet: r.out.Place.Sheet, Row: r.out.Place.Row, Rule: rule, Got: got, Wanted: wanted}
	if col >= 0 {
		p.Cell = sheet.Address(col+1, r.out.Place.Row)
	}
	r.out.Problems = append(r.out.Problems, p)
}

// add adds a statement that stands at a column.
func (r *rowReader) add(col int, s statement.Statement) {
	s.Place = r.out.Place
	if col >= 0 {
		s.Place.Cell = sheet.Address(col+1, s.Place.Row)
	}
	if s.Kind != statement.KindEngine {
		s.Type = r.typ.Name
	}
	if s.Scope.Text == nil {
		s.Scope = vehicle.Scope{Serial: vehicle.AnySerial()}
	}
	r.out.Statements = append(r.out.Statements, s)
}
