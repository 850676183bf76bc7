package fit

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Bars: the confidence in thousandths that a verdict needs, common practice, no
// source; the higher one for brakes, steering, fuel and timing-driven pumps.
const (
	bar         = 770
	barHighCare = 950
	strongWord  = 0.75 // every statement of one trail at least this: weak sources add up, never to fits
)

// class is how far a set of trails carries a candidate.
type class string

const (
	goesNot     class = "" // nothing speaks for it
	goesChecked class = "check first"
	goesChanged class = "with a change"
	goes        class = "goes"
)

// finding is what a set of trails says, before anything stands against it.
type finding struct {
	class      class
	why        doubt
	confidence int
	counted    []*trail
	basis      Basis
	changes    []statement.Change
}

// doubt says what keeps a finding at check first.
type doubt string

const (
	noDoubt       doubt = ""
	doubtKin      doubt = "kin"
	doubtBar      doubt = "bar"
	doubtStarred  doubt = "starred"
	doubtWeak     doubt = "weak"
	doubtMaker    doubt = "maker"
	doubtOpen     doubt = "open"
	doubtListOnly doubt = "list only"
)

// evaluate judges a set of trails by the third to fifth line of the ladder.
func (w *world) evaluate(trails []*trail) finding {
	trails = ofThisVehicle(trails)
	if len(trails) == 0 {
		return finding{}
	}
	f := finding{basis: strongestBasis(trails), changes: changesFor(trails)}
	f.confidence, f.counted = weigh(trails)
	f.why = w.doubtOf(trails, f)
	switch {
	case f.why != noDoubt:
		f.class = goesChecked
	case len(f.changes) > 0:
		f.class = goesChanged
	default:
		f.class = goes
	}
	return f
}

// ofThisVehicle leaves kin out where anything speaks of this vehicle: what goes
// into another one lends no confidence to an answer about this one, and takes no
// change away.
func ofThisVehicle(trails []*trail) []*trail {
	kin := func(t *trail) bool { return t.kin }
	if i := slices.IndexFunc(trails, func(t *trail) bool { return !t.kin }); i < 0 {
		return trails
	}
	return slices.DeleteFunc(slices.Clone(trails), kin)
}

func (w *world) doubtOf(trails []*trail, f finding) doubt {
	every := func(hit func(*trail) bool) bool {
		return !slices.ContainsFunc(trails, func(t *trail) bool { return !hit(t) })
	}
	switch {
	case f.basis == ByKin:
		return doubtKin
	case every(func(t *trail) bool { return t.ambiguous }):
		return doubtMaker
	case every(func(t *trail) bool { return len(t.open) > 0 }):
		return doubtOpen
	case every(func(t *trail) bool { return t.Starred }):
		return doubtStarred
	case every(func(t *trail) bool { return !t.strong() || t.Starred || t.ambiguous || len(t.open) > 0 }):
		return doubtWeak
	case w.q.Type.HighCare && len(f.counted) == 1 && every(func(t *trail) bool { return t.listOnly() }):
		return doubtListOnly
	case f.confidence < w.bar():
		return doubtBar
	}
	return noDoubt
}

func (w *world) bar() int {
	if w.q.Type.HighCare {
		return barHighCare
	}
	return bar
}

// strong reports whether every statement of the trail is at 0.75 or better.
func (t *trail) strong() bool {
	return !slices.ContainsFunc(t.Steps, func(s Step) bool { return s.Reliability < strongWord })
}

// listOnly reports whether nobody tried or read anything: all is written in
// lists.
func (t *trail) listOnly() bool {
	return !slices.ContainsFunc(t.Steps, func(s Step) bool {
		st := s.Source.Standing
		return st == statement.OwnFitting || st == statement.OwnReading || st == statement.UnitLabel
	})
}

// rank orders the bases, strongest first.
var rank = map[Basis]int{Proven: 0, Stated: 1, ByNumber: 2, Measured: 3, ByKin: 4}

func strongestBasis(trails []*trail) Basis {
	best := ByKin
	for _, t := range trails {
		if rank[t.Basis] < rank[best] {
			best = t.Basis
		}
	}
	return best
}

// changesFor gives the changes that a candidate needs: none where a fitment
// names it for this vehicle as it is, else those of the strongest trail that
// names any and is good enough by itself. A trail without a change never takes
// away a change that a good source names; one that only a weak source names
// gives way to a good trail without.
func changesFor(trails []*trail) []statement.Change {
	sorted := byStrength(trails)
	if slices.ContainsFunc(sorted, func(t *trail) bool { return t.Basis == Stated || t.Basis == ByKin }) {
		return nil
	}
	for _, good := range []bool{true, false} {
		for _, t := range sorted {
			if len(t.Changes) > 0 && t.strong() == good {
				return t.Changes
			}
		}
		if slices.ContainsFunc(sorted, func(t *trail) bool { return t.strong() && !t.Starred }) {
			return nil
		}
	}
	return nil
}

