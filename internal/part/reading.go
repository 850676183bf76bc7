package part

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// ErrUnreadable is returned for a reading without a readable character.
var ErrUnreadable = errors.New("no readable character in this number")

// ErrLongReading is returned for a reading that is longer than any part number.
var ErrLongReading = errors.New("too long for a part number")

const (
	unreadSign = '?' // one character that cannot be read
	runSign    = '*' // any run of characters, also none

	// maxPlaces bounds a reading. The longest number that the program knows has
	// 17 characters; the rest leaves room for numbers with codes behind them.
	maxPlaces = 40
)

// Reading is a part number as somebody read it from a worn label or a casting:
// in the form of a key, with places that could not be read. It is made by
// ParseReading and never changes.
type Reading struct {
	raw    string
	chars  []rune  // the places in their order; unreadSign where unread
	codes  []uint8 // the same as codes of the error model
	odd    []rune  // the letters and digits outside A-Z and 0-9 that were read
	run    []bool  // run[j]: any run may stand behind the first j places
	known  int     // places that were read
	anyRun bool
}

// ParseReading reads a partly readable number: width folded, NFKC, upper case,
// without what Key drops. "?" is one unreadable character, "*" any run of
// characters, also none. A reading without a readable character is
// ErrUnreadable, one of more than 40 places ErrLongReading.
func ParseReading(text string) (Reading, error) {
	r := Reading{raw: text, run: []bool{false}}
	for _, c := range strings.ToUpper(norm.NFKC.String(width.Fold.String(text))) {
		switch {
		case c == runSign:
			r.run[len(r.chars)], r.anyRun = true, true
		case c == unreadSign:
			r.add(c, codeUnread)
		case c >= 'A' && c <= 'Z', c >= '0' && c <= '9':
			r.add(c, codeOf[c])
		case keyRune(c) >= 0:
			r.add(c, r.oddCode(c))
		}
		if len(r.chars) > maxPlaces {
			return Reading{}, fmt.Errorf("%w: more than %d characters, give the line of the number alone", ErrLongReading, maxPlaces)
		}
	}
	if r.known == 0 {
		return Reading{}, fmt.Errorf("%w: %q needs at least one letter or digit beside ? and *", ErrUnreadable, text)
	}
	return r, nil
}

func (r *Reading) add(c rune, code uint8) {
	r.chars, r.codes, r.run = append(r.chars, c), append(r.codes, code), append(r.run, false)
	if code != codeUnread {
		r.known++
	}
}

// oddCode gives each letter or digit outside A-Z and 0-9 a code of its own
// within this reading.
func (r *Reading) oddCode(c rune) uint8 {
	i := slices.Index(r.odd, c)
	if i < 0 {
		i = len(r.odd)
		r.odd = append(r.odd, c)
	}
	// More odd letters than there are codes share the last one; a part number
	// has none, a reading of maxPlaces at most 40.
	return uint8(min(firstOddCode+i, codeUnread-1))
}

// Raw is the text as it was typed.
func (r Reading) Raw() string { return r.raw }

// Places is the number of characters that were seen, read or not; runs are not
// counted.
func (r Reading) Places() int { return len(r.chars) }

// Known is the number of characters that were read.
func (r Reading) Known() int { return r.known }

// At is the character read at a place from 0; read is false where it could not
// be read.
func (r Reading) At(place int) (char rune, read bool) {
	return r.chars[place], r.codes[place] != codeUnread
}

// RunBehind reports whether any run may stand behind the first n places.
func (r Reading) RunBehind(n int) bool { return r.run[n] }

// Runs reports whether the reading holds a run of unknown length.
func (r Reading) Runs() bool { return r.anyRun }

// Pattern reports whether something could not be read.
func (r Reading) Pattern() bool { return r.anyRun || r.known < len(r.chars) }

// String gives the reading in its normal form: "9?760*".
func (r Reading) String() string {
	var b strings.Builder
	for j, run := range r.run {
		if run {
			b.WriteByte(runSign)
		}
		if j < len(r.chars) {
			b.WriteRune(r.chars[j])
		}
	}
	return b.String()
}

// Exact reports whether every character of a key was read as it is. A
// look-alike or a place that was not read is never exact.
func Exact(r Reading, key string) bool {
	return !r.Pattern() && string(r.chars) == key
}
