package fulltext

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// A beginning that stands for more numbers than a question may ask is refused
// with a sentence, never answered in part.
func TestTooManyBeginAlike(t *testing.T) {
	x, _ := opened(t, t.TempDir(), 1)
	var docs []app.Document
	for i := range maxClauses + 1 {
		n := fmt.Sprintf("SAMEBEGIN%04d", i)
		docs = append(docs, app.Document{Key: n, Numbers: []string{n}})
	}
	if err := x.Apply(t.Context(), docs[:maxClauses], 1); err != nil {
		t.Fatal(err)
	}
	if got := count(t, x, "samebegin"); got != maxClauses {
		t.Errorf("got %d, want %d", got, maxClauses)
	}
	if err := x.Apply(t.Context(), docs[maxClauses:], 2); err != nil {
		t.Fatal(err)
	}
	q, _ := query.Parse("samebegin")
	_, _, err := x.Search(t.Context(), q, 1)
	var sentence *app.Error
	if !errors.As(err, &sentence) || sentence.Code != app.CodeInvalid || sentence.Hint == "" {
		t.Errorf("got %v, want a sentence with %s", err, app.CodeInvalid)
	}
	if x.Revision() != 2 {
		t.Error("the index was given up for a question too wide")
	}
	if got := count(t, x, "same"); got != maxClauses+1 {
		t.Errorf("a beginning that is a term: got %d, want %d", got, maxClauses+1)
	}
}

// The words of one part are bounded, and so are its terms in all fields.
func TestDocumentIsBounded(t *testing.T) {
	var text strings.Builder
	for i := range 3 * maxWords {
		fmt.Fprintf(&text, "w%d ", i)
	}
	f := newFields(app.Document{Key: "A1", Numbers: []string{"A1"}, Names: []string{text.String(), "again w1"}})
	if got := len(strings.Fields(f.Word)); got != maxWords {
		t.Errorf("got %d words, want %d", got, maxWords)
	}
}

func TestStarts(t *testing.T) {
	tests := []struct{ key, want string }{
		{"AB", ""},
		{"ABC", "ABC"},
		{"ABCD", "ABC ABCD"},
		{"ABCDEFGH", "ABC ABCD ABCDE ABCDEF ABCDEFG ABCDEFGH"},
		{"ABCDEFGHIJ", "ABC ABCD ABCDE ABCDEF ABCDEFG ABCDEFGH"},
		{"98Д60", "98Д 98Д6 98Д60"},
	}
	for _, tt := range tests {
		if got := strings.Join(starts(tt.key), " "); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.key, got, tt.want)
		}
	}
}

// Fields keep nothing but terms: the mapping stores no text, no vectors, no
// values and no field of everything.
func TestMappingIsLean(t *testing.T) {
	m, err := newMapping()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []string{fieldKey, fieldStart, fieldEngine, fieldModel, fieldType, fieldMaker, fieldWord} {
		got := m.FieldMappingForPath(f)
		if !got.Index || got.Store || got.DocValues || got.IncludeTermVectors || got.IncludeInAll || got.SkipFreqNorm == (f == fieldWord) {
			t.Errorf("%s: got %+v", f, got)
		}
	}
	if m.IndexDynamic || m.StoreDynamic || m.DocValuesDynamic || m.DefaultMapping.Dynamic {
		t.Error("the mapping takes fields that it does not name")
	}
	a, err := hashMapping(m)
	if err != nil {
		t.Fatal(err)
	}
	m.DefaultMapping.AddFieldMappingsAt("more", field(false))
	if b, _ := hashMapping(m); a == b {
		t.Error("another mapping has the same hash")
	}
}
