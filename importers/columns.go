package importers

import (
	"fmt"
	"math"
	"slices"
)

// enough is the share of a column's cells that must speak for a field before
// an ambiguous heading is settled by it.
const enough = 0.5

// settle decides what each column is. matches stand for the headings, content
// for the cells below each.
func (t *Table) settle(matches []headingMatch, content func(col int) profile) {
	for i := range t.Columns {
		m, c := matches[i], &t.Columns[i]
		c.Score, c.Why, c.Unit, c.Maker, c.Attribute = m.score, m.why, m.unit, m.maker, m.attribute
		if len(m.pieces) > 1 {
			for _, candidates := range m.pieces {
				c.Fields = append(c.Fields, candidates[0])
			}
			continue
		}
		if len(m.pieces) == 1 && len(m.pieces[0]) == 1 && m.maker == "" {
			c.Fields = m.pieces[0]
		}
	}
	for i, m := range matches {
		if len(m.pieces) == 1 && t.Columns[i].Fields == nil && !isMakerChoice(m.pieces[0]) {
			t.settleOne(i, m, content)
		}
	}
	t.settleMakers(matches)
	t.dropSeconds()
	t.index()
	t.Kind = t.kind()
}

// settleOne takes the candidate that the content speaks for, of those that no
// plainer heading has taken.
func (t *Table) settleOne(col int, m headingMatch, content func(int) profile) {
	c := &t.Columns[col]
	candidates := slices.DeleteFunc(slices.Clone(m.pieces[0]), t.taken)
	if len(candidates) == 0 {
		candidates = m.pieces[0]
	}
	p := content(col)
	if p.n == 0 {
		c.Fields, c.Why = candidates[:1], "the column is empty"
		return
	}
	best, score := Field(""), math.Inf(-1)
	for _, f := range candidates {
		if s := p.speaksFor(f); s > score {
			best, score = f, s
		}
	}
	if score < enough {
		c.Score = 0
		c.Why = fmt.Sprintf("may be %s; the column holds %s", list(candidates), p.name())
		t.problems = append(t.problems, tableProblem{col, "ambiguous_heading", c.Heading,
			fmt.Sprintf("this heading may mean %s and the column does not tell: use a plainer heading; the column is kept as it is and not used", list(candidates))})
		return
	}
	c.Fields = []Field{best}
	c.Why = fmt.Sprintf("of %s, because the column holds %s", list(candidates), p.name())
	if m.maker != "" {
		c.Why = m.why
	}
}

// taken tells a field that can stand only once and has its column.
func (t *Table) taken(f Field) bool {
	return !slices.Contains(severalColumns, f) && slices.ContainsFunc(t.Columns, func(c Column) bool { return slices.Contains(c.Fields, f) })
}

func list(fields []Field) string {
	text := ""
	for i, f := range fields {
		switch {
		case i == 0:
		case i == len(fields)-1:
			text += " or "
		default:
			text += ", "
		}
		text += string(f)
	}
	return text
}

// isMakerChoice tells headings such as Brand and メーカー: the vehicle's maker or
// the part's, which no content can tell.
func isMakerChoice(candidates []Field) bool {
	return slices.Contains(candidates, Make) && slices.Contains(candidates, Brand)
}

// settleMakers settles maker headings by the columns around them: beside
// vehicle columns a maker is the vehicle's, else the part's; there is one of
// each.
func (t *Table) settleMakers(matches []headingMatch) {
	var open []int
	sure := map[Field]bool{}
	for i, c := range t.Columns {
		for _, f := range c.Fields {
			sure[f] = true
		}
		if len(matches[i].pieces) == 1 && isMakerChoice(matches[i].pieces[0]) {
			open = append(open, i)
		}
	}
	vehicles := slices.ContainsFunc(narrowing, func(f Field) bool { return sure[f] })
	slices.SortStableFunc(open, func(a, b int) int { return t.toVehicle(a) - t.toVehicle(b) })
	for _, i := range open {
		c := &t.Columns[i]
		switch {
		case vehicles && !sure[Make]:
			c.Fields, c.Why = []Field{Make}, "the vehicle's maker, because it stands beside vehicle columns"
		case sure[Brand]:
			c.Score, c.Why = 0, "a second column of makers"
			continue
		case sure[Make]:
			c.Fields, c.Why = []Field{Brand}, "the part's maker, because another column holds the vehicle's"
		default:
			c.Fields, c.Why = []Field{Brand}, "the part's maker, because no column speaks of vehicles"
		}
		sure[c.Fields[0]] = true
	}
}

// toVehicle is the distance from a column to the nearest vehicle column.
func (t *Table) toVehicle(col int) int {
	best := len(t.Columns)
	for i, c := range t.Columns {
		if slices.ContainsFunc(c.Fields, func(f Field) bool { return slices.Contains(narrowing, f) }) {
			best = min(best, max(i-col, col-i))
		}
	}
	return best
}

// severalColumns are the fields that a table may have more than once.
var severalColumns = slices.Concat(firstNumbers, linkNumbers, []Field{AttributeOf, Notes, Price, MinMax, NotOurs, Customer, OnlyIf, ChangeTask})

// dropSeconds keeps the first column of a field that can stand only once; which
// of two counts is not ours to say.
func (t *Table) dropSeconds() {
	first := map[Field]int{}
	for i := range t.Columns {
		c := &t.Columns[i]
		for _, f := range c.Fields {
			before, again := first[f]
			if !again {
				first[f] = i
			}
			if !again || slices.Contains(severalColumns, f) {
				continue
			}
			c.Fields, c.Score = nil, 0
			c.Why = fmt.Sprintf("column %s is the %s already", letter(before), f)
			t.problems = append(t.problems, tableProblem{i, "second_column", c.Heading,
				fmt.Sprintf("column %s is read as %s already: give one of the two another heading; this one is kept as it is and not used", letter(before), f)})
			break
		}
	}
}
