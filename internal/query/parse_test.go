package query

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestParseGivesTerms(t *testing.T) {
	tests := []struct {
		name, text string
		want       []Term
	}{
		{"a number keeps its spelling", "98760-50090", []Term{{Kind: Number, Text: "98760-50090"}}},
		{"widths fold to half", "９８７６０－５００９０", []Term{{Kind: Number, Text: "98760-50090"}}},
		{"a number with blanks is its groups", "A 987 654", []Term{{Kind: Word, Text: "A"}, {Kind: Number, Text: "987"}, {Kind: Number, Text: "654"}}},
		{"question mark and star make a pattern", "98?60-5*", []Term{{Kind: Pattern, Text: "98?60-5*"}}},
		{"a word with a question mark is a word", "alternator?", []Term{{Kind: Word, Text: "alternator?"}}},
		{"words part at blanks and commas", "water, pump;オルタネーター、12V", []Term{{Kind: Word, Text: "water"}, {Kind: Word, Text: "pump"}, {Kind: Word, Text: "オルタネーター"}, {Kind: Number, Text: "12V"}}},
		{"half-width kana become whole", "ﾗｼﾞｴｰﾀｰ", []Term{{Kind: Word, Text: "ラジエーター"}}},
		{"quotes hold words together", `"water  pump" 4PK`, []Term{{Kind: Phrase, Text: "water pump"}, {Kind: Number, Text: "4PK"}}},
		{"typographic quotes are quotes", `“water pump”`, []Term{{Kind: Phrase, Text: "water pump"}}},
		{"an open quote ends with the text", `"water pump`, []Term{{Kind: Phrase, Text: "water pump"}}},
		{"filters in any case", "TYPE:alternator Maker:ACME engine:ZQ20 model:KV31", []Term{{Kind: Type, Text: "alternator"}, {Kind: Maker, Text: "ACME"}, {Kind: Engine, Text: "ZQ20"}, {Kind: Model, Text: "KV31"}}},
		{"a filter's value may be quoted", `type:"water pump"`, []Term{{Kind: Type, Text: "water pump"}}},
		{"a blank may follow the colon", "type: alternator", []Term{{Kind: Type, Text: "alternator"}}},
		{"a full-width colon is a colon", "type：alternator", []Term{{Kind: Type, Text: "alternator"}}},
		{"an unknown prefix is text", "bin:A3", []Term{{Kind: Word, Text: "bin:A3"}}},
		{"an inch mark is part of a word", `19" belt`, []Term{{Kind: Word, Text: `19"`}, {Kind: Word, Text: "belt"}}},
		{"a filter without a value is left out", "pump type:", []Term{{Kind: Word, Text: "pump"}}},
		{"lone marks are left out", "pump - ? !", []Term{{Kind: Word, Text: "pump"}}},
		{"invisible characters are dropped", "98760\u200b-\u00ad50090\u0000", []Term{{Kind: Number, Text: "98760-50090"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Terms, tt.want) {
				t.Errorf("got %+v, want %+v", got.Terms, tt.want)
			}
		})
	}
}

func TestParseRefusesWhatIsEmptyOrPastTheLimits(t *testing.T) {
	tests := []struct {
		name, text string
		want       error
	}{
		{"nothing", "", ErrEmpty},
		{"blanks", " \u3000\t", ErrEmpty},
		{"marks only", `- ? "" type:`, ErrEmpty},
		{"longest", strings.Repeat("a", MaxLength), nil},
		{"too long", strings.Repeat("a", MaxLength+1), ErrTooLong},
		{"too long in bytes already", strings.Repeat("パ", MaxLength*2), ErrTooLong},
		{"most words", strings.Repeat("a ", MaxTerms), nil},
		{"too many words", strings.Repeat("a ", MaxTerms+1), ErrTooMany},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Parse(tt.text); !errors.Is(err, tt.want) {
				t.Errorf("got %v, want %v", err, tt.want)
			}
		})
	}
}

