package fulltext

import (
	"unicode/utf8"

	bleve "github.com/blevesearch/bleve/v2/search/query"

	"crossbin/internal/query"
)

// begun says whether beginnings of codes and words count as found.
type begun bool

// plan turns a parsed query into one of the engine: every term must be found.
func plan(q query.Query, b begun) bleve.Query {
	spans := q.Spans()
	var all []bleve.Query
	ranked := false
	for i, t := range q.Terms {
		if t.Filter() {
			all = append(all, filter(t))
			continue
		}
		ranked = true
		ways := findTerm(t, b)
		for _, s := range spans {
			if s.From <= i && i < s.To {
				ways = append(ways, findKey(s.Key, b)...)
			}
		}
		all = append(all, ways)
	}
	if !ranked {
		all[0] = best{{tierFilter, all[0]}}
	}
	return bleve.NewConjunctionQuery(all)
}

// findTerm lists the ways in which a term of the text is found by itself.
func findTerm(t query.Term, b begun) best {
	var ways best
	if key := t.Key(); key != "" {
		ways = findKey(key, b)
	}
	if t.Type != "" {
		ways = append(ways, choice{tierType, term(fieldType, query.Code(t.Type))})
	}
	if t.Kind != query.Pattern {
		ways = append(ways, choice{tierWord, findWords(fieldWord, t.Text, b)})
	}
	return ways
}

// findKey lists the ways in which a folded number or code is found.
func findKey(key string, b begun) best {
	ways := best{
		{tierExact, term(fieldKey, key)},
		{tierCode, term(fieldEngine, key)},
		{tierCode, term(fieldModel, key)},
	}
	isTerm, enough := isStart(key)
	switch {
	case isTerm:
		ways = append(ways, choice{tierStart, term(fieldStart, key)})
	case enough:
		ways = append(ways, choice{tierStart, beginning{fieldKey, key}})
	}
	if bool(b) && enough {
		ways = append(ways, choice{tierCode, beginning{fieldEngine, key}}, choice{tierCode, beginning{fieldModel, key}})
	}
	return ways
}

// findWords wants all words of a text in a field.
func findWords(field, text string, b begun) bleve.Query {
	words := query.Words(text)
	all := make([]bleve.Query, len(words))
	for i, w := range words {
		all[i] = term(field, w)
		if bool(b) && utf8.RuneCountInString(w) >= minBegunWord(w) {
			all[i] = beginning{field, w}
		}
	}
	switch len(all) {
	case 0:
		return bleve.NewMatchNoneQuery()
	case 1:
		return all[0]
	}
	return bleve.NewConjunctionQuery(all)
}

// minBegunWord is how many characters of a word must be there before the rest is
// guessed: three letters, or one character of a script that writes words in two.
func minBegunWord(word string) int {
	if r, _ := utf8.DecodeRuneInString(word); r >= utf8.RuneSelf && utf8.RuneCountInString(word) == 1 {
		return 1
	}
	return minStart
}

// filter narrows by one property and adds nothing to a score.
func filter(t query.Term) bleve.Query {
	switch t.Kind {
	case query.Type:
		name := t.Type
		if name == "" {
			name = t.Text
		}
		return unranked(fieldType, query.Code(name))
	case query.Maker:
		words := query.Words(t.Text)
		all := make([]bleve.Query, len(words))
		for i, w := range words {
			all[i] = unranked(fieldMaker, w)
		}
		return bleve.NewConjunctionQuery(all)
	case query.Engine:
		return unranked(fieldEngine, query.Code(t.Text))
	}
	return unranked(fieldModel, query.Code(t.Text))
}

func unranked(field, text string) bleve.Query {
	q := bleve.NewTermQuery(text)
	q.SetField(field)
	q.SetBoost(0)
	return q
}

func term(field, text string) bleve.Query {
	q := bleve.NewTermQuery(text)
	q.SetField(field)
	return q
}
