package importers

import (
	"regexp"
	"slices"
	"strings"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// linkRow reads a row of a cross-reference table: two numbers, and what they
// have to do with one another.
func (r *rowReader) linkRow() {
	first, other, _ := r.table.linkPair()
	a := r.side(first, NumberMaker)
	b := r.side(other, OtherMaker)
	if len(a) == 0 || len(b) == 0 {
		if len(r.out.Problems) == 0 && len(a)+len(b) > 0 {
			r.problem(-1, "half_link", rowText(r.row, ", "), "two part numbers; one of them is missing")
		}
		r.linkParts(a, b)
		return
	}
	r.linkParts(a, b)
	l, ok := r.relation(first == Replaces && other == SupersededBy)
	if !ok {
		return
	}
	made := 0
	for _, x := range (cellNumbers{list: a}).heads() {
		for _, y := range (cellNumbers{list: b}).heads() {
			if made++; made > mostLinks {
				r.problem(y.number.col, "too_many_links", y.number.text, "fewer numbers in one row: only the first 256 links were kept")
				return
			}
			r.oneLink(x, y, l)
		}
	}
	r.arrows(cellNumbers{list: a})
	r.arrows(cellNumbers{list: b})
}

// side reads the numbers of one side.
func (r *rowReader) side(f, makerField Field) []number {
	maker := r.text(makerField)
	if maker == "" {
		maker = r.makerOf(f)
	}
	role := statement.Other
	if f == MakerNo || f == UnitNo || f == OwnNo {
		role = r.roleOf(f)
	}
	var out []number
	for _, c := range r.numbers(f, role, maker) {
		out = append(out, c.list...)
	}
	return out
}

func (r *rowReader) linkParts(a, b []number) {
	r.partStatements(slices.Concat(a, b), r.text(PartTitle))
}

// relationOf is what a row says: the link from the first number, or the other
// way round.
type relationOf struct {
	link     statement.Link
	reversed bool
	col      int
	note     string
}

// relation reads the relation word and what belongs to it. fixed says that the
// headings already tell the old number from the new one. ok is false where the
// word is not known: it is never guessed.
func (r *rowReader) relation(fixed bool) (relationOf, bool) {
	if !r.table.has(Relation) { // the headings say it all: old number, new number
		out := relationOf{link: statement.Link{Relation: statement.ReplacedBy}, col: r.table.byField[SupersededBy][0].col, note: r.text(Notes)}
		r.conditionsOf(&out.link)
		r.bothWays(&out.link)
		return out, true
	}
	v, ok := r.first(Relation)
	if !ok {
		r.problem(r.table.byField[Relation][0].col, "unknown_relation", "", "what the two numbers have to do with one another: "+knownRelations)
		return relationOf{}, false
	}
	out := relationOf{col: v.col, note: r.text(Notes)}
	meaning, found := r.rd.opt.Words.relation(v.text)
	if !found {
		r.problem(v.col, "unknown_relation", v.text, "a relation that is known: "+knownRelations+"; the link was not made")
		return out, false
	}
	switch meaning {
	case relReplacedBy:
		out.link.Relation = statement.ReplacedBy
	case relReplaces:
		out.link.Relation, out.reversed = statement.ReplacedBy, !fixed
	case relSame:
		out.link.Relation = statement.Same
	case relStandsIn, relChange:
		out.link.Relation = statement.StandsIn
	case relLookAlike:
		out.link.Relation = statement.LookAlike
	case relKit:
		out.link.Relation, out.link.Kit = statement.ReplacedBy, true
	case relContains:
		out.link.Relation, out.link.Kit, out.reversed = statement.ReplacedBy, true, true
	case relPair:
		r.problem(v.col, "mirror_pair", v.text, "nothing: left and right never go for one another, so no link was made; the numbers were kept")
		return out, false
	}
	r.conditionsOf(&out.link)
	r.changesOf(&out.link, meaning, v)
	r.bothWays(&out.link)
	return out, true
}

const knownRelations = "superseded by, replaces, same as, interchanges with, fits with change, looks the same but does not fit, supplied in kit, left/right pair"

// relation gives the meaning of a relation cell: the whole text, or one phrase
// that is most of it. "not" turns a phrase round, so a text in which it stands
// must be known as a whole.
func (w Words) relation(text string) (string, bool) {
	if m := w.relations.of(text); len(m) > 0 {
		return m[0], true
	}
	hits := w.relations.hits(text, false)
	if len(hits) != 1 || denies.MatchString(text) || float64(len(hits[0].phrase)) < mostOf*float64(len(squash(text))) {
		return "", false
	}
	return hits[0].meanings[0], true
}

var denies = regexp.MustCompile(`(?i)\b(no|not|never|nicht|nie|kein|keine|nunca|ne|pas|non)\b|不|無|ない|なし`)

// conditionsOf reads the conditions under which the link holds.
func (r *rowReader) conditionsOf(l *statement.Link) {
	for _, v := range r.values(OnlyIf) {
		for _, c := range strings.FieldsFunc(v.text, func(c rune) bool { return c == ';' || c == '\n' }) {
			if c = strings.TrimSpace(c); c != "" {
				l.Conditions = append(l.Conditions, c)
			}
		}
	}
}

// bothWays reads whether the link holds in both directions. Same numbers and
// look-alikes do anyway.
func (r *rowReader) bothWays(l *statement.Link) {
	v, ok := r.first(BothWays)
	if !ok || l.Relation == statement.Same || l.Relation == statement.LookAlike {
		return
	}
	marks := r.rd.opt.Words.marks
	switch {
	case marks.is(v.text, markYes), marks.is(v.text, markBoth):
		l.BothWays = vehicle.Yes
	case marks.is(v.text, markNo):
		l.BothWays = vehicle.No
	case marks.is(v.text, markUnknown):
	default:
		r.problem(v.col, "yes_or_no", v.text, "yes, no or ? for both ways; it was read as not known")
	}
	if l.Kit && l.BothWays == vehicle.Yes {
		r.problem(v.col, "kit_one_way", v.text, "no: a piece of a kit is not the kit; the link was kept one way")
		l.BothWays = vehicle.No
	}
}

// oneLink adds the link between two sides; a set goes only together.
func (r *rowReader) oneLink(x, y head, rel relationOf) {
	if rel.reversed {
		x, y = y, x
	}
	if x.number.ref == y.number.ref {
		r.problem(rel.col, "same_number", x.number.text, "two different numbers; these two are one and the same")
		return
	}
	l := rel.link
	l.Conditions = slices.Clone(l.Conditions)
	if len(x.set) > 0 {
		r.problem(x.number.col, "set_replaced", x.number.text, "one number in front of the relation; what holds for several together cannot be said of one of them, so no link was made")
		return
	}
	if l.Set = y.set; len(y.set) > 0 && l.Relation == statement.Same {
		l.Relation = statement.StandsIn
	}
	before := len(r.out.Statements)
	r.link(*x.number, *y.number, l)
	r.out.Statements[before].Note = rel.note
	r.out.Statements[before].Place.Cell = cellName(rel.col, r.out.Place.Row)
}
