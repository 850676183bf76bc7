package part

import "unicode"

// longVowel is the Japanese sound mark U+30FC, a letter by its Unicode class.
// Between Latin letters and digits it is a badly typed dash, so a key never
// holds it.
const longVowel = 'ー'

// isLetterOrDigit reports whether a rune outside A-Z and 0-9 belongs in a key.
func isLetterOrDigit(r rune) bool {
	return r != longVowel && (unicode.IsLetter(r) || unicode.IsDigit(r))
}
