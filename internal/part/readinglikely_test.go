package part

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// wayByWay is the definition of LogLikelihood, tried way by way: it knows
// nothing of rows, bounds or bands.
func wayByWay(r Reading, key []rune, c Confusions, at int) float64 {
	rest, places := key, len(r.chars)-at
	if len(rest) == 0 {
		if places == 0 {
			return 0
		}
		return math.Inf(-1)
	}
	once := math.Log(1 - probDropped - probDoubled - probSwapped)
	chance := func(k rune, j int) float64 {
		if r.chars[j] == unreadSign {
			return 0
		}
		return once + math.Log(readAs(k, r.chars[j]))
	}
	best := wayByWay(r, rest[1:], c, at) + math.Log(probDropped)
	if r.run[at] {
		best = wayByWay(r, rest[1:], c, at)
	}
	if places > 0 {
		best = max(best, chance(rest[0], at)+wayByWay(r, rest[1:], c, at+1))
	}
	if places > 1 {
		best = max(best, math.Log(probDoubled)-2*once+chance(rest[0], at)+chance(rest[0], at+1)+wayByWay(r, rest[1:], c, at+2))
	}
	if places > 1 && len(rest) > 1 {
		best = max(best, math.Log(probSwapped)-2*once+chance(rest[1], at)+chance(rest[0], at+1)+wayByWay(r, rest[2:], c, at+2))
	}
	return best
}

// readAs is the chance that one character is read as another.
func readAs(k, read rune) float64 {
	if !strings.ContainsRune("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", k) {
		if k == read {
			return 1 - probOther
		}
		return probOther / alphabet
	}
	group, kind := string(k), "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	if k <= '9' {
		kind = "0123456789"
	}
	for _, g := range lookAlikes {
		if strings.ContainsRune(string(g), k) {
			group = string(g)
		}
	}
	ofKind := 0
	for _, c := range kind {
		if !strings.ContainsRune(group, c) {
			ofKind++
		}
	}
	switch {
	case k == read && len(group) > 1:
		return 1 - probOther - probConfused
	case k == read:
		return 1 - probOther
	case read > 'Z':
		return probOther / alphabet
	case strings.ContainsRune(group, read):
		return probConfused / float64(len(group)-1)
	case strings.ContainsRune(kind, read):
		return probOther * otherOfKind / float64(ofKind)
	}
	return probOther * (1 - otherOfKind) / float64(alphabet-len(group)-ofKind)
}

var (
	someKeys     = rapid.StringOfN(rapid.RuneFrom([]rune("0O1789AЖЯ")), 0, 7, -1)
	someReadings = rapid.StringOfN(rapid.RuneFrom([]rune("0O1789AЖ??*")), 1, 7, -1)
)

// The rows give what trying every way gives, Align sums up to the same, and a
// floor only ever gives up what lies below it.
func TestLogLikelihoodIsTheBestWay(t *testing.T) {
	c := confusions(t)
	rapid.Check(t, func(t *rapid.T) {
		r, err := ParseReading(someReadings.Draw(t, "reading"))
		if err != nil {
			t.Skip("nothing read")
		}
		key := someKeys.Draw(t, "key")
		want := wayByWay(r, []rune(key), c, 0)
		got := LogLikelihood(r, key, c)
		if !near(got, want) {
			t.Fatalf("%s on %s: got %v, want %v", r, key, got, want)
		}
		if got > 0 || got > r.Perfect(c)+rounding {
			t.Fatalf("%s on %s: %v is above the perfect %v", r, key, got, r.Perfect(c))
		}
		floor := want + rapid.SampledFrom([]float64{-30, -6, -1e-6, 0, 1e-6, 3}).Draw(t, "above")
		above, ok := LogLikelihoodAbove(r, key, c, floor)
		if ok != (got >= floor) && !math.IsInf(got, -1) || ok && above != got {
			t.Fatalf("%s on %s above %v: got %v, %v, want %v", r, key, floor, above, ok, got)
		}
		checkMarks(t, r, key, Align(r, key, c), got)
	})
}

