package fit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// drawLookBook is a random little book with values and facts that split.
func drawLookBook(t *rapid.T) *book {
	b := drawBook(t)
	for range rapid.IntRange(0, 10).Draw(t, "values") {
		a := rapid.SampledFrom([][2]string{{"volts", "12"}, {"volts", "24"}, {"ribs", "4"}, {"ribs", "5"}, {"ribs", "6"}, {"belt_line", "10"}, {"belt_line", "20"},
			{"amps", "70"}, {"amps", "90"}, {"terminals", "report"}, {"terminals", "lamp"}, {"core", "400x500"}, {"core", "400x500x20"}}).Draw(t, "value")
		b.valueOf("own", rapid.SampledFrom([]string{"A", "B", "C", "D", "E", "F"}).Draw(t, "number"), a[0], a[1])
	}
	if rapid.Bool().Draw(t, "two makers") {
		b.part("own", "A@M1")
		b.part("own", "A@M2")
	}
	return b
}

// A look that tells nothing apart is never proposed: two of its results leave
// different candidates, or a comparison or fact on which a verdict hangs is known
// only by it.
func TestEveryLookTellsSomethingApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawLookBook(t)
		a := Ask(Question{Facts: drawVehicle(t), Type: lookable(), Shop: "main"}, b.k)
		if len(a.Looks) > maxLooks {
			t.Errorf("got %d looks", len(a.Looks))
		}
		for _, l := range a.Looks {
			differ := slices.ContainsFunc(l.TellsApart, func(r Result) bool { return !slices.Equal(r.Candidates, l.TellsApart[0].Candidates) })
			hanging := slices.ContainsFunc(a.Candidates, func(c Candidate) bool { return c.Verdict == CheckFirst })
			if len(l.TellsApart) < 2 || !differ && !hanging || l.Where == "" || l.Minutes < 1 {
				t.Errorf("got %+v", l)
			}
			for _, r := range l.TellsApart {
				for _, i := range r.Candidates {
					if v := a.Candidates[i].Verdict; v == RuledOut || v == NotKnown {
						t.Errorf("%s: candidate %d is %s", l.Attribute, i, v)
					}
				}
			}
		}
	})
}

// The order in which rows come changes no look.
func TestOrderOfRowsChangesNoLook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawLookBook(t), drawVehicle(t)
		ask := func() string {
			return fmt.Sprintf("%+v", Ask(Question{Facts: f, Type: lookable(), Shop: "main"}, b.k).Looks)
		}
		before := ask()
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for _, rows := range [][]statement.Statement{b.k.Fitments, b.k.Links, b.k.Values} {
			r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		}
		if after := ask(); after != before {
			t.Errorf("got\n%s\nbefore\n%s", after, before)
		}
	})
}

// "Can't see it" is an answer to every look and is never asked again: the
// questions end.
func TestCannotSeeEndsTheQuestions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawLookBook(t)
		q := Question{Facts: drawVehicle(t), Type: lookable(), Shop: "main", CannotSee: map[string]bool{}}
		for range 20 {
			looks := Ask(q, b.k).Looks
			if len(looks) == 0 {
				return
			}
			for _, l := range looks {
				if q.CannotSee[l.Attribute] {
					t.Fatalf("%s is asked again", l.Attribute)
				}
			}
			q.CannotSee[looks[0].Attribute] = true
		}
		t.Error("the questions do not end")
	})
}

// What a result of a look leaves is not ruled out when it is seen, and what it
// does not leave is not said to fit as it is.
func TestResultsHoldWhenTheyAreSeen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawLookBook(t)
		q := Question{Facts: drawVehicle(t), Type: lookable(), Shop: "main"}
		a := Ask(q, b.k)
		for _, l := range a.Looks {
			attribute, ok := q.Type.Attribute(l.Attribute)
			if !ok {
				continue
			}
			for _, r := range l.TellsApart {
				v, err := part.ReadValue(attribute, r.Value)
				if err != nil {
					continue // "another", "at least 90"
				}
				q.Observed = map[string]Observation{l.Attribute: {Value: v}}
				after := verdicts(Ask(q, b.k))
				for i, c := range a.Candidates {
					verdict, _, _ := strings.Cut(after[c.Refs[0].Key], " ")
					if c.Verdict == RuledOut || c.Verdict == NotKnown || c.Refs[0].Maker != "" {
						continue
					}
					switch left := slices.Contains(r.Candidates, i); {
					case left && Verdict(verdict) == RuledOut:
						t.Errorf("%s %s leaves %s, and seen it is ruled out", l.Attribute, r.Value, c.Refs[0].Key)
					case !left && Verdict(verdict) == Fits:
						t.Errorf("%s %s does not leave %s, and seen it fits", l.Attribute, r.Value, c.Refs[0].Key)
					}
				}
			}
		}
	})
}
