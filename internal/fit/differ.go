package fit

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// valueOf gives what is known of an attribute of a part: its own readings and
// those of the numbers that are the same part. disputed is set where counted
// sources contradict one another; the value is then no ground for a ruling.
func (w *world) valueOf(n part.Ref, attribute string) (v part.Value, known, disputed bool, by []Step) {
	return w.valueAmong(w.classes.members(n), attribute)
}

func (w *world) valueAmong(members []part.Ref, attribute string) (v part.Value, known, disputed bool, by []Step) {
	for _, m := range members {
		for _, r := range w.values[m][attribute] {
			by = append(by, r.step)
			switch {
			case !known:
				v, known = r.value, true
			case !v.Same(r.value):
				disputed = true
			}
		}
	}
	return v, known, disputed, by
}

// clear gives a value that can be held against another: known, undisputed and
// without a doubt of its own.
func (w *world) clear(n part.Ref, attribute string) (part.Value, bool) {
	return w.clearAmong(w.classes.members(n), attribute)
}

func (w *world) clearAmong(members []part.Ref, attribute string) (part.Value, bool) {
	v, known, disputed, _ := w.valueAmong(members, attribute)
	return v, known && !disputed && v.Doubt == ""
}

// wanted is one side of a comparison: what the vehicle, or the part that is
// known to go in, asks for.
type wanted func(attribute string) (part.Value, bool)

// of gives what the vehicle asks for: what was seen on it, else the value of the
// part that is known to go in. Some attributes (the main fuse, the room for the
// core) are only ever seen on the vehicle.
func (w *world) of(n part.Ref) wanted {
	return func(attribute string) (part.Value, bool) {
		if v, ok := w.observed(attribute); ok {
			return v, true
		}
		return w.clear(n, attribute)
	}
}

// observed gives what was seen on the vehicle as the wanted side.
func (w *world) observed(attribute string) (part.Value, bool) {
	o, ok := w.q.Observed[attribute]
	return o.Value, ok && o.Value.Doubt == ""
}

// differences compares every attribute of a candidate that is known on both
// sides.
func (w *world) differences(want wanted, candidate part.Ref) []part.Outcome {
	return w.compare(want, func(a string) (part.Value, bool) { return w.clear(candidate, a) })
}

// compare holds every attribute that is known on both sides of a comparison.
func (w *world) compare(want, have wanted) []part.Outcome {
	cond := w.q.Type.Condition(part.Ask{
		Fact:   func(name string) (string, bool) { return w.q.Facts.Get(vehicle.Fact(name)) },
		Wanted: want,
		Found:  have,
	})
	var out []part.Outcome
	for _, a := range w.q.Type.Attributes {
		wantedValue, known := want(a.Name)
		found, known2 := have(a.Name)
		if !known || !known2 {
			continue
		}
		if o := part.Compare(a, wantedValue, found, cond); !o.Agrees || o.Open != "" || o.Difference != "" {
			out = append(out, o)
		}
	}
	return out
}

// effects is what some differences mean for a candidate.
type effects struct {
	ruling  *Ruling
	changes []statement.Change
	open    []string
	notes   []string
}

func (w *world) effectsOf(outcomes []part.Outcome) effects {
	var e effects
	for _, o := range outcomes {
		switch {
		case o.Open != "":
			e.open = append(e.open, w.title(o.Attribute)+" "+o.Found+" for "+o.Wanted+" goes only if "+w.q.Type.Explain(o.Open))
		case o.Difference.Deciding():
			e.ruling = betterRuling(e.ruling, o)
		case o.Difference == part.Adaptable:
			e.changes = append(e.changes, statement.Change{Task: o.Case.Change, Minutes: o.Case.Minutes, Pieces: o.Case.Pieces})
		case o.Difference == part.Minor:
			e.notes = append(e.notes, w.title(o.Attribute)+" "+o.Found+" for "+o.Wanted+noteOf(o))
		}
	}
	return e
}

// hold compares the ends of every by-number trail: a deciding difference
// blocks the trail, an adaptable one adds its change where the link names none,
// a case that hangs on something unknown leaves the trail open. It gives the
// trails that still carry, the ruling where one was blocked, and notes.
func (w *world) hold(n part.Ref, trails []*trail) (live []*trail, ruling *Ruling, notes []string) {
	cache := map[part.Ref]effects{}
	for _, t := range trails {
		if t.Basis != ByNumber || w.classes.find(t.start) == w.classes.find(t.end) {
			live = append(live, t) // contradictions of one physical part are disputes
			continue
		}
		e, ok := cache[t.start]
		if !ok {
			e = w.effectsOf(w.differences(w.of(t.start), n))
			e.open = append(e.open, w.listedIsOut(t.start, n)...)
			cache[t.start] = e
		}
		notes = append(notes, e.notes...)
		if e.ruling != nil {
			ruling = worse(ruling, e.ruling)
			continue
		}
		t.open = append(t.open, e.open...)
		if len(t.Changes) == 0 {
			t.Changes = append(t.Changes, e.changes...)
		}
		live = append(live, t)
	}
	slices.Sort(notes)
	return live, ruling, slices.Compact(notes)
}

// listedIsOut doubts a number that stands for a part which what was seen on the
// vehicle rules out: unless the number's own value is known, it most likely
// shares the fault.
func (w *world) listedIsOut(start, n part.Ref) []string {
	ruling := w.effectsOf(w.differences(w.observed, start)).ruling
	if ruling == nil {
		return nil
	}
	if _, known := w.clear(n, ruling.Attribute); known {
		return nil
	}
	return []string{fmt.Sprintf("its %s is %s: the listed %s has %s and is ruled out", w.title(ruling.Attribute), ruling.Wanted, w.display(start), ruling.Found)}
}

func noteOf(o part.Outcome) string {
	if o.Case.Note == "" {
		return ""
	}
	return " (" + o.Case.Note + ")"
}

func (w *world) title(attribute string) string {
	if a, ok := w.q.Type.Attribute(attribute); ok && a.Title != "" {
		return a.Title
	}
	return attribute
}

// betterRuling keeps the ruling that warns of more: what bolts on and works
// wrongly comes before what the hand would notice.
func betterRuling(have *Ruling, o part.Outcome) *Ruling {
	return worse(have, &Ruling{Kind: RulingKind(o.Difference), Attribute: o.Attribute, Wanted: o.Wanted, Found: o.Found, Effect: o.Case.Effect})
}

func worse(have, r *Ruling) *Ruling {
	if have == nil || have.Kind == WontMount && r.Kind == WorksWrong {
		return r
	}
	return have
}
