package fit

import (
	"slices"

	"crossbin/internal/vehicle"
)

// completion is one completion of the unknown facts: which of the rows speak of the
// vehicle then, as a bit set, whether a "none" row does, and what the look-alikes
// come to.
type completion struct {
	cells []int // one an axis
	rows  uint64
	none  bool
	faced faced
}

// maxRows bounds the rows of one candidate that are judged together.
const maxRows = 64

// complete turns the unknown facts that matter for some rows of one part into
// axes, and gives every completion. ok is false where there are too many: the
// rows are then judged each for itself. Facts that neither split the part type
// nor differ between statements are left out and returned as notes.
func (w *world) complete(rows []row, opp []opposing) (axes []axis, all []completion, ignored []vehicle.Fact, ok bool) {
	joint := append(slices.Clone(rows), w.noneRows()...)
	for _, o := range opp {
		joint = append(joint, append(slices.Clone(o.mine), o.theirs...)...)
	}
	var facts []vehicle.Fact
	for _, r := range joint {
		facts = append(facts, r.open...)
	}
	slices.Sort(facts)
	count := 1
	for _, f := range slices.Compact(facts) {
		if !w.matters(f) {
			ignored = append(ignored, f)
			continue
		}
		axes = append(axes, w.newAxis(f, joint))
		count *= len(axes[len(axes)-1].cells)
		if count > maxCompletions {
			return axes, nil, ignored, false
		}
	}
	return axes, w.everyWay(axes, rows, opp, count), ignored, true
}

func (w *world) everyWay(axes []axis, rows []row, opp []opposing, count int) []completion {
	nones := w.noneRows()
	out := make([]completion, count)
	for i := range out {
		c := completion{cells: make([]int, len(axes))}
		for rest, a := i, 0; a < len(axes); a++ {
			c.cells[a] = rest % len(axes[a].cells)
			rest /= len(axes[a].cells)
		}
		for j, r := range rows {
			if r.under(axes, c.cells) {
				c.rows |= 1 << j
			}
		}
		speaks := func(r row) bool { return r.under(axes, c.cells) }
		c.none, c.faced = slices.ContainsFunc(nones, speaks), face(opp, speaks)
		out[i] = c
	}
	return out
}

// under reports whether a row speaks of the vehicle under a completion: each of
// its open clauses that has an axis is met by the cell. Open clauses without an
// axis change nothing.
func (r row) under(axes []axis, cells []int) bool {
	if r.tri == vehicle.No {
		return false
	}
	for i, a := range axes {
		if slices.Contains(r.open, a.fact) && !a.cells[cells[i]].meets(r.step.Statement.Scope) {
			return false
		}
	}
	return true
}

// noneRows lists the rows that say that the vehicle may have no such part.
func (w *world) noneRows() []row {
	var out []row
	for _, r := range w.rows {
		if r.none && r.tri != vehicle.No {
			out = append(out, r)
		}
	}
	return out
}

// certain reports whether a row speaks of the vehicle whatever the unknown facts
// turn out to be.
func (w *world) certain(r row) bool { return r.tri != vehicle.No && !w.anyMatters(r.open) }

// matters reports whether an unknown fact can change an answer: the part type
// says that it splits, the statements in the book differ on it, or a scope names
// another emission prefix than the vehicle's.
func (w *world) matters(f vehicle.Fact) bool {
	if w.q.Type.Splits(string(f)) || f == vehicle.FactPrefix && w.q.Facts.Knows(f) || w.identifies(f) {
		return true
	}
	seen := ""
	for _, r := range w.rows {
		if r.tri == vehicle.No {
			continue
		}
		v := r.step.Statement.Scope.Value(f)
		switch {
		case v == "":
		case seen == "":
			seen = v
		case seen != v:
			return true
		}
	}
	return false
}

// identifies reports whether an unknown fact says which vehicle it is: the model
// code always, a name where no code is known, the maker where neither is. A part
// that is listed for one vehicle fits no other because its engine is the same.
func (w *world) identifies(f vehicle.Fact) bool {
	code, model := w.q.Facts.Knows(vehicle.FactModelCode), w.q.Facts.Knows(vehicle.FactModel)
	switch f {
	case vehicle.FactModelCode:
		return true
	case vehicle.FactModel:
		return !code
	case vehicle.FactMaker:
		return !code && !model
	}
	return false
}

// dependsOn lists the axes along which the outcome changes, with the cells
// under which the part goes in. outcome gives a word for each completion; "" for
// a part that does not go in.
func dependsOn(axes []axis, all []completion, outcome []string) ([]vehicle.Fact, map[vehicle.Fact][]string) {
	index := map[int]int{} // position in mixed radix -> completion
	var facts []vehicle.Fact
	when := map[vehicle.Fact][]string{}
	for i := range all {
		index[position(axes, all[i].cells)] = i
	}
	for a := range axes {
		if !changesAlong(axes, all, outcome, index, a) {
			continue
		}
		facts = append(facts, axes[a].fact)
		for c := range axes[a].cells {
			if slices.ContainsFunc(all, func(k completion) bool { return k.cells[a] == c && outcome[index[position(axes, k.cells)]] != "" }) {
				when[axes[a].fact] = append(when[axes[a].fact], axes[a].cells[c].label)
			}
		}
	}
	return facts, when
}

func changesAlong(axes []axis, all []completion, outcome []string, index map[int]int, a int) bool {
	for i, k := range all {
		other := slices.Clone(k.cells)
		for c := range axes[a].cells {
			other[a] = c
			if outcome[index[position(axes, other)]] != outcome[i] {
				return true
			}
		}
	}
	return false
}

func position(axes []axis, cells []int) int {
	p, radix := 0, 1
	for i, c := range cells {
		p += c * radix
		radix *= len(axes[i].cells)
	}
	return p
}
