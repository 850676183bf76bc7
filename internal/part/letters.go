package part

import "unicode"

// longVowel is the Japanese sound mark U+30FC, a letter by its Unicode class.
// Between Latin letters and digits it is a badly typed dash, so a key never
// holds it.
const longVowel = 'ー'

// plain reports whether a rune is one of those that a key is made of.
func plain(r rune) bool { return r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' }

// keyRune keeps a rune that belongs in a key and drops any other.
func keyRune(r rune) rune {
	if plain(r) || r != longVowel && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
		return r
	}
	return -1
}
