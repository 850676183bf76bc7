package importers

import (
	"slices"
	"strings"

	"crossbin/internal/sheet"
)

// isTotal tells a row of sums: the first cell that holds something begins with
// a word for total, and no column of numbers holds anything else.
func (r *rowReader) isTotal() string {
	first := ""
	for i := range r.row.Cells {
		text := strings.TrimSpace(r.row.Cells[i].Text)
		switch {
		case text == "":
		case first == "":
			if first = text; !r.beginsWithTotal(text) {
				return ""
			}
		case countDigits(text) > 0 && r.table.numberColumn(i):
			return ""
		}
	}
	return "total"
}

func (r *rowReader) beginsWithTotal(text string) bool {
	marks := r.rd.opt.Words.marks
	if countDigits(text) >= 5 {
		return false
	}
	toks := words(text)
	return marks.is(text, markTotal) || len(toks) > 0 && marks.is(toks[0], markTotal)
}

func (t *Table) numberColumn(col int) bool {
	return col < len(t.Columns) && slices.ContainsFunc(t.Columns[col].Fields, holdsNumber)
}

// isSection tells a title between the rows, which stands alone and is no
// number; where it names a part type, the rows below are of that type.
func (r *rowReader) isSection() bool {
	only := -1
	for i := range r.row.Cells {
		if strings.TrimSpace(r.row.Cells[i].Text) == "" || r.row.Cells[i].Merged {
			continue
		}
		if only >= 0 {
			return false
		}
		only = i
	}
	if only < 0 || len(r.table.Columns) == 1 || r.row.Cells[only].Type != sheet.Text || slices.Contains(r.table.columnFields(only), TypeName) {
		return false
	}
	text := r.row.Cells[only].Text
	typ, named := r.types.typeOf(r.rd.opt.Types, text)
	if countDigits(text) > 2 || !named && !(only == 0 || r.table.numberColumn(only)) || r.mark(text) != (mark{}) || r.isNone(text) {
		return false
	}
	if named {
		r.section = typ
	}
	r.out.Why = "title between the rows"
	return true
}

// mark says whether a text is one of the signs that stand for nothing, for the
// cell above, or for a formula that failed.
func (r *rowReader) mark(text string) mark {
	const longestMark = 40
	if text == "" || len(text) > longestMark || asciiDigits(text) >= 2 {
		return mark{}
	}
	return r.types.blank.get(text, func() mark {
		marks := r.rd.opt.Words.marks
		return mark{blank: marks.is(text, markBlank), above: marks.is(text, markAbove), failed: isErrorText(text)}
	})
}

var errorTexts = []string{"#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"}

func isErrorText(text string) bool { return slices.Contains(errorTexts, strings.TrimSpace(text)) }
