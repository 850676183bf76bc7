package fulltext

import (
	"strings"
	"unicode/utf8"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// maxWords bounds the words of one part: a description pasted from a web page
// would otherwise make a document longer than a thousand others, and words
// beyond it tell parts apart no more.
const maxWords = 512

// startLengths are the lengths, in characters, at which beginnings of a key are
// terms of their own: a beginning of three characters can belong to a tenth of
// the book, and putting so many keys together at the time of asking took
// seconds. Longer beginnings belong to few keys and are put together then.
const minStart, maxStart = 3, 8

// fields is a document as it is indexed; the names are those of the mapping.
type fields struct {
	Key    string `json:"key"`
	Start  string `json:"start"`
	Engine string `json:"engine"`
	Model  string `json:"model"`
	Type   string `json:"type"`
	Maker  string `json:"maker"`
	Word   string `json:"word"`
}

// newFields cuts what can be searched of a part key into terms.
func newFields(d app.Document) fields {
	return fields{
		Key:    d.Key,
		Start:  strings.Join(starts(d.Key), " "),
		Engine: codes(d.Engines),
		Model:  codes(d.ModelCodes, d.Models),
		Type:   codes(d.Types),
		Maker:  words(d.Makers),
		Word:   words(d.Names, d.Types, d.Makers, d.Models),
	}
}

// starts lists the beginnings of a key that are terms of their own.
func starts(key string) []string {
	var out []string
	n := 0
	for at := range key {
		if n >= minStart && n <= maxStart {
			out = append(out, key[:at])
		}
		n++
	}
	if n >= minStart && n <= maxStart {
		out = append(out, key)
	}
	return out
}

// isStart reports whether a beginning is a term of its own, and whether it is
// long enough to be tried at all.
func isStart(key string) (term, enough bool) {
	n := utf8.RuneCountInString(key)
	return n >= minStart && n <= maxStart, n >= minStart
}

func codes(lists ...[]string) string {
	return distinct(lists, func(text string) []string {
		if c := query.Code(text); c != "" {
			return []string{c}
		}
		return nil
	})
}

func words(lists ...[]string) string { return distinct(lists, query.Words) }

// distinct joins the terms of all texts, each once: a word that five lists
// repeat says no more than once.
func distinct(lists [][]string, terms func(string) []string) string {
	seen := map[string]bool{}
	var out []string
	for _, list := range lists {
		for _, text := range list {
			for _, t := range terms(text) {
				if seen[t] || len(out) == maxWords {
					continue
				}
				seen[t] = true
				out = append(out, t)
			}
		}
	}
	return strings.Join(out, " ")
}
