package part

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// unitFactors holds, for each unit that attributes are kept in, the exact
// factor from every unit that sheets use. Factors: NIST SP 811 Appendix B
// (inch 25.4 mm, psi, kgf/cm2 98.0665 kPa, bar 100 kPa, PS 0.73549875 kW).
var unitFactors = map[string]map[string]string{
	"V":       {"v": "1", "volt": "1", "volts": "1"},
	"A":       {"a": "1", "amp": "1", "amps": "1", "ampere": "1", "cca": "1"},
	"kW":      {"kw": "1", "w": "1/1000", "ps": "0.73549875", "hp": "0.7456998716"},
	"mm":      {"mm": "1", "cm": "10", "m": "1000", "in": "25.4", "inch": "25.4", "\"": "25.4", "”": "25.4", "''": "25.4"},
	"in":      {"in": "1", "inch": "1", "\"": "1", "”": "1", "mm": "5/127"},
	"kPa":     {"kpa": "1", "bar": "100", "psi": "6.894757293", "kgf/cm2": "98.0665", "kg/cm2": "98.0665", "kgf/cm²": "98.0665", "kg/cm²": "98.0665", "mpa": "1000"},
	"count":   {"pk": "1", "ribs": "1", "rib": "1", "pins": "1", "pin": "1", "teeth": "1", "t": "1", "x": "1", "p": "1", "rows": "1", "grooves": "1", "山": "1", "極": "1", "ピン": "1", "歯": "1", "本": "1", "pole": "1", "poles": "1"},
	"°C":      {"°c": "1", "c": "1", "°f": "5/9", "f": "5/9"},
	"Ω":       {"ω": "1", "ohm": "1", "ohms": "1", "kω": "1000", "kohm": "1000"},
	"kΩ":      {"kω": "1", "kohm": "1", "ω": "1/1000", "ohm": "1/1000"},
	"L/h":     {"l/h": "1", "lph": "1", "l/min": "60"},
	"cc":      {"cc": "1", "cm3": "1", "ml": "1", "l": "1000"},
	"°":       {"°": "1", "deg": "1"},
	"min":     {"min": "1", "minutes": "1"},
	"Ah":      {"ah": "1"},
	"o'clock": {"o'clock": "1", "h": "1"},
}

// freezing is what is taken from degrees Fahrenheit before the factor.
const freezing = 32

// convert reads a decimal or fraction and brings it to the attribute's unit,
// in exact arithmetic up to the last step.
func convert(number, unit string, a Attribute) (float64, error) {
	n, err := rational(number, a)
	if err != nil {
		return 0, err
	}
	unit = strings.TrimSpace(unit)
	factor, ok := factorTo(unit, a.Unit)
	if !ok {
		return 0, fmt.Errorf("%w: %q for %s in %s", ErrUnit, unit, a.Title, a.Unit)
	}
	if a.Unit == "°C" && strings.HasSuffix(strings.ToLower(unit), "f") {
		n.Sub(n, big.NewRat(freezing, 1))
	}
	f, _ := n.Mul(n, factor).Float64()
	if math.IsInf(f, 0) {
		return 0, fmt.Errorf("a number of %d digits is no reading of %s", len(number), a.Title)
	}
	return f, nil
}

// rational reads 12.5, 12,5, 3/4 and 26 1/4. A comma before three digits is
// refused, since 1,200 is 1.2 to one person and 1200 to another.
func rational(number string, a Attribute) (*big.Rat, error) {
	if grouped.MatchString(number) {
		return nil, fmt.Errorf("%q can be %s or %s for %s: write it without the comma", number,
			strings.ReplaceAll(number, ",", "."), strings.ReplaceAll(number, ",", ""), a.Title)
	}
	whole, fraction := "0", number
	if i := strings.IndexAny(number, " -"); i >= 0 {
		whole, fraction = number[:i], number[i+1:]
	}
	w, ok := new(big.Rat).SetString(whole)
	f, fine := new(big.Rat).SetString(strings.ReplaceAll(fraction, ",", "."))
	if !ok || !fine {
		return nil, fmt.Errorf("%q is no number for %s", number, a.Title)
	}
	return w.Add(w, f), nil
}

// factorTo gives the exact factor from a written unit to the attribute's unit;
// no written unit means the attribute's own. The length that a belt prints
// behind its rib count (6PK1270) is left out.
func factorTo(written, unit string) (*big.Rat, bool) {
	if written == "" || strings.EqualFold(written, unit) {
		return big.NewRat(1, 1), true
	}
	written = strings.ToLower(written)
	if unit == "count" && strings.HasPrefix(written, "pk") {
		written = strings.TrimRight(written, "0123456789")
	}
	text, ok := unitFactors[unit][written]
	if !ok {
		return nil, false
	}
	return new(big.Rat).SetString(text)
}

// KnownUnit reports whether attributes can be kept in this unit.
func KnownUnit(unit string) bool {
	_, ok := unitFactors[unit]
	return ok || unit == ""
}
