package fit

import (
	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// named gives the parts that fitments name for this vehicle with the strongest
// single trail of each: how many lists repeat it does not matter here.
func (w *world) named() map[part.Ref]float64 {
	out := map[part.Ref]float64{}
	for _, r := range w.rows {
		if r.none || r.tri == vehicle.No {
			continue
		}
		for _, n := range r.nodes {
			out[n] = max(out[n], r.step.Reliability)
		}
	}
	return out
}

// blockedBy finds a look-alike between a candidate and a part that a fitment
// names. Numbers that are the same part share it. Where fitments name both, the
// one whose strongest single statement is weaker is out; on a tie both are,
// because no number of lists outvotes a look-alike. disputed is set for the
// stronger of two named parts.
func (w *world) blockedBy(n part.Ref, named map[part.Ref]float64) (ruling *Ruling, disputed []Step) {
	for _, p := range w.alike {
		other, touches := w.otherEnd(n, p)
		if !touches {
			continue
		}
		mine, theirs := w.strengthOf(n, named), w.strengthOf(other, named)
		if w.classes.find(n) == w.classes.find(other) { // one list says same, another look-alike
			mine, theirs = named[n], named[other]
		}
		switch {
		case theirs == 0:
			continue
		case mine > theirs:
			disputed = append(disputed, p.step)
		case ruling == nil:
			l := p.step.Statement.Link
			numbers, _ := w.numbersOf(other)
			ruling = &Ruling{Kind: BlockedLook, Wanted: numbers[0].Number, Effect: l.Reason, By: []Step{p.step}}
		}
	}
	return ruling, disputed
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

// strengthOf is the strongest fitment statement that names a part or a number
// that is the same part.
func (w *world) strengthOf(n part.Ref, named map[part.Ref]float64) float64 {
	best := 0.0
	for _, m := range w.classes.members(n) {
		best = max(best, named[m])
	}
	return best
}
