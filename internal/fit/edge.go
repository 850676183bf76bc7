package fit

import (
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// edge is one way of walking a link.
type edge struct {
	to        part.Ref
	step      Step
	class     linkClass
	ambiguous bool
	open      []string // conditions that nobody knows to hold
}

// alikePair is a look-alike statement between two parts.
type alikePair struct {
	a, b part.Ref
	step Step
}

func (w *world) addLink(s statement.Statement) {
	if w.otherType(s.Type) {
		return
	}
	fwd := w.step(s, Forward)
	if fwd.Reliability <= carries || w.foreign[s.A.Key] || w.foreign[s.Link.B.Key] {
		return
	}
	ambiguous := w.ambiguous(s.A) || w.ambiguous(s.Link.B)
	for _, a := range w.nodes(s.A) {
		for _, b := range w.nodes(s.Link.B) {
			if a != b {
				w.addEdges(a, b, fwd, ambiguous)
			}
		}
	}
}

func (w *world) addEdges(a, b part.Ref, fwd Step, ambiguous bool) {
	l := fwd.Statement.Link
	if l.Relation == statement.LookAlike {
		w.alike = append(w.alike, alikePair{a, b, fwd})
		return
	}
	open, holds := w.conditions(l.Conditions)
	if !holds {
		return
	}
	e := edge{to: b, step: fwd, class: classOf(l), ambiguous: ambiguous, open: open}
	w.edges[a] = append(w.edges[a], e)
	if l.Relation == statement.Same {
		if !ambiguous {
			w.classes.join(a, b)
		}
	} else if l.BothWays != vehicle.Yes || l.Kit || len(l.Set) > 0 {
		return // unknown is treated as no: the old one is not offered for the new one
	}
	back := e
	back.to, back.step.Direction = a, Backward
	if len(l.Changes) > 0 { // what makes B go where A goes need not make A go where B goes
		back.open = append(slices.Clone(open), "the change is known for the other way only")
	}
	w.edges[b] = append(w.edges[b], back)
}

// sortedEdges gives the ways out of a part, the most reliable first, ties by
// statement id.
func (w *world) sortedEdges(n part.Ref) []edge {
	if out, ok := w.sorted[n]; ok {
		return out
	}
	out := slices.Clone(w.edges[n])
	slices.SortStableFunc(out, func(a, b edge) int {
		if a.step.Reliability != b.step.Reliability {
			if a.step.Reliability > b.step.Reliability {
				return -1
			}
			return 1
		}
		if c := strings.Compare(a.step.Statement.ID, b.step.Statement.ID); c != 0 {
			return c
		}
		return a.to.Compare(b.to)
	})
	w.sorted[n] = out
	return out
}

// conditions judges the conditions of a link against the vehicle: open ones
// are returned, and one that is known to fail makes the link useless.
func (w *world) conditions(conditions []string) (open []string, holds bool) {
	for _, c := range conditions {
		fact, value, ok := readCondition(c)
		if !ok {
			open = append(open, c)
			continue
		}
		have, known := w.q.Facts.Get(fact)
		switch {
		case !known:
			open = append(open, c)
		case have != value:
			return nil, false
		}
	}
	return open, true
}

// readCondition reads the conditions that speak of one vehicle fact: "AT",
// "only 4WD", "with ac", "transmission=AT". Others are left to a person.
func readCondition(c string) (vehicle.Fact, string, bool) {
	text := strings.ToLower(strings.TrimSpace(vehicle.Fold(c)))
	text = strings.TrimSpace(strings.TrimPrefix(text, "only "))
	if fact, value, ok := strings.Cut(text, "="); ok {
		return vehicle.Fact(fact), vehicle.FoldValue(value), true
	}
	if option, ok := strings.CutPrefix(text, "with "); ok {
		return vehicle.OptionFact(strings.ReplaceAll(option, "/", "")), "YES", true
	}
	switch upper := strings.ToUpper(text); upper {
	case "AT", "MT", "CVT":
		return vehicle.FactTransmission, upper, true
	case "2WD", "4WD":
		return vehicle.FactDrive, upper, true
	case "RHD", "LHD":
		return vehicle.FactSide, upper, true
	}
	return "", "", false
}
