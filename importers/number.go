package importers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
)

func isLetter(r rune) bool { return unicode.IsLetter(r) }
func isDigit(r rune) bool  { return unicode.IsDigit(r) }

// number is one part number of a row.
type number struct {
	ref    part.Ref
	text   string // as printed
	maker  string // as printed
	role   statement.Role
	field  Field
	col    int
	remark string // written beside it: holds for all that is said of this number here
	joint  joint
	doubt  bool
}

// cellNumbers are the numbers of one cell, in their order.
type cellNumbers struct {
	list []number
	none bool // the cell says that there is no such part
}

// numbers reads all numbers of a field.
func (r *rowReader) numbers(f Field, role statement.Role, maker string) []cellNumbers {
	var out []cellNumbers
	for _, v := range r.values(f) {
		m := maker
		if own := r.table.Columns[v.col].Maker; own != "" {
			m = own
		}
		out = append(out, r.cellNumbers(v, f, role, m))
	}
	return out
}

// cellNumbers reads one number cell.
func (r *rowReader) cellNumbers(v value, f Field, role statement.Role, maker string) cellNumbers {
	if r.isNone(v.text) {
		return cellNumbers{none: true}
	}
	text, ok := r.numberText(v, f)
	if !ok {
		return cellNumbers{}
	}
	var out cellNumbers
	for _, t := range splitNumbers(text) {
		n := number{role: role, maker: maker, field: f, col: v.col, remark: t.remark, joint: t.joint}
		if !r.joined(v, t, out.list) || !r.readNumber(&n, t.text) {
			continue
		}
		out.list = append(out.list, n)
	}
	return out
}

var (
	scientific = regexp.MustCompile(`^[+-]?\d+([.,]\d+)?[eE][+-]\d+$`)
	noDigits   = regexp.MustCompile(`^[^\d]*$`)
	lotCode    = regexp.MustCompile(`^(\d{1,2}[A-Z]|\d{4})$`) // 9K, 24A, 0623 on labels (common practice, no source)
)

// exactDigits is how many digits a spreadsheet keeps of a number (IEEE 754
// double: 15 decimal digits are always exact).
const exactDigits = 15

// numberText is the text to read a number cell by, after the damage that a
// spreadsheet does to numbers; ok is false where the number is lost.
func (r *rowReader) numberText(v value, f Field) (string, bool) {
	switch {
	case v.cell.Type == sheet.Date:
		r.problem(v.col, "year_as_date", v.text, fmt.Sprintf(
			"a part number; the spreadsheet has made a date of what was typed, perhaps %s: set the column to text and type the number again", v.cell.Date.Format("06-01 or 1-2")))
		return "", false
	case scientific.MatchString(v.text):
		r.problem(v.col, "number_scientific", v.text, "the whole number; digits were lost when the sheet was saved, only the original workbook still has them")
		return "", false
	case v.cell.Type == sheet.Number && v.whole:
		return r.typedNumber(v, f)
	}
	return v.text, true
}

// typedNumber is a cell that the spreadsheet holds as a number, so that zeros
// in front are gone. What it shows is kept and flagged; a format of zeros shows
// them, and short numbers of the shop's own have none to lose.
func (r *rowReader) typedNumber(v value, f Field) (string, bool) {
	const shortOwn = 6
	digits := asciiDigits(v.text)
	switch {
	case digits > exactDigits:
		r.problem(v.col, "number_digits_lost", v.text, "the whole number as text; a spreadsheet keeps only 15 digits of a number, the rest reads 0")
		return "", false
	case strings.ContainsAny(v.text, ".,") && !strings.HasPrefix(v.cell.Format, "0"):
		r.problem(v.col, "number_typed", v.text, "a part number as text; this is a number with decimals: set the column to text and type it again")
		return "", false
	case strings.HasPrefix(v.cell.Format, "00"), f == OwnNo && digits <= shortOwn, f == PartNo && digits <= shortOwn:
	default:
		r.problem(v.col, "number_typed", v.text, "a part number as text; this is typed as a number and may have lost zeros in front: compare with the part and set the column to text")
	}
	return v.text, true
}

