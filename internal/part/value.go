package part

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrUnit is returned for a value whose unit does not measure the attribute.
var ErrUnit = errors.New("unit does not belong to this attribute")

// ErrWord is returned for a word outside the attribute's vocabulary.
var ErrWord = errors.New("word is not one of this attribute's")

// Value is one reading of an attribute: the raw text and what it says.
type Value struct {
	Raw     string    // as it stands in the sheet or was typed
	Numbers []float64 // decimals in the unit of the attribute (one, or several for a size)
	Words   []string  // folded words, sorted for sets
	Doubt   string    // why the reading is not certain ("?" in the cell), "" where it is
}

// IsZero reports whether nothing was read.
func (v Value) IsZero() bool { return len(v.Numbers) == 0 && len(v.Words) == 0 }

// Same reports whether two readings say the same.
func (v Value) Same(o Value) bool {
	return slices.Equal(v.Numbers, o.Numbers) && slices.Equal(v.Words, o.Words)
}

// String gives the reading for people, without the unit.
func (v Value) String() string {
	if len(v.Numbers) == 0 {
		return strings.Join(v.Words, ", ")
	}
	texts := make([]string, len(v.Numbers))
	for i, n := range v.Numbers {
		texts[i] = FormatNumber(n)
	}
	return strings.Join(texts, " x ")
}

// FormatNumber prints a decimal without trailing zeros, at most four places.
func FormatNumber(n float64) string {
	s := fmt.Sprintf("%.4f", n)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// Plausible reports whether every number of a value lies within the usual
// range of the attribute; words, and attributes without one, always do. It is
// a reason to look again, never a reason to refuse.
func (a Attribute) Plausible(v Value) bool {
	if len(a.Typical) != 2 {
		return true
	}
	for _, n := range v.Numbers {
		if n < a.Typical[0]-lost || n > a.Typical[1]+lost {
			return false
		}
	}
	return true
}
