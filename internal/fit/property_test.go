package fit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// drawBook makes a random little book over six numbers.
func drawBook(t *rapid.T) *book {
	b := newBook()
	sources := []string{"own", "maker", "rebuilder", "rebuilder2", "fitting", "forum", "phone"}
	numbers := []string{"A", "B", "C", "D", "E", "F"}
	clauses := [][]string{{"model_code=KV31"}, {"engine=ZF20"}, {"model_code=KV31", "transmission=AT"}, {"model_code=KV31", "transmission=MT"},
		{"model_code=LT40", "engine=ZF20"}, {"model_code=KV31", "built=1993-08..1997-05"}}
	relations := []statement.Relation{statement.Same, statement.ReplacedBy, statement.StandsIn}
	for range rapid.IntRange(1, 4).Draw(t, "fitments") {
		b.fit(rapid.SampledFrom(sources).Draw(t, "source"), rapid.SampledFrom(numbers).Draw(t, "number"),
			rapid.SampledFrom(clauses).Draw(t, "clauses")...)
	}
	for range rapid.IntRange(0, 6).Draw(t, "links") {
		l := b.link(rapid.SampledFrom(sources).Draw(t, "source"), rapid.SampledFrom(numbers).Draw(t, "a"),
			rapid.SampledFrom(relations).Draw(t, "relation"), rapid.SampledFrom(numbers).Draw(t, "b"))
		l.BothWays = vehicle.Tri(rapid.IntRange(0, 2).Draw(t, "both ways"))
		if l.Relation == statement.StandsIn && rapid.Bool().Draw(t, "with a change") {
			l.Changes = []statement.Change{{Task: "swap the pulley"}}
		}
	}
	return b
}

func drawVehicle(t *rapid.T) vehicle.Facts {
	return rapid.SampledFrom([]vehicle.Facts{van(), van("transmission=AT"), van("transmission=MT", "built=1995-01..1995-12"),
		van("built=1997-05..1997-06")}).Draw(t, "vehicle")
}

// verdicts gives verdict, basis and confidence of each number.
func verdicts(a Answer) map[string]string {
	out := map[string]string{}
	for _, c := range a.Candidates {
		for _, n := range c.Numbers {
			out[n.Ref.Key] = fmt.Sprintf("%s %s %d %v", c.Verdict, n.Basis, n.Confidence, c.DependsOn)
		}
	}
	return out
}

func confidences(a Answer) map[string]int {
	out := map[string]int{}
	for _, c := range a.Candidates {
		for _, n := range c.Numbers {
			out[n.Ref.Key] = n.Confidence
		}
	}
	return out
}

// The order in which lists and rows come changes nothing.
func TestOrderOfRowsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawBook(t), drawVehicle(t)
		before := fmt.Sprintf("%+v", b.ask(f).Candidates)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(b.k.Fitments), func(i, j int) { b.k.Fitments[i], b.k.Fitments[j] = b.k.Fitments[j], b.k.Fitments[i] })
		r.Shuffle(len(b.k.Links), func(i, j int) { b.k.Links[i], b.k.Links[j] = b.k.Links[j], b.k.Links[i] })
		if after := fmt.Sprintf("%+v", b.ask(f).Candidates); after != before {
			t.Errorf("got\n%s\nbefore\n%s", after, before)
		}
	})
}

// A statement about other numbers changes nothing.
func TestUnrelatedStatementChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawBook(t), drawVehicle(t)
		before := verdicts(b.ask(f))
		b.link("maker", "Y", statement.Same, "Z")
		b.fit("maker", "Y", "model_code=OTHER", "engine=XX99")
		if after := verdicts(b.ask(f)); fmt.Sprint(after) != fmt.Sprint(before) {
			t.Errorf("got %v, before %v", after, before)
		}
	})
}

// A further statement in favour, of the same vehicles, never lowers a
// confidence.
func TestStatementInFavourNeverLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawBook(t), drawVehicle(t)
		before := confidences(b.ask(f))
		again := b.k.Fitments[rapid.IntRange(0, len(b.k.Fitments)-1).Draw(t, "row")]
		again.Source, again.ID = b.source("maker2"), "more"
		again.Place = statement.Place{File: "more.csv", Row: 1}
		b.k.Fitments = append(b.k.Fitments, again)
		after := confidences(b.ask(f))
		for n, c := range before {
			if after[n] < c {
				t.Errorf("%s: %d after, %d before", n, after[n], c)
			}
		}
	})
}

// goodness orders verdicts: the higher, the more a person would trust it.
func goodness(v Verdict) int {
	return slices.Index([]Verdict{NotKnown, RuledOut, CheckFirst, FitsWithChange, Fits}, v)
}

func best(a Answer) map[string]int {
	out := map[string]int{}
	for _, c := range a.Candidates {
		for _, n := range c.Numbers {
			out[n.Ref.Key] = goodness(c.Verdict)
		}
	}
	return out
}

// A look-alike never makes a verdict better.
func TestLookAlikeNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, f := drawBook(t), drawVehicle(t)
		before := best(b.ask(f))
		b.link(rapid.SampledFrom([]string{"forum", "maker", "fitting"}).Draw(t, "by"), "A", statement.LookAlike, "B")
		for n, g := range best(b.ask(f)) {
			if g > before[n] {
				t.Errorf("%s: %d after, %d before", n, g, before[n])
			}
		}
	})
}

// No number of statements outvotes a look-alike: the vetoed part stays out
// however many sources name it as strongly as the other one is named.
func TestNoNumberOutvotesAVeto(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBook()
		b.fit("own", "A", "model_code=KV31")
		b.link("forum", "A", statement.LookAlike, "X")
		for i := range rapid.IntRange(1, 30).Draw(t, "votes") {
			b.fit(fmt.Sprintf("own%d", i+2), "X", "model_code=KV31")
			b.link(fmt.Sprintf("maker%d", i+2), "A", statement.StandsIn, "X")
		}
		if got := find2(b.ask(van()), "X"); got != RuledOut {
			t.Errorf("got %s, want ruled_out", got)
		}
	})
}

func find2(a Answer, number string) Verdict {
	for _, c := range a.Candidates {
		if slices.Contains(c.Refs, ref(number)) {
			return c.Verdict
		}
	}
	return NotKnown
}

// The trails that are counted share no source, and no other choice of such
// trails carries more (brute force over all choices of the trails given).
func TestWeighIsTheBestChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var trails []*trail
		for i := range rapid.IntRange(1, 9).Draw(t, "trails") {
			sources := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b", "c", "d", "e"}), 1, 3, rapid.ID[string]).Draw(t, "sources")
			slices.Sort(sources)
			trails = append(trails, &trail{Trail: Trail{Reliability: float64(rapid.IntRange(51, 98).Draw(t, "r")) / 100}, sources: sources, id: fmt.Sprint(i)})
		}
		got, counted := weigh(trails)
		want := -1.0
		for set := 1; set < 1<<len(trails); set++ {
			if sum, ok := logOdds(trails, set); ok {
				want = max(want, sum)
			}
		}
		sum, ok := logOdds(counted, 1<<len(counted)-1)
		if !ok || sum < want-1e-9 || got > 1000 {
			t.Errorf("got %f (independent: %v), want %f", sum, ok, want)
		}
	})
}
