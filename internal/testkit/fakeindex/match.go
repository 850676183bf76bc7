package fakeindex

import (
	"slices"
	"strings"
	"unicode/utf8"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// entry is a document cut into what can be compared with a term.
type entry struct {
	key                                  string
	engines, models, types, words, maker []string
}

func newEntry(d app.Document) entry {
	return entry{
		key:     d.Key,
		engines: codes(d.Engines),
		models:  codes(slices.Concat(d.ModelCodes, d.Models)),
		types:   codes(d.Types),
		words:   words(slices.Concat(d.Names, d.Types, d.Makers, d.Models)),
		maker:   words(d.Makers),
	}
}

func codes(texts []string) (out []string) {
	for _, t := range texts {
		out = append(out, query.Code(t))
	}
	return out
}

func words(texts []string) (out []string) {
	for _, t := range texts {
		out = append(out, query.Words(t)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// The tiers of the ranking, in steps that sixteen terms do not reach.
const (
	notFound = -1
	word     = 1
	typ      = 1e3
	code     = 1e5
	start    = 1e7
	exact    = 1e9
)

// score sums over the terms the best way in which each is found, and what its
// words add.
func (e entry) score(q query.Query, begun bool) (sum float64, ok bool) {
	spans := q.Spans()
	for i, t := range q.Terms {
		s, words := e.term(t, begun)
		for _, span := range spans {
			if span.From <= i && i < span.To {
				s = max(s, e.number(span.Key, begun))
			}
		}
		if s == notFound && words == 0 {
			return 0, false
		}
		sum += max(s, 0) + words
	}
	return sum, true
}

// term gives the best way other than by words in which a term is found, and the
// score of its words, 0 where they do not hold it.
func (e entry) term(t query.Term, begun bool) (s, words float64) {
	if t.Filter() {
		return when(e.filter(t), 0), 0
	}
	s = notFound
	if key := t.Key(); key != "" {
		s = e.number(key, begun)
	}
	if t.Type != "" && slices.Contains(e.types, query.Code(t.Type)) {
		s = max(s, typ)
	}
	if t.Kind != query.Pattern && found(e.words, query.Words(t.Text), begun) {
		words = word + 1/float64(1+len(e.words))
	}
	return s, words
}

func (e entry) number(key string, begun bool) float64 {
	long := utf8.RuneCountInString(key) >= 3
	isCode := slices.Contains(e.engines, key) || slices.Contains(e.models, key)
	if begun && long {
		isCode = isCode || anyBegins(e.engines, key) || anyBegins(e.models, key)
	}
	switch {
	case e.key == key:
		return exact
	case long && strings.HasPrefix(e.key, key):
		return start
	}
	return when(isCode, code)
}

func (e entry) filter(t query.Term) bool {
	switch t.Kind {
	case query.Type:
		name := t.Text
		if t.Type != "" {
			name = t.Type
		}
		return slices.Contains(e.types, query.Code(name))
	case query.Maker:
		return found(e.maker, query.Words(t.Text), false)
	case query.Engine:
		return slices.Contains(e.engines, query.Code(t.Text))
	}
	return slices.Contains(e.models, query.Code(t.Text))
}

// found reports whether all wanted words are there, whole or begun.
func found(have, wanted []string, begun bool) bool {
	for _, w := range wanted {
		n := utf8.RuneCountInString(w)
		enough := n >= 3 || n == 1 && w[0] >= utf8.RuneSelf
		if !slices.Contains(have, w) && !(begun && enough && anyBegins(have, w)) {
			return false
		}
	}
	return len(wanted) > 0
}

func anyBegins(texts []string, with string) bool {
	return slices.ContainsFunc(texts, func(t string) bool { return strings.HasPrefix(t, with) })
}

func when(yes bool, score float64) float64 {
	if yes {
		return score
	}
	return notFound
}
