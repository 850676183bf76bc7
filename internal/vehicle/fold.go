package vehicle

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// Fold gives text one spelling: widths folded, NFKC, upper case, every space
// (no-break and ideographic ones too) one plain space and none at the ends,
// control and invisible characters dropped, dash forms "-" and wave dashes "~".
//
// NFKC leaves most dashes alone, so the dash rule is our own. The long-vowel
// mark ー is a dash only between ASCII letters or digits (spaces between do not
// matter), so that Japanese words keep it. Fold(Fold(s)) equals Fold(s).
func Fold(s string) string {
	if isPlain(s) {
		return strings.ToUpper(oneSpace(s))
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = norm.NFKC.String(width.Fold.String(s))
	s = norm.NFKC.String(strings.Map(foldRune, strings.ToUpper(s)))
	// Dropped characters and upper case (Greek iota subscript) can leave marks
	// that compose or sort anew.
	s = norm.NFKC.String(strings.ToUpper(foldMarks(s)))
	return oneSpace(s)
}

// isPlain tells text that needs no Unicode work: most cells of most lists.
func isPlain(s string) bool {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if (c < ' ' || c > '~') && c != '\t' && c != '\n' && c != '\r' {
			return false
		}
	}
	return true
}

// oneSpace trims s and makes every run of spaces one.
func oneSpace(s string) string {
	return strings.Join(strings.Fields(s), " ")
}

// foldRune maps one character after NFKC; -1 drops it.
func foldRune(r rune) rune {
	switch {
	case isDash(r):
		return '-'
	case r == '\u301C', r == '\u3030', r == '\u223C':
		// The same byte of a Japanese code page arrives as U+301C or as
		// U+FF5E (which NFKC makes "~"), depending on who decoded it.
		return '~'
	case unicode.IsSpace(r):
		return ' '
	case r == '\u00AD':
		return r // soft hyphen: foldMarks decides by its neighbours
	case unicode.In(r, unicode.Cc, unicode.Cf):
		return -1
	}
	return r
}

// isDash tells the dash forms that stand for a hyphen wherever they are.
// U+FF0D and other compatibility forms are "-" already after NFKC.
func isDash(r rune) bool {
	switch {
	case r >= '\u2010' && r <= '\u2015':
		return true
	case r == '\u2212', r == '\u2043', r == '\u02D7': // minus, hyphen bullet, modifier minus
		return true
	case r == '\u2500', r == '\u2501', r == '\u2796': // box lines typed as dashes, heavy minus
		return true
	}
	return false
}

// foldMarks settles the characters that are a dash only between two ASCII
// letters or digits: the long-vowel mark and the soft hyphen.
func foldMarks(s string) string {
	if !strings.ContainsAny(s, "ー\u00AD") {
		return s
	}
	runes := []rune(s)
	out := make([]rune, 0, len(runes))
	for i, r := range runes {
		switch {
		case r != 'ー' && r != '\u00AD':
			out = append(out, r)
		case isASCIIAlnum(neighbour(runes, i, -1)) && isASCIIAlnum(neighbour(runes, i, +1)):
			out = append(out, '-')
		case r == 'ー':
			out = append(out, r)
		}
	}
	return string(out)
}

// neighbour returns the nearest character that is neither space nor soft hyphen,
// in the direction step, or 0 at the end of the text.
func neighbour(runes []rune, at, step int) rune {
	for i := at + step; i >= 0 && i < len(runes); i += step {
		if runes[i] != ' ' && runes[i] != '\u00AD' {
			return runes[i]
		}
	}
	return 0
}

func isASCIIAlnum(r rune) bool {
	return r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z'
}
