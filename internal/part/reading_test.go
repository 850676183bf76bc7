package part

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// lookAlikes are the groups of data/confusions.csv; the data's own test reads
// the file.
var lookAlikes = [][]rune{[]rune("0ODQ"), []rune("1IL7"), []rune("2Z"), []rune("5S"), []rune("6G"), []rune("8B"), []rune("UV")}

func confusions(t testing.TB) Confusions {
	t.Helper()
	c, err := NewConfusions(lookAlikes)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func reading(t testing.TB, text string) Reading {
	t.Helper()
	r, err := ParseReading(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestParseReading(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
		places, known    int
	}{
		{"grouping is dropped as in a key", "98760-50090", "9876050090", 10, 10},
		{"unread places stay", "9?760-5OO9O", "9?7605OO9O", 10, 9},
		{"lower case, full width", "９？ａ・ｂ＊", "9?AB*", 4, 3},
		{"runs in front, within and behind", "*12-*3**", "*12*3*", 3, 3},
		{"a badly typed dash is no letter", "12ー34", "1234", 4, 4},
		{"odd letters stay", "12Ж-Ж4", "12ЖЖ4", 5, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := reading(t, c.text)
			if got := r.String(); got != c.want {
				t.Errorf("reading: got %q, want %q", got, c.want)
			}
			if r.Places() != c.places || r.Known() != c.known {
				t.Errorf("got %d places, %d known, want %d, %d", r.Places(), r.Known(), c.places, c.known)
			}
			if r.Raw() != c.text {
				t.Errorf("raw: got %q, want the text as typed", r.Raw())
			}
		})
	}
}

func TestParseReadingRefuses(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       error
	}{
		{"nothing read", "??-*", ErrUnreadable},
		{"empty", "", ErrUnreadable},
		{"longer than any number", strings.Repeat("1?", 21), ErrLongReading},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := ParseReading(c.text); !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
		})
	}
}

// A reading without unread places has the characters of the number's key: what
// is dropped from one is dropped from the other.
func TestReadingIsSpelledAsItsKey(t *testing.T) {
	text := rapid.StringOf(rapid.OneOf(rapid.RuneFrom([]rune("0189AOZz -./·–ー１Ａａßж漢㍑½")), rapid.Rune()))
	rapid.Check(t, func(t *rapid.T) {
		number := strings.NewReplacer("?", "", "*", "", "？", "", "＊", "", "﹖", "", "﹡", "").Replace(text.Draw(t, "number"))
		r, err := ParseReading(number)
		key, _, keyErr := Key(number)
		if err != nil {
			if !errors.Is(err, ErrLongReading) && keyErr == nil && !strings.ContainsAny(key, "?*") {
				t.Fatalf("reading refused with %v, key is %q", err, key)
			}
			return
		}
		if !r.Pattern() && r.String() != key {
			t.Fatalf("reading %q, key %q", r.String(), key)
		}
	})
}

func TestReadingPlaces(t *testing.T) {
	r := reading(t, "9?*7")
	if c, read := r.At(0); c != '9' || !read {
		t.Errorf("first place: got %q, %v", c, read)
	}
	if _, read := r.At(1); read {
		t.Error("an unread place counts as read")
	}
	if r.RunBehind(1) || !r.RunBehind(2) || !r.Runs() {
		t.Error("the run stands behind the second place")
	}
}

// A look-alike and a place that was not read are never exact.
func TestExact(t *testing.T) {
	for _, c := range []struct {
		reading, key string
		want         bool
	}{
		{"98760-50090", "9876050090", true},
		{"98760-5OO9O", "9876050090", false},
		{"98760-5009?", "9876050090", false},
		{"98760-50090*", "9876050090", false},
		{"98760-5009", "9876050090", false},
	} {
		if got := Exact(reading(t, c.reading), c.key); got != c.want {
			t.Errorf("%s on %s: got %v, want %v", c.reading, c.key, got, c.want)
		}
	}
}

func TestNewConfusionsRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		groups []string
	}{
		{"a group of one", []string{"0"}},
		{"a small letter", []string{"0o"}},
		{"a letter outside the alphabet", []string{"OО"}}, // the second is Cyrillic
		{"a character in two groups", []string{"0O", "OQ"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var groups [][]rune
			for _, g := range c.groups {
				groups = append(groups, []rune(g))
			}
			if _, err := NewConfusions(groups); err == nil {
				t.Error("no error")
			}
		})
	}
}

// What a character of a key is read as is one of its outcomes, and their chances
// sum up to 1; leaving out, reading twice and the wrong order take the rest.
func TestReadingsOfACharacterSumToOne(t *testing.T) {
	all, err := NewConfusions([][]rune{[]rune("0ABCDEFGHIJKLMNOPQRSTUVWXYZ"), []rune("123456789")})
	if err != nil {
		t.Fatal(err)
	}
	digits, err := NewConfusions([][]rune{[]rune("0123456789")})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []Confusions{confusions(t), {}, all, digits} {
		for k := range alphabet {
			sum := probDropped + probDoubled + probSwapped
			for r := range alphabet {
				sum += math.Exp(c.table().single[k][r])
			}
			if math.Abs(sum-1) > 1e-6 {
				t.Errorf("code %d: the chances sum up to %v", k, sum)
			}
		}
	}
}

func TestClass(t *testing.T) {
	c := confusions(t)
	for _, group := range []string{"0ODQ", "1IL7", "2Z", "UV", "A", "9"} {
		for i := range group {
			if c.Class(group[i]) != c.Class(group[0]) {
				t.Errorf("%c and %c are of different classes", group[i], group[0])
			}
		}
	}
	if c.Class('0') == c.Class('1') || c.Class('-') != alphabet || (Confusions{}).Class('O') == (Confusions{}).Class('0') {
		t.Error("characters that are no look-alikes are of one class")
	}
}

// An exact number beats a look-alike, a look-alike beats any other single error,
// and every error beats none fitting at all: what is asked of the error model's
// figures.
func TestOrderOfErrors(t *testing.T) {
	c := confusions(t)
	r := reading(t, "98760-50090")
	inOrder := []string{
		"9876050090",  // exact
		"98760S0090",  // a look-alike out of a pair
		"987605O090",  // a look-alike out of four
		"9876050093",  // another character
		"9876050012",  // two others
		"1234567891",  // nothing in common
		"12345678912", // nor in length
	}
	for i := 1; i < len(inOrder); i++ {
		better, worse := LogLikelihood(r, inOrder[i-1], c), LogLikelihood(r, inOrder[i], c)
		if better <= worse {
			t.Errorf("%s has %.2f, %s has %.2f", inOrder[i-1], better, inOrder[i], worse)
		}
	}
	for name, key := range map[string]string{"one left out": "98760500910", "one read twice": "987605090", "a swapped pair": "9876500090"} {
		ll := LogLikelihood(r, key, c)
		if ll >= LogLikelihood(r, "9876O50090", c) || ll <= LogLikelihood(r, "9876050093", c) {
			t.Errorf("%s: %.2f does not stand between a look-alike and another character", name, ll)
		}
	}
}
