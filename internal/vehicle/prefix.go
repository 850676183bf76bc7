package vehicle

import "fmt"

// Prefix is a decoded exhaust-rule symbol, the part of a model designation
// before the hyphen. Reduction is the percentage by which emissions lie below
// the rule, 0 for none. Fuel, Class and Note are plain words, empty where the
// symbol does not tell.
type Prefix struct {
	Text      string
	RuleYear  int
	Reduction int
	Fuel      string
	Class     string
	Note      string
}

// String says the prefix in one line: "DBA: 2005 rule, 75 % lower, ...".
func (p Prefix) String() string {
	out := p.Text + ":"
	if p.RuleYear > 0 {
		out += fmt.Sprintf(" %d rule,", p.RuleYear)
	}
	if p.Reduction > 0 {
		out += fmt.Sprintf(" %d %% lower,", p.Reduction)
	}
	for _, word := range [...]string{p.Fuel, p.Class, p.Note} {
		if word != "" {
			out += " " + word + ","
		}
	}
	return out[:len(out)-1]
}

const petrol = "petrol or gas"

// letterPrefixes are the symbols of one and two letters, used before the 2005
// rule. Sources: Japanese encyclopaedia, articles on the exhaust rules as a
// whole (50669666) and on those of Showa 54 and 57; webcartop.jp/2021/10/787491
// for GF and GH; kotoba.ne.jp, low-emission certification, for TA, LA and UA.
// The rule year of E is common knowledge, no page read.
var letterPrefixes = [...]Prefix{
	{"A", 1975, 0, "", "passenger car of up to 10 seats", ""},
	{"H", 1975, 0, "", "other than a passenger car of up to 10 seats", ""},
	{"B", 1976, 0, "", "", "mostly equivalent inertia up to 1 t"},
	{"C", 1976, 0, "", "", "the others of that rule"},
	{"E", 1978, 0, petrol, "passenger car", "in use to about 1998 to 2000"},
	{"J", 1979, 0, petrol, "goods vehicle", ""},
	{"K", 1979, 0, "diesel", "", ""},
	{"M", 1982, 0, petrol, "goods vehicle or bus of 2.5 t and over, light goods vehicle", ""},
	{"N", 1982, 0, "diesel", "", "indirect injection"},
	{"GF", 1998, 0, "", "passenger car", ""},
	{"GH", 2000, 0, "", "passenger car", "no reduction level"},
	{"TA", 2000, 25, "", "passenger car", "one star"},
	{"LA", 2000, 50, "", "passenger car", "two stars"},
	{"UA", 2000, 75, "", "passenger car", "three stars"},
}

// rulePositions is the first character of a three-character symbol: kurukura.jp
// 20200419-01_2.
var rulePositions = map[byte]Prefix{
	'A': {RuleYear: 2005},
	'C': {RuleYear: 2005, Reduction: 50},
	'D': {RuleYear: 2005, Reduction: 75},
	'3': {RuleYear: 2018},
	'4': {RuleYear: 2018, Reduction: 25},
	'5': {RuleYear: 2018, Reduction: 50},
	'6': {RuleYear: 2018, Reduction: 75},
	'7': {RuleYear: 2018, Note: "small-volume import procedure"},
}

// fuelPositions is the second character: B read at webcartop.jp/2021/10/787491,
// the others common knowledge.
var fuelPositions = map[byte]string{
	'A': petrol + ", hybrid",
	'B': petrol + ", no hybrid",
	'C': "diesel, hybrid",
	'D': "diesel, no hybrid",
}

// outsidePositions are the symbols for what the exhaust rules do not cover, and
// outsideClasses their third character: kurukura.jp 20200419-01_3.
var (
	outsidePositions = map[byte]string{'A': "electric", 'B': "hydrogen"}
	outsideClasses   = map[byte]string{'A': "passenger car", 'B': "goods vehicle", 'C': "bus"}
)

// DecodePrefix explains an exhaust-rule symbol, folded and without its hyphen:
// one or two letters from the table, three characters by position. It reports
// false for what the table does not know; K15 is a model code, no symbol.
func DecodePrefix(p string) (Prefix, bool) {
	for _, known := range letterPrefixes {
		if known.Text == p {
			return known, true
		}
	}
	if len(p) != 3 || p[2] < 'A' || p[2] > 'Z' {
		return Prefix{}, false
	}
	if p[0] == 'Z' {
		return decodeOutside(p)
	}
	out, ok := rulePositions[p[0]]
	fuel, fuelKnown := fuelPositions[p[1]]
	if !ok || !fuelKnown {
		return Prefix{}, false
	}
	out.Text, out.Fuel = p, fuel
	// A says passenger car, except for the diesels of the 2005 rule.
	if p[2] == 'A' && (out.RuleYear != 2005 || p[1] < 'C') {
		out.Class = "passenger car"
	}
	return out, true
}

func decodeOutside(p string) (Prefix, bool) {
	fuel, ok := outsidePositions[p[1]]
	class, classKnown := outsideClasses[p[2]]
	if !ok || !classKnown {
		return Prefix{}, false
	}
	return Prefix{Text: p, Fuel: fuel, Class: class, Note: "outside the exhaust rules"}, true
}
