package importers

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/unicode/norm"

	"crossbin/internal/sheet"
	"crossbin/internal/shelf"
)

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
