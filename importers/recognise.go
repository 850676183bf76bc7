package importers

import (
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
)

// lookAhead is how many rows are held back before a table is settled: enough to
// know a column by its content, and a few megabytes at most.
const lookAhead = 1000

// recogniser finds tables in rows.
type recogniser struct {
	words Words
	types app.PartTypes
	all   []part.Type
	list  string
	memo  map[string]headingMatch
}

func newRecogniser(o Options) *recogniser {
	g := &recogniser{words: o.Words, types: o.Types, all: o.Types.All(), list: o.List, memo: map[string]headingMatch{}}
	for heading, f := range o.Mapping {
		m := headingMatch{score: 1, why: "mapped"}
		if f != "" {
			m.pieces = [][]Field{{f}}
		}
		g.memo[strings.TrimSpace(heading)] = m
	}
	return g
}

// match is what a text means as a heading; texts recur on every row that is
// asked.
func (g *recogniser) match(text string) headingMatch {
	const longestHeading = 80 // characters; what is longer is a remark
	if len(text) > longestHeading {
		return headingMatch{}
	}
	m, ok := g.memo[text]
	if !ok {
		m = g.words.heading(text, g.all)
		if len(g.memo) < cacheSize {
			g.memo[text] = m
		}
	}
	return m
}

// findHeading gives the index of the heading row in some rows, -1 for none.
func (g *recogniser) findHeading(rows []sheet.Row) int {
	lone := -1
	for i, row := range rows {
		d := g.density(row)
		if d.isHeading() {
			return i
		}
		if lone < 0 && d.isLone() {
			lone = i
		}
	}
	return lone
}

// headingRows is how many rows the headings take: two where the row below is of
// headings too.
func (g *recogniser) headingRows(rows []sheet.Row, at int) int {
	if at+1 >= len(rows) {
		return 1
	}
	next := g.density(rows[at+1])
	same := sameTexts(rows[at], rows[at+1])
	if !same && next.isHeading() && !next.digits && next.known >= mostOf*float64(next.filled) {
		return 2
	}
	return 1
}

func sameTexts(a, b sheet.Row) bool {
	return slices.EqualFunc(a.Cells, b.Cells, func(x, y sheet.Cell) bool {
		return strings.TrimSpace(x.Text) == strings.TrimSpace(y.Text)
	})
}

// table makes the table whose headings begin at an index; the rows below it are
// the sample.
func (g *recogniser) table(info sheet.SheetInfo, rows []sheet.Row, at int) (*Table, int) {
	n := g.headingRows(rows, at)
	t := &Table{Sheet: info.Name, Title: titleOf(rows[:at]), hidden: info.HiddenColumns}
	for _, r := range rows[at : at+n] {
		t.HeadingRows = append(t.HeadingRows, r.Number)
	}
	matches := g.columns(t, rows[at:at+n])
	sample := g.sample(rows[at+n:], t)
	if len(sample) > 0 {
		t.FirstRow, t.LastRow = sample[0].Number, sample[len(sample)-1].Number
	}
	t.settle(matches, func(col int) profile {
		cells := make([]string, 0, len(sample))
		for _, r := range sample {
			if col < len(r.Cells) {
				cells = append(cells, r.Cells[col].Text)
			}
		}
		return profileOf(cells, g.words, g.types)
	})
	t.titleType = g.titleType(t)
	t.warnHidden(info)
	return t, n
}

// sample is the rows below the headings as far as the table goes, without
// blank ones.
func (g *recogniser) sample(rows []sheet.Row, t *Table) []sheet.Row {
	var out []sheet.Row
	for _, r := range rows {
		if g.beginsAgain(r) && !t.repeats(r) {
			break
		}
		if !isBlank(r) && !t.repeats(r) {
			out = append(out, r)
		}
	}
	return out
}

// columns fills the table's columns from one or two heading rows.
func (g *recogniser) columns(t *Table, heads []sheet.Row) []headingMatch {
	width := 0
	for _, h := range heads {
		width = max(width, len(h.Cells))
	}
	matches := make([]headingMatch, width)
	over := ""
	for i := range width {
		upper, lower := textAt(heads[0], i), textAt(heads[len(heads)-1], i)
		if upper != "" {
			over = upper
		}
		text, m := lower, g.match(lower)
		if len(heads) == 2 {
			text, m = g.joined(over, upper, lower)
		}
		matches[i] = m
		t.Columns = append(t.Columns, Column{Letter: letter(i), Heading: text})
		t.Columns[i].Hidden = slices.Contains(t.hidden, i+1)
	}
	return matches
}

// joined reads a column under two heading rows: both together where that is a
// known phrase, else the lower one, else the upper one if it stands right above.
func (g *recogniser) joined(over, upper, lower string) (string, headingMatch) {
	if lower == "" {
		return upper, g.match(upper)
	}
	both := strings.TrimSpace(over + " " + lower)
	if m := g.match(both); m.score == 1 && m.attribute == "" {
		return both, m
	}
	if m := g.match(lower); m.score > 0 {
		return both, m
	}
	if upper != "" {
		return both, g.match(upper)
	}
	return both, headingMatch{}
}

func textAt(r sheet.Row, col int) string {
	if col >= len(r.Cells) {
		return ""
	}
	return strings.TrimSpace(r.Cells[col].Text)
}

func titleOf(rows []sheet.Row) string {
	var texts []string
	for _, r := range rows {
		if text := rowText(r, " "); text != "" {
			texts = append(texts, text)
		}
	}
	const enoughRows = 5
	return strings.Join(texts[max(0, len(texts)-enoughRows):], " / ")
}

// titleType is the part type that what stands above the headings names, or the
// sheet's name, or the list's.
func (g *recogniser) titleType(t *Table) part.Type {
	for _, text := range []string{t.Title, t.Sheet, g.list} {
		if typ, ok := g.types.ByWord(text); ok {
			return typ
		}
	}
	return part.Type{}
}

// repeats tells a row that says the headings again.
func (t *Table) repeats(r sheet.Row) bool {
	same := 0
	for i := range t.Columns {
		text := textAt(r, i)
		if text == "" {
			continue
		}
		if !strings.HasSuffix(t.Columns[i].Heading, text) {
			return false
		}
		same++
	}
	return same > 0 && (same >= 2 || len(t.Columns) == 1)
}

func (t *Table) warnHidden(info sheet.SheetInfo) {
	if info.Hidden {
		t.problems = append(t.problems, tableProblem{-1, "hidden_sheet", info.Name, "the sheet is hidden; it was read all the same"})
	}
	for i, c := range t.Columns {
		if c.Hidden && len(c.Fields) > 0 {
			t.problems = append(t.problems, tableProblem{i, "hidden_column", c.Heading, "the column is hidden; it was read all the same"})
		}
	}
}

func isBlank(r sheet.Row) bool {
	return !slices.ContainsFunc(r.Cells, func(c sheet.Cell) bool { return strings.TrimSpace(c.Text) != "" })
}

// rowText joins the cells of a row, without blank ones at its end.
func rowText(r sheet.Row, between string) string {
	n := len(r.Cells)
	for n > 0 && strings.TrimSpace(r.Cells[n-1].Text) == "" {
		n--
	}
	if between != "\t" {
		var texts []string
		for _, c := range r.Cells[:n] {
			if t := strings.TrimSpace(c.Text); t != "" {
				texts = append(texts, t)
			}
		}
		return strings.Join(texts, between)
	}
	var b strings.Builder
	for i, c := range r.Cells[:n] {
		if i > 0 {
			b.WriteByte('\t')
		}
		b.WriteString(c.Text)
	}
	return b.String()
}
