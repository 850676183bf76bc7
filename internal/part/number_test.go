package part

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
	"pgregory.net/rapid"
)

// Vectors for NFKC: UAX #15; U+2010, U+2013, U+2212 and U+30FC stay what they
// are under NFKC and are dropped by the rule for dashes.
func TestKey(t *testing.T) {
	for _, tt := range []struct{ name, number, want, odd string }{
		{"full width", "９８７６０－１５０４０", "9876015040", ""},
		{"full-width letters", "ＤＢＡ－ＺＺ６", "DBAZZ6", ""},
		{"hyphen", "98760-50090", "9876050090", ""},
		{"U+2010 hyphen", "98760‐50090", "9876050090", ""},
		{"U+2013 en dash", "98760–50090", "9876050090", ""},
		{"U+2212 minus", "98760−50090", "9876050090", ""},
		{"U+30FC long vowel typed as a dash", "98760ー50090", "9876050090", ""},
		{"half-width long vowel", "98760ｰ50090", "9876050090", ""},
		{"blanks, dots, slashes", " 987.60 / 500 90 ", "9876050090", ""},
		{"ideographic blank U+3000", "98760　50090", "9876050090", ""},
		{"lower case", "k15-ab", "K15AB", ""},
		{"circled digit", "①23", "123", ""},
		{"Roman numeral sign", "Ⅲ", "III", ""},
		{"look-alikes stay apart", "O0I1", "O0I1", ""},
		{"another letter stays and is told", "98760-ф1", "98760Ф1", "Ф"},
		{"katakana stays and is told", "AB-ｱ1", "ABア1", "ア"},
		{"letters that a dash kept apart", "ᄀ-ᅡ", "가", "가"},
		{"unit sign is letters after folding", "12㎜", "12MM", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, odd, err := Key(tt.number)
			if err != nil || got != tt.want || string(odd) != tt.odd {
				t.Errorf("got %q odd %q err %v, want %q odd %q", got, string(odd), err, tt.want, tt.odd)
			}
		})
	}
}

func TestKeyRefusesANumberOfWhichNothingRemains(t *testing.T) {
	for _, number := range []string{"", "  ", "--/.", "ー", "?*", "\u3000"} {
		if _, _, err := Key(number); !errors.Is(err, ErrEmptyNumber) {
			t.Errorf("Key(%q): got %v, want ErrEmptyNumber", number, err)
		}
		if _, err := NewRef(number, "x"); !errors.Is(err, ErrEmptyNumber) {
			t.Errorf("NewRef(%q): got %v, want ErrEmptyNumber", number, err)
		}
	}
}

// printed draws numbers as they are printed and typed.
func printed() *rapid.Generator[string] {
	return rapid.StringOfN(rapid.RuneFrom([]rune("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcxyz-./ ー－Ａｚ９ｱф①½")), 1, 24, -1)
}

func TestKeyIsIdempotent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(printed(), rapid.String()).Draw(t, "number")
		once, odd, err := Key(number)
		if err != nil {
			t.Skip("nothing remains")
		}
		twice, oddAgain, err := Key(once)
		if err != nil || twice != once || !slices.Equal(odd, oddAgain) {
			t.Fatalf("got %q %q %v, want %q %q", twice, string(oddAgain), err, once, string(odd))
		}
	})
}

func TestKeyIsBlindToCaseWidthAndDashes(t *testing.T) {
	dashes := []rune("-‐–−ーｰ－ ./　")
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringOfN(rapid.RuneFrom([]rune("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")), 1, 16, -1).Draw(t, "number")
		var b strings.Builder
		for _, r := range number {
			if rapid.Bool().Draw(t, "lower") {
				r = unicode.ToLower(r)
			}
			s := string(r)
			if rapid.Bool().Draw(t, "wide") {
				s = width.Widen.String(s)
			}
			b.WriteString(s)
			if rapid.Bool().Draw(t, "dash") {
				b.WriteRune(rapid.SampledFrom(dashes).Draw(t, "which"))
			}
		}
		got, odd, err := Key(b.String())
		if err != nil || got != number || odd != nil {
			t.Fatalf("Key(%q): got %q %q %v, want %q", b.String(), got, string(odd), err, number)
		}
	})
}

func TestKeyHoldsNoDashAndNoBlank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key, odd, err := Key(rapid.OneOf(printed(), rapid.String()).Draw(t, "number"))
		if err != nil {
			return
		}
		for _, r := range key {
			if !plain(r) && !slices.Contains(odd, r) {
				t.Fatalf("%q holds %q, which nobody is told of", key, r)
			}
		}
	})
}

func TestFoldMaker(t *testing.T) {
	for _, tt := range []struct{ name, maker, want string }{
		{"case and blanks", "  brook   electric ", "BROOK ELECTRIC"},
		{"width", "Ｂｒｏｏｋ　Electric", "BROOK ELECTRIC"},
		{"dash stays", "Brook-Electric", "BROOK-ELECTRIC"},
		{"half-width kana", "ﾌﾞﾙｯｸ", "ブルック"},
		{"empty", " ", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := FoldMaker(tt.maker); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestRefs(t *testing.T) {
	a, err := NewRef("98760-50090", "Brook electric")
	if err != nil || a != (Ref{Key: "9876050090", Maker: "BROOK ELECTRIC"}) {
		t.Fatalf("got %v %v", a, err)
	}
	bare := Ref{Key: a.Key}
	other := Ref{Key: "9876050091"}
	sorted := []Ref{other, a, bare}
	slices.SortFunc(sorted, Ref.Compare)
	if want := []Ref{bare, a, other}; !slices.Equal(sorted, want) {
		t.Errorf("by key, then maker: got %v, want %v", sorted, want)
	}
	if !bare.Less(a) || a.Less(bare) || !a.Less(other) || a.Compare(a) != 0 {
		t.Error("Less and Compare disagree")
	}
	if !(Ref{Maker: "X"}).IsZero() || bare.IsZero() {
		t.Error("a reference without a key names nothing")
	}
}

// NFKC itself, so that a library with other tables is noticed: UAX #15, and
// U+32FF REIWA since Unicode 12.1.
func TestNFKCVectors(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"ﾗｼﾞｴｰﾀ", "ラジエータ"}, {"\uff76\uff9e", "\u30ac"}, {"ｵﾙﾀﾈｰﾀｰ", "オルタネーター"},
		{"①", "1"}, {"Ⅲ", "III"}, {"½", "1\u20442"}, {"㎜", "mm"}, {"㏄", "cc"}, {"㎏", "kg"}, {"㎾", "kW"}, {"℃", "°C"},
		{"㍻", "平成"}, {"\u32ff", "令和"}, {"\u3000", " "}, {"\u00b5", "\u03bc"}, {"\uff9e", "\u3099"},
		{"\u2010", "\u2010"}, {"\u2013", "\u2013"}, {"\u2212", "\u2212"}, {"\u30fc", "\u30fc"},
	} {
		if got := norm.NFKC.String(tt.in); got != tt.want {
			t.Errorf("NFKC(%q): got %q, want %q", tt.in, got, tt.want)
		}
	}
}

// widen writes a text in full width and upper case.
func widen(s string) string { return width.Widen.String(strings.ToUpper(s)) }
