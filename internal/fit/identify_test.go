package fit

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
)

func confusions(t testing.TB) part.Confusions {
	c, err := part.NewConfusions([][]rune{[]rune("0ODQ"), []rune("1IL7"), []rune("2Z"), []rune("5S"), []rune("6G"), []rune("8B"), []rune("UV")})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// specimen reads a number and measurements "name=value" (":how" behind).
func specimen(t testing.TB, number string, measured ...string) Specimen {
	s := Specimen{Confusions: confusions(t), Type: alternator(), Shop: "main", Measured: map[string]Observation{}}
	if number != "" {
		r, err := part.ParseReading(number)
		if err != nil {
			t.Fatal(err)
		}
		s.Readings = []part.Reading{r}
	}
	for _, m := range measured {
		for i := range m {
			if m[i] == '=' {
				a, _ := alternator().Attribute(m[:i])
				v, err := part.ReadValue(a, m[i+1:])
				if err != nil {
					t.Fatal(err)
				}
				s.Measured[a.Name] = Observation{Value: v}
			}
		}
	}
	return s
}

func order(ss []Suspect) []string {
	var out []string
	for _, s := range ss {
		out = append(out, s.Ref.Key)
	}
	return out
}

func refs(numbers ...string) []part.Ref {
	var out []part.Ref
	for _, n := range numbers {
		out = append(out, ref(n))
	}
	return out
}

// A look-alike is first where it explains the reading best, its places are
// marked, and it is never exact.
func TestIdentifyMarksThePlaces(t *testing.T) {
	b := newBook()
	for _, n := range []string{"9876050090", "9876050190", "1234567890"} {
		b.part("own", n)
	}
	got := Identify(specimen(t, "9?760-5OO9O"), b.k, refs("9876050090", "9876050190", "1234567890"), nil)
	if !slices.Equal(order(got)[:2], []string{"9876050090", "9876050190"}) {
		t.Fatalf("got order %v", order(got))
	}
	first := got[0]
	confused := 0
	for _, m := range first.Marks {
		if m.Kind == part.MarkConfused {
			confused++
		}
	}
	if first.Exact || confused != 3 || first.Share < .9 {
		t.Errorf("got exact %v, %d look-alikes, share %.2f; want three look-alikes, not exact", first.Exact, confused, first.Share)
	}
	if got := Identify(specimen(t, "98760-50090"), b.k, refs("9876050090"), nil); !got[0].Exact {
		t.Error("a number read in full is exact")
	}
}

// Measurements decide between numbers that the reading leaves equal; what is not
// known of a part says nothing.
func TestIdentifyAddsMeasurements(t *testing.T) {
	b := newBook()
	for _, n := range []string{"A1", "B1", "C1"} {
		b.part("own", n)
	}
	b.value("own", "A1", "ribs", "6")
	b.value("own", "B1", "ribs", "5")
	got := Identify(specimen(t, "?1", "ribs=5"), b.k, refs("A1", "B1", "C1"), nil)
	if want := []string{"B1", "C1", "A1"}; !slices.Equal(order(got), want) {
		t.Errorf("got %v, want %v: agreeing, unknown, differing", order(got), want)
	}
	if len(got[0].Agrees) != 1 || len(got[1].Unknown) != 1 || len(got[2].Differs) != 1 || got[1].Measures != 0 {
		t.Errorf("got %+v", got)
	}
}

// The maker on the label and the vehicle that it came off count.
func TestIdentifyByMakerAndVehicle(t *testing.T) {
	b := newBook()
	b.part("own", "A1@ONE")
	b.part("own", "A1@TWO")
	s := specimen(t, "A1")
	s.Maker = "TWO"
	got := Identify(s, b.k, refs("A1"), nil)
	if len(got) != 2 || got[0].Ref.Maker != "TWO" {
		t.Errorf("got %+v, want both makers, the one on the label first", got)
	}
	s.Maker = ""
	got = Identify(s, b.k, refs("A1"), map[part.Ref]bool{ref("A1@ONE"): true})
	if got[0].Ref.Maker != "ONE" || !got[0].ListedFor {
		t.Errorf("got %+v, want the one that is listed for the vehicle first", got)
	}
}

// A number of another part type is no suspect.
func TestIdentifyLeavesOtherTypesOut(t *testing.T) {
	b := newBook()
	b.part("own", "R1").Type = "regulator"
	if got := Identify(specimen(t, "R1"), b.k, refs("R1"), nil); len(got) != 0 {
		t.Errorf("got %+v", got)
	}
}

// The nearer a measurement, the more it says; shares sum up to one.
func TestNearerMeasuresSayMore(t *testing.T) {
	a, _ := alternator().Attribute("belt_line")
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(10, 60).Draw(t, "book")
		near := rapid.Float64Range(0, 5).Draw(t, "near")
		far := near + rapid.Float64Range(0.01, 5).Draw(t, "farther")
		how := rapid.SampledFrom([]string{"", "calliper", "tape", "photo", "by eye"}).Draw(t, "how")
		say := func(d float64) float64 {
			ll, _ := evidenceOf(a, Observation{Value: part.Value{Numbers: []float64{at + d}}, How: how}, part.Value{Numbers: []float64{at}})
			return ll
		}
		if say(near) < say(far) {
			t.Errorf("%f off says %f, %f off says %f", near, say(near), far, say(far))
		}
	})
	b := newBook()
	for _, n := range []string{"A1", "B1"} {
		b.part("own", n)
	}
	sum := 0.0
	for _, s := range Identify(specimen(t, "?1"), b.k, refs("A1", "B1"), nil) {
		sum += s.Share
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("shares sum up to %f", sum)
	}
}

func TestWordsAsEvidence(t *testing.T) {
	mount, _ := alternator().Attribute("mount")
	agree, ok := evidenceOf(mount, Observation{Value: part.Value{Words: []string{"saddle"}}}, part.Value{Words: []string{"saddle"}})
	differ, ok2 := evidenceOf(mount, Observation{Value: part.Value{Words: []string{"saddle"}}}, part.Value{Words: []string{"pad"}})
	if !ok || ok2 || agree <= 0 || differ >= 0 {
		t.Errorf("got %f and %f", agree, differ)
	}
	cooler := part.Attribute{Kind: part.KindBool}
	yes, no := part.Value{Words: []string{"yes"}}, part.Value{Words: []string{"no"}}
	if ll, ok := evidenceOf(cooler, Observation{Value: yes}, no); ok || ll >= 0 {
		t.Errorf("got %f %v", ll, ok)
	}
	if ll, ok := numbersSay(part.Attribute{Percent: 10, Typical: []float64{0, 100}}, Observation{Value: part.Value{Numbers: []float64{1, 2}}},
		part.Value{Numbers: []float64{1}}); ok || ll >= 0 {
		t.Errorf("a size of another shape: got %f %v", ll, ok)
	}
}
