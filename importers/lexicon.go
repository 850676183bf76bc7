package importers

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// lexicon knows what the words of one file in data/words mean.
type lexicon struct {
	whole   map[string][]string // squashed phrase -> meanings, in the order of the file
	eastern []string            // squashed phrases of scripts without spaces, longest first
	longest int                 // words of the longest phrase
}

func newLexicon() *lexicon { return &lexicon{whole: map[string][]string{}, longest: 1} }

// add adds a phrase with a meaning; a meaning that it has already is not added
// again.
func (l *lexicon) add(phrase, meaning string) {
	key := squash(phrase)
	if slices.Contains(l.whole[key], meaning) {
		return
	}
	if _, known := l.whole[key]; !known && isEastern(key) {
		l.eastern = append(l.eastern, key)
		slices.SortStableFunc(l.eastern, func(a, b string) int { return len(b) - len(a) })
	}
	l.whole[key] = append(l.whole[key], meaning)
	l.longest = max(l.longest, len(words(phrase)))
}

// of gives the meanings of a text that is one whole phrase.
func (l *lexicon) of(text string) []string { return l.whole[squash(text)] }

// is reports whether a text is a phrase of that meaning.
func (l *lexicon) is(text, meaning string) bool { return slices.Contains(l.of(text), meaning) }

// hit is a phrase found inside a text: its meanings, and the words that it
// covers, from and to (not included). Eastern phrases lie inside one word.
type hit struct {
	meanings []string
	phrase   string // squashed
	from, to int
	at       int // byte offset inside the word, for eastern phrases
}

// hits finds the known phrases in a text, longest first and never overlapping,
// in the order in which they stand. Phrases of fewer than three Latin letters
// are found only as a whole text, unless short is set: "n" stands in too many
// sentences.
func (l *lexicon) hits(text string, short bool) []hit {
	toks := words(text)
	taken := make([]bool, len(toks))
	var out []hit
	for n := min(l.longest, len(toks)); n >= 1; n-- {
		for i := 0; i+n <= len(toks); i++ {
			key := strings.Join(toks[i:i+n], "")
			meanings := l.whole[key]
			if meanings == nil || !short && len(key) < 3 && len(toks) > n || slices.Contains(taken[i:i+n], true) {
				continue
			}
			for j := i; j < i+n; j++ {
				taken[j] = true
			}
			out = append(out, hit{meanings, key, i, i + n, 0})
		}
	}
	for i, w := range toks {
		if !taken[i] && isEastern(w) {
			out = append(out, l.inside(w, i)...)
		}
	}
	slices.SortFunc(out, func(a, b hit) int {
		if a.from != b.from {
			return a.from - b.from
		}
		return a.at - b.at
	})
	return out
}

// inside finds eastern phrases in a run of letters without spaces.
func (l *lexicon) inside(word string, index int) []hit {
	var out []hit
	for _, key := range l.eastern {
		if at := strings.Index(word, key); at >= 0 {
			out = append(out, hit{l.whole[key], key, index, index + 1, at})
			word = word[:at] + strings.Repeat("\x00", len(key)) + word[at+len(key):]
		}
	}
	return out
}

// first gives the first meaning of a text: of the whole text, else of the
// longest phrase in it. ok is false where nothing is known.
func (l *lexicon) first(text string) (meaning string, ok bool) {
	if m := l.of(text); len(m) > 0 {
		return m[0], true
	}
	var best *hit
	for _, h := range l.hits(text, false) {
		if best == nil || len(h.phrase) > len(best.phrase) {
			best = &h
		}
	}
	if best == nil {
		return "", false
	}
	return best.meanings[0], true
}

// squash gives the form in which words are compared: without width, case,
// accents of Latin letters, punctuation and spaces. A text of signs alone stays
// as it is, because "〃" and "○" mean something.
func squash(text string) string {
	if key := strings.Join(words(text), ""); key != "" {
		return key
	}
	return strings.ToLower(strings.TrimSpace(norm.NFKC.String(text)))
}

// words splits a text into folded words.
func words(text string) []string {
	return strings.FieldsFunc(fold(text), func(r rune) bool { return r == ' ' })
}

// fold makes everything that is no letter or digit a space. "#" and "№" stand
// for "no".
func fold(text string) string {
	if isPlainASCII(text) {
		return strings.Map(foldRune, strings.ReplaceAll(strings.ToLower(text), "#", " no "))
	}
	text = strings.ToLower(norm.NFKC.String(width.Fold.String(text)))
	text = strings.NewReplacer("#", " no ", "ß", "ss").Replace(text)
	return strings.Map(foldRune, norm.NFC.String(dropAccents(norm.NFD.String(text))))
}

func foldRune(r rune) rune {
	if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) {
		return r
	}
	return ' '
}

// dropAccents takes the accents off Latin and Cyrillic letters; the voiced
// marks of Japanese are no accents.
func dropAccents(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= 0x300 && r <= 0x36F {
			return -1
		}
		return r
	}, text)
}

func isPlainASCII(text string) bool {
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 {
			return false
		}
	}
	return true
}

// isEastern tells texts in a script that sets no spaces between words.
func isEastern(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul)
	})
}
