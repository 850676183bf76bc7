package fit

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// reach tells by brute force which points can be reached from which, by one edge
// or more.
func reach(next [][]int32) [][]bool {
	out := make([][]bool, len(next))
	for i := range next {
		out[i] = make([]bool, len(next))
		for _, j := range next[i] {
			out[i][j] = true
		}
	}
	for k := range next {
		for i := range next {
			for j := range next {
				out[i][j] = out[i][j] || out[i][k] && out[k][j]
			}
		}
	}
	return out
}

// Two points lie on one ring exactly if each can be reached from the other, and a
// point lies on a ring exactly if it can be reached from itself (brute force over
// small graphs).
func TestRingsAreWhatComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "points")
		next := make([][]int32, n)
		for range rapid.IntRange(0, 2*n).Draw(t, "edges") {
			from := rapid.IntRange(0, n-1).Draw(t, "from")
			next[from] = append(next[from], int32(rapid.IntRange(0, n-1).Draw(t, "to")))
		}
		want, can := [][]int32{}, reach(next)
		for i := range n {
			var ring []int32
			for j := range n {
				if can[i][j] && can[j][i] {
					ring = append(ring, int32(j))
				}
			}
			if len(ring) > 0 && ring[0] == int32(i) {
				want = append(want, ring)
			}
		}
		if got := Rings(next); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("got %v, want %v of %v", got, want, next)
		}
	})
}

// A chain as long as a whole book is walked without a deep call stack.
func TestRingsOfALongChain(t *testing.T) {
	const n = 300_000
	next := make([][]int32, n)
	for i := range next {
		next[i] = []int32{int32((i + 1) % n)}
	}
	if got := Rings(next); len(got) != 1 || len(got[0]) != n || !slices.IsSorted(got[0]) {
		t.Errorf("got %d rings", len(got))
	}
	next[n-1] = nil
	if got := Rings(next); len(got) != 0 {
		t.Errorf("got %d rings of a chain with an end", len(got))
	}
}
