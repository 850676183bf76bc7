package part

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Standards by which designations are read. What a wheel-bearing maker's
// designation says is common practice and stands in no standard.
const (
	StdBattery      = "JIS D 5301"
	StdStopStart    = "JIS D 5306"
	StdRibbedBelt   = "ISO 9981" // PK; the same profile stands in ISO 9982
	StdOtherRibbed  = "ISO 9982" // PH, PJ, PL, PM
	StdVBelt        = "ISO 2790"
	StdBearing      = "ISO 15"
	StdWheelBearing = "common practice, no standard"
)

// ReadDesignation reads a standard designation as values of the attributes of a
// part type: "55B24L" of a battery, "6PK1270" of a belt, "6203ZZ" and
// "DAC33660035" of a wheel bearing, "P6PK60" of what a ribbed belt drives. Each
// value is raw text as ReadValue takes it, by attribute; std is the standard that
// says so. Width, case and blanks make no difference. ok is false for any other
// text, and for one that the standard does not allow; nothing is ever guessed.
func ReadDesignation(typeName, text string) (values map[string]string, std string, ok bool) {
	folded := foldDesignation(text)
	for _, d := range designations {
		if !slices.Contains(d.types, typeName) {
			continue
		}
		if m := d.whole.FindStringSubmatch(folded); m != nil {
			if values, std, ok = d.read(m[1:]); ok {
				return values, std, true
			}
		}
	}
	return nil, "", false
}

// SuggestDesignation gives the designation that was probably meant where a
// letter O was typed for a zero: no designation that is read here holds an O. It
// is a suggestion for a person, never a reading.
func SuggestDesignation(typeName, text string) (string, bool) {
	if _, _, ok := ReadDesignation(typeName, text); ok {
		return "", false
	}
	folded := foldDesignation(text)
	mended := strings.ReplaceAll(folded, "O", "0")
	_, _, ok := ReadDesignation(typeName, mended)
	return mended, ok && mended != folded
}

// Designated is what a designation in a cell says of one attribute.
type Designated struct {
	Attribute string
	Value     Value
	Standard  string
}

// Designations reads the designations that stand in a cell, among other words or
// alone ("Battery 55B24L, new"), as values in the order of the part type's
// attributes. What the type has no attribute for is left out. Two designations
// that contradict one another say nothing, since nobody tells which one the part
// bears; nor does one that is a piece of something longer.
func Designations(t Type, text string) []Designated {
	values, std := map[string]string{}, map[string]string{}
	for _, f := range find(t.Name, foldDesignation(text)) {
		for name, raw := range f.values {
			have, again := values[name]
			switch {
			case !again || have == raw:
			case name == codeStandard, name == sizeCode:
				raw = have + " / " + raw // a battery bears the codes of two standards
			default:
				return nil
			}
			values[name], std[name] = raw, f.std
		}
	}
	var out []Designated
	for _, a := range t.Attributes {
		raw, said := values[a.Name]
		if v, err := ReadValue(a, raw); said && err == nil {
			out = append(out, Designated{a.Name, v, std[a.Name]})
		}
	}
	return out
}

// designationForm is one form that designations have.
type designationForm struct {
	types         []string // part types that bear it
	whole, within *regexp.Regexp
	read          func(m []string) (values map[string]string, std string, ok bool)
}

var designations = slices.Concat(batteryCodes, beltCodes, pulleyCodes, bearingCodes)

// newDesignation compiles the pattern of a form, for a whole text and for one
// among words. Between its pieces a blank or a dash may stand.
func newDesignation(pattern string, read func([]string) (map[string]string, string, bool), types ...string) designationForm {
	pattern = strings.ReplaceAll(pattern, "_", `[ -]?`)
	return designationForm{types, regexp.MustCompile(`^` + pattern + `$`), regexp.MustCompile(pattern), read}
}

// foldDesignation folds width and case, makes one dash of all and drops blanks
// at the ends.
func foldDesignation(text string) string {
	folded := strings.Map(func(r rune) rune {
		switch r {
		case '‐', '‑', '–', '—', '−':
			return '-'
		case '×', '*':
			return 'X'
		}
		return r
	}, strings.ToUpper(foldText(text)))
	return strings.Join(strings.Fields(folded), " ")
}

// foundDesignation is a designation that stands in a text.
type foundDesignation struct {
	values map[string]string
	std    string
}

func find(typeName, text string) []foundDesignation {
	var out []foundDesignation
	for _, d := range designations {
		if !slices.Contains(d.types, typeName) {
			continue
		}
		for _, at := range d.within.FindAllStringSubmatchIndex(text, -1) {
			if !endsHere(typeName, text[:at[0]], true) || !endsHere(typeName, text[at[1]:], false) {
				continue
			}
			if values, std, ok := d.read(pieces(text, at)); ok {
				out = append(out, foundDesignation{values, std})
			}
		}
	}
	return out
}

// pieces gives the submatches of a match by its places.
func pieces(text string, at []int) []string {
	var out []string
	for i := 2; i < len(at); i += 2 {
		piece := ""
		if at[i] >= 0 {
			piece = text[at[i]:at[i+1]]
		}
		out = append(out, piece)
	}
	return out
}

// endsHere reports whether a designation may begin behind, or end before, the
// rest of a text. Behind a stroke another whole designation may stand
// (M-42/55B20L), but not a tail (55B24L/R, 6PK1270/1275): which one holds is then
// not said.
func endsHere(typeName, rest string, before bool) bool {
	r, n := utf8.DecodeRuneInString(rest)
	cut := func(s string) string { w, _, _ := strings.Cut(s[n:], " "); return w }
	if before {
		r, n = utf8.DecodeLastRuneInString(rest)
		cut = func(s string) string { return s[strings.LastIndex(s, " ")+1 : len(s)-n] }
	}
	switch {
	case rest == "", strings.ContainsRune(" ,;:()[]\"'、。・", r):
		return true
	case r == '/':
		_, _, ok := ReadDesignation(typeName, cut(rest))
		return ok
	}
	return r > unicode.MaxASCII && unicode.IsLetter(r)
}

// DesignatedTypes lists the part types whose designations are read, sorted.
func DesignatedTypes() []string {
	types := map[string]bool{}
	for _, d := range designations {
		for _, t := range d.types {
			types[t] = true
		}
	}
	return slices.Sorted(maps.Keys(types))
}
