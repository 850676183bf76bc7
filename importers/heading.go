package importers

import (
	"regexp"
	"slices"
	"strings"

	"crossbin/internal/part"
)

// headingMatch is what the words of one heading can mean.
type headingMatch struct {
	pieces    [][]Field // candidates, best first, for each field of the column; more than one for "Model/Year"
	score     float64   // 1 for a whole known phrase, less for a part of one, 0 for none
	unit      string    // in brackets behind it: "Core size (mm)"
	maker     string    // "<maker> No": the numbers of this unit maker
	attribute string    // the attribute of a part type that is called so
	why       string
}

// Scores of a match that is no whole phrase.
const (
	partScore  = 0.5 // the longest known phrase is most of the heading
	makerScore = 0.4 // somebody's name in front of "No": the content has the last word
	mostOf     = 0.6 // how much of a heading a phrase must be
)

var bracketed = regexp.MustCompile(`[(\[（［]([^)\]）］]*)[)\]）］]`)

// heading says what a heading can mean, from the longest phrase on.
func (w Words) heading(text string, types []part.Type) headingMatch {
	text = strings.TrimSpace(text)
	if squash(text) == "" {
		return headingMatch{}
	}
	if fields := w.fieldsOf(text); fields != nil {
		return headingMatch{pieces: [][]Field{fields}, score: 1, why: "known heading"}
	}
	if m := bracketed.FindStringSubmatchIndex(text); m != nil && m[0] > 0 {
		rest := w.heading(text[:m[0]]+text[m[1]:], types)
		rest.unit = strings.TrimSpace(text[m[2]:m[3]])
		return rest
	}
	if name, ok := attributeCalled(text, types); ok {
		return headingMatch{pieces: [][]Field{{AttributeOf}}, score: 1, attribute: name, why: "name of an attribute"}
	}
	if pieces := w.severalFields(text); pieces != nil {
		return headingMatch{pieces: pieces, score: 1, why: "several fields in one column"}
	}
	return w.partOfHeading(text)
}

func (w Words) fieldsOf(text string) []Field {
	var out []Field
	for _, m := range w.headings.of(text) {
		out = append(out, Field(m))
	}
	return out
}

// severalFields takes a heading as "Model/Year/Engine" apart, where each piece
// is known.
func (w Words) severalFields(text string) [][]Field {
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("/／\n&|+・", r) })
	if len(parts) < 2 {
		return nil
	}
	var out [][]Field
	for _, p := range parts {
		fields := w.fieldsOf(p)
		if fields == nil {
			return nil
		}
		out = append(out, fields)
	}
	return out
}

// partOfHeading looks for the longest known phrase in a heading that is not
// known as a whole; two fields without a sign between them tell nothing.
func (w Words) partOfHeading(text string) headingMatch {
	var best hit
	for _, h := range w.headings.hits(text, false) {
		if len(h.phrase) > len(best.phrase) {
			best = h
		}
	}
	if float64(len(best.phrase)) >= mostOf*float64(len(squash(text))) {
		var fields []Field
		for _, m := range best.meanings {
			fields = append(fields, Field(m))
		}
		return headingMatch{pieces: [][]Field{fields}, score: partScore, why: "most of the heading is known"}
	}
	if maker := makerBefore(text); maker != "" && len(w.headings.hits(maker, true)) == 0 {
		return headingMatch{pieces: [][]Field{{UnitNo}}, score: makerScore, maker: maker, why: "a maker's name in front of a word for number"}
	}
	return headingMatch{}
}

var numberWord = regexp.MustCompile(`(?i)^(.*?[\p{L}\p{N}].*?)[\s.:_-]*(?:\b(?:part )?(?:no|nos|number|numbers|nr|nummer|número|numero)\b\.?|#|№|品番|番号)\s*$`)

// makerBefore gives the name in "<maker> No"; "" where the heading is no such.
func makerBefore(text string) string {
	m := numberWord.FindStringSubmatch(text)
	if m == nil || len(m[1]) < 3 || strings.ContainsAny(m[1], "0123456789") {
		return ""
	}
	return strings.TrimSpace(m[1])
}

// attributeCalled finds an attribute whose name or title is the heading.
func attributeCalled(text string, types []part.Type) (string, bool) {
	key := squash(text)
	for _, t := range types {
		i := slices.IndexFunc(t.Attributes, func(a part.Attribute) bool {
			return squash(a.Name) == key || squash(a.Title) == key
		})
		if i >= 0 {
			return t.Attributes[i].Name, true
		}
	}
	return "", false
}
