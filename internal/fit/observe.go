package fit

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// Observation is one attribute seen or measured on the vehicle.
type Observation struct {
	Value part.Value
	By    string // who looked
	How   string // calliper, tape, photo, label, look
	On    string // on the vehicle, or on the part that came off it
}

// severalFittings is how many independent sources must name a part before one
// measured value is doubted instead of the part: "count again".
const severalFittings = 2

// observeOn holds a candidate against what was seen on the vehicle. One that
// several independent fittings name is not ruled out by a single reading: the
// reading is to be taken again.
func (w *world) observeOn(c *Candidate, n part.Ref, found *weighed) *Ruling {
	if len(w.q.Observed) == 0 {
		return nil
	}
	e := w.effectsOf(w.differences(w.observed, n))
	c.Notes = append(c.Notes, e.notes...)
	if e.ruling != nil && statedBy(found.counted) >= severalFittings {
		c.Against = append(c.Against, fmt.Sprintf("count again: %s was read as %s, the part that several sources name has %s",
			w.title(e.ruling.Attribute), e.ruling.Wanted, e.ruling.Found))
		return nil
	}
	c.Against = append(c.Against, e.open...)
	for _, change := range e.changes {
		if !slices.ContainsFunc(found.changes, func(h statement.Change) bool { return h.Task == change.Task }) {
			found.changes = append(found.changes, change)
		}
	}
	if found.class == goes && len(found.changes) > 0 {
		found.class = goesChanged
	}
	return e.ruling
}

func statedBy(counted []*trail) int {
	n := 0
	for _, t := range counted {
		if t.Basis == Stated || t.Basis == Proven {
			n++
		}
	}
	return n
}

// ReferenceValue is one attribute that candidates are compared with.
type ReferenceValue struct {
	Attribute string
	Value     string
	From      string // "seen on the vehicle", or the number whose value it is
}

// reference is what measured candidates are held against: what was seen on the
// vehicle, else the values of the best part that is listed for it.
type reference struct {
	best  part.Ref
	known bool
	w     *world
}

func (r reference) want(attribute string) (part.Value, bool) {
	if v, ok := r.w.observed(attribute); ok {
		return v, true
	}
	if !r.known {
		return part.Value{}, false
	}
	return r.w.clear(r.best, attribute)
}

// list gives the reference for display, in the order of the part type.
func (r reference) list() []ReferenceValue {
	var out []ReferenceValue
	for _, a := range r.w.q.Type.Attributes {
		v, ok := r.want(a.Name)
		if !ok {
			continue
		}
		from := "seen on the vehicle"
		if _, seen := r.w.observed(a.Name); !seen {
			from = r.w.display(r.best)
		}
		out = append(out, ReferenceValue{a.Name, v.String(), from})
	}
	return out
}

// display gives the number of a part as people know it.
func (w *world) display(n part.Ref) string {
	numbers, _ := w.numbersOf(n)
	return numbers[0].Number
}

// referenceOf takes the best listed part: not kin, not ruled out.
func (w *world) referenceOf(cs []Candidate) reference {
	for _, c := range cs {
		if c.Verdict != RuledOut && c.Verdict != NotKnown && (c.Basis == Proven || c.Basis == Stated || c.Basis == ByNumber) {
			return reference{best: c.Refs[0], known: true, w: w}
		}
	}
	return reference{w: w}
}
