package fit

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"crossbin/internal/part"
)

// manyAttributes is a part type of 30 attributes that can all be seen.
func manyAttributes() part.Type {
	t := alternator()
	t.Attributes = nil
	for i := range 30 {
		t.Attributes = append(t.Attributes, part.Attribute{Name: fmt.Sprint("a", i), Title: fmt.Sprint("a", i), Kind: part.KindNumber, Unit: "mm",
			Compare: part.Within, Tolerance: 1, OnVehicle: part.Sight{How: "look", Effort: 1 + i%4},
			Cases: []part.Case{{When: part.Differs, Difference: part.WontMount}}})
	}
	return t
}

// manyParts is a book with 50 parts of that type, each attribute with five
// values, some of them unknown.
func manyParts() *book {
	b := newBook()
	for i := range 50 {
		number := fmt.Sprintf("N%02d", i)
		b.fit("own", number, "model_code=KV31")
		for j, a := range manyAttributes().Attributes {
			if (i*7+j*3)%10 == 0 {
				continue
			}
			s := b.statement("own", "value", number)
			v, err := part.ReadValue(a, fmt.Sprint(100+10*((i*(j+3)+i/7)%5)))
			if err != nil {
				panic(err)
			}
			s.Value.Attribute, s.Value.Value = a.Name, v
			b.k.Values = append(b.k.Values, s)
		}
	}
	return b
}

// The looks of an answer with 50 candidates and 30 attributes: about a
// millisecond on one core.
func BenchmarkLooks(b *testing.B) {
	book := manyParts()
	w := newWorld(Question{Facts: van(), Type: manyAttributes(), Shop: "main"}, book.k)
	cs := Ask(w.q, book.k).Candidates
	if len(cs) != 50 {
		b.Fatalf("got %d candidates", len(cs))
	}
	for b.Loop() {
		if len(w.looks(cs)) != maxLooks {
			b.Fatal("not enough looks")
		}
	}
}

// The whole answer around it, for comparison.
func BenchmarkAskMany(b *testing.B) {
	book := manyParts()
	for b.Loop() {
		Ask(Question{Facts: van(), Type: manyAttributes(), Shop: "main"}, book.k)
	}
}

// Puzzles of eight candidates and 6 to 12 looks, all of one effort and with gaps:
// the hardest there are. Beyond six the exact program may give up and leave it to
// looking ahead.
func BenchmarkNext(b *testing.B) {
	for _, looks := range []int{6, 8, 12} {
		b.Run(fmt.Sprint(looks), func(b *testing.B) {
			p := drawPuzzle(rand.New(rand.NewPCG(3, 3)), 8, looks)
			for i := range p.Looks {
				p.Looks[i].Minutes, p.Looks[i].CannotSee = minutesOf(1), cannotSee(1)
			}
			for b.Loop() {
				Next(p)
			}
		})
	}
}
