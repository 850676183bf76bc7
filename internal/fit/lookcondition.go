package fit

import (
	"fmt"
	"strconv"
	"strings"

	"crossbin/internal/part"
)

// conditionLeave says what a result leaves of a candidate by the comparisons that
// hang on it: the worst of those that must agree, the best of the parts from
// which its trails come.
func (k *looker) conditionLeave(i int, name string, h supposed) leave {
	worst, starts := stays, map[int]leave{}
	for _, c := range k.conds {
		if c.candidate != i || c.clause.Name != name || c.attribute.Name == name {
			continue
		}
		l := k.outcome(c, h)
		if c.side == 0 {
			worst = max(worst, l)
		} else {
			starts[c.side] = max(starts[c.side], l)
		}
	}
	best := out
	for _, l := range starts {
		best = min(best, l)
	}
	if len(starts) == 0 || len(starts) < len(k.starts(i)) {
		best = stays // one of them asks for nothing
	}
	return max(worst, best)
}

// outcome compares again as if a look had shown a result.
func (k *looker) outcome(c openCondition, h supposed) leave {
	o := part.Compare(c.attribute, c.wanted, c.found, k.condition(c.candidate, c.want, c.clause.Name, h))
	switch {
	case o.Difference.Deciding():
		return out
	case o.Difference == part.Adaptable:
		return changes
	}
	return stays
}

// condition judges conditions as if a look had shown a result.
func (k *looker) condition(i int, want wanted, name string, h supposed) part.Condition {
	have := k.readings[i].clear
	ask := k.w.q.Type.Condition(k.ask(want, have))
	return func(expr string) (holds, known bool) {
		c, err := part.ReadClause(expr)
		if err != nil || c.Name != name {
			return ask(expr)
		}
		return k.supposedly(c, have, h)
	}
}

// supposedly judges one condition on what a look is supposed to have shown.
func (k *looker) supposedly(c part.Clause, have wanted, h supposed) (holds, known bool) {
	a, ok := k.w.q.Type.Attribute(c.Name)
	switch {
	case !ok:
		return c.Value == part.ValueKnown || strings.EqualFold(h.label, c.Value), true
	case c.Value == part.ValueKnown:
		return true, true
	case c.AtLeast && h.least != nil:
		n, known := leastOf(c, have)
		return *h.least >= n, known
	case h.value.IsZero(): // another one than any of those that agree
		return false, true
	case c.Value == part.ValueAgrees:
		found, known := have(c.Name)
		if !known {
			return false, false
		}
		return part.Agrees(a, h.value, found)
	}
	return k.w.q.Type.Condition(k.ask(func(string) (part.Value, bool) { return h.value, true }, have))(fmt.Sprintf("%s=%s", c.Name, c.Value))
}

// least gives the number that a condition asks the vehicle to reach.
func (c openCondition) least() (float64, bool) {
	if !c.clause.AtLeast {
		return 0, false
	}
	return leastOf(c.clause, c.clear)
}

func leastOf(c part.Clause, have wanted) (float64, bool) {
	if n, err := strconv.ParseFloat(c.Value, 64); err == nil {
		return n, true
	}
	v, known := have(c.Value)
	if !known || len(v.Numbers) < c.Dimension {
		return 0, false
	}
	return v.Numbers[c.Dimension-1], true
}
