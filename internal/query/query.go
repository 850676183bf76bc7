package query

import (
	"strings"

	"crossbin/internal/part"
)

// Kind says how a term is to be found.
type Kind string

// The kinds of terms.
const (
	Number  Kind = "number"  // holds a digit and nothing that a number cannot hold
	Word    Kind = "word"    // any other text without blanks
	Phrase  Kind = "phrase"  // quoted: words only, never a number
	Pattern Kind = "pattern" // a number with ? or * in it
	Type    Kind = "type"    // type: the part type
	Maker   Kind = "maker"   // maker: the part maker
	Engine  Kind = "engine"  // engine: an engine code
	Model   Kind = "model"   // model: a model code or a model name
)

// filters are the kinds that are typed as a name, a colon and a value.
var filters = []Kind{Type, Maker, Engine, Model}

// Term is one thing that must be found.
type Term struct {
	Kind Kind
	Text string // as typed, without quotes and without the name of a filter
	// Type is the part type that the text names, "" where it names none. Parse
	// leaves it empty, see Query.Resolve.
	Type string
}

// Query is what was typed, in its order. All terms must be found.
type Query struct{ Terms []Term }

// Filter reports whether a term narrows by one property and has no part in the
// ranking.
func (t Term) Filter() bool {
	return t.Kind == Type || t.Kind == Maker || t.Kind == Engine || t.Kind == Model
}

// Key gives the text as the key of a part number, see part.Key; "" where it
// cannot be one: a phrase, a pattern that is not merely cut off, a filter.
func (t Term) Key() string {
	text := t.Text
	switch t.Kind {
	case Number, Word:
	case Pattern:
		cut, ok := t.Cut()
		if !ok {
			return ""
		}
		text = cut
	default:
		return ""
	}
	return Code(text)
}

// Cut gives the legible beginning of a pattern that is legible up to one * at
// its end; ok is false for any other term.
func (t Term) Cut() (text string, ok bool) {
	if t.Kind != Pattern {
		return "", false
	}
	text, ok = strings.CutSuffix(t.Text, "*")
	return text, ok && !strings.ContainsAny(text, "?*")
}

// Code folds an engine code, a model code or a number for comparison: upper
// case letters and digits only; "" where nothing remains.
func Code(text string) string {
	key, _, err := part.Key(text)
	if err != nil {
		return ""
	}
	return key
}

// String prints the query so that parsing it gives the same query again.
func (q Query) String() string {
	texts := make([]string, len(q.Terms))
	for i, t := range q.Terms {
		texts[i] = t.String()
	}
	return strings.Join(texts, " ")
}

// String prints the term as it would be typed.
func (t Term) String() string {
	switch {
	case t.Kind == Phrase:
		return `"` + t.Text + `"`
	case t.Filter() && strings.ContainsFunc(t.Text, isSeparator):
		return string(t.Kind) + `:"` + t.Text + `"`
	case t.Filter():
		return string(t.Kind) + ":" + t.Text
	}
	return t.Text
}
