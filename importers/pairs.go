package importers

import (
	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// mostLinks bounds the links that one row can make: a cell with hundreds of
// numbers is no list of alternatives.
const mostLinks = 256

// sameLinks links the numbers of the row that stand in different cells: they
// name one part, unless the row is of a remanufactured or aftermarket unit,
// which only stands in for the part whose number it bears. So it is where the
// row has the numbers of several unit makers, who cannot all have made the one
// part. Numbers of one kind, in one cell or two, are alternatives and are not
// linked to one another, except by an arrow.
func (r *rowReader) sameLinks(cells []cellNumbers) {
	stands := r.standsIn() || severalUnits(cells)
	made := 0
	for i, a := range cells {
		r.arrows(a)
		for _, b := range cells[i+1:] {
			if a.list[0].field != b.list[0].field && !r.pairLinks(a, b, stands, &made) {
				return
			}
		}
	}
}

// pairLinks links the numbers of two cells; false where the row has too many.
func (r *rowReader) pairLinks(a, b cellNumbers, stands bool, made *int) bool {
	left, right := a.heads(), b.heads()
	for _, x := range left {
		for _, y := range right {
			p, ok := pairOf(x, y)
			if !ok {
				continue
			}
			if *made++; *made > mostLinks {
				r.problem(y.number.col, "too_many_links", y.number.text, "fewer numbers in one row: only the first 256 links were kept")
				return false
			}
			r.link(*p.a, *p.b, p.relation(stands))
		}
	}
	return true
}

// severalUnits tells a row with unit numbers in more than one column.
func severalUnits(cells []cellNumbers) bool {
	n := 0
	for _, c := range cells {
		if c.list[0].field == UnitNo {
			n++
		}
	}
	return n > 1
}

// pair is two numbers of a row to be linked.
type pair struct {
	a, b   *number
	oneWay bool // the row does not say that the two are one part
	set    []part.Ref
}

func (p pair) relation(stands bool) statement.Link {
	l := statement.Link{Relation: statement.Same}
	if stands || p.oneWay {
		l.Relation = statement.StandsIn
	}
	l.Set = p.set
	return l
}

// pairOf pairs a number of one cell with one of another. Which number of a cell
// "A → B" the row's part bears is not said, so the link is one way, from A or to
// B, which holds for both readings. "A + B" is paired as a set that goes where
// the other number goes.
func pairOf(x, y head) (pair, bool) {
	if x.number.ref == y.newest.ref || len(x.set) > 0 && len(y.set) > 0 {
		return pair{}, false
	}
	switch {
	case len(x.set) > 0:
		return pair{a: y.number, b: x.newest, oneWay: true, set: x.set}, true
	case len(y.set) > 0:
		return pair{a: x.number, b: y.newest, oneWay: true, set: y.set}, true
	}
	return pair{a: x.number, b: y.newest, oneWay: x.arrow() || y.arrow()}, true
}

// head is a number of a cell that other cells are linked to.
type head struct {
	number *number
	newest *number    // what arrows lead to; the number itself without one
	set    []part.Ref // what it goes together with
}

// arrow reports whether the cell names a newer number.
func (h head) arrow() bool { return h.newest.ref != h.number.ref }

func (c cellNumbers) heads() []head {
	out := make([]head, 0, len(c.list))
	for i := range c.list {
		n, last := &c.list[i], len(out)-1
		switch {
		case last >= 0 && n.joint == jointArrow:
			out[last].newest = n
		case last >= 0 && n.joint == jointSet:
			out[last].set = append(out[last].set, n.ref)
		default:
			out = append(out, head{number: n, newest: n})
		}
	}
	return out
}

// arrows links the numbers of one cell that an arrow joins.
func (r *rowReader) arrows(c cellNumbers) {
	for i := 1; i < len(c.list); i++ {
		if c.list[i].joint == jointArrow && c.list[i-1].ref != c.list[i].ref {
			r.link(c.list[i-1], c.list[i], statement.Link{Relation: statement.ReplacedBy})
		}
	}
}

// link adds a link from a to b. What is written beside a number is a condition
// of the link.
func (r *rowReader) link(a, b number, l statement.Link) {
	l.B, l.PrintedA, l.PrintedB = b.ref, a.text, b.text
	for _, n := range []number{a, b} {
		if note := n.note(); note != "" {
			l.Conditions = append(l.Conditions, note)
		}
	}
	r.add(b.col, statement.Statement{Kind: statement.KindLink, A: a.ref, Link: l})
}

// standsIn tells a row of a remanufactured or aftermarket unit.
func (r *rowReader) standsIn() bool {
	v, ok := r.first(Condition)
	if !ok {
		return false
	}
	for _, h := range r.conditions(v.text) {
		if h == "remanufactured" || h == condAftermarket {
			return true
		}
	}
	return false
}