func TestKeysOfTerms(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"number", "98760-50.090", "9876050090"},
		{"letters alone can begin a number", "qra", "QRA"},
		{"pattern cut off at the end", "98760-5*", "987605"},
		{"pattern with a gap", "98?60-5*", ""},
		{"phrase is no number", `"98760"`, ""},
		{"filter is no number", "engine:ZQ20", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := q.Terms[0].Key(); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
	if got := Code("- / -"); got != "" {
		t.Errorf("code of marks: got %q, want none", got)
	}
}

func TestSpansJoinNumbersTypedWithBlanks(t *testing.T) {
	tests := []struct {
		name, text string
		want       []Span
	}{
		{"one number is no span", "98760-50090", nil},
		{"two groups", "98760 50090", []Span{{0, 2, "9876050090"}}},
		{"every run of three", "A 987 654", []Span{{0, 3, "A987654"}, {1, 3, "987654"}}},
		{"a long word ends a run", "pump 987 65", []Span{{1, 3, "98765"}}},
		{"letters alone are no number", "A BC DEF", nil},
		{"a phrase ends a run", `987 "654" 321`, nil},
		{"at most six groups", "11 22 33 44 55 66 77", []Span{
			{0, 3, "112233"}, {0, 4, "11223344"}, {0, 5, "1122334455"}, {0, 6, "112233445566"},
			{1, 4, "223344"}, {1, 5, "22334455"}, {1, 6, "2233445566"}, {1, 7, "223344556677"},
			{2, 5, "334455"}, {2, 6, "33445566"}, {2, 7, "3344556677"},
			{3, 6, "445566"}, {3, 7, "44556677"}, {4, 7, "556677"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := q.Spans(); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

func TestLooks(t *testing.T) {
	tests := []struct {
		text string
		want Look
	}{
		{"98760-50090", LooksLikeNumber},
		{"9876050090", LooksLikeNumber},
		{"123456-7890", LooksLikeNumber},
		{"QX12-34-567C", LooksLikeNumber},
		{"KV31-0123456", LooksLikeFrame},
		{"kv31-0123456", LooksLikeFrame},
		{"98?60-50090", LooksLikePattern},
		{"1M8GDM9AXKP042788", LooksLikeVIN}, // 49 CFR 565, worked check digit example
		{"12345678901234567", LooksLikeNumber},
		{"ZQ20-TE", LooksLikeEngine},
		{"4QX", LooksLikeEngine},
		{"12V", LooksLikeNothing},
		{"alternator", LooksLikeNothing},
		{`"98760-50090"`, LooksLikeNothing},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			q, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := q.Terms[0].Looks(); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestResolveFindsPartTypes(t *testing.T) {
	names := map[string]string{"water pump": "water pump", "pump": "pump", "pompe à eau": "water pump", "オルタネーター": "alternator", "dynamo": "alternator"}
	named := func(text string) (string, bool) { typ, ok := names[text]; return typ, ok }
	tests := []struct {
		name, text string
		want       []Term
	}{
		{"one word keeps its kind", "dynamo 98760", []Term{{Word, "dynamo", "alternator"}, {Number, "98760", ""}}},
		{"longest run wins", "new water pump", []Term{{Word, "new", ""}, {Phrase, "water pump", "water pump"}}},
		{"three words", "pompe à eau", []Term{{Phrase, "pompe à eau", "water pump"}}},
		{"quoted", `"water pump"`, []Term{{Phrase, "water pump", "water pump"}}},
		{"filter", "type:オルタネーター", []Term{{Type, "オルタネーター", "alternator"}}},
		{"a number parts words", "water 5 pump", []Term{{Word, "water", ""}, {Number, "5", ""}, {Word, "pump", "pump"}}},
		{"nothing named", "bracket", []Term{{Word, "bracket", ""}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			before := slices.Clone(q.Terms)
			if got := q.Resolve(named).Terms; !slices.Equal(got, tt.want) {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
			if !slices.Equal(q.Terms, before) {
				t.Error("the query itself was changed")
			}
		})
	}
}
