package query

// Limits of a number that is typed with blanks: the longest grouping in use has
// six groups ("A 987 654 32 10 80"; common practice, no source), and below five
// characters two words would pass for a number.
const (
	maxGroups  = 6
	minSpanKey = 5
	maxLetters = 3 // of a group without a digit: "A", "MQ"
)

// Span is a run of terms that may be one part number typed with blanks: the
// terms From up to and without To, joined to Key.
type Span struct {
	From, To int
	Key      string
}

// Spans lists every run of neighbours that may be one number, by From, then To.
// A term that stands in a span is found where the span's number is.
func (q Query) Spans() []Span {
	var out []Span
	for from := range q.Terms {
		key, digits := "", false
		for to := from; to < len(q.Terms) && to < from+maxGroups; to++ {
			t := q.Terms[to]
			if !t.isGroup() {
				break
			}
			key += t.Key()
			digits = digits || t.Kind == Number
			if to > from && digits && len(key) >= minSpanKey {
				out = append(out, Span{From: from, To: to + 1, Key: key})
			}
		}
	}
	return out
}

// isGroup reports whether a term can be one group of a number typed with blanks.
func (t Term) isGroup() bool {
	return t.Kind == Number || t.Kind == Word && isASCII(t.Text) && len(t.Text) <= maxLetters
}
