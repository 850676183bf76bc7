package app

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/query"
)

// FindHint says of something typed that another question would answer it, or
// that it is unknown.
type FindHint struct {
	Text  string `json:"text"`  // as typed
	Looks string `json:"looks"` // frame_number, vin, partly_readable_number, part_type
	Say   string `json:"say"`   // the sentence for people
}

// hints lists what search is not the question for, in the order of typing.
func (s *Service) hints(q query.Query) []FindHint {
	var out []FindHint
	for _, t := range q.Terms {
		say, looks := "", string(t.Looks())
		_, cut := t.Cut()
		switch {
		case t.Looks() == query.LooksLikeFrame:
			say = "%s looks like a frame number: ask which parts fit it"
		case t.Looks() == query.LooksLikeVIN:
			say = "%s looks like a VIN: ask which parts fit it"
		case t.Looks() == query.LooksLikePattern && !cut:
			say = "%s is a partly readable number: ask which part it is"
		case t.Kind == query.Type && s.typeOf(t.Text) == "":
			say, looks = "no part type is called %q", "part_type"
		}
		if say != "" {
			out = append(out, FindHint{Text: t.Text, Looks: looks, Say: fmt.Sprintf(say, t.Text)})
		}
	}
	return out
}

// resolve gives terms their part types: a filter by any text that names one, as
// a cell does; words of the text only where they are a type's name and nothing
// else, since a word more ("Orvane alternator") is to be found too.
func (s *Service) resolve(q query.Query) query.Query {
	q = q.Resolve(func(text string) (string, bool) {
		t, ok := s.Types.ByWord(text)
		return t.Name, ok && isCalled(t, text)
	})
	for i, t := range q.Terms {
		if t.Kind == query.Type && t.Type == "" {
			q.Terms[i].Type = s.typeOf(t.Text)
		}
	}
	return q
}

// typeOf gives the name of the part type that a text names, "" where it names
// none.
func (s *Service) typeOf(text string) string {
	if t, ok := s.Types.ByName(text); ok {
		return t.Name
	}
	t, _ := s.Types.ByWord(text)
	return t.Name
}

// isCalled reports whether a text is one of the names of a part type, however it
// is written.
func isCalled(t part.Type, text string) bool {
	words := query.Words(text)
	same := func(name string) bool { return slices.Equal(query.Words(name), words) }
	return same(t.Name) || slices.ContainsFunc(t.Words, same)
}