// joined settles what stands between two numbers; false leaves the token out.
func (r *rowReader) joined(v value, t token, before []number) bool {
	switch t.joint {
	case jointShorthand:
		if len(before) > 0 {
			r.problem(v.col, "shorthand_expanded", v.text, fmt.Sprintf("read as %s: write each number in full if that is wrong", t.text))
		}
	case jointAsk:
		r.problem(v.col, "shorthand_unclear", v.text, "each number in full; the short tails do not fit the first number, so only that was used")
		return false
	case jointBlank:
		r.problem(v.col, "no_separator", v.text, "a sign between the numbers; they were read as alternatives")
	}
	if t.text == "" {
		r.problem(v.col, "no_number_in_cell", t.remark, "a part number; this was kept as a remark of the row only")
		return false
	}
	return true
}

// readNumber fills a number from its text; false where it cannot be used, with
// the problem noted.
func (r *rowReader) readNumber(n *number, text string) bool {
	text = r.withoutWords(n, text)
	if t, ok := strings.CutSuffix(text, " ?"); ok {
		text, n.doubt = strings.TrimSpace(t), true
		r.problem(n.col, "doubtful", text+" ?", "the number without the question mark, once somebody has looked; it was used with the doubt noted")
	}
	switch {
	case strings.ContainsAny(text, "?*"):
		r.problem(n.col, "number_unreadable", text, "the whole number; ? and * stand for what could not be read, so it was left out")
		return false
	case noDigits.MatchString(text) && (n.field != OwnNo || strings.ContainsAny(text, " ")):
		r.problem(n.col, "not_a_number", text, "a part number; this holds no digit and was left out")
		return false
	}
	key, odd, err := r.types.key(text)
	const longest = 40 // characters of a key; no part number has as many
	if err != nil || len(key) > longest {
		r.problem(n.col, "not_a_number", text, "a part number of at most 40 letters and digits; it was left out")
		return false
	}
	if n.field == UnitNo && lotCode.MatchString(key) {
		r.problem(n.col, "lot_code", text, "a unit number; this looks like a date or lot code of a label and was left out")
		return false
	}
	if len(odd) > 0 {
		r.problem(n.col, "odd_character", text, fmt.Sprintf("letters A to Z and digits; %q is none of them: is it a look-alike? It was kept as it is", string(odd)))
	}
	if n.remark != "" {
		r.problem(n.col, "remark_beside_number", n.remark, "the number alone, and what it depends on in the column Only if; it was kept as a condition of what the row says of this number")
	}
	n.text, n.ref = text, part.Ref{Key: key, Maker: r.types.maker(n.maker)}
	return true
}

// withoutWords takes words off a number: a word for "number" or the name of the
// part in front, a maker's name in front, a remark behind.
func (r *rowReader) withoutWords(n *number, text string) string {
	toks := strings.Fields(text)
	first, last := -1, -1
	for i, t := range toks {
		if countDigits(t) > 0 || strings.ContainsAny(t, "?*") {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if len(toks) < 2 || first < 0 {
		return text
	}
	before, after := strings.Join(toks[:first], " "), strings.Join(toks[last+1:], " ")
	if countLetters(after) >= 4 {
		n.remark = strings.Trim(n.remark+"; "+after, "; ")
		toks = toks[:last+1]
	}
	name := strings.Trim(before, ":.- ")
	_, isType := r.types.typeOf(r.rd.opt.Types, name)
	switch {
	case name == "":
	case isType, slices.ContainsFunc(r.rd.opt.Words.fieldsOf(name), holdsNumber):
		toks = toks[first:]
	case countLetters(name) >= 4:
		n.maker, toks = name, toks[first:]
	}
	return strings.Join(toks, " ")
}

// isNone tells a cell that says there is no such part: "none", "no
// alternator", なし.
func (r *rowReader) isNone(text string) bool {
	if len(text) > 60 || asciiDigits(text) > 0 {
		return false
	}
	marks := r.rd.opt.Words.marks
	if marks.is(text, markNone) {
		return true
	}
	rest, ok := "", false
	if toks := words(text); len(toks) > 1 && (marks.is(toks[0], markNone) || marks.is(toks[0], markNo)) {
		rest, ok = strings.Join(toks[1:], " "), true
	}
	for _, end := range []string{"なし", "無し", "無"} {
		if before, cut := strings.CutSuffix(strings.TrimSpace(text), end); cut {
			rest, ok = before, true
		}
	}
	if !ok {
		return false
	}
	_, isType := r.types.typeOf(r.rd.opt.Types, rest)
	return isType
}
