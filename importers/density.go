package importers

import (
	"slices"
	"strings"

	"crossbin/internal/sheet"
)

// density is how much of a row is headings.
type density struct {
	known   float64 // sum of scores
	whole   int     // cells that are a known phrase as they stand
	filled  int
	digits  bool // a cell holds a number or a date, or four digits and more
	numbers int  // whole headings of number fields
}

func (g *recogniser) density(row sheet.Row) density {
	var d density
	for _, c := range row.Cells {
		text := strings.TrimSpace(c.Text)
		if text == "" || c.Merged {
			continue
		}
		d.filled++
		d.digits = d.digits || c.Type == sheet.Number || c.Type == sheet.Date || countDigits(text) >= 4
		m := g.match(text)
		d.known += m.score
		if m.score == 1 {
			d.whole++
			if len(m.pieces) == 1 && slices.ContainsFunc(m.pieces[0], holdsNumber) {
				d.numbers++
			}
		}
	}
	return d
}

// isHeading tells the first heading row of a table: half of what stands in it
// is known, and one cell of it is a whole known phrase.
func (d density) isHeading() bool {
	return d.filled >= 2 && d.whole >= 1 && d.known >= 1.5 && d.known >= 0.5*float64(d.filled)
}

// isAgain is the stricter test for a heading row in the middle of a table,
// where words like "core" and "front" stand in rows of data too.
func (d density) isAgain() bool {
	return !d.digits && d.numbers >= 1 && (d.whole >= 3 && d.known >= mostOf*float64(d.filled) || d.whole >= 2 && d.whole == d.filled)
}

// mayBeAgain is a quick look that spares most rows of data the lookups.
func mayBeAgain(row sheet.Row) bool {
	filled := 0
	for i := range row.Cells {
		c := &row.Cells[i]
		if c.Type == sheet.Number || c.Type == sheet.Date || asciiDigits(c.Text) >= 4 {
			return false
		}
		if c.Text != "" {
			filled++
		}
	}
	return filled >= 2
}

func asciiDigits(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		if s[i] >= '0' && s[i] <= '9' {
			n++
		}
	}
	return n
}

// beginsAgain tells a row that is another heading row in the middle of a table.
func (g *recogniser) beginsAgain(row sheet.Row) bool {
	return mayBeAgain(row) && g.density(row).isAgain()
}

// isLone tells the only heading of a list of one column.
func (d density) isLone() bool { return d.filled == 1 && d.numbers == 1 && !d.digits }
