package fit

import (
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// openCondition is a comparison of a candidate that hangs on something nobody
// knows: an attribute of the vehicle or a vehicle fact.
type openCondition struct {
	candidate int // open candidate
	side      int // what it is compared with: 0 what must agree, else a part from which a trail comes
	attribute part.Attribute
	wanted    part.Value
	found     part.Value
	want      wanted
	clause    part.Clause
	expr      string
	clear     wanted // the candidate's values
}

// side is what a candidate is compared with.
type side struct {
	want wanted
	must bool // what was seen, or the reference; else one of the parts that its trails come from
}

// openConditions finds what the comparisons of the open candidates hang on.
func (k *looker) openConditions() []openCondition {
	attributes := slices.DeleteFunc(slices.Clone(k.w.q.Type.Attributes), func(a part.Attribute) bool {
		return a.Kind != part.KindSize && a.Kind != part.KindThread && !hasConditions(a)
	})
	if len(attributes) == 0 {
		return nil
	}
	ref := k.w.referenceOf(k.cs)
	var conds []openCondition
	for i, at := range k.open {
		if k.cs[at].Verdict == CheckFirst {
			conds = append(conds, k.openOn(i, attributes, k.sides(i, ref))...)
		}
	}
	return conds
}

// openOn finds what the comparisons of one candidate hang on. One of its parts
// to come from that asks for nothing carries it: then the others do not count.
func (k *looker) openOn(i int, attributes []part.Attribute, sides []side) []openCondition {
	var must, starts []openCondition
	free := false
	for n, s := range sides {
		var mine []openCondition
		for _, a := range attributes {
			if c, ok := k.openOf(a, s.want, k.readings[i].clear); ok {
				c.candidate, c.side = i, n+1
				mine = append(mine, c)
			}
		}
		if !s.must {
			starts, free = append(starts, mine...), free || len(mine) == 0
			continue
		}
		for _, c := range mine {
			c.side = 0
			must = append(must, c)
		}
	}
	if free {
		return must
	}
	return append(must, starts...)
}

func (k *looker) openOf(a part.Attribute, want, have wanted) (openCondition, bool) {
	wantedValue, known := want(a.Name)
	found, known2 := have(a.Name)
	if !known || !known2 {
		return openCondition{}, false
	}
	c := openCondition{attribute: a, wanted: wantedValue, found: found, want: want, clear: have}
	o := part.Compare(a, wantedValue, found, k.w.q.Type.Condition(k.ask(want, have)))
	if o.Open == "" {
		return openCondition{}, false
	}
	var err error
	c.expr = o.Open
	c.clause, err = part.ReadClause(o.Open)
	return c, err == nil
}

func (k *looker) ask(want, have wanted) part.Ask {
	return part.Ask{Fact: func(name string) (string, bool) { return k.w.q.Facts.Get(vehicle.Fact(name)) }, Wanted: want, Found: have}
}

// sides lists what a candidate was compared with: what was seen on the vehicle,
// the reference for kin and for measured parts, and the parts that its trails
// come from where every trail comes from another part.
func (k *looker) sides(i int, ref reference) []side {
	var list []side
	c := k.cs[k.open[i]]
	if len(k.w.q.Observed) > 0 {
		list = append(list, side{k.w.observed, true})
	}
	if c.Basis == ByKin || c.Basis == Measured {
		return append(list, side{ref.want, true})
	}
	return append(list, k.starts(i)...)
}

func (k *looker) starts(i int) []side {
	own := k.w.classes.find(k.cs[k.open[i]].Refs[0])
	if !k.everyTrail(i, func(t Trail) bool { return t.Basis == ByNumber && k.w.classes.find(k.startOf(t)) != own }) {
		return nil
	}
	var list []side
	var roots []part.Ref
	for _, t := range k.trailsOf(i) {
		if root := k.w.classes.find(k.startOf(t)); !slices.Contains(roots, root) {
			roots = append(roots, root)
			list = append(list, side{k.from(root), false})
		}
	}
	return list
}

// startOf is the part that the fitment of a trail names.
func (k *looker) startOf(t Trail) part.Ref { return k.w.nodes(t.Steps[0].Statement.A)[0] }

// from is what the vehicle asks for where a part is known to go in.
func (k *looker) from(n part.Ref) wanted {
	return func(a string) (part.Value, bool) {
		if v, ok := k.w.observed(a); ok {
			return v, true
		}
		return k.values.of(n).clear(a)
	}
}

// conditionsOn lists the open conditions on an attribute or vehicle fact.
func (k *looker) conditionsOn(name string) []openCondition {
	return slices.DeleteFunc(slices.Clone(k.conds), func(c openCondition) bool { return c.clause.Name != name })
}

// asks reports whether a comparison of a candidate hangs on an attribute or
// vehicle fact.
func (k *looker) asks(i int, name string) bool {
	return slices.ContainsFunc(k.conds, func(c openCondition) bool { return c.candidate == i && c.clause.Name == name })
}

// wantedWords says what comparisons ask of an attribute, for people.
func (k *looker) wantedWords(name string) string {
	var words []string
	for _, c := range k.conditionsOn(name) {
		words = append(words, k.w.q.Type.Explain(c.expr))
	}
	if len(words) == 0 {
		return ""
	}
	slices.Sort(words)
	return "; wanted: " + strings.Join(slices.Compact(words), ", ")
}