// weighed is a candidate's trails judged over every completion of the unknown
// facts.
type weighed struct {
	finding
	dependsOn  []vehicle.Fact
	goesInWhen map[vehicle.Fact][]string
	ignored    []vehicle.Fact
	blocked    *opposing // a look-alike that stands under every completion in which it would go in
	disputed   []Step    // look-alikes of which it is the stronger side
}

// weighAll judges the rows of one part together. The outcome is judged under
// every completion, so that no verdict leans on a lucky one. The confidence is
// that of the best completion: it holds given what the candidate depends on, and
// only so can a further statement in favour never lower it (a least of all
// completions falls when a weak row opens a new one).
func (w *world) weighAll(trails []*trail, opp []opposing) weighed {
	rows, bit := w.rowsOf(trails)
	axes, all, ignored, ok := w.complete(rows, opp)
	if !ok {
		return w.rowByRow(trails, ignored, opp)
	}
	out := weighed{ignored: ignored}
	memo := map[uint64]finding{}
	outcome := make([]string, len(all))
	var in, barred []finding
	for i, c := range all {
		f := w.under(trails, bit, c, memo)
		switch {
		case f.class == goesNot:
			continue
		case c.faced.blocked != nil:
			out.blocked = c.faced.blocked
			barred = append(barred, f)
			continue
		}
		out.disputed = append(out.disputed, c.faced.disputed...)
		outcome[i] = string(f.class)
		in = append(in, f)
	}
	switch {
	case len(in) > 0:
		out.blocked, out.finding = nil, pick(in)
		out.dependsOn, out.goesInWhen = dependsOn(axes, all, outcome)
	case len(barred) > 0:
		out.finding = pick(barred)
	}
	return out
}

// under evaluates the trails whose row speaks of the vehicle in a completion.
func (w *world) under(trails []*trail, bit map[int]int, c completion, memo map[uint64]finding) finding {
	if c.none {
		return finding{}
	}
	if f, ok := memo[c.rows]; ok {
		return f
	}
	var live []*trail
	for _, t := range trails {
		b, listed := bit[t.row]
		if t.kin || listed && c.rows&(1<<b) != 0 {
			live = append(live, t)
		}
	}
	f := w.evaluate(live)
	memo[c.rows] = f
	return f
}

// rowsOf numbers the rows that the trails start from.
func (w *world) rowsOf(trails []*trail) ([]row, map[int]int) {
	var rows []row
	bit := map[int]int{}
	for _, t := range byStrength(trails) {
		if _, ok := bit[t.row]; ok || t.kin || len(rows) == maxRows {
			continue
		}
		bit[t.row] = len(rows)
		rows = append(rows, w.rows[t.row])
	}
	return rows, bit
}

// rowByRow judges too many completions simply: the candidate depends on every
// open fact, and each row that may speak of the vehicle is taken to.
func (w *world) rowByRow(trails []*trail, ignored []vehicle.Fact, opp []opposing) weighed {
	f := face(opp, always)
	out := weighed{finding: w.evaluate(trails), ignored: ignored, blocked: f.blocked, disputed: f.disputed}
	for _, t := range trails {
		for _, f := range w.rows[t.row].open {
			if !slices.Contains(ignored, f) {
				out.dependsOn = append(out.dependsOn, f)
			}
		}
	}
	slices.Sort(out.dependsOn)
	out.dependsOn = slices.Compact(out.dependsOn)
	return out
}

func pick(in []finding) finding {
	out := in[0]
	for _, f := range in[1:] {
		if f.confidence > out.confidence {
			out = f
		}
	}
	return out
}

// numbersOf lists a part's numbers as printed, the vehicle maker's first.
func (w *world) numbersOf(n part.Ref) ([]Number, string) {
	var out []Number
	name := ""
	for _, s := range w.names[n] {
		num := Number{Ref: n, Maker: s.Part.Maker, Number: s.Part.Printed, Role: s.Part.Role}
		if num.Role == statement.Own && !w.k.Sources[s.Source].Standing.Own() {
			num.Role = statement.Other // another one's own number
		}
		if name == "" {
			name = s.Part.Name
		}
		if !slices.ContainsFunc(out, func(o Number) bool { return o.Maker == num.Maker && o.Number == num.Number }) {
			out = append(out, num)
		}
	}
	out = slices.DeleteFunc(out, func(bare Number) bool { // the same number, once with its maker and once without
		return bare.Maker == "" && slices.ContainsFunc(out, func(o Number) bool { return o.Maker != "" && o.Ref == bare.Ref })
	})
	if len(out) == 0 {
		out = append(out, Number{Ref: n, Maker: n.Maker, Number: w.printed(n), Role: statement.Other})
	}
	slices.SortFunc(out, compareNumbers)
	return out, name
}

// printed finds how a number that no row describes was written in a link.
func (w *world) printed(n part.Ref) string {
	for _, s := range w.k.Links {
		if s.A.Key == n.Key && s.Link.PrintedA != "" {
			return s.Link.PrintedA
		}
		if s.Link.B.Key == n.Key && s.Link.PrintedB != "" {
			return s.Link.PrintedB
		}
	}
	return n.Key
}
