package part

import (
	"math"
	"strconv"
	"strings"
)

const belt = "belt"

var (
	beltCodes = []designationForm{
		newDesignation(`(\d{1,2})_P([HJKLM])_(\d{3,4})`, readRibbed, belt),
		newDesignation(`(?:AV(X)?_)?(10|13)_?X_?(\d{3,4})`, readVBelt, belt),
	}
	pulleyCodes = []designationForm{
		newDesignation(`(P_\d{1,2}_PK_\d{2,3}(?:[.,]\d)?)`, readGrooves, "alternator", "compressor", "water pump"),
	}
)

// ribPitch is the distance from rib to rib in mm by the profile of a ribbed belt:
// ISO 9981 (PK) and ISO 9982.
var ribPitch = map[string]string{"H": "1.60", "J": "2.34", "K": "3.56", "L": "4.70", "M": "9.40"}

const (
	// leastPulley is the smallest effective diameter in mm of a pulley for a PK
	// belt (ISO 9981:2020, 5.2).
	leastPulley = 45

	// lineAbove is how far the effective line of a PK belt lies above the pulley's
	// effective diameter, in mm, for working out ratios (ISO 9981:2020, 5.4).
	lineAbove = 2
)

// readRibbed reads ribs, profile and effective length in mm: 6PK1270. A length
// that two of the smallest pulleys would not even touch is a number that lost a
// digit.
func readRibbed(m []string) (map[string]string, string, bool) {
	ribs, profile, length := atoi(m[0]), m[1], m[2]
	if ribs == 0 || strings.HasPrefix(length, "0") || profile == "K" && float64(atoi(length)) < (math.Pi+2)*leastPulley {
		return nil, "", false
	}
	std := StdRibbedBelt
	if profile != "K" {
		std = StdOtherRibbed
	}
	return map[string]string{
		"section": "p" + strings.ToLower(profile), "ribs": strconv.Itoa(ribs), "length": length + " mm", "rib_pitch": ribPitch[profile] + " mm",
	}, std, true
}

// readVBelt reads AV10x925 and 10x925: nominal top width and effective length in
// mm, an X for cogged (ISO 2790, 4.1 and 4.2). The bare class 10A has no length
// and is no designation of a belt.
func readVBelt(m []string) (map[string]string, string, bool) {
	if strings.HasPrefix(m[2], "0") {
		return nil, "", false
	}
	v := map[string]string{"section": "v" + m[1], "length": m[2] + " mm"}
	if m[0] != "" {
		v["cogged"] = boolYes
	}
	return v, StdVBelt, true
}

// Pulley is a V-ribbed pulley as ISO 9981 designates it.
type Pulley struct {
	Grooves   int
	Effective float64 // effective diameter in mm
}

// ReadPulley reads the designation of a PK pulley, P6PK60: the letter P, number
// of grooves, profile, effective diameter in mm (ISO 9981:2020, 5.5). A diameter
// under 45 mm is not allowed (5.2).
func ReadPulley(text string) (Pulley, bool) {
	grooves, diameter, ok := strings.Cut(strings.TrimPrefix(strings.NewReplacer(" ", "", "-", "", ",", ".").Replace(foldDesignation(text)), "P"), "PK")
	n, err := strconv.Atoi(grooves)
	d, err2 := strconv.ParseFloat(diameter, 64)
	if !ok || err != nil || err2 != nil || n <= 0 || d < leastPulley {
		return Pulley{}, false
	}
	return Pulley{n, d}, true
}

// Pitch is the diameter in mm at which the belt runs, by which ratios are worked
// out: the effective diameter and twice the 2 mm that the belt lies above it.
func (p Pulley) Pitch() float64 { return p.Effective + 2*lineAbove }

// Ratio is how often the driven pulley turns for one turn of this one.
func (p Pulley) Ratio(driven Pulley) float64 { return p.Pitch() / driven.Pitch() }

// readGrooves gives the grooves of a pulley on the unit that it drives. Its
// effective diameter is not the outside diameter that part types hold, so that is
// left out.
func readGrooves(m []string) (map[string]string, string, bool) {
	p, ok := ReadPulley(m[0])
	if !ok {
		return nil, "", false
	}
	return map[string]string{"ribs": strconv.Itoa(p.Grooves)}, StdRibbedBelt, true
}
