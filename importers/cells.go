package importers

import (
	"fmt"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/sheet"
)

// value is what a row holds of one field.
type value struct {
	text  string
	col   int // from 0
	cell  *sheet.Cell
	whole bool // the cell holds this field alone
}

// values gives what the row holds of a field, without blank cells. Damage is
// told once a cell.
func (r *rowReader) values(f Field) []value {
	var out []value
	for _, ref := range r.table.byField[f] {
		if v, ok := r.value(ref); ok {
			out = append(out, v)
		}
	}
	return out
}

// first gives the first cell of a field that holds something.
func (r *rowReader) first(f Field) (value, bool) {
	for _, ref := range r.table.byField[f] {
		if v, ok := r.value(ref); ok {
			return v, true
		}
	}
	return value{}, false
}

// text is the text of the first cell of a field; "" for none.
func (r *rowReader) text(f Field) string {
	v, _ := r.first(f)
	return v.text
}

func (r *rowReader) value(at ref) (value, bool) {
	if at.col >= len(r.row.Cells) {
		return value{}, false
	}
	cell := &r.row.Cells[at.col]
	text := strings.TrimSpace(cell.Text)
	if cell.Type == sheet.FormulaNoValue || cell.Type == sheet.ErrorValue || text != "" && text[0] == '#' && r.mark(text).failed {
		r.failed(at.col, cell)
		return value{}, false
	}
	if text == "" {
		return value{}, false
	}
	if cell.Merged && !r.seen[at.col] {
		r.seen[at.col] = true
		r.problem(at.col, "inferred", text, "stands in a merged cell and was read for each of its rows: unmerge it and write it out if that is wrong")
	}
	if at.of > 1 {
		return r.piece(at, cell, text)
	}
	if r.mark(text).blank {
		return value{}, false
	}
	return value{text, at.col, cell, true}, true
}

// failed reports a formula that gave no value; the cell counts as blank.
func (r *rowReader) failed(col int, cell *sheet.Cell) {
	if r.seen[col] {
		return
	}
	r.seen[col] = true
	got := cell.Text
	if got == "" {
		got = "a formula without a value"
	}
	r.problem(col, "error_cell", got, "the formula gave no value and the cell was read as blank: write the value itself")
}

// piece takes one field out of a cell that holds several; the cell must have as
// many pieces as the heading.
func (r *rowReader) piece(at ref, cell *sheet.Cell, text string) (value, bool) {
	pieces := strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune("/／\n|", c) })
	if len(pieces) != at.of {
		if !r.seen[at.col] {
			r.seen[at.col] = true
			r.problem(at.col, "uneven_pieces", text,
				fmt.Sprintf("%d values divided by / as in the heading %q, here are %d: write them all, with - for one that is missing", at.of, r.table.Columns[at.col].Heading, len(pieces)))
		}
		return value{}, false
	}
	text = strings.TrimSpace(pieces[at.piece])
	if text == "" || r.mark(text).blank {
		return value{}, false
	}
	return value{text, at.col, cell, false}, true
}

// partType is the part type that the row speaks of: by its type column, its
// description, the section, the title or the sheet's name.
func (r *rowReader) partType() part.Type {
	if v, ok := r.first(TypeName); ok {
		if t, ok := r.types.typeOf(r.rd.opt.Types, v.text); ok {
			return t
		}
		r.problem(v.col, "unknown_part_type", v.text, "a part type that the program knows; the numbers are kept without a type, their values and vehicles cannot be asked for")
		return part.Type{}
	}
	if v, ok := r.first(PartTitle); ok {
		if t, ok := r.types.typeOf(r.rd.opt.Types, v.text); ok {
			return t
		}
		if title := r.titleType(); title.Name == "" || namesNothing(v.text) {
			return title
		}
		r.problem(v.col, "description_names_no_type", v.text, fmt.Sprintf("the title says %s, the description does not: is it one? Add a column Part type", r.titleType().Name))
		return part.Type{}
	}
	return r.titleType()
}

func (r *rowReader) titleType() part.Type {
	if r.section.Name != "" {
		return r.section
	}
	return r.table.titleType
}

// namesNothing tells a description without a word that could be a name, such
// as "12V 80A".
func namesNothing(text string) bool {
	for _, w := range words(text) {
		if isEastern(w) || len(w) >= 4 && countDigits(w) == 0 {
			return false
		}
	}
	return true
}
