package data

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"

	"crossbin/internal/part"
)

// typeWord is one word for a part type, folded.
type typeWord struct {
	text  string
	index int  // of the type in Types.all
	whole bool // must stand as a whole word; Japanese is written without blanks
}

// index collects the words of all types, longest first; a word that two types
// claim is a mistake.
func (t *Types) index(docs []typeDoc) error {
	owner := map[string]int{}
	for i, doc := range docs {
		for _, w := range append([]term{doc.Name}, doc.Words...) {
			text := foldName(w.Text)
			if other, ok := owner[text]; ok && other != i {
				return mistake(fileName(doc.Name.Text), w.Line, "%q is a word of %s too", w.Text, docs[other].Name.Text)
			}
			if _, ok := owner[text]; ok || text == "" {
				continue
			}
			owner[text] = i
			t.words = append(t.words, typeWord{text, i, !japanese(text)})
		}
	}
	slices.SortFunc(t.words, func(a, b typeWord) int {
		return cmp.Or(cmp.Compare(len(b.text), len(a.text)), strings.Compare(a.text, b.text))
	})
	return nil
}

// ByWord finds the part type that a cell or a typed text names: "Alternator
// assy, 12V", "ｵﾙﾀﾈｰﾀｰ ASSY". The name that ends last in the text wins, then the
// longest, since the thing itself stands last ("alternator belt" is a belt);
// in "belt, alternator" it stands before the comma. A text in which the name is
// followed by the word for another thing ("radiator hose") names no type.
func (t *Types) ByWord(word string) (part.Type, bool) {
	whole := foldName(word)
	if i := slices.IndexFunc(t.words, func(w typeWord) bool { return w.text == whole }); i >= 0 {
		return t.all[t.words[i].index], true
	}
	for _, piece := range strings.FieldsFunc(word, func(r rune) bool { return strings.ContainsRune(",、()（）;", r) }) {
		text := foldName(piece)
		i, end, ok := t.find(text)
		if !ok {
			continue
		}
		if t.another(i, text[end:]) {
			return part.Type{}, false
		}
		return t.all[i], true
	}
	return part.Type{}, false
}

// find gives the type whose word ends last in a folded text, and where it ends.
func (t *Types) find(text string) (index, end int, ok bool) {
	end = -1
	for _, w := range t.words { // longest first, so that ties go to the longest
		if e := lastEnd(text, w); e > end {
			index, end, ok = w.index, e, true
		}
	}
	return index, end, ok
}

// lastEnd is where the last occurrence of a word ends, -1 for none.
func lastEnd(text string, w typeWord) int {
	for limit := len(text); limit > 0; {
		i := strings.LastIndex(text[:limit], w.text)
		if i < 0 {
			return -1
		}
		end := i + len(w.text)
		if !w.whole || boundary(text, i) && boundary(text, end) {
			return end
		}
		limit = end - 1
	}
	return -1
}

// boundary reports whether a word may begin or end at a place: at a blank, at
// an end, or where Latin and Japanese script meet.
func boundary(text string, at int) bool {
	if at == 0 || at == len(text) || text[at] == ' ' || text[at-1] == ' ' {
		return true
	}
	return text[at] >= 0xE3 || lastRune(text[:at]) >= 0x3040
}

func lastRune(s string) rune {
	r := []rune(s)
	return r[len(r)-1]
}

// another reports whether what follows a type's name makes it another thing.
func (t *Types) another(index int, rest string) bool {
	for _, head := range t.heads[index] {
		if lastEnd(rest, typeWord{text: head, whole: !japanese(head)}) >= 0 {
			return true
		}
	}
	return false
}

// foldName folds width and case, and makes blanks of all that is no letter or
// digit.
func foldName(s string) string {
	folded := strings.ToLower(norm.NFKC.String(width.Fold.String(s)))
	return strings.Join(strings.FieldsFunc(folded, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != 'ー' && !unicode.Is(unicode.Mn, r)
	}), " ")
}

func foldAll(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = foldName(w)
	}
	return out
}

// japanese reports whether a word holds kana or kanji.
func japanese(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return unicode.In(r, unicode.Hiragana, unicode.Katakana, unicode.Han)
	})
}
