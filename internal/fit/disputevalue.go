package fit

import (
	"cmp"
	"maps"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// measuredParts lists the parts that have values, those that are one physical
// part together, under the one that stands for them.
func (w *world) measuredParts() map[part.Ref][]part.Ref {
	out := map[part.Ref][]part.Ref{}
	for n := range w.values {
		root := w.classes.find(n)
		out[root] = append(out[root], n)
	}
	for _, members := range out {
		slices.SortFunc(members, part.Ref.Compare)
	}
	return out
}

// contradicting gives who says what of an attribute of one physical part, by
// statement id, where they do not say the same.
func (w *world) contradicting(members []part.Ref, attribute part.Attribute) (by []Step, disputed bool) {
	if attribute.Compare == part.Any {
		return nil, false
	}
	if _, _, disputed, by = w.valueAmong(members, attribute.Name); !disputed {
		return nil, false
	}
	return distinct(by), true
}

func (w *world) valueDisputes() []Dispute {
	var out []Dispute
	for _, members := range w.measuredParts() {
		for _, a := range w.q.Type.Attributes {
			if by, disputed := w.contradicting(members, a); disputed {
				out = append(out, w.dispute(DisputeValue, a.Name, w.speakingOf(members, by), w.valueSides(a.Name, by)...))
			}
		}
	}
	return out
}

// valueSides makes one side of each value.
func (w *world) valueSides(attribute string, by []Step) []Side {
	steps := map[string][]Step{}
	for _, s := range by {
		text := s.Statement.Value.Value.String()
		steps[text] = append(steps[text], s)
	}
	var out []Side
	for _, text := range slices.Sorted(maps.Keys(steps)) {
		out = append(out, Side{Says: w.title(attribute) + " " + text, Steps: steps[text]})
	}
	return out
}

// speakingOf lists the parts that some value statements are about.
func (w *world) speakingOf(members []part.Ref, by []Step) []part.Ref {
	return slices.DeleteFunc(slices.Clone(members), func(n part.Ref) bool {
		return !slices.ContainsFunc(by, func(s Step) bool { return s.Statement.A.Key == n.Key && w.nodes(s.Statement.A)[0] == n })
	})
}

// pair is two parts, in the order in which links name them.
type pair struct{ a, b part.Ref }

func comparePairs(x, y pair) int { return cmp.Or(x.a.Compare(y.a), x.b.Compare(y.b)) }

// joined collects who says that one part goes where another one goes. A kit is
// not the part, and a number of several makers may mean another one.
func (w *world) joined() map[pair][]Step {
	out := map[pair][]Step{}
	for a, edges := range w.edges {
		for _, e := range edges {
			if e.step.Direction == Forward && !e.class.kit && !e.ambiguous {
				out[pair{a, e.to}] = append(out[pair{a, e.to}], e.step)
			}
		}
	}
	return out
}

// endDisputes finds links whose ends differ in a deciding attribute.
func (w *world) endDisputes() []Dispute {
	measured, joined := w.measuredParts(), w.joined()
	var out []Dispute
	for _, p := range slices.SortedFunc(maps.Keys(joined), comparePairs) {
		mine, theirs := measured[w.classes.find(p.a)], measured[w.classes.find(p.b)]
		if w.classes.find(p.a) == w.classes.find(p.b) { // said to be one part: each by its own values
			mine, theirs = []part.Ref{p.a}, []part.Ref{p.b}
		}
		links := distinct(joined[p])
		for _, a := range w.q.Type.Attributes {
			if w.differ(mine, theirs, links)[a.Name] {
				out = append(out, w.endDispute(p, a.Name, links, mine, theirs))
			}
		}
	}
	return out
}

// differ gives the attributes in which the second part may not go where the first
// one goes; for a link that runs both ways, either for the other.
func (w *world) differ(mine, theirs []part.Ref, links []Step) map[string]bool {
	if len(mine) == 0 || len(theirs) == 0 {
		return nil
	}
	a := func(attribute string) (part.Value, bool) { return w.clearAmong(mine, attribute) }
	b := func(attribute string) (part.Value, bool) { return w.clearAmong(theirs, attribute) }
	outcomes := w.compare(a, b)
	if slices.ContainsFunc(links, func(s Step) bool {
		return s.Statement.Link.Relation == statement.Same || s.Statement.Link.BothWays == vehicle.Yes
	}) {
		outcomes = append(outcomes, w.compare(b, a)...)
	}
	out := map[string]bool{}
	for _, o := range outcomes {
		if o.Open == "" && o.Difference.Deciding() {
			out[o.Attribute] = true
		}
	}
	return out
}

// endDispute sets the links against the values of both ends.
func (w *world) endDispute(p pair, attribute string, links []Step, mine, theirs []part.Ref) Dispute {
	var sides []Side
	for _, s := range links {
		says := w.linkSays(s.Statement.Link.Relation, p.a, p.b)
		i := slices.IndexFunc(sides, func(o Side) bool { return o.Says == says })
		if i < 0 {
			i = len(sides)
			sides = append(sides, Side{Says: says})
		}
		sides[i].Steps = append(sides[i].Steps, s)
	}
	slices.SortFunc(sides, func(a, b Side) int { return cmp.Compare(a.Says, b.Says) })
	for _, end := range []struct {
		at      part.Ref
		members []part.Ref
	}{{p.a, mine}, {p.b, theirs}} {
		v, _, _, by := w.valueAmong(end.members, attribute)
		sides = append(sides, Side{Says: w.display(end.at) + " has " + w.title(attribute) + " " + v.String(), Steps: by})
	}
	return w.dispute(DisputeEnds, attribute, []part.Ref{p.a, p.b}, sides...)
}

// linkSays says a link in plain words.
func (w *world) linkSays(r statement.Relation, a, b part.Ref) string {
	one, two := w.display(a), w.display(b)
	switch r {
	case statement.Same:
		return one + " and " + two + " are the same part"
	case statement.ReplacedBy:
		return two + " replaces " + one
	case statement.StandsIn:
		return two + " goes in place of " + one
	}
	return one + " and " + two + " only look alike"
}
