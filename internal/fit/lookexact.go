package fit

import (
	"math"
	"math/bits"
	"slices"
)

// solver is the exact program: the least expected minutes of every position
// that the best play can reach, over candidates left x looks not yet tried.
type solver struct {
	*game
	memo   map[position]solved
	budget int
}

type solved struct {
	minutes float64
	look    int
}

// exactly solves a position where it is small enough; ok is false elsewhere. With
// more looks than the program takes, those that gain least a minute are left
// out, and the answer is no longer the best for certain.
func (g *game) exactly(start position) (choose func(position) int, minutes float64, ok bool) {
	if len(g.chance) > exactCandidates || bits.OnesCount64(start.open) > exactLooks {
		return nil, 0, false
	}
	s := &solver{game: g, memo: map[position]solved{}, budget: exactPositions}
	minutes = s.solve(start)
	if s.budget < 0 {
		return nil, 0, false
	}
	return func(at position) int { return s.memo[at].look }, minutes, true
}

// option is one look in a position, with a bound from below on what it costs.
type option struct {
	look  int
	bound float64
	next  []chanced
}

type chanced struct {
	p  float64
	at position
}

// solve gives the least expected minutes from a position to its end.
func (s *solver) solve(at position) float64 {
	if at.open == 0 {
		return 0
	}
	if v, ok := s.memo[at]; ok {
		return v.minutes
	}
	if s.budget--; s.budget < 0 {
		return 0
	}
	best := solved{minutes: math.Inf(1), look: -1}
	for _, o := range s.options(at) {
		if o.bound > best.minutes-tiny && best.look >= 0 && (o.bound > best.minutes+tiny || o.look > best.look) {
			continue
		}
		v := s.looks[o.look].minutes
		for _, n := range o.next {
			v += n.p * s.solve(n.at)
		}
		if v < best.minutes-tiny || v < best.minutes+tiny && o.look < best.look {
			best = solved{v, o.look}
		}
	}
	s.memo[at] = best
	return best.minutes
}

// options lists the looks worth trying in a position, the most promising first.
func (s *solver) options(at position) []option {
	w := s.weights(at)
	var out []option
	for i := range bitsOf(at.open) {
		if s.later(at, i) {
			continue
		}
		l := &s.looks[i]
		o := option{look: i, bound: l.minutes}
		add := func(p float64, to position) {
			if to.open == 0 {
				return
			}
			o.next = append(o.next, chanced{p, to})
			o.bound += p * s.looks[bits.TrailingZeros64(to.open)].minutes // one more look at least, and looks stand by minutes
		}
		for _, r := range l.results {
			if p := l.odds(at.left, r, &w); p > 0 {
				add(p*(1-l.unseen), s.after(at, i, r))
			}
		}
		if l.unseen > 0 {
			add(l.unseen, s.unseen(at, i))
		}
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b option) int { return compareRates(a.bound, b.bound) })
	return out
}

// later reports whether another open look is always better taken before this
// one: it tells at least as much and, reckoned with the chance that it is not
// seen, takes no longer. (Taking this one first costs m; taking the other first
// costs its minutes and, where it is not seen, m again, and leaves as much known
// in every case. Of two looks that are the same in all, the first comes first.)
func (s *solver) later(at position, i int) bool {
	b := &s.looks[i]
	for j := range bitsOf(at.open) {
		a := &s.looks[j]
		if i == j || !a.refines(b, at.left) {
			continue
		}
		if a.minutes <= (1-a.unseen)*b.minutes || j < i && a.minutes == b.minutes && a.unseen == b.unseen && b.refines(a, at.left) {
			return true
		}
	}
	return false
}

// refines reports whether every result of a look leaves, of some candidates, no
// more than one result of another leaves; both must put each of them under one
// result only.
func (l *gameLook) refines(o *gameLook, left uint64) bool {
	return l.partition(left) && o.partition(left) && !slices.ContainsFunc(l.results, func(r uint64) bool {
		mine := r & left
		return mine != 0 && !slices.ContainsFunc(o.results, func(theirs uint64) bool { return mine&^theirs == 0 })
	})
}

// partition reports whether each candidate left stands under one result only.
func (l *gameLook) partition(left uint64) bool {
	if l.parts {
		return true
	}
	for c := range bitsOf(left) {
		if l.share[c] != 1 {
			return false
		}
	}
	return true
}
