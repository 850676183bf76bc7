package importers

import (
	"strconv"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"

	"crossbin/internal/sheet"
	"crossbin/internal/shelf"
)

// mostUnits bounds a quantity: more of one number in one bin is another column's
// number in the wrong place.
const mostUnits = 100_000

// bucket is a part of a quantity cell: so many units in one condition.
type bucket struct {
	n         int
	condition shelf.Condition // "" for that of the row
}

// quantity reads the quantity cell: what is certain is counted, the rest is
// flagged.
func (r *rowReader) quantity() (buckets []bucket, counted bool) {
	v, ok := r.first(Qty)
	if !ok {
		return nil, false
	}
	buckets, remark := r.rd.opt.Words.quantity(v.text)
	if v.cell.Type == sheet.Date {
		buckets, remark = nil, "a number of units; the spreadsheet holds a date here"
	}
	if remark != "" {
		if buckets == nil {
			remark += "; it was not counted"
		}
		r.problem(v.col, "quantity_unclear", v.text, remark)
	}
	return buckets, buckets != nil
}

// quantity reads "2", "2 pcs", "2+1 core", "2 (1 no pulley)", "1 bad". remark
// says what was wanted where something is not certain; no buckets mean that
// nothing is.
func (w Words) quantity(text string) (buckets []bucket, remark string) {
	text = strings.TrimSpace(norm.NFKC.String(width.Fold.String(text)))
	if m := plainCount.FindStringSubmatch(text); m != nil && (m[2] == "" || w.marks.is(m[2], markPieces)) {
		return counts(m[1], "")
	}
	if m := plusCount.FindStringSubmatch(text); m != nil {
		if c, ok := w.stockCondition(m[3]); ok {
			return twoCounts(m[1], m[2], c, false)
		}
		return nil, "numbers with a condition that is known, such as 2+1 core"
	}
	if m := ofWhich.FindStringSubmatch(text); m != nil {
		if c, ok := w.stockCondition(m[3]); ok {
			return twoCounts(m[1], m[2], c, true)
		}
	}
	if m := wordedCount.FindStringSubmatch(text); m != nil {
		if c, ok := w.stockCondition(m[2]); ok {
			b, remark := counts(m[1], c)
			return b, cmpOr(remark, "a column Condition; read as "+m[1]+" "+string(c))
		}
	}
	if m := markedCount.FindStringSubmatch(text); m != nil {
		b, remark := counts(m[1], "")
		return b, cmpOr(remark, "the number without a mark, once somebody has counted; read as "+m[1])
	}
	if m := noteCount.FindStringSubmatch(text); m != nil {
		b, remark := counts(m[1], "")
		return b, cmpOr(remark, "the number alone and the remark in Notes; read as "+m[1])
	}
	switch {
	case strings.EqualFold(text, "o"):
		return nil, "a number; this is the letter O: is 0 meant?"
	case w.marks.is(text, markMany):
		return nil, "a number; nobody can promise from a word"
	}
	return nil, "a whole number of units"
}

func cmpOr(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// counts makes one bucket.
func counts(digits string, c shelf.Condition) ([]bucket, string) {
	n, err := strconv.Atoi(digits)
	if err != nil || n > mostUnits {
		return nil, "a number of units below 100,000"
	}
	return []bucket{{n, c}}, ""
}

// twoCounts makes two buckets; inside says that the second number is part of
// the first.
func twoCounts(first, second string, c shelf.Condition, inside bool) ([]bucket, string) {
	a, remark := counts(first, "")
	b, remark2 := counts(second, c)
	if remark+remark2 != "" {
		return nil, cmpOr(remark, remark2)
	}
	if !inside {
		return append(a, b...), ""
	}
	if b[0].n > a[0].n {
		return nil, "no more units in brackets than in front of them"
	}
	a[0].n -= b[0].n
	return append(a, b...), "one row for each condition; read as " + strconv.Itoa(a[0].n) + " complete and " + second + " " + string(c)
}

// stockCondition is the condition that a remark in a quantity cell names.
func (w Words) stockCondition(text string) (shelf.Condition, bool) {
	m, ok := w.conditions.first(text)
	if !ok || m == condAftermarket || m == condGenuine {
		return "", false
	}
	return shelf.Condition(m), true
}

// coreQuantity reads the column of old units.
func (r *rowReader) coreQuantity() (int, bool) {
	v, ok := r.first(CoreQty)
	if !ok {
		return 0, false
	}
	n, ok := wholeNumberIn(v.text)
	if !ok || v.cell.Type == sheet.Date {
		r.problem(v.col, "quantity_unclear", v.text, "a whole number of old units; it was not counted")
	}
	return n, ok
}

// wholeNumberIn reads a plain whole number, also as spreadsheets show one: 2.0.
func wholeNumberIn(text string) (int, bool) {
	m := plainCount.FindStringSubmatch(strings.TrimSpace(norm.NFKC.String(width.Fold.String(text))))
	if m == nil || m[2] != "" {
		return 0, false
	}
	n, err := strconv.Atoi(m[1])
	return n, err == nil && n <= mostUnits
}
