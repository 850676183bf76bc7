package fit

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// DisputeKind says what contradicts what.
type DisputeKind string

// Kinds of disputes.
const (
	DisputeValue DisputeKind = "value"            // sources give one part different values of an attribute
	DisputeEnds  DisputeKind = "link_ends"        // a link joins parts of which a deciding attribute differs
	DisputeRing  DisputeKind = "ring"             // numbers replace one another in a ring
	DisputeAlike DisputeKind = "same_and_alike"   // the two go for one another, and they only look alike
	DisputeNone  DisputeKind = "none_and_fitment" // vehicles have no such part, and a part goes into them
)

// Dispute is one contradiction between counted statements, with both places.
type Dispute struct {
	ID        string // hash of the kind and the ids of its statements; places and order do not matter
	Kind      DisputeKind
	Type      string // part type
	Attribute string // of values and ends of links; "" for others
	Parts     []part.Ref
	Numbers   []string // of Parts, as printed
	Sides     []Side   // two or more that cannot all hold
}

// Side is one side of a dispute.
type Side struct {
	Says  string // in plain words
	Steps []Step // who says so, by statement id
}

// Statements lists the ids of all its statements, sorted.
func (d Dispute) Statements() []string {
	var ids []string
	for _, s := range d.Sides {
		for _, step := range s.Steps {
			ids = append(ids, step.Statement.ID)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// Compare orders disputes by part type, first part, kind, attribute, id.
func (d Dispute) Compare(o Dispute) int {
	first := func(d Dispute) part.Ref {
		if len(d.Parts) == 0 {
			return part.Ref{}
		}
		return d.Parts[0]
	}
	return cmp.Or(cmp.Compare(d.Type, o.Type), first(d).Compare(first(o)), cmp.Compare(d.Kind, o.Kind),
		cmp.Compare(d.Attribute, o.Attribute), cmp.Compare(d.ID, o.ID))
}

// Disputes lists the contradictions among the statements of the question's part
// type, in the order of Compare. The question's vehicle and part are not looked
// at: every part that the knowledge holds is. Only sources above 0.5 can
// contradict, and statements that a closing set aside cannot. A type without a
// name speaks of the statements that name no type.
func Disputes(q Question, k Knowledge) []Dispute {
	q.Facts, q.Observed = vehicle.NewFacts(), nil
	w := newWorld(q, k.sorted())
	byID := map[string]Dispute{}
	for _, find := range []func() []Dispute{w.valueDisputes, w.endDisputes, w.ringDisputes, w.alikeDisputes, w.noneDisputes} {
		for _, d := range find() {
			if have, ok := byID[d.ID]; ok { // one bare number that may mean several makers' parts
				d.Parts = append(d.Parts, have.Parts...)
			}
			byID[d.ID] = w.named(d)
		}
	}
	return slices.SortedFunc(maps.Values(byID), Dispute.Compare)
}

// named sorts the parts of a dispute and gives their numbers as printed.
func (w *world) named(d Dispute) Dispute {
	slices.SortFunc(d.Parts, part.Ref.Compare)
	d.Parts = slices.Compact(d.Parts)
	d.Numbers = make([]string, len(d.Parts))
	for i, p := range d.Parts {
		d.Numbers[i] = w.display(p)
	}
	return d
}

// dispute makes a dispute of its sides.
func (w *world) dispute(kind DisputeKind, attribute string, parts []part.Ref, sides ...Side) Dispute {
	for i := range sides {
		sides[i].Steps = distinct(sides[i].Steps)
	}
	d := Dispute{Kind: kind, Type: w.q.Type.Name, Attribute: attribute, Parts: slices.Clone(parts), Sides: sides}
	d.ID = statement.Hash(append([]string{string(kind)}, d.Statements()...)...)
	return d
}

// distinct sorts steps by statement, each once.
func distinct(steps []Step) []Step {
	out := slices.SortedFunc(slices.Values(steps), func(a, b Step) int { return strings.Compare(a.Statement.ID, b.Statement.ID) })
	return slices.CompactFunc(out, func(a, b Step) bool { return a.Statement.ID == b.Statement.ID })
}

// sorted gives the knowledge with its statements by id: what is said must not
// depend on the order in which it was read.
func (k Knowledge) sorted() Knowledge {
	for _, list := range []*[]statement.Statement{&k.Fitments, &k.Links, &k.Parts, &k.Values} {
		*list = slices.SortedFunc(slices.Values(*list), func(a, b statement.Statement) int { return strings.Compare(a.ID, b.ID) })
	}
	return k
}

// standing gives the knowledge without the statements that a closing set aside.
func (k Knowledge) standing() Knowledge {
	if len(k.Closed) == 0 {
		return k
	}
	for _, list := range []*[]statement.Statement{&k.Fitments, &k.Links, &k.Parts, &k.Values} {
		*list = slices.DeleteFunc(slices.Clone(*list), func(s statement.Statement) bool { return k.Closed[s.ID] })
	}
	return k
}
