package importers

import (
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// flatRow reads a row of a flat list: its numbers name one part, on which
// values, vehicles and stock hang.
func (r *rowReader) flatRow() {
	cells, none := r.ownNumbers()
	var all []number
	for _, c := range cells {
		all = append(all, c.list...)
	}
	if len(all) == 0 {
		if none {
			r.noneRow()
		}
		return
	}
	name, note := r.text(PartTitle), r.text(Notes)
	r.checkNote()
	r.partStatements(all, name)
	r.sameLinks(cells)
	lead := leadOf(cells)
	r.crossLinks(lead)
	r.fitments(lead, note)
	if v, ok := r.first(EngineCode); ok && r.table.has(EngineFamily) && r.text(EngineFamily) != "" {
		r.engines(v, r.text(EngineFamily))
	}
	r.valueStatements(lead)
	r.stock(lead)
}

// leadOf is the number that the rest of the row hangs on: the first one that is
// a part by itself and not a piece of a set.
func leadOf(cells []cellNumbers) number {
	for _, c := range cells {
		for _, h := range c.heads() {
			if len(h.set) == 0 {
				return *h.number
			}
		}
	}
	return cells[0].list[0]
}

// ownNumbers are the numbers that name the row's part, cell by cell in the order
// OE, unit, own. none says that a cell names no part on purpose.
func (r *rowReader) ownNumbers() (cells []cellNumbers, none bool) {
	for _, f := range firstNumbers {
		for _, c := range r.numbers(f, r.roleOf(f), r.makerOf(f)) {
			none = none || c.none
			if len(c.list) > 0 {
				cells = append(cells, c)
			}
		}
	}
	return cells, none
}

// roleOf says whose number a column holds. A plain part number is the shop's
// own unless the table names its maker.
func (r *rowReader) roleOf(f Field) statement.Role {
	switch {
	case f == MakerNo:
		return statement.VehicleMaker
	case f == UnitNo:
		return statement.UnitMaker
	case f == PartNo && (r.table.has(Brand) || r.table.has(OwnNo)):
		return statement.Other
	case f == OwnNo || f == PartNo:
		return statement.Own
	}
	return statement.Other
}

// makerOf is the maker of the numbers in a column, as the row names it. Where
// the row names several vehicle makers, the number's own is not known.
func (r *rowReader) makerOf(f Field) string {
	switch f {
	case MakerNo:
		if m := r.text(Make); len(splitAlternatives(m)) == 1 {
			return m
		}
	case UnitNo:
		if m := r.text(UnitMaker); m != "" {
			return m
		}
		return r.text(Brand)
	case PartNo:
		return r.text(Brand)
	}
	return ""
}

// partStatements says that there is a part with each number.
func (r *rowReader) partStatements(all []number, name string) {
	seen := map[part.Ref]bool{}
	for _, n := range all {
		if seen[n.ref] {
			continue
		}
		seen[n.ref] = true
		r.add(n.col, statement.Statement{Kind: statement.KindPart, A: n.ref, Note: n.note(),
			Part: statement.PartName{Printed: n.text, Maker: n.maker, Role: n.role, Name: name}})
	}
}

// note is what was written beside the number.
func (n *number) note() string {
	if !n.doubt {
		return n.remark
	}
	return strings.Trim("the number is marked as not certain; "+n.remark, "; ")
}

// crossLinks reads the columns with other parts' numbers.
func (r *rowReader) crossLinks(lead number) {
	for _, f := range linkNumbers {
		for _, c := range r.numbers(f, statement.Other, "") {
			if len(c.list) == 0 {
				continue
			}
			if f == Repl {
				r.problem(c.list[0].col, "unknown_direction", c.list[0].text,
					"a heading that says which of the two is the new number: Replaces or Superseded by; the numbers were kept, the link was not made")
			}
			r.partStatements(c.list, "")
			r.crossCell(lead, f, c)
		}
	}
}

// crossCell links the row's first number to those of one cell.
func (r *rowReader) crossCell(lead number, f Field, c cellNumbers) {
	r.arrows(c)
	for _, h := range c.heads() {
		if h.number.ref == lead.ref {
			continue
		}
		switch f {
		case SupersededBy:
			r.link(lead, *h.number, statement.Link{Relation: statement.ReplacedBy, Set: h.set})
		case Replaces:
			if len(h.set) > 0 {
				r.problem(h.number.col, "set_replaced", h.number.text, "one old number a cell; that this part replaces several together cannot be said of one of them, so no link was made")
				continue
			}
			r.link(*h.newest, lead, statement.Link{Relation: statement.ReplacedBy})
		case Cross, OtherNo:
			r.link(lead, *h.number, statement.Link{Relation: statement.StandsIn, Set: h.set})
		}
	}
}

var _ app.Rows = (*Reading)(nil)
