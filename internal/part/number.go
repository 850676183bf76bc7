package part

import (
	"errors"
	"fmt"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// ErrEmptyNumber is returned for a number of which nothing remains in its key.
var ErrEmptyNumber = errors.New("no letter or digit in this part number")

// Ref is a number reference as a statement holds it: a key, and the part maker
// where one is given. Which part a bare reference means is settled when a
// question is asked, never when a list is brought in.
type Ref struct {
	Key   string // normal form, see Key
	Maker string // folded maker name, see FoldMaker; "" where none is given
}

// IsZero reports whether the reference names nothing.
func (r Ref) IsZero() bool { return r.Key == "" }

// Less orders references by key, then maker.
func (r Ref) Less(o Ref) bool {
	if r.Key != o.Key {
		return r.Key < o.Key
	}
	return r.Maker < o.Maker
}

// Compare is Less in the form that slices.SortFunc wants.
func (r Ref) Compare(o Ref) int {
	if c := strings.Compare(r.Key, o.Key); c != 0 {
		return c
	}
	return strings.Compare(r.Maker, o.Maker)
}

// Key gives the normal form of a part number: width folded, NFKC, upper case,
// without dashes, blanks, dots and slashes. What remains is A-Z and 0-9; any
// other letter or digit stays in the key and is returned in odd, so that the
// caller can flag it. Look-alike characters are never mapped onto one another.
// A number of which nothing remains is ErrEmptyNumber.
func Key(number string) (key string, odd []rune, err error) {
	folded := strings.ToUpper(norm.NFKC.String(width.Fold.String(number)))
	// Letters that a dash kept apart may compose once it is gone (Hangul), so
	// the normal form is taken again; for A-Z and 0-9 this costs nothing.
	key = norm.NFKC.String(strings.Map(keyRune, folded))
	if key == "" {
		return "", nil, fmt.Errorf("%w: %q", ErrEmptyNumber, number)
	}
	for _, r := range key {
		if !plain(r) {
			odd = append(odd, r)
		}
	}
	return key, odd, nil
}

// NewRef makes a reference from a number and a maker as printed.
func NewRef(number, maker string) (Ref, error) {
	key, _, err := Key(number)
	if err != nil {
		return Ref{}, err
	}
	return Ref{Key: key, Maker: FoldMaker(maker)}, nil
}

// FoldMaker gives the form in which maker names are compared: width folded,
// NFKC, upper case, inner runs of blanks as one, ends trimmed.
func FoldMaker(name string) string {
	return strings.Join(strings.Fields(strings.ToUpper(norm.NFKC.String(width.Fold.String(name)))), " ")
}
