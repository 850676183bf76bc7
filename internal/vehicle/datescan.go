package vehicle

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is one piece of a date. For numbers width is the count of digits and
// quoted tells an apostrophe before it; spaced tells a space before the token.
type token struct {
	kind   kind
	text   string
	value  int
	width  int
	quoted bool
	spaced bool
}

// maxTokens bounds the work on a cell that holds a whole note.
const maxTokens = 40

const maxDigits = 8 // yyyymmdd

// foldDate folds text and gives all apostrophes one form. The acute accent goes
// first, because NFKC takes it for a space with an accent.
func foldDate(s string) string {
	return dropClock(Fold(apostrophes.Replace(s)))
}

var apostrophes = strings.NewReplacer("´", "'", "`", "'", "’", "'", "‘", "'", "′", "'", "＇", "'")

// dropClock removes the time of day that spreadsheets put behind a date.
func dropClock(text string) string {
	colon := strings.IndexByte(text, ':')
	if colon < 0 {
		return text
	}
	at := strings.LastIndexAny(text[:colon], " T")
	if at < 0 || strings.Trim(text[at+1:], "0123456789:.Z") != "" {
		return text
	}
	return text[:at]
}

// scan cuts folded text into tokens; what it does not know becomes a kBad token.
func scan(text string) []token {
	var out []token
	spaced := false
	for text != "" && len(out) < maxTokens {
		if text[0] == ' ' {
			text, spaced = text[1:], true
			continue
		}
		t, rest := next(text)
		t.spaced, spaced = spaced, false
		out = append(out, t)
		text = rest
	}
	if text != "" {
		out = append(out, token{kind: kBad, text: text})
	}
	return out
}

// next takes the first token off text, which begins with no space.
func next(text string) (token, string) {
	if rest, ok := strings.CutPrefix(text, "'"); ok && rest != "" && isDigit(rest[0]) {
		t, rest := nextNumber(rest)
		t.quoted = true
		return t, rest
	}
	if isDigit(text[0]) {
		return nextNumber(text)
	}
	if t, rest, ok := nextSpan(text); ok {
		return t, rest
	}
	if text[0] == '\'' { // of 1990's
		return token{kind: kNoise, text: "'"}, text[1:]
	}
	r, size := utf8.DecodeRuneInString(text)
	if k, ok := signs[r]; ok {
		if (k == kMore || k == kLess) && strings.HasPrefix(text[size:], "=") {
			size++
		}
		return token{kind: k, text: text[:size]}, text[size:]
	}
	if t, rest, ok := nextEast(text); ok {
		return t, rest
	}
	if unicode.IsLetter(r) {
		return nextWord(text)
	}
	return token{kind: kBad, text: text[:size]}, text[size:]
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func nextNumber(text string) (token, string) {
	t := token{kind: kNumber}
	for t.width < len(text) && isDigit(text[t.width]) {
		if t.width < maxDigits {
			t.value = t.value*10 + int(text[t.width]-'0')
		}
		t.width++
	}
	t.text = text[:t.width]
	if t.width > maxDigits {
		t.kind = kBad
	}
	return t, text[t.width:]
}

// nextSpan takes arrows of several characters and runs of dots.
func nextSpan(text string) (token, string, bool) {
	for _, arrow := range [...]string{"-->", "->", "==>", "=>", "...", ".."} {
		if rest, ok := strings.CutPrefix(text, arrow); ok {
			return token{kind: kSpan, text: arrow}, rest, true
		}
	}
	return token{}, text, false
}

func nextEast(text string) (token, string, bool) {
	for _, w := range eastWords {
		if rest, ok := strings.CutPrefix(text, w.text); ok {
			t := token{kind: w.word.kind, text: w.text, value: w.word.value}
			if t.kind == kNumber {
				t.width = 1
			}
			return t, rest, true
		}
	}
	return token{}, text, false
}

// nextWord takes a run of letters; an apostrophe within belongs to it. A run of
// Japanese letters that no word begins ends the reading, so it may be long.
func nextWord(text string) (token, string) {
	end := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) && r != '\'' })
	if end < 0 {
		end = len(text)
	}
	run := strings.TrimRight(text[:end], "'")
	// The word before an East Asian character is a word of its own: H元年.
	if at := strings.IndexFunc(run, isEast); at > 0 {
		run = run[:at]
	}
	rest := text[len(run):]
	if w, ok := latinWords[run]; ok {
		return token{kind: w.kind, text: run, value: w.value}, rest
	}
	return token{kind: kBad, text: run}, rest
}

func isEast(r rune) bool {
	return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul)
}

// shapeOf writes the kinds of tokens as one string, as in "9Y9M".
func shapeOf(toks []token) string {
	b := make([]byte, len(toks))
	for i, t := range toks {
		b[i] = byte(t.kind)
	}
	return string(b)
}

// without returns the tokens that are of none of the kinds.
func without(toks []token, kinds string) []token {
	var out []token
	for _, t := range toks {
		if strings.IndexByte(kinds, byte(t.kind)) < 0 {
			out = append(out, t)
		}
	}
	return out
}
