package part

import (
	"math"
	"slices"
	"strings"
)

// lost takes up what binary fractions lose in a conversion of units.
const lost = 1e-9

// noneWord is the word of an empty set and either the word of a part that goes
// on both sides.
const (
	noneWord   = "none"
	eitherWord = "either"
)

// hold compares by the attribute's rule alone.
func hold(a Attribute, wanted, found Value) held {
	switch {
	case a.Compare == Any:
		return held{}
	case wanted.IsZero() || found.IsZero():
		return held{open: true}
	case len(wanted.Numbers) > 0 && len(found.Numbers) > 0:
		return holdNumbers(a, wanted.Numbers, found.Numbers)
	case a.Kind == KindBool:
		return held{fails: holdBool(a, wanted.Words, found.Words)}
	case a.Kind == KindThread:
		return holdThread(wanted.String(), found.String())
	case a.Compare == Includes:
		return held{fails: holdSet(wanted.Words, found.Words)}
	case slices.Equal(wanted.Words, found.Words):
		return held{}
	case a.Compare == Handed && found.String() == eitherWord:
		return held{}
	}
	return held{fails: []fail{{when: Differs, wanted: wanted.String(), found: found.String()}}}
}

func holdNumbers(a Attribute, wanted, found []float64) held {
	if a.Compare == InRange {
		return held{fails: holdRange(a, wanted, found)}
	}
	h := held{open: len(wanted) != len(found)}
	for i := range min(len(wanted), len(found)) {
		when, by := step(a.Unit, wanted[i], found[i])
		if by <= tolerance(a, wanted[i]) {
			continue
		}
		h.fails = append(h.fails, fail{when: when, by: by, dimension: i + 1, agrees: allows(a.Compare, when)})
	}
	return h
}

// allows reports whether a comparison lets the candidate go that way.
func allows(c Comparison, when When) bool {
	return (c == AtLeast || c == Includes) && when == More || c == AtMost && when == Less
}

// holdRange asks whether the two sides meet: a fixed value inside the other
// side's range of adjustment, two fixed values within the tolerance, or two
// ranges that overlap.
func holdRange(a Attribute, wanted, found []float64) []fail {
	low, high := slices.Min(wanted), slices.Max(wanted)
	slack := tolerance(a, high)
	if by := slices.Min(found) - high; by > slack {
		return []fail{{when: More, by: by, dimension: 1}}
	}
	if by := low - slices.Max(found); by > slack {
		return []fail{{when: Less, by: by, dimension: 1}}
	}
	return nil
}

// circle is where a unit begins again: twelve is next to one.
var circle = map[string]float64{"o'clock": 12, "°": 360}

// step says which way and how far the found value lies from the wanted one; on
// a circle it goes the shorter way round.
func step(unit string, wanted, found float64) (When, float64) {
	by := found - wanted
	if round := circle[unit]; round > 0 {
		by = math.Remainder(by, round)
	}
	if by > 0 {
		return More, by
	}
	return Less, -by
}

// tolerance is in the attribute's unit; per cent are of the wanted value.
func tolerance(a Attribute, wanted float64) float64 {
	if a.Tolerance == 0 && a.Percent > 0 {
		return wanted*a.Percent/100 + lost
	}
	return a.Tolerance + lost
}

func holdBool(a Attribute, wanted, found []string) []fail {
	if slices.Equal(wanted, found) {
		return nil
	}
	f := fail{when: Extra, wanted: wanted[0], found: found[0], agrees: a.Compare == Includes}
	if wanted[0] == boolYes {
		f.when, f.agrees = Missing, false
	}
	return []fail{f}
}

// holdSet lists what the candidate lacks, then what it has beyond the wanted.
func holdSet(wanted, found []string) []fail {
	var fails []fail
	for _, w := range wanted {
		if w != noneWord && !slices.Contains(found, w) {
			fails = append(fails, fail{when: Missing, wanted: w})
		}
	}
	for _, f := range found {
		if f != noneWord && !slices.Contains(wanted, f) {
			fails = append(fails, fail{when: Extra, found: f, agrees: true})
		}
	}
	return fails
}

// holdThread compares the diameter, then the pitch. A thread without a pitch
// is not read as the coarse one: on vehicles a bare M10 is usually M10x1.25
// (common practice, no source), by ISO 262 it would be M10x1.5.
func holdThread(wanted, found string) held {
	if wanted == found {
		return held{}
	}
	wd, wp, _ := strings.Cut(wanted, "x")
	fd, fp, _ := strings.Cut(found, "x")
	if wd == fd && (wp == "" || fp == "") {
		return held{open: true}
	}
	return held{fails: []fail{{when: Differs, wanted: wanted, found: found}}}
}
