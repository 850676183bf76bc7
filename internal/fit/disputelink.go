package fit

import (
	"cmp"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// goForOneAnother lists who says that one of two parts goes where the other one
// goes, by statement id.
func (w *world) goForOneAnother(a, b part.Ref) []Step {
	var out []Step
	for _, way := range []pair{{a, b}, {b, a}} {
		for _, e := range w.edges[way.a] {
			l := e.step.Statement.Link
			if e.to == way.b && (l.Relation == statement.Same || l.Relation == statement.StandsIn || l.Relation == statement.ReplacedBy) {
				out = append(out, e.step)
			}
		}
	}
	return distinct(out)
}

// alikeDisputes finds parts of which one source says that they go for one
// another, and another that they only look alike.
func (w *world) alikeDisputes() []Dispute {
	alike := map[pair][]Step{}
	for _, p := range w.alike {
		ends := pair{p.a, p.b}
		if p.b.Less(p.a) {
			ends = pair{p.b, p.a}
		}
		alike[ends] = append(alike[ends], p.step)
	}
	var out []Dispute
	for ends, steps := range alike {
		if links := w.goForOneAnother(ends.a, ends.b); len(links) > 0 {
			out = append(out, w.dispute(DisputeAlike, "", []part.Ref{ends.a, ends.b},
				Side{Says: w.display(ends.a) + " and " + w.display(ends.b) + " go for one another", Steps: links},
				Side{Says: w.linkSays(statement.LookAlike, ends.a, ends.b), Steps: steps}))
		}
	}
	return out
}

// noneDisputes finds vehicles of which one statement says that they have no such
// part, and another one that a part goes into them.
func (w *world) noneDisputes() []Dispute {
	var out []Dispute
	for _, none := range w.rows {
		if !none.none {
			continue
		}
		says := "these vehicles have none"
		if note := none.step.Statement.Note; note != "" {
			says += ": " + note
		}
		sides := []Side{{Says: says, Steps: []Step{none.step}}}
		var parts []part.Ref
		for _, r := range w.rows {
			if !r.none && w.overlap(none.step.Statement.Scope, r.step.Statement.Scope) {
				parts = append(parts, r.nodes...)
				sides = append(sides, Side{Says: w.display(r.nodes[0]) + " goes into them", Steps: []Step{r.step}})
			}
		}
		if len(parts) > 0 {
			slices.SortStableFunc(sides[1:], func(a, b Side) int { return cmp.Compare(a.Says, b.Says) })
			out = append(out, w.dispute(DisputeNone, "", parts, joinSides(sides)...))
		}
	}
	return out
}

// joinSides makes one side of neighbours that say the same.
func joinSides(sides []Side) []Side {
	out := sides[:1]
	for _, s := range sides[1:] {
		if last := &out[len(out)-1]; last.Says == s.Says {
			last.Steps = append(last.Steps, s.Steps...)
			continue
		}
		out = append(out, s)
	}
	return out
}

// overlap reports whether two scopes speak of the same vehicles: both name a
// model code, a model or an engine alike, and no clause of one contradicts the
// other. Two scopes that name different things (a model code here, an engine
// there) are not known to meet.
func (w *world) overlap(a, b vehicle.Scope) bool {
	if !meet(a, b) {
		return false
	}
	sameCode := a.Text[vehicle.FactModelCode] != "" && a.Text[vehicle.FactModelCode] == b.Text[vehicle.FactModelCode]
	alike := false
	for fact, mine := range a.Text {
		theirs, both := b.Text[fact]
		agree := mine == theirs || fact == vehicle.FactEngine && w.sameEngine(mine, theirs)
		switch {
		case !both, sameCode && (fact == vehicle.FactMaker || fact == vehicle.FactModel): // sales names are spelled differently from list to list
		case !agree:
			return false
		case fact == vehicle.FactModelCode || fact == vehicle.FactModel || fact == vehicle.FactEngine:
			alike = true
		}
	}
	return alike
}

// meet reports whether the serials and build dates of two scopes have any in
// common.
func meet(a, b vehicle.Scope) bool {
	if _, ok := a.Built.Intersect(b.Built); !ok {
		return false
	}
	below := func(x, y int64) bool { return x != vehicle.NoSerial && y != vehicle.NoSerial && x < y }
	return !below(a.Serial.To, b.Serial.From) && !below(b.Serial.To, a.Serial.From)
}

// sameEngine reports whether one engine is the family of the other.
func (w *world) sameEngine(a, b string) bool {
	return slices.Contains(w.k.Engines[a], b) || slices.Contains(w.k.Engines[b], a)
}
