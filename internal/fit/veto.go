package fit

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// opposing is a look-alike that stands between a candidate and a part that
// fitments name, with the rows that name either side.
type opposing struct {
	step         Step
	other        part.Ref
	mine, theirs []row
}

// opposition lists the look-alikes that a candidate has against named parts.
// Numbers that are the same part share them.
func (w *world) opposition(n part.Ref) []opposing {
	var out []opposing
	for _, p := range w.alike {
		other, touches := w.otherEnd(n, p)
		if !touches {
			continue
		}
		o := opposing{step: p.step, other: other}
		if w.classes.find(n) == w.classes.find(other) { // one list says same, another look-alike
			o.mine, o.theirs = w.rowsNaming([]part.Ref{n}), w.rowsNaming([]part.Ref{other})
		} else {
			o.mine, o.theirs = w.rowsNaming(w.classes.members(n)), w.rowsNaming(w.classes.members(other))
		}
		if len(o.theirs) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// rowsNaming lists the fitments of any of some parts that may speak of the
// vehicle.
func (w *world) rowsNaming(refs []part.Ref) []row {
	var out []row
	for _, r := range w.rows {
		if !r.none && r.tri != vehicle.No && slices.ContainsFunc(r.nodes, func(n part.Ref) bool { return slices.Contains(refs, n) }) {
			out = append(out, r)
		}
	}
	return out
}

// otherEnd tells whether a look-alike touches a part or a number that is the
// same part, and gives the other side.
func (w *world) otherEnd(n part.Ref, p alikePair) (part.Ref, bool) {
	a, b, c := w.classes.find(p.a), w.classes.find(p.b), w.classes.find(n)
	switch {
	case a == c && (a != b || p.a == n):
		return p.b, true
	case b == c:
		return p.a, true
	}
	return part.Ref{}, false
}

// decide judges one look-alike where some of the rows speak of the vehicle.
// Where fitments name both, the one whose strongest single statement is weaker
// is out; on a tie both are, because no number of lists outvotes a look-alike.
// The stronger of two named parts is disputed.
func (o opposing) decide(speaks func(row) bool) (blocked, disputed bool) {
	mine, theirs := strongestOf(o.mine, speaks), strongestOf(o.theirs, speaks)
	switch {
	case theirs == 0:
		return false, false
	case mine > theirs:
		return false, true
	}
	return true, false
}

func strongestOf(rows []row, speaks func(row) bool) float64 {
	best := 0.0
	for _, r := range rows {
		if speaks(r) {
			best = max(best, r.step.Reliability)
		}
	}
	return best
}

// ruling says that the look-alike rules out.
func (o opposing) ruling(w *world) *Ruling {
	return &Ruling{Kind: BlockedLook, Wanted: w.display(o.other), Effect: o.step.Statement.Link.Reason, By: []Step{o.step}}
}

// faced is what a candidate's look-alikes come to in one completion of the
// unknown facts.
type faced struct {
	blocked  *opposing
	disputed []Step
}

func face(opp []opposing, speaks func(row) bool) faced {
	var f faced
	for i, o := range opp {
		blocked, disputed := o.decide(speaks)
		if blocked && f.blocked == nil {
			f.blocked = &opp[i]
		}
		if disputed {
			f.disputed = append(f.disputed, o.step)
		}
	}
	return f
}

// always holds for every row: where nothing is completed, a row that may speak
// of the vehicle is taken to.
func always(row) bool { return true }
