package fit

import (
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// valueOf gives what is known of an attribute of a part: its own readings and
// those of the numbers that are the same part. disputed is set where counted
// sources contradict one another; the value is then no ground for a ruling.
func (w *world) valueOf(n part.Ref, attribute string) (v part.Value, known, disputed bool, by []Step) {
	for _, m := range w.classes.members(n) {
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

// differences holds every attribute of an end of a trail against its start.
func (w *world) differences(start, end part.Ref) []part.Outcome {
	if w.classes.find(start) == w.classes.find(end) {
		return nil // one physical part: contradictions are disputes
	}
	var out []part.Outcome
	for _, a := range w.q.Type.Attributes {
		wanted, known, disputed, _ := w.valueOf(start, a.Name)
		found, known2, disputed2, _ := w.valueOf(end, a.Name)
		if !known || !known2 || disputed || disputed2 || wanted.Doubt != "" || found.Doubt != "" {
			continue
		}
		if o := part.Compare(a, wanted, found, w.condition(start)); !o.Agrees {
			out = append(out, o)
		}
	}
	return out
}

// condition answers "fact=value" from the vehicle and "attribute=value" from the
// reference part.
func (w *world) condition(reference part.Ref) part.Condition {
	return func(expr string) (holds, known bool) {
		name, want, negated := cutCondition(expr)
		if have, ok := w.q.Facts.Get(vehicle.Fact(name)); ok {
			return (have == vehicle.FoldValue(want)) != negated, true
		}
		v, known, disputed, _ := w.valueOf(reference, name)
		if !known || disputed {
			return false, false
		}
		return (v.String() == part.FoldWord(want)) != negated, true
	}
}

func cutCondition(expr string) (name, want string, negated bool) {
	if name, want, ok := strings.Cut(expr, "!="); ok {
		return strings.TrimSpace(name), strings.TrimSpace(want), true
	}
	name, want, _ = strings.Cut(expr, "=")
	return strings.TrimSpace(name), strings.TrimSpace(want), false
}

// hold compares the ends of every by-number trail: a deciding difference
// blocks the trail, an adaptable one adds its change where the link names none,
// a case that hangs on something unknown leaves the trail open. It gives the
// trails that still carry, the ruling where one was blocked, and notes.
func (w *world) hold(trails []*trail) (live []*trail, ruling *Ruling, notes []string) {
	cache := map[part.Ref][]part.Outcome{}
	for _, t := range trails {
		if t.Basis != ByNumber {
			live = append(live, t)
			continue
		}
		outcomes, ok := cache[t.start]
		if !ok {
			outcomes = w.differences(t.start, t.end)
			cache[t.start] = outcomes
		}
		named := len(t.Changes) > 0
		blocked := false
		for _, o := range outcomes {
			switch {
			case o.Open != "":
				t.open = append(t.open, o.Attribute+": "+o.Open)
			case o.Difference.Deciding():
				blocked = true
				ruling = betterRuling(ruling, o)
			case o.Difference == part.Adaptable && !named:
				t.Changes = append(t.Changes, statement.Change{Task: o.Case.Change, Minutes: o.Case.Minutes, Pieces: o.Case.Pieces})
			case o.Difference == part.Minor:
				notes = append(notes, w.title(o.Attribute)+": "+o.Found+" for "+o.Wanted+noteOf(o))
			}
		}
		if !blocked {
			live = append(live, t)
		}
	}
	slices.Sort(notes)
	return live, ruling, slices.Compact(notes)
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
	r := &Ruling{Kind: RulingKind(o.Difference), Attribute: o.Attribute, Wanted: o.Wanted, Found: o.Found, Effect: o.Case.Effect}
	if have == nil || have.Kind == WontMount && r.Kind == WorksWrong {
		return r
	}
	return have
}
