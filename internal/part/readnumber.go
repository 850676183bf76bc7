package part

import (
	"fmt"
	"regexp"
	"strings"
)

// decimal is a number as sheets write it: 12, 12.5, 12,5, 3/4, 26 1/4, 26-1/4.
const decimal = `[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?`

var (
	numberPattern = regexp.MustCompile(`^(<|>|≤|≥|≈|~|±|(?i:about|approx\.?|ca\.?)|約)?\s*(` + decimal + `)\s*([^0-9\s?/.,-][^?]*?)?\s*(\?*)$`)
	grouped       = regexp.MustCompile(`^[1-9][0-9]{0,2},[0-9]{3}$`)
	rangePattern  = regexp.MustCompile(`^(` + decimal + `)\s*([^0-9\s?/.,~–-]*)\s*(?:-|–|~|to|bis|a)\s*(` + decimal + `)\s*([^0-9\s?]*)\s*(\?*)$`)
	threadPattern = regexp.MustCompile(`^m\s*([0-9]+)(?:\s*[x×*-]\s*([0-9]*[.,]?[0-9]+))?$`)
)

func readNumber(a Attribute, raw, text string) (Value, error) {
	n, mark, err := number(a, raw, text)
	if err != nil {
		return Value{}, err
	}
	v := Value{Raw: raw, Numbers: []float64{n}, Doubt: doubtOf(text)}
	switch mark {
	case "":
	case "<", ">", "≤", "≥":
		v.Doubt = doubtBound
	default:
		v.Doubt = doubtMarked
	}
	return v, nil
}

// number reads one decimal with its unit and the mark before it.
func number(a Attribute, raw, text string) (n float64, mark string, err error) {
	m := numberPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, "", fmt.Errorf("%q is no number for %s", raw, a.Title)
	}
	n, err = convert(m[2], m[3], a)
	return n, m[1], err
}

// readSize reads decimals with a cross between them; a unit after the last one
// holds for those before it that have none.
func readSize(a Attribute, raw, text string) (Value, error) {
	v := Value{Raw: raw, Doubt: doubtOf(text)}
	pieces := strings.FieldsFunc(strings.TrimRight(text, "? "), func(r rune) bool { return strings.ContainsRune("xX×*", r) })
	unit := ""
	for i := len(pieces) - 1; i >= 0; i-- {
		m := numberPattern.FindStringSubmatch(strings.TrimSpace(pieces[i]))
		if m == nil {
			return Value{}, fmt.Errorf("%q is no size for %s", raw, a.Title)
		}
		if m[3] != "" {
			unit = m[3]
		}
		n, err := convert(m[2], unit, a)
		if err != nil {
			return Value{}, err
		}
		v.Numbers = append([]float64{n}, v.Numbers...)
	}
	if len(v.Numbers) == 0 {
		return Value{}, fmt.Errorf("%q is no size for %s", raw, a.Title)
	}
	return v, nil
}

// readRange reads one value or the two ends of a range, lower end first.
func readRange(a Attribute, raw, text string) (Value, error) {
	m := rangePattern.FindStringSubmatch(text)
	if m == nil {
		return readNumber(a, raw, text)
	}
	if m[2] == "" {
		m[2] = m[4]
	}
	low, err := convert(m[1], m[2], a)
	if err != nil {
		return Value{}, err
	}
	high, err := convert(m[3], m[4], a)
	if err != nil {
		return Value{}, err
	}
	return Value{Raw: raw, Numbers: []float64{min(low, high), max(low, high)}, Doubt: doubtOf(strings.ReplaceAll(text, "~", "-"))}, nil
}

// readThread reads a metric thread as m10x1.25; any other thread stays a word.
// A bare M10 is a doubt: a thread without its pitch, or a wrench size.
func readThread(raw, text string) Value {
	word := FoldWord(text)
	v := Value{Raw: raw, Words: []string{word}, Doubt: doubtOf(text)}
	m := threadPattern.FindStringSubmatch(word)
	if m == nil {
		return v
	}
	if m[2] == "" {
		v.Words[0] = "m" + m[1]
		v.Doubt = "M" + m[1] + ": thread or wrench size?"
		return v
	}
	pitch := strings.ReplaceAll(m[2], ",", ".")
	if strings.HasPrefix(pitch, ".") {
		pitch = "0" + pitch
	}
	if strings.Contains(pitch, ".") {
		pitch = strings.TrimSuffix(strings.TrimRight(pitch, "0"), ".")
	}
	v.Words[0] = "m" + m[1] + "x" + pitch
	return v
}
