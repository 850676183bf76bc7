package fit

import (
	"math"
	"math/bits"
	"slices"
)

// Limits of the exact program. The positions are enough for any eight candidates
// and six looks, and for more where efforts differ or looks tell the same apart;
// they take some milliseconds.
const (
	exactCandidates = 9 // eight, and "none of these"
	exactLooks      = 12
	exactPositions  = 2500
)

// solver is the exact program: the least expected minutes of every position
// that the best play can reach, over candidates left x looks not yet tried.
type solver struct {
	*game
	memo   map[state]solved
	budget int // positions that it may still reckon; below 0 it gave up
}

type solved struct {
	followed
	look int
}

// exactly solves a game where it is small enough; ok is false elsewhere.
func (g *game) exactly(start state) (s *solver, ok bool) {
	if len(g.chance) > exactCandidates || bits.OnesCount64(start.open) > exactLooks {
		return nil, false
	}
	s = &solver{game: g, memo: map[state]solved{}, budget: exactPositions}
	s.cost(start)
	return s, s.budget >= 0
}

func (s *solver) choose(at state) int { return s.memo[at].look }

// cost gives the least expected minutes from a position to its end.
func (s *solver) cost(at state) followed {
	if at.open == 0 {
		return followed{0, yes(s.oneClass(at.left))}
	}
	if v, ok := s.memo[at]; ok {
		return v.followed
	}
	if s.budget--; s.budget < 0 {
		return followed{}
	}
	best := solved{followed: followed{minutes: math.Inf(1)}}
	for _, o := range s.options(at) {
		if o.bound > best.minutes+tiny {
			break // the options that are left cost more for certain
		}
		v := solved{followed{minutes: s.looks[o.look].minutes}, o.look}
		for _, n := range o.next {
			f := s.cost(n.at)
			v.minutes += n.p * f.minutes
			v.settles += n.p * f.settles
		}
		if v.minutes < best.minutes-tiny || v.minutes < best.minutes+tiny && v.look < best.look {
			best = v
		}
	}
	s.memo[at] = best
	return best.followed
}

// option is one look in a position, with a bound from below on what it costs.
type option struct {
	look  int
	bound float64
	next  []chanced
}

// options lists the looks worth trying in a position, the most promising first.
func (s *solver) options(at state) []option {
	var out []option
	w := s.weights(at)
	for i := range bitsOf(at.open) {
		if s.later(at, i) {
			continue
		}
		o := option{look: i, bound: s.looks[i].minutes, next: s.outcomes(at, i, &w)}
		for _, n := range o.next {
			if n.at.open != 0 { // at least one more look, and looks stand by their minutes
				o.bound += n.p * s.looks[bits.TrailingZeros64(n.at.open)].minutes
			}
		}
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b option) int { return compareRates(a.bound, b.bound) })
	return out
}

// later reports whether another open look is always better taken before look i:
// it tells at least as much, and its minutes are no more than i's times the
// chance that it is seen. (Taking i first costs i's minutes for certain; taking
// the other first costs its own, and i's only where it is not seen, and in no
// case leaves less known in the end.) Of two looks that are the same in all, the
// first comes first.
func (s *solver) later(at state, i int) bool {
	b := &s.looks[i]
	for j := range bitsOf(at.open) {
		a := &s.looks[j]
		if i == j || !a.refines(b, at.left) {
			continue
		}
		limit, same := (1-a.unseen)*b.minutes, b.refines(a, at.left)
		switch {
		case a.minutes < limit, a.minutes == limit && (j < i || !same):
			return true
		case same && j < i && a.minutes == b.minutes && a.unseen == b.unseen:
			return true
		}
	}
	return false
}

// refines reports whether every result of a look leaves, of some candidates, no
// more than one result of another leaves; both must put each of them under one
// result only.
func (l *gameLook) refines(o *gameLook, left uint64) bool {
	if !l.certain(left) || !o.certain(left) {
		return false
	}
	return !slices.ContainsFunc(l.results, func(r uint64) bool {
		mine := r & left
		return mine != 0 && !slices.ContainsFunc(o.results, func(theirs uint64) bool { return mine&^theirs == 0 })
	})
}

// certain reports whether each candidate left stands under one result only.
func (l *gameLook) certain(left uint64) bool {
	for c := range bitsOf(left) {
		if l.share[c] != 1 {
			return false
		}
	}
	return true
}
