package importers

import (
	"strings"

	"crossbin/internal/statement"
)

// noneRow reads a row that says of vehicles that they have no such part.
func (r *rowReader) noneRow() {
	col := r.noneColumn()
	if r.typ.Name == "" {
		r.problem(col, "none_of_what", r.row.Cells[col].Text, "which part these vehicles do not have: name it in the cell (no alternator), in a column Part type or in the sheet's name")
		return
	}
	scopes, _, ok := r.scopes()
	if !ok {
		return
	}
	for _, s := range scopes {
		r.add(col, statement.Statement{Kind: statement.KindNone, Scope: s, Note: r.text(Notes)})
	}
}

// noneColumn is the column whose cell says that there is no such part; the part
// type that it names goes before the row's.
func (r *rowReader) noneColumn() int {
	for _, f := range firstNumbers {
		for _, v := range r.values(f) {
			if !r.isNone(v.text) {
				continue
			}
			if t, ok := r.types.typeOf(r.rd.opt.Types, withoutNone(v.text)); ok {
				r.typ = t
			}
			return v.col
		}
	}
	return 0
}

// withoutNone leaves the name in "no alternator" and "オルタネーターなし".
func withoutNone(text string) string {
	for _, end := range []string{"なし", "無し", "無"} {
		text = strings.TrimSuffix(strings.TrimSpace(text), end)
	}
	if i := strings.IndexByte(text, ' '); i > 0 {
		return text[i+1:]
	}
	return text
}
