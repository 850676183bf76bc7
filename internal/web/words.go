package web

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// verdictWords are the verdicts as they stand on a tag.
var verdictWords = map[fit.Verdict]string{
	fit.Fits: "fits", fit.FitsWithChange: "fits with a change", fit.CheckFirst: "check first",
	fit.RuledOut: "ruled out", fit.NotKnown: "not known",
}

// rulingWords say more than "ruled out" where there is more to say.
var rulingWords = map[fit.RulingKind]string{
	fit.WorksWrong: "bolts on, but never", fit.WontMount: "does not mount",
}

// verdictLine gives the two halves of the one line on every tag: the verdict,
// and the reason that goes behind it.
func verdictLine(c fit.Candidate) (verdict, reason string) {
	verdict, reason = verdictWords[c.Verdict], c.Reason
	if c.RuledOut != nil && rulingWords[c.RuledOut.Kind] != "" {
		verdict = rulingWords[c.RuledOut.Kind]
	}
	if rest, ok := strings.CutPrefix(reason, verdict+": "); ok {
		reason = rest
	}
	return verdict, reason
}

var roleWords = map[statement.Role]string{
	statement.VehicleMaker: "vehicle maker’s number", statement.UnitMaker: "unit maker’s number",
	statement.Own: "your own number", statement.Other: "other number",
}

var factWords = map[vehicle.Fact]string{
	vehicle.FactMaker: "maker", vehicle.FactModel: "model", vehicle.FactModelCode: "model code",
	vehicle.FactPrefix: "emission prefix", vehicle.FactEngine: "engine", vehicle.FactSerial: "frame serial",
	vehicle.FactBuilt: "built", vehicle.FactSide: "steering wheel", vehicle.FactTransmission: "gearbox",
	vehicle.FactDrive: "driven wheels", vehicle.FactTurbo: "turbo", vehicle.FactMarket: "market",
}

var optionWords = map[string]string{"ac": "air conditioning", "cold": "cold-region package", "abs": "anti-lock brakes",
	"ps": "power steering", "idle_stop": "engine stops when the vehicle stands"}

// factTitle names a vehicle fact for people.
func factTitle(f vehicle.Fact) string {
	if o, ok := f.Option(); ok {
		return optionTitle(o)
	}
	if words := factWords[f]; words != "" {
		return words
	}
	return strings.ReplaceAll(string(f), "_", " ")
}

func optionTitle(o string) string {
	if words := optionWords[o]; words != "" {
		return words
	}
	return strings.ReplaceAll(o, "_", " ")
}

var howWords = map[vehicle.How]string{
	vehicle.Stamped: "stamped", vehicle.Plate: "from the plate", vehicle.Paper: "from the papers",
	vehicle.Seen: "seen", vehicle.Told: "told", vehicle.Serial: "from the frame number",
}

// valueWords say the values of facts that are codes.
var valueWords = map[string]string{
	"AT": "automatic", "MT": "manual", "CVT": "CVT", "2WD": "two", "4WD": "four", "RHD": "on the right", "LHD": "on the left",
}

func valueTitle(v string) string {
	if words := valueWords[strings.ToUpper(v)]; words != "" {
		return words
	}
	return strings.ReplaceAll(v, "_", " ")
}

// measureTitle says a value of an attribute with its unit.
func measureTitle(t part.Type, attribute, value string) string {
	a, ok := t.Attribute(attribute)
	if !ok {
		return valueTitle(value)
	}
	value = strings.ReplaceAll(value, "_", " ")
	if a.Unit == "" || a.Unit == "count" || value == "" {
		return value
	}
	return value + " " + a.Unit
}

// attributeTitle names an attribute for people.
func attributeTitle(t part.Type, name string) string {
	if a, ok := t.Attribute(name); ok && a.Title != "" {
		return a.Title
	}
	return strings.ReplaceAll(name, "_", " ")
}

// effortWords say what a look costs, from 1 to 5.
var effortWords = [...]string{"", "under a minute", "a minute or three, torch or mirror", "five to ten minutes, a meter or a cover off",
	"up to three quarters of an hour", "part out, or a system opened"}

func effortTitle(effort int) string {
	if effort < 1 || effort >= len(effortWords) {
		return ""
	}
	return effortWords[effort]
}

// upperFirst begins a heading with a capital.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
