package vehicle

import (
	"slices"
	"strings"
)

// Fact names one thing that can be known of a vehicle. Options are facts with
// the prefix "option:" (option:ac, option:cold).
type Fact string

// The facts that scopes speak of.
const (
	FactMaker        Fact = "maker"
	FactModel        Fact = "model"
	FactModelCode    Fact = "model_code"
	FactPrefix       Fact = "emission_prefix"
	FactEngine       Fact = "engine"
	FactSerial       Fact = "serial"
	FactBuilt        Fact = "built"
	FactSide         Fact = "side"         // RHD or LHD
	FactTransmission Fact = "transmission" // AT, MT, CVT
	FactDrive        Fact = "drive"        // 2WD or 4WD
	FactTurbo        Fact = "turbo"        // yes or no
	FactMarket       Fact = "market"
)

// OptionFact gives the fact of an option: ac, cold.
func OptionFact(option string) Fact { return Fact("option:" + option) }

// Option gives the option's name where the fact is one.
func (f Fact) Option() (string, bool) { return strings.CutPrefix(string(f), "option:") }

// How says how a fact is known.
type How string

// Ways of knowing. A stamped fact outranks a plate, a plate a paper.
const (
	Stamped How = "stamped"
	Plate   How = "plate"
	Paper   How = "paper"
	Seen    How = "seen"
	Told    How = "told"
	Serial  How = "serial" // derived from the frame number's serial
)

// Known is one known fact.
type Known struct {
	Value string // folded, see FoldValue
	How   How
}

// Facts is what is known of one vehicle. A fact that is not there is unknown,
// which never means "no".
type Facts struct {
	Frame    Frame          // as typed; its code and serial are facts below
	VIN      string         // 17 characters, or ""
	Text     map[Fact]Known // all facts but serial and built
	Families []string       // engine families that the engine belongs to, folded
	Serial   int64          // of the frame number; NoSerial where unknown
	Built    Interval       // months; both ends open where unknown
	BuiltHow How
}

// NoSerial stands for an unknown or open serial.
const NoSerial int64 = -1

// NewFacts gives facts of which nothing is known.
func NewFacts() Facts { return Facts{Text: map[Fact]Known{}, Serial: NoSerial} }

// FoldValue gives the form in which text facts are compared: width folded,
// upper case, single blanks. Model and engine codes lose their inner dashes
// and blanks in FoldCode instead.
func FoldValue(s string) string { return strings.Join(strings.Fields(Fold(s)), " ") }

// FoldCode gives the form in which model codes and engine codes are compared:
// FoldValue without dashes, blanks and slashes.
func FoldCode(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune("- /.", r) {
			return -1
		}
		return r
	}, Fold(s))
}

// foldFact folds a value as its fact is compared.
func foldFact(f Fact, s string) string {
	if f == FactModelCode || f == FactEngine || f == FactPrefix {
		return FoldCode(s)
	}
	return FoldValue(s)
}

// Set records a known fact; an empty value changes nothing.
func (f *Facts) Set(fact Fact, value string, how How) {
	if v := foldFact(fact, value); v != "" {
		f.Text[fact] = Known{Value: v, How: how}
	}
}

// Get gives a text fact; ok is false where it is unknown.
func (f Facts) Get(fact Fact) (value string, ok bool) {
	k, ok := f.Text[fact]
	return k.Value, ok
}

// Knows reports whether a fact is known.
func (f Facts) Knows(fact Fact) bool {
	switch fact {
	case FactSerial:
		return f.Serial != NoSerial
	case FactBuilt:
		return f.Built.Known()
	}
	_, ok := f.Text[fact]
	return ok
}

// Unknown lists which of the given facts are not known, sorted.
func (f Facts) Unknown(of []Fact) []Fact {
	var out []Fact
	for _, fact := range of {
		if !f.Knows(fact) {
			out = append(out, fact)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// builtMargin is how near a build date may come to the end of a range before
// the answer is unknown: 3 months, none where the month is stamped or comes
// from the serial (common practice, no source: first registrations and glass
// dates lie by up to a quarter of a year).
func (f Facts) builtMargin() int {
	if f.BuiltHow == Stamped || f.BuiltHow == Serial {
		return 0
	}
	return 3
}
