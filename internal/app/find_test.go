package app_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// types are two part types. Like those of the shop, ByWord finds a type's name
// inside a longer text.
type types struct{}

var known = []part.Type{{Name: "alternator", Words: []string{"dynamo", "オルタネーター"}}, {Name: "water pump", Words: []string{"pompe à eau"}}}

func (types) All() []part.Type { return known }

func (types) ByName(name string) (part.Type, bool) {
	i := slices.IndexFunc(known, func(t part.Type) bool { return t.Name == name })
	if i < 0 {
		return part.Type{}, false
	}
	return known[i], true
}

func (types) ByWord(text string) (part.Type, bool) {
	for _, t := range known {
		for _, w := range append([]string{t.Name}, t.Words...) {
			if strings.Contains(strings.ToLower(text), w) {
				return t, true
			}
		}
	}
	return part.Type{}, false
}

// parts is a service whose book holds three parts.
func parts(t *testing.T) (*app.Service, *smallBook) {
	s, book, _ := service()
	a := book.part("98760-50090", "Orvane Motor", "alternator", "Lichtmaschine 12V")
	book.part("98760-50090", "Orvane Motor", "alternator", "Lichtmaschine 12V")
	book.part("9876050090", "", "alternator", "generator")
	book.parts[a] = append(book.parts[a], statement.Statement{Type: "bracket", A: part.Ref{Key: a, Maker: "FENWALD"},
		Part: statement.PartName{Printed: "98760 50090", Maker: "Fenwald", Role: statement.UnitMaker}})
	book.fit(a, "ZQ20-TE", "KV31")
	book.fit(a, "ZQ20-TE", "KV30")
	book.lines[a] = []shelf.Line{
		{Part: part.Ref{Key: a}, Bin: "A1", Condition: shelf.New, OnHand: 3, Held: 1},
		{Part: part.Ref{Key: a}, Bin: "A2", Condition: shelf.Core, OnHand: 5},
	}
	book.part("QX12-34-567C", "Fenwald", "water pump", "for the cold region")
	book.part("98760-X", "", "", "belt for Orvane alternators")
	book.commit()
	catchUp(t, s)
	return s, book
}

