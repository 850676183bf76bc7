package fit

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// against lists what stands against a part: contradicting values, numbers that
// replace one another in a ring, and links of which one says the same part and
// another a look-alike.
func (w *world) against(n part.Ref) []string {
	var out []string
	for _, a := range w.q.Type.Attributes {
		if a.Compare == part.Any {
			continue
		}
		if _, _, disputed, by := w.valueOf(n, a.Name); disputed {
			out = append(out, fmt.Sprintf("sources disagree on %s: %s", w.title(a.Name), valuesText(by)))
		}
	}
	out = append(out, w.rings(n)...)
	out = append(out, w.sameAndAlike(n)...)
	slices.Sort(out)
	return slices.Compact(out)
}

func valuesText(by []Step) string {
	text := ""
	for i, s := range by {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s (%s)", s.Statement.Value.Value.String(), placeText(s))
	}
	return text
}

// placeText says in words where a statement stands.
func placeText(s Step) string {
	p := s.Statement.Place
	text := s.Source.Title()
	if p.File != "" && p.File != text {
		text += ", " + p.File
	}
	if p.Sheet != "" {
		text += ", sheet " + p.Sheet
	}
	if p.Row > 0 {
		text += fmt.Sprintf(", row %d", p.Row)
	}
	return text
}

// rings finds replacements that come back to the part: each is said to replace
// the other, and nobody says that they go both ways.
func (w *world) rings(n part.Ref) []string {
	oneWay := func(e edge) bool {
		l := e.step.Statement.Link
		return e.class.replaced && l.BothWays != vehicle.Yes && e.step.Direction == Forward
	}
	var out []string
	seen := map[part.Ref]bool{}
	var walk func(at part.Ref, depth int, first Step)
	walk = func(at part.Ref, depth int, first Step) {
		for _, e := range w.sortedEdges(at) {
			if !oneWay(e) {
				continue
			}
			if e.to == n {
				out = append(out, fmt.Sprintf("replacements go in a ring: %s against %s", placeText(first), placeText(e.step)))
				continue
			}
			if depth < ringDepth && !seen[e.to] {
				seen[e.to] = true
				walk(e.to, depth+1, first)
			}
		}
	}
	for _, e := range w.sortedEdges(n) {
		if oneWay(e) && e.to != n {
			walk(e.to, 1, e.step)
		}
	}
	return out
}

// ringDepth bounds the search for rings of replacements: longer chains are
// beyond what a trail may hold anyway.
const ringDepth = 6

func (w *world) sameAndAlike(n part.Ref) []string {
	var out []string
	for _, p := range w.alike {
		if p.a != n && p.b != n {
			continue
		}
		for _, e := range w.edges[p.a] {
			l := e.step.Statement.Link
			if e.to == p.b && (l.Relation == statement.Same || l.Relation == statement.StandsIn || l.Relation == statement.ReplacedBy) {
				out = append(out, fmt.Sprintf("%s says that the two go for one another, %s that they only look alike",
					placeText(e.step), placeText(p.step)))
			}
		}
	}
	return out
}
