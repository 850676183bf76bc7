package fit

import (
	"slices"
	"strings"

	"crossbin/internal/vehicle"
)

// maxCompletions bounds in how many ways the unknown facts of a vehicle are
// completed; beyond it each row is judged for itself.
const maxCompletions = 256

// anything stands for a value that no row names.
const anything = "another"

// axis is one unknown fact with the ways in which it may turn out.
type axis struct {
	fact  vehicle.Fact
	cells []cell
}

// cell is one way: what it is called, and whether it satisfies a row's clause.
type cell struct {
	label string
	meets func(vehicle.Scope) bool
}

// newAxis cuts an unknown fact into the ways that the given rows tell apart.
func (w *world) newAxis(fact vehicle.Fact, rows []row) axis {
	switch {
	case fact == vehicle.FactSerial:
		return serialAxis(rows)
	case fact == vehicle.FactBuilt:
		return builtAxis(rows, w.q.Facts)
	case fact == vehicle.FactPrefix && w.q.Facts.Knows(fact):
		return axis{fact, []cell{
			{"the same part under both prefixes", func(vehicle.Scope) bool { return true }},
			{"another part under another prefix", func(vehicle.Scope) bool { return false }}}}
	}
	return w.textAxis(fact, rows)
}

func (w *world) textAxis(fact vehicle.Fact, rows []row) axis {
	var values []string
	for _, r := range rows {
		if v := r.step.Statement.Scope.Text[fact]; v != "" {
			values = append(values, v)
		}
	}
	values = append(values, closedDomain(fact)...)
	if len(closedDomain(fact)) == 0 {
		values = append(values, anything)
	}
	slices.Sort(values)
	a := axis{fact: fact}
	for _, v := range slices.Compact(values) {
		a.cells = append(a.cells, cell{v, func(s vehicle.Scope) bool {
			want := s.Text[fact]
			return want == v || fact == vehicle.FactEngine && slices.Contains(w.k.Engines[v], want)
		}})
	}
	return a
}

// closedDomain gives the values of facts that can only turn out in a few ways.
func closedDomain(fact vehicle.Fact) []string {
	if _, option := fact.Option(); option || fact == vehicle.FactTurbo {
		return []string{"NO", "YES"}
	}
	switch fact {
	case vehicle.FactSide:
		return []string{"LHD", "RHD"}
	case vehicle.FactDrive:
		return []string{"2WD", "4WD"}
	case vehicle.FactTransmission:
		return []string{"AT", "MT"}
	}
	return nil
}

func serialAxis(rows []row) axis {
	var cuts []int64
	width := 0
	for _, r := range rows {
		s := r.step.Statement.Scope.Serial
		if s.IsAny() {
			continue
		}
		width = max(width, s.Width)
		cuts = append(cuts, max(s.From, 0))
		if s.To != vehicle.NoSerial {
			cuts = append(cuts, s.To+1)
		}
	}
	cuts = append(cuts, 0)
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	a := axis{fact: vehicle.FactSerial}
	for i, from := range cuts {
		span := vehicle.SerialRange{From: from, To: vehicle.NoSerial, Width: width}
		if i+1 < len(cuts) {
			span.To = cuts[i+1] - 1
		}
		a.cells = append(a.cells, cell{serialLabel(span), func(s vehicle.Scope) bool { return s.Serial.Holds(from) }})
	}
	return a
}

func serialLabel(r vehicle.SerialRange) string {
	switch {
	case r.To == vehicle.NoSerial:
		return "from " + r.Print(r.From)
	case r.From > 0:
		return "from " + r.Print(r.From) + " to " + r.Print(r.To)
	}
	return "up to " + r.Print(r.To)
}

// builtWindow is how far around a known build interval the true month may lie;
// beyond it a clause is already yes or no by itself.
const builtWindow = 3

func builtAxis(rows []row, f vehicle.Facts) axis {
	const first, last = vehicle.Month(1), vehicle.Month(9999 * 12)
	lo, hi := first, last
	if f.Built.From != vehicle.NoMonth {
		lo = f.Built.From - builtWindow
	}
	if f.Built.To != vehicle.NoMonth {
		hi = f.Built.To + builtWindow
	}
	cuts := []vehicle.Month{lo}
	for _, r := range rows {
		b := r.step.Statement.Scope.Built
		for _, c := range []vehicle.Month{b.From, b.To + 1} {
			if c > lo && c <= hi && c != vehicle.NoMonth+1 {
				cuts = append(cuts, c)
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	a := axis{fact: vehicle.FactBuilt}
	for i, from := range cuts {
		to := hi
		if i+1 < len(cuts) {
			to = cuts[i+1] - 1
		}
		a.cells = append(a.cells, cell{monthLabel(from, to, first, last), func(s vehicle.Scope) bool {
			b := s.Built
			return (b.From == vehicle.NoMonth || from >= b.From) && (b.To == vehicle.NoMonth || from <= b.To)
		}})
	}
	return a
}

func monthLabel(from, to, first, last vehicle.Month) string {
	var b strings.Builder
	if from != first {
		b.WriteString("from " + from.String())
	}
	if to != last {
		b.WriteString(" to " + to.String())
	}
	return strings.TrimSpace(b.String())
}
