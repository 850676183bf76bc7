package fit

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
)

// against lists what stands against a part: contradicting values, numbers that
// replace one another in a ring, and links of which one says the same part and
// another a look-alike.
func (w *world) against(n part.Ref) []string {
	members := w.classes.members(n)
	var out []string
	for _, a := range w.q.Type.Attributes {
		if by, disputed := w.contradicting(members, a); disputed {
			out = append(out, fmt.Sprintf("sources disagree on %s: %s", w.title(a.Name), valuesText(by)))
		}
	}
	for _, c := range w.circles(n) {
		out = append(out, fmt.Sprintf("replacements go in a ring: %s against %s", placeText(c.leaves), placeText(c.returns)))
	}
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

func (w *world) sameAndAlike(n part.Ref) []string {
	var out []string
	for _, p := range w.alike {
		if p.a != n && p.b != n {
			continue
		}
		for _, s := range w.goForOneAnother(p.a, p.b) {
			out = append(out, fmt.Sprintf("%s says that the two go for one another, %s that they only look alike",
				placeText(s), placeText(p.step)))
		}
	}
	return out
}