// Long keys are laid in the band that a floor leaves, and the rows of the key
// before are used again; the whole table of Align gives the same.
func TestLongKeysAsInAlign(t *testing.T) {
	c := confusions(t)
	char := rapid.RuneFrom([]rune("0O178"))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.OneOf(char, char, rapid.RuneFrom([]rune("?*"))), 6, 40, -1).Draw(t, "reading")
		r, err := ParseReading(text)
		if err != nil {
			t.Skip("nothing read")
		}
		s := NewScorer(r, c)
		start := rapid.StringOfN(char, 3, 45, -1).Draw(t, "start")
		for _, end := range rapid.SliceOfN(rapid.StringOfN(rapid.OneOf(char, char, char, rapid.Just('Ж')), 0, 30, -1), 2, 4).Draw(t, "ends") {
			want := 0.0
			for _, m := range Align(r, start+end, c) {
				want += m.Log
			}
			if want == 0 {
				continue // no way, or nothing to say
			}
			for _, floor := range []float64{math.Inf(-1), want - 20, want - 1, want - 1e-9, want + 1e-6} {
				got, ok := s.Above(start+end, floor)
				if ok != (floor < want) || ok && !near(got, want) {
					t.Fatalf("%s on %s above %v: got %v, %v, want %v", r, start+end, floor, got, ok, want)
				}
				if once, _ := LogLikelihoodAbove(r, start+end, c, floor); ok && once != got {
					t.Fatalf("%s on %s: %v at once, %v in a row", r, start+end, once, got)
				}
			}
		}
	})
}

func near(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-5 }

func checkMarks(t *rapid.T, r Reading, key string, marks []Mark, want float64) {
	var read, keys strings.Builder
	sum := 0.0
	for _, m := range marks {
		read.WriteString(m.Read)
		keys.WriteString(m.Key)
		sum += m.Log
	}
	if math.IsInf(want, -1) {
		if marks != nil {
			t.Fatalf("%s on %s: marks %v where no way exists", r, key, marks)
		}
		return
	}
	if read.String() != strings.ReplaceAll(r.String(), "*", "") || keys.String() != key || !near(sum, want) {
		t.Fatalf("%s on %s: marks %v sum up to %v, want %v", r, key, marks, sum, want)
	}
}

// One Scorer used for many keys gives each what a new one gives, whether it can
// use what was kept of the key before or not: keys of one length that begin
// alike, under floors that rise and fall.
func TestScorerForManyKeys(t *testing.T) {
	c := confusions(t)
	rapid.Check(t, func(t *rapid.T) {
		near := rapid.StringOfN(rapid.RuneFrom([]rune("0O17")), 5, 5, -1)
		r, err := ParseReading(rapid.OneOf(someReadings, near, near).Draw(t, "reading"))
		if err != nil {
			t.Skip("nothing read")
		}
		s := NewScorer(r, c)
		for range rapid.IntRange(2, 12).Draw(t, "keys") {
			key := rapid.OneOf(near, near, near, someKeys).Draw(t, "key")
			floor := rapid.SampledFrom([]float64{math.Inf(-1), -20, -12, -8, -7, -6, -4, 0}).Draw(t, "floor")
			got, gotOK := s.Above(key, floor)
			want, wantOK := LogLikelihoodAbove(r, key, c, floor)
			if gotOK != wantOK || gotOK && got != want {
				t.Fatalf("%s on %s above %v: got %v, %v, want %v, %v", r, key, floor, got, gotOK, want, wantOK)
			}
		}
	})
}

// A swapped pair can be read where nothing was left after its first character:
// a key may not be given up for what the key before it could not do.
func TestScorerFindsASwapBehindAKeyGivenUp(t *testing.T) {
	c := confusions(t)
	r := reading(t, "01777")
	s := NewScorer(r, c)
	floor := r.Perfect(c) - c.Costs().Swapped - 0.5
	if _, ok := s.Above("11777", floor); ok {
		t.Fatal("another character reaches a floor above it")
	}
	if _, ok := s.Above("10777", floor); !ok {
		t.Error("the swapped pair is not found")
	}
}

