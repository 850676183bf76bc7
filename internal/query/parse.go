package query

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// Limits of what is typed. A search is one line; a pasted page is a mistake, and
// the work of an index grows with every term.
const (
	MaxLength = 200 // characters
	MaxTerms  = 16
)

// Errors of Parse.
var (
	ErrEmpty   = errors.New("nothing to search for: type a number, a word or a code")
	ErrTooLong = fmt.Errorf("more than %d characters: search for one number or a few words", MaxLength)
	ErrTooMany = fmt.Errorf("more than %d words: search for one number or a few words", MaxTerms)
)

// Parse reads what a person typed. It refuses only what is empty or past the
// limits: a quote that is never closed ends with the text, a filter without a
// value is still being typed and left out.
func Parse(text string) (Query, error) {
	if len(text) > MaxLength*utf8.UTFMax {
		return Query{}, ErrTooLong // before any work on it
	}
	if text = clean(text); utf8.RuneCountInString(text) > MaxLength {
		return Query{}, ErrTooLong
	}
	var q Query
	for rest := skip(text); rest != ""; rest = skip(rest) {
		var t Term
		if t, rest = next(rest); t.hasContent() {
			q.Terms = append(q.Terms, t)
		}
	}
	switch {
	case len(q.Terms) == 0:
		return Query{}, ErrEmpty
	case len(q.Terms) > MaxTerms:
		return Query{}, ErrTooMany
	}
	return q, nil
}

// clean gives the text one width and one composition, without control and
// invisible characters. Letters keep their case, for printing.
func clean(text string) string {
	text = strings.ToValidUTF8(text, " ")
	text = norm.NFKC.String(width.Fold.String(text))
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf):
			return -1
		case r == '“' || r == '”' || r == '„' || r == '「' || r == '」':
			return '"' // what keyboards and word processors make of a quote
		}
		return r
	}, text)
	return norm.NFKC.String(text) // dropping a character can bring two together that compose
}

// isSeparator tells what stands between terms.
func isSeparator(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '、' }

func skip(text string) string { return strings.TrimLeftFunc(text, isSeparator) }

// next takes one term off the front of a text that begins with one.
func next(text string) (Term, string) {
	if quoted, ok := strings.CutPrefix(text, `"`); ok {
		inner, rest := unquote(quoted)
		return Term{Kind: Phrase, Text: inner}, rest
	}
	if kind, value, ok := cutFilter(text); ok {
		if quoted, ok := strings.CutPrefix(value, `"`); ok {
			inner, rest := unquote(quoted)
			return Term{Kind: kind, Text: inner}, rest
		}
		value, rest := cutToken(value)
		return Term{Kind: kind, Text: value}, rest
	}
	token, rest := cutToken(text)
	return Term{Kind: classify(token), Text: token}, rest
}

// unquote cuts at the closing quote and gives what is inside single blanks.
func unquote(text string) (inner, rest string) {
	inner, rest, _ = strings.Cut(text, `"`)
	return strings.Join(strings.Fields(inner), " "), rest
}

func cutToken(text string) (token, rest string) {
	if at := strings.IndexFunc(text, isSeparator); at >= 0 {
		return text[:at], text[at:]
	}
	return text, ""
}

// cutFilter recognises the name of a filter, in any case; a blank may follow the
// colon.
func cutFilter(text string) (kind Kind, value string, ok bool) {
	name, value, ok := strings.Cut(text, ":")
	if !ok {
		return "", "", false
	}
	at := slices.Index(filters, Kind(strings.ToLower(name)))
	if at < 0 {
		return "", "", false
	}
	return filters[at], strings.TrimLeft(value, " "), true
}

// classify tells a number and a pattern from a word.
func classify(token string) Kind {
	digit, mark := false, false
	for _, r := range token {
		switch {
		case unicode.IsDigit(r):
			digit = true
		case r == '?' || r == '*':
			mark = true
		case r == ':' || r == '"' || r == '=' || r == '\'':
			return Word
		}
	}
	switch {
	case digit && mark:
		return Pattern
	case digit:
		return Number
	}
	return Word // "alternator?" asks a question and is no pattern
}

// hasContent reports whether a term holds anything that can be found.
func (t Term) hasContent() bool {
	if t.Kind == Pattern {
		return true // has a digit
	}
	return strings.ContainsFunc(t.Text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) })
}
