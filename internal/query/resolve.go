package query

import "strings"

// maxTypeWords is the longest name of a part type in words ("pompe à eau").
const maxTypeWords = 4

// Resolve gives words their part type: neighbours that together name one become
// one phrase with that type, a type filter takes the type's own name. named
// tells the part type that a text names in any language; the longest run wins.
// The query itself stays as it was.
func (q Query) Resolve(named func(text string) (typ string, ok bool)) Query {
	var out Query
	for i := 0; i < len(q.Terms); {
		t, used := q.resolveAt(i, named)
		out.Terms = append(out.Terms, t)
		i += used
	}
	return out
}

// resolveAt gives the term that begins at i and how many terms it takes up.
func (q Query) resolveAt(i int, named func(string) (string, bool)) (Term, int) {
	t := q.Terms[i]
	if t.Kind == Type || t.Kind == Phrase {
		if typ, ok := named(t.Text); ok {
			t.Type = typ
		}
		return t, 1
	}
	for n := min(maxTypeWords, q.wordsFrom(i)); n > 0; n-- {
		text := joined(q.Terms[i : i+n])
		typ, ok := named(text)
		if !ok {
			continue
		}
		if n == 1 {
			t.Type = typ
			return t, 1
		}
		return Term{Kind: Phrase, Text: text, Type: typ}, n
	}
	return t, 1
}

// wordsFrom counts the words that stand next to one another from i on.
func (q Query) wordsFrom(i int) int {
	n := 0
	for i+n < len(q.Terms) && q.Terms[i+n].Kind == Word {
		n++
	}
	return n
}

func joined(terms []Term) string {
	texts := make([]string, len(terms))
	for i, t := range terms {
		texts[i] = t.Text
	}
	return strings.Join(texts, " ")
}
