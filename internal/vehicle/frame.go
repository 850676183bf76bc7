package vehicle

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Frame is the frame number of a Japanese domestic vehicle: model code, hyphen,
// serial, as in SV30-0169266. It has no check digit and states neither maker
// nor year.
type Frame struct {
	Raw          string // as given
	Prefix       string // exhaust-rule symbol that somebody wrote in front, usually empty
	ModelCode    string // before the hyphen, "" where it cannot be told
	Serial       string // after the hyphen, leading zeros kept, "" where it cannot be told
	SerialNumber int64  // Serial as a number, -1 where it is not one
	Width        int    // digits of Serial, 0 where it is not a number
}

// Limits of the usual shape ^[A-Z0-9]{2,8}-[0-9]{5,8}$. Serial widths differ by
// maker (6 and 7 digits are the common ones), so a width is a hint, never a rule.
const (
	minModelCode, maxModelCode = 2, 8
	minSerial, maxSerial       = 5, 8
	maxNumber                  = 18 // digits that an int64 holds for certain
	noNumber                   = -1
	vinLength                  = 17
)

// String returns the frame number as it should be written, or the folded text
// where it could not be taken apart.
func (f Frame) String() string {
	if f.ModelCode == "" {
		return Fold(f.Raw)
	}
	return f.ModelCode + "-" + f.Serial
}

// Usual reports whether the frame number has the usual shape.
func (f Frame) Usual() bool {
	return f.Width >= minSerial && f.Width <= maxSerial && usualModelCode(f.ModelCode)
}

// ParseFrame reads a frame number. What is not of the usual shape is read as far
// as it can be, with a warning: a missing hyphen (SplitFrame offers where it may
// belong), an odd width, a number stamped by the authority (with kanji), a
// 17-character VIN. Only text without any letter or digit is an error.
func ParseFrame(s string) (Frame, []Warning, error) {
	f := Frame{Raw: s, SerialNumber: noNumber}
	text, warnings := trimDividers(Fold(s))
	if !strings.ContainsFunc(text, isLetterOrDigit) {
		return Frame{}, nil, &ParseError{Code: CodeEmpty, Text: s, Message: "no frame number here",
			Hint: "it is stamped on the body, as in ABC12-0123456"}
	}
	switch at := strings.LastIndexByte(text, '-'); {
	case looksLikeVIN(text):
		warnings = append(warnings, Warning{WarnLooksLikeVIN, "17 characters without a hyphen: a VIN, not a frame number"})
	case strings.ContainsFunc(text, isHan):
		warnings = append(warnings, Warning{WarnAuthority, "holds kanji: stamped by the authority; it tells no model code"})
	case at >= 0:
		warnings = append(warnings, f.take(text[:at], text[at+1:])...)
	default:
		warnings = append(warnings, f.takeSpaced(text)...)
	}
	return f, warnings, nil
}

// take fills model code and serial from the two sides of the last hyphen.
func (f *Frame) take(before, after string) []Warning {
	var warnings []Warning
	before, after = strings.TrimRight(before, " -"), strings.TrimLeft(after, " ")
	if prefix, code, ok := strings.Cut(before, "-"); ok {
		if _, known := DecodePrefix(strings.TrimSpace(prefix)); known {
			f.Prefix, before = strings.TrimSpace(prefix), strings.TrimSpace(code)
			warnings = append(warnings, Warning{WarnPrefix, f.Prefix + " is the exhaust-rule symbol of the model designation, not part of the frame number"})
		}
	}
	f.ModelCode = before
	f.setSerial(after)
	if !usualModelCode(before) || f.Width == 0 {
		warnings = append(warnings, Warning{WarnOddShape, f.oddShape()})
	} else if f.Width < minSerial || f.Width > maxSerial {
		warnings = append(warnings, Warning{WarnOddWidth,
			fmt.Sprintf("the serial has %d digits, %d to %d are usual: read it again", f.Width, minSerial, maxSerial)})
	}
	return warnings
}

// takeSpaced reads text without a hyphen: one space in its place is enough to
// tell the two parts, nothing in its place is not.
func (f *Frame) takeSpaced(text string) []Warning {
	code, serial, ok := strings.Cut(text, " ")
	if ok && usualModelCode(code) && len(serial) >= minSerial && allDigits(serial) {
		return append([]Warning{{WarnMissingHyphen, "no hyphen: the space was read as one"}}, f.take(code, serial)...)
	}
	return []Warning{{WarnMissingHyphen, "no hyphen: where the model code ends cannot be told"}}
}

func (f *Frame) setSerial(serial string) {
	f.Serial = serial
	if !allDigits(serial) || len(serial) > maxNumber {
		return
	}
	f.SerialNumber, _ = strconv.ParseInt(serial, 10, 64)
	f.Width = len(serial)
}

// oddShape says what is unusual and, for the letters that are misread most,
// what the serial would be with digits in their place.
func (f *Frame) oddShape() string {
	digits := strings.NewReplacer("O", "0", "I", "1").Replace(f.Serial)
	if digits != f.Serial && allDigits(digits) {
		return fmt.Sprintf("the serial %s holds a letter: is %s meant?", f.Serial, digits)
	}
	return "a model code of letters and digits, a hyphen and a serial of digits are usual: read it again"
}

// SplitFrame offers the ways in which a frame number written without its hyphen
// can be split, the commonest serial width first (7, 6, then 8 and 5 digits).
// Compare the model codes with those known; the text alone does not decide.
func SplitFrame(s string) []Frame {
	text, _ := trimDividers(Fold(s))
	text = strings.ReplaceAll(text, " ", "")
	var out []Frame
	for _, width := range [...]int{7, 6, 8, 5} {
		at := len(text) - width
		if at < minModelCode || !allDigits(text[at:]) || !usualModelCode(text[:at]) || allDigits(text[:at]) {
			continue
		}
		f := Frame{Raw: s, ModelCode: text[:at]}
		f.setSerial(text[at:])
		out = append(out, f)
	}
	return out
}

// trimDividers removes the stars that plates and stampings carry at both ends.
func trimDividers(text string) (string, []Warning) {
	out := strings.Trim(text, "*★☆ ")
	if out == text {
		return text, nil
	}
	return out, []Warning{{WarnDividers, "the dividers at the ends are not part of the number"}}
}

func looksLikeVIN(text string) bool {
	return len(text) == vinLength && !strings.ContainsFunc(text, func(r rune) bool { return !isASCIIAlnum(r) })
}

func usualModelCode(s string) bool {
	if len(s) < minModelCode || len(s) > maxModelCode {
		return false
	}
	return !strings.ContainsFunc(s, func(r rune) bool { return !isASCIIAlnum(r) })
}

func allDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

func isHan(r rune) bool { return unicode.Is(unicode.Han, r) }

func isLetterOrDigit(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
