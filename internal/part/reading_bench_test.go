package part

import (
	"math"
	"testing"
)

var benchGroups = [][]rune{[]rune("0ODQ"), []rune("1IL7"), []rune("2Z"), []rune("5S"), []rune("6G"), []rune("8B"), []rune("UV")}

func BenchmarkLogLikelihood(b *testing.B) {
	c, err := NewConfusions(benchGroups)
	if err != nil {
		b.Fatal(err)
	}
	r, err := ParseReading("9?760-5OO9O")
	if err != nil {
		b.Fatal(err)
	}
	perfect := r.Perfect(c)
	s := NewScorer(r, c)
	for _, bench := range []struct {
		name, key, next string // asked in turn, so that nothing or a half is kept from the last
		floor           float64
	}{
		{"whole table", "9876050090", "1234567890", math.Inf(-1)},
		{"near", "9876050090", "1234567890", perfect - 25},
		{"near, half kept", "9876050090", "9876012345", perfect - 25},
		{"far", "1234567890", "2234567890", perfect - 25},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Above(bench.key, bench.floor)
				bench.key, bench.next = bench.next, bench.key
			}
		})
	}
}
