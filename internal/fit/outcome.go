package fit

import (
	"fmt"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// OutcomeKind says what happened to a part that was fitted, or tried.
type OutcomeKind string

// Kinds of outcomes.
const (
	WentIn           OutcomeKind = "went_in"
	WentInWithChange OutcomeKind = "went_in_with_change"
	DidNotFit        OutcomeKind = "did_not_go"
	CameBack         OutcomeKind = "came_back"
	NotAsOrdered     OutcomeKind = "not_as_ordered" // no fitting: counts against box and supplier
)

// CameBackWhy says why a part came back.
type CameBackWhy string

// Reasons of a part that came back.
const (
	UnitDied        CameBackWhy = "unit died"             // against the source of the unit
	WrongForVehicle CameBackWhy = "wrong for the vehicle" // against the fit
	AnotherCause    CameBackWhy = "another cause"         // against nobody
)

// provingDays is how long a part must not have come back before its silence
// counts as success.
const provingDays = 90

// Outcome is what happened with one part on one vehicle.
type Outcome struct {
	ID         string
	Kind       OutcomeKind
	Why        CameBackWhy // for CameBack
	Type       string
	Part       part.Ref
	Facts      vehicle.Facts
	Frame      string // folded frame number or VIN; "" where not read
	TestPassed bool   // the test after fitting
	DaysIn     int    // days without coming back, up to the day of the question
	Reason     string // in the person's words
	// What was read before it was tried; only then does a failure rule out more
	// than that one vehicle.
	LabelRead, AttributeRead, FrameRead bool
	Changes                             []statement.Change
}

// Proves reports whether the part went in and stayed: the after-fit test
// passed, or it has not come back for 90 days. Silence is not success.
func (o Outcome) Proves() bool {
	return (o.Kind == WentIn || o.Kind == WentInWithChange) && (o.TestPassed || o.DaysIn >= provingDays)
}

// Refutes reports whether it speaks against the fit.
func (o Outcome) Refutes() bool {
	return o.Kind == DidNotFit || o.Kind == CameBack && o.Why == WrongForVehicle
}

// sure reports whether a failure is sure enough to rule out all vehicles that it
// speaks for.
func (o Outcome) sure() bool { return o.LabelRead && o.AttributeRead && o.FrameRead }

// speaksFor reports whether an outcome speaks for the vehicle of the question:
// the one it was made on, and every one that agrees with it in the facts that
// split the part type, as far as both are known. exact is set for the same
// vehicle.
func (w *world) speaksFor(o Outcome) (speaks, exact bool) {
	frame := w.frame()
	if o.Frame != "" && frame != "" && o.Frame == frame {
		return true, true
	}
	for _, f := range append([]vehicle.Fact{vehicle.FactModelCode}, splitFacts(w.q.Type)...) {
		if !w.agree(f, o.Facts) {
			return false, false
		}
	}
	mine, known := w.q.Facts.Get(vehicle.FactModelCode)
	theirs, known2 := o.Facts.Get(vehicle.FactModelCode)
	return known && known2 && mine == theirs, false
}

// agree holds one fact of two vehicles; what one of them does not know says
// nothing.
func (w *world) agree(f vehicle.Fact, o vehicle.Facts) bool {
	q := w.q.Facts
	if !q.Knows(f) || !o.Knows(f) {
		return true
	}
	switch f {
	case vehicle.FactSerial:
		return w.sameRun(q.Serial, o.Serial)
	case vehicle.FactBuilt:
		_, meet := q.Built.Intersect(o.Built)
		return meet
	}
	a, _ := q.Get(f)
	b, _ := o.Get(f)
	return a == b
}

// sameRun reports whether no row of the book changes between two serials.
func (w *world) sameRun(a, b int64) bool {
	for _, r := range w.rows {
		s := r.step.Statement.Scope.Serial
		if !s.IsAny() && w.speaksOf(r) && s.Holds(a) != s.Holds(b) {
			return false
		}
	}
	return true
}

func (w *world) frame() string {
	if f := w.q.Facts.Frame; f.ModelCode != "" {
		return vehicle.FoldCode(f.ModelCode + f.Serial)
	}
	return w.q.Facts.VIN
}

// tried is what the outcomes say of one candidate.
type tried struct {
	proven  *Outcome
	ruled   *Outcome // rules out
	capped  *Outcome // check first at most
	changes []statement.Change
}

// outcomesOf collects the outcomes of a part, or of a number that is the same
// part, that speak for this vehicle.
func (w *world) outcomesOf(n part.Ref) tried {
	var t tried
	for i, o := range w.k.Outcomes {
		if o.Type != w.q.Type.Name || w.classes.find(o.Part) != w.classes.find(n) {
			continue
		}
		speaks, exact := w.speaksFor(o)
		switch {
		case !speaks:
		case o.Proves():
			if t.proven == nil {
				t.proven, t.changes = &w.k.Outcomes[i], o.Changes
			}
		case o.Refutes() && (o.sure() || exact):
			t.ruled = &w.k.Outcomes[i]
		case o.Refutes():
			t.capped = &w.k.Outcomes[i]
		}
	}
	return t
}

// apply puts the outcomes into a candidate: a proof makes it proven, a failure
// rules it out, and where both stand a person has to say which holds.
func (t tried) apply(c *Candidate, found *weighed) *Ruling {
	if t.proven != nil {
		c.Basis = Proven
		found.basis = Proven
		if found.class != goesNot {
			found.class, found.changes = goes, t.changes
			if len(t.changes) > 0 {
				found.class = goesChanged
			}
		}
	}
	switch {
	case t.proven != nil && (t.ruled != nil || t.capped != nil):
		c.Against = append(c.Against, "it went in once and did not go another time: a person has to say which holds")
	case t.ruled != nil:
		return &Ruling{Kind: DidNotGo, Effect: t.ruled.Reason}
	case t.capped != nil:
		c.Against = append(c.Against, fmt.Sprintf("it did not go on a vehicle like this one: %s", orElse(t.capped.Reason, "no reason written down")))
	}
	return nil
}
