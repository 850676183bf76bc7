package fit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"crossbin/internal/part"
)

// supposed is one result that a look may show.
type supposed struct {
	label string
	span  *span      // of serials or months
	value part.Value // of an attribute; zero for "another"
	least *float64   // of an attribute seen as a range of numbers: where the range begins
}

// attributeLooks lists a look for every attribute that can be seen and of which
// the open candidates have different values, or on which a comparison hangs.
// What was seen, or cannot be seen, is not asked again.
func (k *looker) attributeLooks() []prospect {
	var looks []prospect
	for _, a := range k.w.q.Type.Attributes {
		s := k.attributeSight(a)
		if _, seen := k.w.q.Observed[a.Name]; seen || k.cannot(a.Name) || s.effort == 0 {
			continue
		}
		col := k.column(a.Name)
		results := k.attributeResults(a, col)
		if len(results) < 2 {
			continue
		}
		p := prospect{Look: Look{Attribute: a.Name, Where: s.where + k.wantedWords(a.Name), Effort: s.effort}, hides: s.hides, closed: true}
		for _, h := range results {
			p.TellsApart = append(p.TellsApart, Result{Value: h.label})
			p.says = append(p.says, k.attributeSays(a, col, h))
		}
		p.hang(func(i int) bool { return k.asks(i, a.Name) })
		looks = append(looks, p)
	}
	return looks
}

// attributeSight is where an attribute is seen: on the vehicle, or on the part
// that came off it where that is in the hand and easier.
func (k *looker) attributeSight(a part.Attribute) sight {
	s := a.OnVehicle
	if off := a.OffVehicle; off.Effort > 0 && (s.Effort == 0 || off.Effort < s.Effort) && k.partInHand() {
		return newSight(off.Effort, "on the part that came off: "+off.How)
	}
	if s.Effort == 0 {
		return sight{}
	}
	return newSight(s.Effort, s.How)
}

// partInHand reports whether something was seen on the part that came off the
// vehicle.
func (k *looker) partInHand() bool {
	for _, o := range k.w.q.Observed {
		if o.On != "" && !strings.Contains(strings.ToLower(o.On), "vehicle") {
			return true
		}
	}
	return false
}

// attributeResults lists what a look at an attribute may show: the values of the
// open candidates and those that conditions ask for, and where a comparison
// hangs on it, the rest.
func (k *looker) attributeResults(a part.Attribute, col column) []supposed {
	var results []supposed
	var least []float64
	add := func(v part.Value) {
		if !slices.ContainsFunc(results, func(h supposed) bool { return h.value.Same(v) }) {
			results = append(results, supposed{label: v.String(), value: v})
		}
	}
	if a.Compare != part.Any {
		for _, v := range col.distinct {
			add(v)
		}
	}
	asked := k.conditionsOn(a.Name)
	for _, c := range asked {
		if n, ok := c.least(); ok {
			least = append(least, n)
		} else if v, err := part.ReadValue(a, c.clause.Value); err == nil && c.clause.Value != part.ValueAgrees && c.clause.Value != part.ValueKnown {
			add(v)
		}
	}
	switch {
	case len(least) > 0:
		return ranges(least)
	case len(asked) > 0 && a.Kind == part.KindBool:
		for _, word := range []string{"no", "yes"} {
			if v, err := part.ReadValue(a, word); err == nil {
				add(v)
			}
		}
	}
	slices.SortFunc(results, func(x, y supposed) int {
		return cmp.Or(slices.Compare(x.value.Numbers, y.value.Numbers), cmp.Compare(x.label, y.label))
	})
	if len(asked) > 0 && a.Kind != part.KindBool {
		results = append(results, supposed{label: anything})
	}
	return results
}

// ranges cuts the numbers at the least ones that comparisons ask for.
func ranges(least []float64) []supposed {
	slices.Sort(least)
	least = slices.Compact(least)
	below := math.Inf(-1)
	results := []supposed{{label: "less than " + part.FormatNumber(least[0]), least: &below}}
	for i := range least {
		label := "at least " + part.FormatNumber(least[i])
		if i+1 < len(least) {
			label += ", less than " + part.FormatNumber(least[i+1])
		}
		results = append(results, supposed{label: label, least: &least[i]})
	}
	return results
}

// column is one attribute of the open candidates.
type column struct {
	distinct []part.Value
	at       []int // by open candidate, into distinct; -1 where nothing clear is known
}

func (k *looker) column(attribute string) column {
	c := column{at: make([]int, len(k.open))}
	for i := range k.open {
		c.at[i] = -1
		v, ok := k.readings[i].clear(attribute)
		if !ok {
			continue
		}
		c.at[i] = slices.IndexFunc(c.distinct, v.Same)
		if c.at[i] < 0 {
			c.at[i] = len(c.distinct)
			c.distinct = append(c.distinct, v)
		}
	}
	return c
}

// attributeSays gives what a result leaves of each open candidate. Only where a
// case has a condition may candidates of one value differ.
func (k *looker) attributeSays(a part.Attribute, col column, h supposed) []leave {
	says, own := make([]leave, len(k.open)), make([]leave, len(col.distinct))
	for n := range own {
		own[n] = -1
	}
	for i, n := range col.at {
		says[i] = k.conditionLeave(i, a.Name, h)
		if n < 0 {
			continue
		}
		if own[n] < 0 || hasConditions(a) {
			own[n] = k.ownLeave(i, a, col.distinct[n], h)
		}
		says[i] = max(says[i], own[n])
	}
	return says
}

// ownLeave holds a candidate's own value against what is seen: it stays where the
// two agree or differ in what is only a note. Some candidate has the value that is
// seen, so that one which needs a change is not the one that is looked for.
func (k *looker) ownLeave(i int, a part.Attribute, found part.Value, h supposed) leave {
	switch {
	case h.least != nil:
		return stays
	case h.value.IsZero(): // a value that no candidate has
		if slices.ContainsFunc(a.Cases, func(c part.Case) bool { return c.Difference != part.Minor }) {
			return out
		}
		return stays
	}
	var holds part.Condition
	if hasConditions(a) {
		holds = k.condition(i, k.w.observed, a.Name, h)
	}
	o := part.Compare(a, h.value, found, holds)
	if o.Agrees || o.Difference == part.Minor || o.Open == a.Name+"="+part.ValueKnown {
		return stays
	}
	return out
}

// hasConditions reports whether any case of an attribute asks for something else.
func hasConditions(a part.Attribute) bool {
	return slices.ContainsFunc(a.Cases, func(c part.Case) bool { return c.If != "" })
}
