package importers

import (
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// mostLinks bounds the links that one row can make: a cell with hundreds of
// numbers is no list of alternatives.
const mostLinks = 256

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
				return h.number
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

// sameLinks links the numbers of the row that stand in different cells: they
// name one part, unless the row is of a remanufactured or aftermarket unit,
// which only stands in for the part whose number it bears. Numbers within one
// cell are alternatives and are not linked to one another, except by an arrow.
func (r *rowReader) sameLinks(cells []cellNumbers) {
	stands := r.standsIn()
	made := 0
	for i, a := range cells {
		r.arrows(a)
		for _, b := range cells[i+1:] {
			for _, l := range pairs(a, b) {
				if made++; made > mostLinks {
					r.problem(b.list[0].col, "too_many_links", b.list[0].text, "fewer numbers in one row: only the first 256 links were kept")
					return
				}
				r.link(l.a, l.b, l.relation(stands))
			}
		}
	}
	if len(cells) > 0 {
		r.arrows(cells[len(cells)-1])
	}
}

// pair is two numbers of a row to be linked.
type pair struct {
	a, b   number
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

// pairs gives the pairs of numbers from two cells. Of a cell "A → B" only A is
// paired, and one way: which of the two the row's part bears is not said, and A
// goes for both readings. "A + B" is paired as a set that goes where the other
// number goes.
func pairs(a, b cellNumbers) []pair {
	var out []pair
	for _, x := range a.heads() {
		for _, y := range b.heads() {
			if x.number.ref == y.number.ref || len(x.set) > 0 && len(y.set) > 0 {
				continue
			}
			p := pair{a: x.number, b: y.number, oneWay: x.arrow || y.arrow}
			switch {
			case len(x.set) > 0:
				p = pair{a: y.number, b: x.number, oneWay: true, set: x.set}
			case len(y.set) > 0:
				p.oneWay, p.set = true, y.set
			}
			out = append(out, p)
		}
	}
	return out
}

// head is a number of a cell that other cells are linked to.
type head struct {
	number number
	set    []part.Ref // what it goes together with
	arrow  bool       // it was replaced by the next one
}

func (c cellNumbers) heads() []head {
	var out []head
	for _, n := range c.list {
		switch {
		case len(out) > 0 && n.joint == jointArrow:
			out[len(out)-1].arrow = true
		case len(out) > 0 && n.joint == jointSet:
			out[len(out)-1].set = append(out[len(out)-1].set, n.ref)
		default:
			out = append(out, head{number: n})
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
			r.link(lead, h.number, statement.Link{Relation: statement.ReplacedBy, Set: h.set})
		case Replaces:
			if len(h.set) > 0 {
				r.problem(h.number.col, "set_replaced", h.number.text, "one old number a cell; that this part replaces several together cannot be said of one of them, so no link was made")
				continue
			}
			r.link(h.number, lead, statement.Link{Relation: statement.ReplacedBy})
		case Cross, OtherNo:
			r.link(lead, h.number, statement.Link{Relation: statement.StandsIn, Set: h.set})
		}
	}
}

// noneRow reads a row that says of vehicles that they have no such part.
func (r *rowReader) noneRow() {
	col := r.noneColumn()
	if r.typ.Name == "" {
		r.problem(col, "none_of_what", r.row.Cells[col].Text, "which part these vehicles do not have: name it in the cell (no alternator), in a column Part type or in the sheet's name")
		return
	}
	scopes, _, ok := r.scopes()
	if !ok {
		return
	}
	for _, s := range scopes {
		r.add(col, statement.Statement{Kind: statement.KindNone, Scope: s, Note: r.text(Notes)})
	}
}

// noneColumn is the column whose cell says that there is no such part; the part
// type that it names goes before the row's.
func (r *rowReader) noneColumn() int {
	for _, f := range firstNumbers {
		for _, v := range r.values(f) {
			if !r.isNone(v.text) {
				continue
			}
			if t, ok := r.types.typeOf(r.rd.opt.Types, withoutNone(v.text)); ok {
				r.typ = t
			}
			return v.col
		}
	}
	return 0
}

// withoutNone leaves the name in "no alternator" and "オルタネーターなし".
func withoutNone(text string) string {
	for _, end := range []string{"なし", "無し", "無"} {
		text = strings.TrimSuffix(strings.TrimSpace(text), end)
	}
	if i := strings.IndexByte(text, ' '); i > 0 {
		return text[i+1:]
	}
	return text
}

// engineRow reads a row of engine codes and their family.
func (r *rowReader) engineRow() {
	code, ok := r.first(EngineCode)
	family := r.text(EngineFamily)
	switch {
	case !ok && family == "":
		return
	case !ok || family == "":
		r.problem(-1, "half_engine", strings.TrimSpace(code.text+" "+family), "an engine code and the family that it belongs to; one of the two is missing")
		return
	}
	r.engines(code, family)
}

// engines says of each code that it belongs to the family; with several families
// it is not said which code belongs to which.
func (r *rowReader) engines(code value, family string) {
	if len(splitAlternatives(family)) > 1 {
		r.problem(code.col, "several_families", family, "one family a row; which code belongs to which of them is not said, so the row's families were left out")
		return
	}
	for _, c := range splitAlternatives(code.text) {
		if vehicle.FoldCode(c) == "" || strings.ContainsAny(c, "?*") {
			r.problem(code.col, "clause_unread", c, "an engine code; it was left out")
			continue
		}
		r.add(code.col, statement.Statement{Kind: statement.KindEngine, Type: "", Engine: statement.Engine{Code: c, Family: family}})
	}
}

// source says who says it, in the row's own words.
func (r *rowReader) source() {
	v, ok := r.first(WhereFrom)
	if ok {
		r.out.From = v.text
		if meaning, known := r.rd.opt.Words.standings.first(v.text); known {
			standing, manner, _ := strings.Cut(meaning, "/")
			r.out.Standing, r.out.Manner = statement.Standing(standing), statement.Manner(manner)
		}
	}
	if how := r.manner(); how != statement.AnyManner && r.out.Manner == statement.AnyManner {
		r.out.Manner = how
	}
}

// manner is what the column "measured with" says.
func (r *rowReader) manner() statement.Manner {
	meaning, _ := r.rd.opt.Words.standings.first(r.text(HowTaken))
	_, manner, _ := strings.Cut(meaning, "/")
	return statement.Manner(manner)
}

var _ app.Rows = (*Reading)(nil)
