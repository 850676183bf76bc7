package fit

import (
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// maxCandidates bounds an answer; the rest is counted.
const maxCandidates = 50

// Ask answers a question over the knowledge around it.
func Ask(q Question, k Knowledge) Answer {
	w := newWorld(q, k)
	a := Answer{Revision: k.Revision, Facts: q.Facts, Type: q.Type, Cautions: q.Type.Cautions,
		Unknown: q.Facts.Unknown(splitFacts(q.Type)), Notes: append(w.breaks(), w.possibleNone()...), None: w.none()}
	a.Candidates = w.candidates(a.None != nil)
	w.order(a.Candidates)
	ref := w.referenceOf(a.Candidates)
	w.compareKin(ref, a.Candidates)
	if a.None == nil {
		a.Candidates = append(a.Candidates, w.measured(ref, a.Candidates)...)
	}
	a.Reference = ref.list()
	if !q.Part.IsZero() {
		a.Candidates = w.only(a.Candidates)
	}
	a.Candidates = w.group(a.Candidates)
	w.order(a.Candidates)
	if n := len(a.Candidates) - maxCandidates; n > 0 {
		a.Candidates, a.LeftOut = a.Candidates[:maxCandidates], n
	}
	a.Looks = w.looks(a.Candidates)
	return a
}

func splitFacts(t part.Type) []vehicle.Fact {
	out := make([]vehicle.Fact, len(t.SplitBy))
	for i, f := range t.SplitBy {
		out[i] = vehicle.Fact(f)
	}
	return out
}

// none gives the statement that the vehicle has no such part, where one holds
// for certain.
func (w *world) none() *None {
	var n *None
	for _, r := range w.rows {
		if !r.none || !w.certain(r) {
			continue
		}
		if n == nil {
			n = &None{Note: r.step.Statement.Note}
		}
		n.Trails = append(n.Trails, Trail{Steps: []Step{r.step}, Reliability: r.step.Reliability, Counted: true, Basis: Stated})
	}
	return n
}

// possibleNone warns where some of the vehicles that the question may mean have
// no such part: that comes before any candidate.
func (w *world) possibleNone() []string {
	var out []string
	for _, r := range w.rows {
		if !r.none || r.tri != vehicle.Unknown || w.certain(r) {
			continue
		}
		var words []string
		for _, f := range r.open {
			if w.matters(f) {
				words = append(words, factWords(f)+" "+r.step.Statement.Scope.Value(f))
			}
		}
		out = append(out, fmt.Sprintf("has none at all with %s: %s (%s)", strings.Join(words, ", "),
			orElse(r.step.Statement.Note, "see the list"), placeText(r.step)))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// candidates judges every part that any trail reaches. Where the vehicle has no
// such part, only what a fitment states for it outright is still shown, as a
// dispute: the statement that it has none beats every inference.
func (w *world) candidates(none bool) []Candidate {
	var out []Candidate
	for n, trails := range w.trails() {
		if none {
			trails = slices.DeleteFunc(trails, func(t *trail) bool { return t.Basis != Stated })
		}
		if w.foreign[n.Key] || len(trails) == 0 {
			continue
		}
		if c, ok := w.candidate(n, trails, none); ok {
			out = append(out, c)
		}
	}
	return out
}

// candidate walks the ladder for one part; ok is false for a part for which
// nothing speaks.
func (w *world) candidate(n part.Ref, trails []*trail, none bool) (Candidate, bool) {
	trails = slices.DeleteFunc(slices.Clone(trails), func(t *trail) bool { return t.kit })
	if len(trails) == 0 {
		return Candidate{}, false
	}
	c := Candidate{Refs: []part.Ref{n}}
	c.Numbers, c.Name = w.numbersOf(n)
	live, ruling, notes := w.hold(n, trails)
	outcomes := w.outcomesOf(n)
	found := w.judgeTrails(n, live, outcomes.proven != nil, none)
	if found.class == goesNot && ruling == nil {
		return Candidate{}, false
	}
	c.Notes = append(notes, w.notesOf(n, found)...)
	c.Against = append(w.against(n), w.swapped(live)...)
	if seen := w.observeOn(&c, n, &found); seen != nil {
		ruling, found.class = worse(ruling, seen), goesNot
	}
	failed := outcomes.apply(&c, &found)
	c.Confidence, c.Basis, c.Changes = found.confidence, found.basis, found.changes
	c.DependsOn, c.GoesInWhen = found.dependsOn, found.goesInWhen
	c.Trails = w.shown(live, trails, found.counted)
	c.Quantity, c.Position = w.placing(c.Trails)
	w.settle(&c, found, vetoes{ruling: ruling, failed: failed, proven: outcomes.proven != nil}, none)
	for i := range c.Numbers {
		c.Numbers[i].Basis, c.Numbers[i].Confidence = c.Basis, c.Confidence
	}
	return c, true
}

// judgeTrails weighs the trails that carry. A proof lifts look-alikes.
func (w *world) judgeTrails(n part.Ref, live []*trail, proven, none bool) weighed {
	var opp []opposing
	if !proven {
		opp = w.opposition(n)
	}
	if none {
		f := face(opp, always)
		return weighed{finding: w.evaluate(live), blocked: f.blocked, disputed: f.disputed}
	}
	return w.weighAll(live, opp)
}

// vetoes is what rules a candidate out, and whether a proof lifts it.
type vetoes struct {
	ruling *Ruling // a deciding difference
	failed *Ruling // a fitting that did not go
	proven bool
}

// holds gives the ruling that stands. A part having gone in lifts what the hand
// would have noticed, never what bolts on and works wrongly.
func (v vetoes) holds(nothing bool) *Ruling {
	if v.ruling != nil && nothing && (v.ruling.Kind == WorksWrong || !v.proven) {
		return v.ruling
	}
	return v.failed
}

// settle takes the first line of the ladder that holds.
func (w *world) settle(c *Candidate, found weighed, v vetoes, none bool) {
	for _, s := range found.disputed {
		c.Against = merge(c.Against, []string{"said to only look like another listed part: " + placeText(s)})
	}
	if none {
		c.Against = append(c.Against, "another statement says that this vehicle has none at all")
	}
	c.RuledOut = v.holds(found.class == goesNot)
	if c.RuledOut == nil && found.blocked != nil {
		c.RuledOut = found.blocked.ruling(w)
	}
	switch {
	case c.RuledOut != nil:
		c.Verdict = RuledOut
	case found.class == goesNot, found.class == goesChecked, len(c.DependsOn) > 0, len(c.Against) > 0:
		c.Verdict = CheckFirst
	case found.class == goesChanged:
		c.Verdict = FitsWithChange
	default:
		c.Verdict = Fits
	}
	if c.Basis == "" {
		c.Basis = ByNumber
	}
	c.Reason = w.reason(*c, found)
}

// shown gives the trails for display: those that carry, or the blocked ones
// where none does, strongest first, the counted ones marked.
func (w *world) shown(live, all, counted []*trail) []Trail {
	from := live
	if len(from) == 0 {
		from = all
	}
	var out []Trail
	for _, t := range undominated(ofThisVehicle(from)) {
		t.Trail.Counted = slices.Contains(counted, t)
		out = append(out, t.Trail)
	}
	slices.SortStableFunc(out, func(a, b Trail) int {
		switch {
		case a.Counted && !b.Counted:
			return -1
		case b.Counted && !a.Counted:
			return 1
		}
		return 0
	})
	return out[:min(len(out), strongest)]
}

// placing gives how many go in and where, as the strongest trail that says it.
func (w *world) placing(trails []Trail) (quantity int, position string) {
	for _, t := range trails {
		s := t.Steps[0].Statement.Scope
		if quantity == 0 {
			quantity = s.Quantity
		}
		if position == "" {
			position = s.Position
		}
	}
	return max(quantity, 1), position
}

// notesOf collects what is worth saying and changes nothing: clauses on facts
// that do not matter, remarks of rows, kits that hold the part.
func (w *world) notesOf(n part.Ref, found weighed) []string {
	var out []string
	for _, f := range found.ignored {
		if w.q.Facts.Knows(vehicle.FactModelCode) && (f == vehicle.FactMaker || f == vehicle.FactModel) {
			continue // the code says which vehicle it is
		}
		for _, t := range found.counted {
			if v := t.Steps[0].Statement.Scope.Value(f); v != "" {
				out = append(out, fmt.Sprintf("the list speaks of %s %s; not known here, and nothing differs on it", factWords(f), v))
			}
		}
	}
	for _, t := range found.counted {
		for _, s := range t.Steps {
			if s.Statement.Note != "" {
				out = append(out, s.Statement.Note)
			}
		}
		for _, c := range t.Conditions {
			out = append(out, "only if: "+c)
		}
	}
	for _, e := range w.sortedEdges(n) {
		if e.class.kit {
			out = append(out, "also supplied in the kit "+w.printed(e.to)+"; a kit is not the part")
		}
	}
	out = append(out, w.makerNote(n)...)
	slices.Sort(out)
	return slices.Compact(out)
}

func (w *world) makerNote(n part.Ref) []string {
	if len(w.bearers[n.Key]) < 2 {
		return nil
	}
	text := "several makers bear this number:"
	for i, m := range w.bearers[n.Key] {
		if i > 0 {
			text += ","
		}
		text += " " + m
	}
	return []string{text}
}

// only keeps the part that was asked for by number, or says why nothing speaks
// for it.
func (w *world) only(all []Candidate) []Candidate {
	var out []Candidate
	for _, n := range w.nodes(w.q.Part) {
		i := slices.IndexFunc(all, func(c Candidate) bool { return slices.Contains(c.Refs, n) })
		if i >= 0 {
			out = append(out, all[i])
			continue
		}
		c := Candidate{Refs: []part.Ref{n}, Verdict: NotKnown, Quantity: 1}
		c.Numbers, c.Name = w.numbersOf(n)
		c.Against = w.against(n)
		c.Reason, c.Trails = w.whyNot(n)
		if f := face(w.opposition(n), always); f.blocked != nil { // the warning counts though nothing speaks for it
			c.Verdict, c.RuledOut = RuledOut, f.blocked.ruling(w)
			c.Reason = w.ruledOutWords(*c.RuledOut)
		}
		out = append(out, c)
	}
	return out
}

// compareNumbers puts the vehicle maker's number first, then the unit maker's,
// the shop's own, others; ties by maker and number.
func compareNumbers(a, b Number) int {
	order := []statement.Role{statement.VehicleMaker, statement.UnitMaker, statement.Own, statement.Other}
	if d := slices.Index(order, a.Role) - slices.Index(order, b.Role); d != 0 {
		return d
	}
	if a.Maker != b.Maker {
		return compareText(a.Maker, b.Maker)
	}
	return compareText(a.Number, b.Number)
}

func compareText(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