func TestLogLikelihoodAllocatesNothing(t *testing.T) {
	c := confusions(t)
	r := reading(t, "9?760*5OO9O")
	s := NewScorer(r, c)
	for name, score := range map[string]func(){
		"function": func() { LogLikelihoodAbove(r, "9876050090", c, -30) },
		"scorer":   func() { s.Above("9876050090", -30) },
	} {
		if n := testing.AllocsPerRun(100, score); n != 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}

// Equal explanations are equal to the last bit, whatever the order of their
// errors: ties must be ties.
func TestEqualExplanationsAreEqual(t *testing.T) {
	c := confusions(t)
	r := reading(t, "5098761234")
	a, b := LogLikelihood(r, "S098761Z34", c), LogLikelihood(r, "509876123A", c)
	if a == b {
		t.Error("two look-alikes and another character have one figure")
	}
	first, second := LogLikelihood(reading(t, "58888883334440"), "S888888333444O", c), LogLikelihood(reading(t, "08888883334445"), "O888888333444S", c)
	if first != second {
		t.Errorf("the same errors in another order: %v and %v", first, second)
	}
}

// Costs are what a search may rely on: an error of a kind never costs less.
func TestCostsAreLeast(t *testing.T) {
	c := confusions(t)
	costs := c.Costs()
	for _, k := range []struct {
		name, reading, key string
		want               float64
	}{
		{"confused", "98765", "98765", 0},
		{"confused", "9876S", "98765", costs.Confused},
		{"other", "98764", "98765", costs.Other},
		{"left out", "9876", "98765", costs.Dropped},
		{"twice", "987665", "98765", costs.Doubled},
		{"swapped", "98756", "98765", costs.Swapped},
		{"two others", "43765", "98765", 2 * costs.Other},
	} {
		r := reading(t, k.reading)
		if got := r.Perfect(c) - LogLikelihood(r, k.key, c); got < k.want-rounding {
			t.Errorf("%s: %s on %s costs %v, less than %v", k.name, k.reading, k.key, got, k.want)
		}
	}
}

func TestAlign(t *testing.T) {
	c := confusions(t)
	for _, k := range []struct {
		name, reading, key string
		want               string
	}{
		{"a half-legible number typed with letters O", "9?760-5OO9O", "9876050090", "agrees unread agrees agrees agrees agrees confused confused agrees confused"},
		{"another character", "98764", "98765", "agrees agrees agrees agrees differs"},
		{"left out", "9875", "98765", "agrees agrees agrees dropped agrees"},
		{"read twice", "987765", "98765", "agrees agrees doubled agrees agrees"},
		{"swapped", "89765", "98765", "swapped agrees agrees agrees"},
		{"a run", "98*5", "98765", "agrees agrees unread unread agrees"},
		{"an empty run", "98*765", "98765", "agrees agrees agrees agrees agrees"},
		{"odd letters", "9Ж", "9Я", "agrees differs"},
		{"odd letters that agree", "9Ж", "9Ж", "agrees agrees"},
		{"an odd letter for another", "9Ж", "98", "agrees differs"},
		{"no way", "987", "", ""},
	} {
		t.Run(k.name, func(t *testing.T) {
			var kinds []string
			for _, m := range Align(reading(t, k.reading), k.key, c) {
				kinds = append(kinds, string(m.Kind))
			}
			if got := strings.Join(kinds, " "); got != k.want {
				t.Errorf("got %s, want %s", got, k.want)
			}
		})
	}
}

func FuzzReading(f *testing.F) {
	c := confusions(f)
	f.Add("9?760-5OO9O", "9876050090", "9876050091")
	f.Add("*46I2", "4612", "")
	f.Add("Ж1", "Ж1", "\xff")
	f.Add("000", "a00", "0") // a small letter in a key is as odd as any other
	f.Fuzz(func(t *testing.T, text, key, other string) {
		r, err := ParseReading(text)
		if err != nil {
			return
		}
		ll, otherLL := LogLikelihood(r, key, c), LogLikelihood(r, other, c)
		if ll > 0 || otherLL > 0 {
			t.Fatalf("log-likelihoods %v, %v above 0", ll, otherLL)
		}
		if Exact(r, key) && key != other && otherLL >= ll {
			t.Fatalf("%s is read exactly, and %s is as likely: %v, %v", key, other, ll, otherLL)
		}
		if len(key) < 60 {
			sum := 0.0
			for _, m := range Align(r, key, c) {
				sum += m.Log
			}
			if !math.IsInf(ll, -1) && !near(sum, ll) {
				t.Fatalf("marks sum up to %v, want %v", sum, ll)
			}
		}
	})
}
