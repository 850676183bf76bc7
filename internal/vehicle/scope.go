package vehicle

import (
	"slices"
	"strconv"
	"strings"
)

// Tri is a three-valued truth (Kleene).
type Tri int8

// The three values; Unknown is the zero value.
const (
	Unknown Tri = iota
	No
	Yes
)

// String gives yes, no or unknown.
func (t Tri) String() string { return [...]string{"unknown", "no", "yes"}[t] }

// And is Kleene's conjunction.
func (t Tri) And(o Tri) Tri {
	switch {
	case t == No || o == No:
		return No
	case t == Unknown || o == Unknown:
		return Unknown
	}
	return Yes
}

// SerialRange is a range of frame number serials, inclusive, open at an end
// that is NoSerial. Width keeps the printed length for display.
type SerialRange struct {
	From, To int64
	Width    int
}

// AnySerial is the range that holds every serial.
func AnySerial() SerialRange { return SerialRange{From: NoSerial, To: NoSerial} }

// IsAny reports whether the range says nothing.
func (r SerialRange) IsAny() bool { return r.From == NoSerial && r.To == NoSerial }

// Holds reports whether a serial lies in the range.
func (r SerialRange) Holds(s int64) bool {
	return (r.From == NoSerial || s >= r.From) && (r.To == NoSerial || s <= r.To)
}

// Print pads a serial to the printed width.
func (r SerialRange) Print(s int64) string {
	text := strconv.FormatInt(s, 10)
	return strings.Repeat("0", max(0, r.Width-len(text))) + text
}

// Scope is the set of vehicles that a fitment speaks of: a conjunction of
// clauses. Text clauses hold folded values; quantity and position say how many
// go in and where, and are no clauses.
type Scope struct {
	Text     map[Fact]string // one wanted value a fact; options are "yes" or "no"
	Serial   SerialRange
	Built    Interval
	Position string
	Quantity int // 0 where not said
}

// NewScope gives the scope that speaks of every vehicle.
func NewScope() Scope { return Scope{Text: map[Fact]string{}, Serial: AnySerial()} }

// Want adds a clause; an empty value changes nothing.
func (s *Scope) Want(fact Fact, value string) {
	if v := foldFact(fact, value); v != "" {
		s.Text[fact] = v
	}
}

// Facts lists the facts that the scope has a clause on, sorted.
func (s Scope) Facts() []Fact {
	var out []Fact
	for f := range s.Text {
		out = append(out, f)
	}
	if !s.Serial.IsAny() {
		out = append(out, FactSerial)
	}
	if s.Built.Known() {
		out = append(out, FactBuilt)
	}
	slices.Sort(out)
	return out
}

// Value gives the wanted value of a clause for people; "" where there is none.
func (s Scope) Value(f Fact) string {
	switch f {
	case FactSerial:
		return rangeText(s.Serial)
	case FactBuilt:
		return s.Built.String()
	}
	return s.Text[f]
}

func rangeText(r SerialRange) string {
	from, to := "", ""
	if r.From != NoSerial {
		from = r.Print(r.From)
	}
	if r.To != NoSerial {
		to = r.Print(r.To)
	}
	return from + "…" + to
}

// Engines tells which families engine codes belong to: folded code to folded
// family names. A key that is itself a family name has no entry.
type Engines map[string][]string

// Clause judges one clause of a scope against what is known.
func (s Scope) Clause(fact Fact, f Facts, engines Engines) Tri {
	switch fact {
	case FactSerial:
		if f.Serial == NoSerial {
			return Unknown
		}
		return tri(s.Serial.Holds(f.Serial))
	case FactBuilt:
		return judgeBuilt(s.Built, f)
	case FactEngine:
		return judgeEngine(s.Text[fact], f, engines)
	}
	if fact == FactModel && s.sameCode(f) {
		return Yes
	}
	have, known := f.Get(fact)
	switch {
	case !known:
		return Unknown
	case fact == FactModel && have != s.Text[fact] && nameWithin(have, s.Text[fact]):
		return Unknown // "Kogata" against "Kogata Van": a name is no code
	case fact == FactPrefix && have != s.Text[fact]:
		return Unknown // another prefix on the same code: never yes, not proven no
	}
	return tri(have == s.Text[fact])
}

// sameCode reports whether the model code agrees: it is the vehicle's identity,
// sales names are not, and are spelled differently from list to list.
func (s Scope) sameCode(f Facts) bool {
	have, known := f.Get(FactModelCode)
	return known && have == s.Text[FactModelCode]
}

func nameWithin(a, b string) bool {
	return strings.HasPrefix(a+" ", b+" ") || strings.HasPrefix(b+" ", a+" ")
}

func tri(b bool) Tri {
	if b {
		return Yes
	}
	return No
}

// judgeBuilt holds a build interval against a range: yes when it lies inside by
// the margin at every closed end, no when it lies outside by it.
func judgeBuilt(want Interval, f Facts) Tri {
	m := Month(f.builtMargin())
	have, t := f.Built, Yes
	if want.From != NoMonth {
		switch {
		case have.To != NoMonth && want.From-have.To >= max(m, 1):
			return No
		case have.From == NoMonth || have.From-want.From < m:
			t = Unknown
		}
	}
	if want.To != NoMonth {
		switch {
		case have.From != NoMonth && have.From-want.To >= max(m, 1):
			return No
		case have.To == NoMonth || want.To-have.To < m:
			t = Unknown
		}
	}
	return t
}

// judgeEngine holds an engine clause, a code or a family, against the engine.
func judgeEngine(want string, f Facts, engines Engines) Tri {
	have, known := f.Get(FactEngine)
	if known && have == want || slices.Contains(f.Families, want) {
		return Yes
	}
	if !known && len(f.Families) == 0 {
		return Unknown
	}
	if !known { // only the family is known: a code of that family may be it
		fam, listed := engines[want]
		if !listed || overlap(fam, f.Families) {
			return Unknown
		}
	}
	return No
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// Judge is the conjunction of all clauses.
func (s Scope) Judge(f Facts, engines Engines) Tri {
	t := Yes
	for _, fact := range s.Facts() {
		t = t.And(s.Clause(fact, f, engines))
	}
	return t
}

// Failing lists the clauses that are no, sorted by fact.
func (s Scope) Failing(f Facts, engines Engines) []Fact { return s.where(No, f, engines) }

// Open lists the clauses that are unknown, sorted by fact.
func (s Scope) Open(f Facts, engines Engines) []Fact { return s.where(Unknown, f, engines) }

func (s Scope) where(t Tri, f Facts, engines Engines) []Fact {
	var out []Fact
	for _, fact := range s.Facts() {
		if s.Clause(fact, f, engines) == t {
			out = append(out, fact)
		}
	}
	return out
}
