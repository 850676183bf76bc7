package query

import (
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// Words cuts a text into the words by which it is found, in their order, with
// repetitions. Width, case, accents and the long-vowel mark make no difference.
// What is written without blanks between words (Japanese, Chinese, Korean, Thai
// and their neighbours) is cut into overlapping pairs of characters, so that a
// part of a compound is found; a character that stands alone is a word.
func Words(text string) []string {
	var out []string
	var run []rune
	var paired bool
	flush := func() {
		out = append(out, cut(run, paired)...)
		run = run[:0]
	}
	for _, r := range fold(text) {
		if !isWordRune(r) {
			flush()
			continue
		}
		if p := isUnspaced(r); p != paired {
			flush()
			paired = p
		}
		run = append(run, r)
	}
	flush()
	return out
}

// cut gives a run of one manner of writing as words.
func cut(run []rune, paired bool) []string {
	switch {
	case len(run) == 0:
		return nil
	case !paired || len(run) == 1:
		return []string{string(run)}
	}
	out := make([]string, 0, len(run)-1)
	for i := 0; i+1 < len(run); i++ {
		out = append(out, string(run[i:i+2]))
	}
	return out
}

func isWordRune(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.M, r)
}

// unspaced are the scripts that put no blank between words, and Hangul, whose
// compounds are written with or without.
var unspaced = []*unicode.RangeTable{unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul,
	unicode.Thai, unicode.Lao, unicode.Khmer, unicode.Myanmar}

func isUnspaced(r rune) bool { return r > unicode.MaxLatin1 && unicode.In(r, unspaced...) }

// accented are the scripts in which a mark over a letter is left out as often as
// it is typed. Elsewhere a mark makes another letter: ハ and バ differ.
var accented = []*unicode.RangeTable{unicode.Latin, unicode.Greek, unicode.Cyrillic}

// fold gives a text one spelling for comparison: width, case (ß is ss), accents.
func fold(text string) string {
	if isASCII(text) {
		return strings.ToLower(text)
	}
	text = norm.NFKC.String(width.Fold.String(strings.ToValidUTF8(text, " ")))
	text = norm.NFD.String(cases.Fold().String(text))
	var b strings.Builder
	drop := false // whether a mark that comes now belongs to an accented script
	for _, r := range text {
		switch {
		case unicode.Is(unicode.Mn, r) && drop:
			continue
		case r == longVowel:
			continue // ウォータ and ウォーター are both usual (JIS Z 8301, annex on long vowels)
		case !unicode.Is(unicode.M, r):
			drop = unicode.In(r, accented...)
		}
		b.WriteRune(r)
	}
	return norm.NFC.String(b.String())
}

// longVowel is the sound mark U+30FC.
const longVowel = 'ー'

func isASCII(text string) bool {
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 {
			return false
		}
	}
	return true
}
