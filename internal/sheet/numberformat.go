package sheet

import "strings"

// numberFormat is what a cell style says of the way in which a number is shown.
type numberFormat struct {
	code    string     // as written, "" for General
	date    bool       // the number is a date, a time or both
	pad     []padPart  // a format of digits and characters, as 00000-00000; nil where it is none
	pattern []datePart // how a date is shown; nil where that depends on the machine's language
	elapsed bool       // a duration, as [h]:mm
}

// builtInFormats are the codes that every spreadsheet program knows by number
// (ECMA-376 part 1, 18.8.30). 14 and 22 are shown as the machine's language has
// it, so they say nothing of the order of day and month.
var builtInFormats = map[int]string{
	1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 9: "0%", 10: "0.00%", 11: "0.00E+00",
	12: "# ?/?", 13: "# ??/??", 14: "m/d/yyyy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy",
	18: "h:mm AM/PM", 19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yyyy h:mm",
	37: "#,##0 ;(#,##0)", 38: "#,##0 ;[Red](#,##0)", 39: "#,##0.00;(#,##0.00)", 40: "#,##0.00;[Red](#,##0.00)",
	45: "mm:ss", 46: "[h]:mm:ss", 47: "mm:ss.0", 48: "##0.0E+0", 49: "@",
}

// builtInFormat gives the code of a built-in format. Those whose code depends on
// the language are named by their number.
func builtInFormat(id int) string {
	if code, ok := builtInFormats[id]; ok {
		return code
	}
	if builtInDate(id) {
		return "date format " + itoa(id)
	}
	return ""
}

// builtInDate tells whether a built-in format shows a date or a time; 27 to 36
// and 50 to 58 are the dates of the East Asian versions.
func builtInDate(id int) bool {
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
}

// localDate tells whether the order of a built-in date is the machine's choice.
func localDate(id int) bool { return id == 14 || id == 22 || id >= 27 && id <= 36 || id >= 50 }

// readFormat looks at a format code. own is false for a built-in one.
func readFormat(id int, code string, own bool) numberFormat {
	if strings.EqualFold(code, "General") || code == "" {
		return numberFormat{}
	}
	f := numberFormat{code: code}
	if !own && !builtInDate(id) {
		return f
	}
	first := scanFormat(code)
	switch {
	case !own && localDate(id):
		f.date = true
	case first.isDate():
		f.date = true
		f.elapsed = first.elapsed()
		f.pattern = first.datePattern()
	default:
		f.pad = first.padPattern()
	}
	return f
}

// formatToken is a piece of a format code.
type formatToken struct {
	kind formatKind
	text string
}

type formatKind int

const (
	fmtCode    formatKind = iota // letters and placeholders, a run of one character
	fmtLiteral                   // shown as it stands
	fmtBracket                   // what stands in [ ]
	fmtBlank                     // a space as wide as a character, or a filler
)

type formatTokens []formatToken

// scanFormat splits the first section of a format code, which is the one for
// numbers above zero.
func scanFormat(code string) formatTokens {
	var tokens formatTokens
	for len(code) > 0 {
		c := code[0]
		switch {
		case c == ';':
			return tokens
		case c == '"':
			text, rest, _ := strings.Cut(code[1:], `"`)
			tokens, code = append(tokens, formatToken{fmtLiteral, text}), rest
		case c == '[':
			text, rest, _ := strings.Cut(code[1:], "]")
			tokens, code = append(tokens, formatToken{fmtBracket, text}), rest
		case c == '\\' || c == '_' || c == '*':
			char := firstChar(code[1:])
			kind, text := fmtBlank, ""
			if c == '\\' {
				kind, text = fmtLiteral, char
			}
			tokens, code = append(tokens, formatToken{kind, text}), code[1+len(char):]
		case c >= 0x80:
			char := firstChar(code)
			tokens, code = append(tokens, formatToken{fmtLiteral, char}), code[len(char):]
		default:
			n := runLength(code)
			tokens, code = append(tokens, formatToken{fmtCode, code[:n]}), code[n:]
		}
	}
	return tokens
}

// runLength counts how often the first letter stands at the beginning. AM/PM and
// A/P are one piece.
func runLength(code string) int {
	for _, word := range []string{"AM/PM", "A/P"} {
		if len(code) >= len(word) && strings.EqualFold(code[:len(word)], word) {
			return len(word)
		}
	}
	n := 1
	for n < len(code) && lower(code[n]) == lower(code[0]) {
		n++
	}
	return n
}

func lower(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}

func firstChar(s string) string {
	for i := range s {
		if i > 0 {
			return s[:i]
		}
	}
	return s
}

// isDate tells whether a code shows a date: it holds year, month, day, hour or
// second outside quotes, or a duration in brackets.
func (tokens formatTokens) isDate() bool {
	for _, t := range tokens {
		if t.kind == fmtCode && strings.IndexByte("ymdhs", lower(t.text[0])) >= 0 && !isClock(t.text) ||
			t.kind == fmtBracket && isElapsed(t.text) {
			return true
		}
	}
	return false
}

// isClock tells whether a piece is AM/PM or A/P.
func isClock(text string) bool { return strings.Contains(text, "/") && len(text) > 1 }

// padPart is one character of a padded number: a digit's place or a literal.
type padPart struct {
	digit   bool
	always  bool // a place that shows 0 where the number has no digit
	literal string
}

// padPattern reads a format that pads with zeros or groups digits: 0000000,
// 00000-00000, "QX-"0000. nil for anything else, also where nothing is gained
// over the bare number.
func (tokens formatTokens) padPattern() []padPart {
	var parts []padPart
	zeros, places, grouped, open := 0, 0, false, false
	for _, t := range tokens {
		switch {
		case t.kind == fmtBlank:
		case t.kind == fmtBracket && !strings.ContainsAny(t.text, "<>="):
		case t.kind == fmtLiteral, t.kind == fmtCode && strings.IndexByte(" -+()':!&~{}$", t.text[0]) >= 0:
			parts = append(parts, padPart{literal: t.text})
			open = places > 0
		case t.kind == fmtCode && strings.IndexByte("0#?", t.text[0]) >= 0:
			grouped = grouped || open
			places += len(t.text)
			for range len(t.text) {
				parts = append(parts, padPart{digit: true, always: t.text[0] == '0'})
			}
			if t.text[0] == '0' {
				zeros += len(t.text)
			}
		default:
			return nil
		}
	}
	if zeros < 2 && !grouped {
		return nil
	}
	return parts
}

// appendPadded writes a whole number, given by its digits, in a padded format.
// Digits that have no place stand before the first one.
func appendPadded(dst []byte, digits []byte, parts []padPart) []byte {
	places := 0
	for _, p := range parts {
		if p.digit {
			places++
		}
	}
	for len(digits) > 1 && digits[0] == '0' {
		digits = digits[1:]
	}
	if string(digits) == "0" {
		digits = nil
	}
	for _, p := range parts {
		if !p.digit {
			dst = append(dst, p.literal...)
			continue
		}
		for len(digits) > places {
			dst, digits = append(dst, digits[0]), digits[1:]
		}
		if len(digits) == places {
			dst, digits = append(dst, digits[0]), digits[1:]
		} else if p.always {
			dst = append(dst, '0')
		}
		places--
	}
	return dst
}
