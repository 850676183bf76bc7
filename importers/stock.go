package importers

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

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

// stock says what stands on the shelf.
func (r *rowReader) stock(lead number) {
	if !r.table.has(Qty, CoreQty, Reserved, Bin) {
		return
	}
	row := shelf.Posting{Part: lead.ref, Printed: lead.text, Bin: r.bin(), Condition: r.condition(), Job: r.text(Job)}
	buckets, counted := r.quantity()
	cores, coresCounted := r.coreQuantity()
	held := r.held(&row)
	if row.Bin == "" && !counted && !coresCounted && held == 0 {
		return
	}
	row.Day = r.day()
	var out []shelf.Posting
	for _, b := range buckets {
		p := row
		p.Quantity, p.Counted = b.n, counted
		if b.condition != "" {
			p.Condition = b.condition
		}
		out = append(out, p)
	}
	if len(out) == 0 && (row.Bin != "" || held > 0) {
		out = append(out, row)
	}
	if coresCounted {
		p := row
		p.Condition, p.Quantity, p.Counted = shelf.Core, cores, true
		out = append(out, p)
	}
	for i := range out {
		if i == 0 {
			out[0].Held = held
			continue
		}
		out[i].Job = ""
	}
	if len(out) > 0 && held == 0 {
		out[0].Job = ""
	}
	r.out.Postings = append(r.out.Postings, out...)
}

// bin is the place on the shelf.
func (r *rowReader) bin() string {
	v, ok := r.first(Bin)
	if !ok {
		return ""
	}
	if strings.ContainsAny(v.text, ";,\n") {
		r.problem(v.col, "several_bins", v.text, "one bin a row: which of them holds how many is not said; the text was kept as the name of one bin")
	}
	return strings.Join(strings.Fields(v.text), " ")
}

// conditions gives the meanings of the condition words in a text.
func (r *rowReader) conditions(text string) []string {
	lex := r.rd.opt.Words.conditions
	if m := lex.of(text); len(m) > 0 {
		return m[:1]
	}
	var out []string
	for _, h := range lex.hits(text, false) {
		if !slices.Contains(out, h.meanings[0]) {
			out = append(out, h.meanings[0])
		}
	}
	return out
}

// worstFirst is the order in which one of several conditions counts: a unit that
// is both used and incomplete is incomplete.
var worstFirst = []string{string(shelf.Quarantine), string(shelf.Core), string(shelf.Incomplete), string(shelf.UsedUntested),
	string(shelf.UsedTested), string(shelf.Remanufactured), string(shelf.New), condAftermarket, condGenuine}

// condition is the state of the units. A word that is not known is flagged, and
// the condition is not said.
func (r *rowReader) condition() shelf.Condition {
	v, ok := r.first(Condition)
	if !ok {
		return shelf.NotSaid
	}
	found := r.conditions(v.text)
	if len(found) == 0 {
		r.problem(v.col, "unknown_condition", v.text, "new, remanufactured, used and tested, used and not tested, core, incomplete or quarantine; the condition was left out")
		return shelf.NotSaid
	}
	slices.SortFunc(found, func(a, b string) int { return slices.Index(worstFirst, a) - slices.Index(worstFirst, b) })
	if found[0] == condAftermarket || found[0] == condGenuine {
		return shelf.NotSaid
	}
	return shelf.Condition(found[0])
}

var (
	plainCount  = regexp.MustCompile(`^(\d+)(?:[.,]0+)?\s*(\p{L}*)\.?$`)
	plusCount   = regexp.MustCompile(`^(\d+)\s*\+\s*(\d+)\s+(\D+)$`)
	ofWhich     = regexp.MustCompile(`^(\d+)\s*[(\[]\s*(\d+)\s+([^)\]]+)[)\]]$`)
	wordedCount = regexp.MustCompile(`^(\d+)\s+(\D+)$`)
	markedCount = regexp.MustCompile(`^[~≈]?\s*(\d+)\s*[*?!]*$`)
	noteCount   = regexp.MustCompile(`^(\d+)\s*[(\[].*[)\]]$`)
)

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

var heldFor = regexp.MustCompile(`^(\d+)\s*(?:[(\[](.+)[)\]]|(?:for|für|para)\s+(.+))$`)

// held is how many units are promised, and for which job where the cell says.
func (r *rowReader) held(p *shelf.Posting) int {
	v, ok := r.first(Reserved)
	if !ok {
		return 0
	}
	marks := r.rd.opt.Words.marks
	if n, ok := wholeNumberIn(v.text); ok && n < 1000 {
		return n
	}
	if m := heldFor.FindStringSubmatch(v.text); m != nil {
		p.Job = strings.TrimSpace(m[2] + m[3])
		n, _ := strconv.Atoi(m[1])
		return n
	}
	switch {
	case marks.is(v.text, markNo):
		return 0
	case marks.is(v.text, markYes):
		r.problem(v.col, "held_unclear", v.text, "how many are held; read as 1")
	default:
		r.problem(v.col, "held_unclear", v.text, "how many are held, and the job in a column Job; read as 1 held for this")
		p.Job = cmpOr(p.Job, v.text)
	}
	return 1
}

var isoDay = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$`)

// day is when the unit was last seen there. A date whose order of day and month
// is not certain is left out; it decides nothing.
func (r *rowReader) day() string {
	v, ok := r.first(DaySeen)
	if !ok {
		return ""
	}
	if v.cell.Type == sheet.Date {
		return v.cell.Date.Format(time.DateOnly)
	}
	m := isoDay.FindStringSubmatch(norm.NFKC.String(v.text))
	if m == nil {
		return ""
	}
	d, err := time.Parse("2006-1-2", m[1]+"-"+m[2]+"-"+m[3])
	if err != nil {
		return ""
	}
	return d.Format(time.DateOnly)
}