// The shape is a contract: scripts and pages read it.
func TestFindAnswersWithWhatTheBookKnows(t *testing.T) {
	s, _ := parts(t)
	got, err := s.Find(t.Context(), "９８７６０－５００９０", 10)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"revision":1,"query":"98760-50090","count":1,"hits":[{"key":"9876050090",` +
		`"numbers":[{"maker":"Orvane Motor","number":"98760-50090","role":"vehicle_maker"},{"maker":"Fenwald","number":"98760 50090","role":"unit_maker"}],` +
		`"type":"alternator","name":"Lichtmaschine 12V","engines":["ZQ20TE"],"model_codes":["KV30","KV31"],"free":2}]}`
	if string(text) != want {
		t.Errorf("got  %s\nwant %s", text, want)
	}
	got, err = s.Find(t.Context(), "nothing like it", 10)
	if err != nil {
		t.Fatal(err)
	}
	if text, _ := json.Marshal(got); string(text) != `{"revision":1,"query":"nothing like it","count":0,"hits":[]}` {
		t.Errorf("nothing found: got %s", text)
	}
}

func TestFindKnowsPartTypesByTheirNames(t *testing.T) {
	s, _ := parts(t)
	for _, tt := range []struct {
		name, text string
		want       []string
	}{
		{"a name in another language", "オルタネーター", []string{"9876050090"}},
		{"a name of several words", "pompe a eau", nil},
		{"with its accent", "pompe à eau", []string{"QX1234567C"}},
		{"a word beside the name is wanted too", "fenwald alternator", []string{"9876050090"}},
		{"and spoils it where it is not there", "delmar alternator", nil},
		{"a filter by a longer text", `type:"dynamo assy"`, []string{"9876050090"}},
		{"the part type before a description that names it", "98760 alternator", []string{"9876050090"}},
	} {
		t.Run(tt.name, func(t *testing.T) { wantKeys(t, s, tt.text, tt.want...) })
	}
}

func TestFindHints(t *testing.T) {
	s, _ := parts(t)
	for _, tt := range []struct{ text, looks, say string }{
		{"98760-50090", "", ""},
		{"98760*", "", ""},
		{"KV31-0123456", "frame_number", "KV31-0123456 looks like a frame number: ask which parts fit it"},
		{"1M8GDM9AXKP042788", "vin", "1M8GDM9AXKP042788 looks like a VIN: ask which parts fit it"}, // 49 CFR 565, worked example
		{"98?60-5009*", "partly_readable_number", "98?60-5009* is a partly readable number: ask which part it is"},
		{"type:gizmo", "part_type", `no part type is called "gizmo"`},
		{"type:dynamo", "", ""},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := s.Find(t.Context(), tt.text, 5)
			if err != nil {
				t.Fatal(err)
			}
			var looks, say string
			if len(got.Hints) > 0 {
				looks, say = got.Hints[0].Looks, got.Hints[0].Say
			}
			if looks != tt.looks || say != tt.say {
				t.Errorf("got %q %q, want %q %q", looks, say, tt.looks, tt.say)
			}
		})
	}
}

// An index that stands behind the book is not used: a whole number is looked up
// in the book, anything else is told to wait.
func TestFindDoesNotUseAnIndexThatIsBehind(t *testing.T) {
	s, book := parts(t)
	n := book.part("A 987 654", "", "starter", "starter")
	book.commit(n)
	for _, tt := range []struct {
		text string
		want []string
		code app.Code
	}{
		{"A 987 654", []string{n}, ""},
		{"a987.654", []string{n}, ""},
		{"98760-50090", []string{"9876050090"}, ""},
		{"98760-50091", nil, ""},
		{"starter", nil, app.CodeUnavailable},
		{"A987654 starter", nil, app.CodeUnavailable},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := s.Find(t.Context(), tt.text, 5)
			if tt.code != "" {
				if app.CodeOf(err) != tt.code {
					t.Errorf("got %v, want %s", err, tt.code)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			var keys []string
			for _, h := range got.Hits {
				keys = append(keys, h.Key)
			}
			if !slices.Equal(keys, tt.want) || got.Count != len(tt.want) || got.Revision != 2 {
				t.Errorf("got %q of %d at %d, want %q at 2", keys, got.Count, got.Revision, tt.want)
			}
		})
	}
	catchUp(t, s)
	wantKeys(t, s, "starter", n)
}

// An index that comes to the revision while the search waits is used.
func TestFindWaitsForTheIndex(t *testing.T) {
	s, book := parts(t)
	n := book.part("A-1", "", "starter", "starter")
	book.commit(n)
	book.whenRead = func(int) {
		book.whenRead = nil
		go func() {
			_ = s.Index.Apply(t.Context(), []app.Document{{Key: n, Numbers: []string{"A-1"}, Names: []string{"starter"}}}, 2)
		}()
	}
	wantKeys(t, s, "starter", n)
}

func TestFindRefuses(t *testing.T) {
	s, _ := parts(t)
	for _, tt := range []struct {
		name, text string
		want       app.Code
	}{
		{"nothing", " ", app.CodeInvalid},
		{"a page", strings.Repeat("word ", 100), app.CodeInvalid},
	} {
		if _, err := s.Find(t.Context(), tt.text, 5); app.CodeOf(err) != tt.want {
			t.Errorf("%s: got %v, want %s", tt.name, err, tt.want)
		}
	}
	s.Index = nil
	if _, err := s.Find(t.Context(), "98760", 5); app.CodeOf(err) != app.CodeUnavailable {
		t.Errorf("no index: got %v, want %s", err, app.CodeUnavailable)
	}
}
