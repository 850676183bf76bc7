package query

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// pieces are what a search line is made of; glued in any order they reach every
// branch of the parser.
var pieces = []string{" ", " ", ",", "、", "\u3000", `"`, "“", ":", "?", "*", "-", "ー", "A", "98760", "-50090", "pump", "ポンプ",
	"ﾎﾞ", "é", "e\u0301", "type:", "Maker:", "engine:", "model:", "bin:", "\u200b", "\u00ad", "\x00", "ß", "ｘ", "½", "'", "="}

func checkRoundTrip(t interface{ Fatalf(string, ...any) }, text string) {
	q, err := Parse(text)
	if err != nil {
		return
	}
	printed := q.String()
	again, err := Parse(printed)
	if err == ErrTooLong && utf8.RuneCountInString(printed) > MaxLength {
		return // quotes and blanks that were not typed
	}
	if err != nil || !slices.Equal(again.Terms, q.Terms) {
		t.Fatalf("%q printed as %q gives %+v (%v), want %+v", text, printed, again.Terms, err, q.Terms)
	}
}

// Printing a query and parsing it again changes nothing.
func TestPrintedQueryParsesToItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkRoundTrip(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 30).Draw(t, "pieces"), ""))
	})
	rapid.Check(t, func(t *rapid.T) { checkRoundTrip(t, rapid.String().Draw(t, "text")) })
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{"98760-50090", `type:"water pump" x`, "“a”b", "98?6*", "オルタネーター、12V"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) { checkRoundTrip(t, text) })
}

// A text and what the parser makes of it fall into the same words, so that what
// was copied from a page is found by typing it.
func TestWordsDoNotDependOnSpelling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 12).Draw(t, "pieces"), "")
		once := Words(text)
		if again := Words(clean(text)); !slices.Equal(once, again) && !strings.ContainsAny(text, "\u200b\u00ad\x00") {
			t.Fatalf("%q: words %q, cleaned %q", text, once, again)
		}
		for _, w := range once {
			if w == "" || strings.ContainsAny(w, " -") {
				t.Fatalf("%q gives the word %q", text, w)
			}
		}
	})
}
