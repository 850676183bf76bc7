package fit

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// measured compares parts that no statement carries to this vehicle with the
// reference, attribute by attribute: those that a fitment names under a clause
// that is no, and units on the shelf. Listed are only those of which every
// needed attribute is known on both sides and no deciding one differs.
func (w *world) measured(ref reference, have []Candidate) []Candidate {
	listed := map[part.Ref]bool{}
	for _, c := range have {
		for _, r := range c.Refs {
			listed[r] = true
		}
	}
	var out []Candidate
	for _, n := range w.comparable() {
		if listed[n] || w.foreign[n.Key] {
			continue
		}
		if c, ok := w.measure(n, ref); ok {
			out = append(out, c)
		}
	}
	return out
}

// compareKin holds the parts of kin against the reference: the same engine in
// another vehicle may charge at another voltage, or lack the pump.
func (w *world) compareKin(ref reference, cs []Candidate) {
	for i := range cs {
		c := &cs[i]
		if c.Basis != ByKin || c.Verdict == RuledOut {
			continue
		}
		e := w.effectsOf(w.differences(ref.want, c.Refs[0]))
		if e.ruling != nil {
			c.Verdict, c.RuledOut, c.Reason = RuledOut, e.ruling, w.ruledOutWords(*e.ruling)
			continue
		}
		c.Changes = append(c.Changes, e.changes...)
		c.Notes = merge(c.Notes, append(e.notes, e.open...))
	}
}

// comparable lists the parts worth comparing, sorted.
func (w *world) comparable() []part.Ref {
	var out []part.Ref
	for _, r := range w.rows {
		if !r.none && r.tri == vehicle.No && w.thisVehicle(r) {
			out = append(out, r.nodes...)
		}
	}
	for _, ref := range w.k.OnShelf {
		out = append(out, w.nodes(ref)...)
	}
	slices.SortFunc(out, part.Ref.Compare)
	return slices.Compact(out)
}

// thisVehicle reports whether a row that says no speaks of this vehicle all the
// same: its engine or body, under a clause that is no.
func (w *world) thisVehicle(r row) bool {
	return !slices.ContainsFunc(r.failing, func(f vehicle.Fact) bool {
		return f == vehicle.FactModelCode || f == vehicle.FactModel || f == vehicle.FactMaker || f == vehicle.FactEngine
	})
}

func (w *world) measure(n part.Ref, ref reference) (Candidate, bool) {
	if ref.known && w.classes.find(ref.best) == w.classes.find(n) || !w.allNeeded(n, ref) {
		return Candidate{}, false
	}
	e := w.effectsOf(w.differences(ref.want, n))
	if e.ruling != nil {
		return Candidate{}, false
	}
	c := Candidate{Refs: []part.Ref{n}, Basis: Measured, Quantity: 1, Changes: e.changes, Notes: e.notes, Against: append(w.against(n), e.open...)}
	c.Numbers, c.Name = w.numbersOf(n)
	answered := w.answered(n, ref)
	c.Trails = w.measuredTrails(n, ref, answered)
	c.Confidence = c.confidence()
	faced := face(w.opposition(n), always)
	switch {
	case faced.blocked != nil:
		c.Verdict, c.RuledOut = RuledOut, faced.blocked.ruling(w)
		c.Reason = w.ruledOutWords(*c.RuledOut)
		return c, true
	case answered == nil || len(faced.disputed) > 0 || len(c.Against) > 0 || c.Confidence < w.bar() || w.q.Type.HighCare:
		c.Verdict = CheckFirst
	case len(c.Changes) > 0:
		c.Verdict = FitsWithChange
	default:
		c.Verdict = Fits
	}
	c.Reason = w.measuredWords(c, ref, answered)
	for i := range c.Numbers {
		c.Numbers[i].Basis, c.Numbers[i].Confidence = c.Basis, c.Confidence
	}
	return c, true
}

// allNeeded reports whether every attribute that the part type needs is known
// on both sides. A type that needs none can not be measured.
func (w *world) allNeeded(n part.Ref, ref reference) bool {
	needed := 0
	for _, a := range w.q.Type.Attributes {
		if !a.Needed {
			continue
		}
		needed++
		_, known := ref.want(a.Name)
		if _, known2 := w.clear(n, a.Name); !known || !known2 {
			return false
		}
	}
	return needed > 0
}

// answered finds a fitment row of the part whose only clauses that say no are
// answered by attributes that were compared: the gearbox by the cooler in the
// radiator.
func (w *world) answered(n part.Ref, ref reference) *row {
	for i, r := range w.rows {
		if r.none || r.tri != vehicle.No || !slices.Contains(r.nodes, n) || w.anyMatters(r.open) {
			continue
		}
		unanswered := slices.ContainsFunc(r.failing, func(f vehicle.Fact) bool {
			attribute, marked := w.q.Type.AnsweredBy[string(f)]
			_, known := ref.want(attribute)
			_, known2 := w.clear(n, attribute)
			return !marked || !known || !known2
		})
		if !unanswered {
			return &w.rows[i]
		}
	}
	return nil
}

func (w *world) anyMatters(facts []vehicle.Fact) bool { return slices.ContainsFunc(facts, w.matters) }

// measuredTrails is one trail: the row that names the part, where one does, and
// the values on both sides that were compared.
func (w *world) measuredTrails(n part.Ref, ref reference, answered *row) []Trail {
	t := Trail{Basis: Measured, Counted: true}
	if answered != nil {
		t.Steps = append(t.Steps, answered.step)
	}
	for _, a := range w.q.Type.Attributes {
		if !a.Needed {
			continue
		}
		_, _, _, by := w.valueOf(n, a.Name)
		t.Steps = append(t.Steps, by[0])
		if _, seen := w.observed(a.Name); !seen {
			_, _, _, by = w.valueOf(ref.best, a.Name)
			t.Steps = append(t.Steps, by[0])
		}
	}
	t.Reliability = trailReliability(t.Steps)
	return []Trail{t}
}

func (c Candidate) confidence() int { return thousandths(c.Trails[0].Reliability) }

func (w *world) measuredWords(c Candidate, ref reference, answered *row) string {
	text := "what decides measures the same as "
	if ref.known {
		text += w.display(ref.best)
	} else {
		text += "what was seen on the vehicle"
	}
	if answered == nil {
		text += "; nobody lists it for this vehicle"
	} else {
		f := answered.failing[0]
		text += "; listed for " + factWords(f) + " " + answered.step.Statement.Scope.Value(f) + ", and the measurement answers that"
	}
	if len(c.Against) > 0 {
		text += "; " + c.Against[0]
	}
	if len(c.Changes) > 0 {
		text += "; " + changeWords(c.Changes)
	}
	return text
}
