package part

import (
	"math"
	"unicode/utf8"
)

// rounding takes up what is lost where a bound is compared with a sum of
// logarithms.
const rounding = 1e-9

// LogLikelihood is the natural logarithm, at most 0, of the chance that a number
// with this key is read as r, along the best way to lay the reading onto the
// key: each character of the key is read right, for a look-alike, for another,
// not at all or twice, or in the wrong order with the next one. An unread place
// takes any one character and a run any number of them at no cost. It is -Inf
// where no way exists.
func LogLikelihood(r Reading, key string, c Confusions) float64 {
	ll, _ := LogLikelihoodAbove(r, key, c, math.Inf(-1))
	return ll
}

// LogLikelihoodAbove is LogLikelihood that gives up as soon as no way can reach
// floor, and then reports false. It allocates nothing.
func LogLikelihoodAbove(r Reading, key string, c Confusions, floor float64) (ll float64, ok bool) {
	var l laying
	l.begin(r, c)
	return l.above(key, floor)
}

const (
	// layPad is how far a step reaches back, so that the loop asks for no bounds.
	layPad = 2
	// layWidth is a power of two above maxPlaces and the pads on both sides.
	layWidth = 64
)

// laying is a reading made ready to be laid onto keys.
type laying struct {
	t      *errorTable
	odd    []rune
	runs   bool
	places int
	codes  [layWidth]uint8   // of the places, from layPad on
	rest   [layWidth]float64 // rest[j]: the most that the places from j on can get
	skip   [layWidth]float64 // skip[j]: what a key character not read behind j places costs
	ring   [3]layRow

	oddNow, oddLast [codes]float64 // single readings of odd characters of the key
}

// layRow holds, for each number of places from lo to hi, the best log-likelihood
// of having read these places from the characters of the key so far; -Inf where
// the floor is out of reach. All cells outside lo to hi are -Inf.
type layRow struct {
	cell   [layWidth]float64 // from layPad on
	lo, hi int               // lo > hi where no cell is left
}

func (l *laying) begin(r Reading, c Confusions) {
	l.t, l.odd, l.runs, l.places = c.table(), r.odd, r.anyRun, len(r.codes)
	for j := range layPad {
		l.codes[j] = codeUnread
	}
	copy(l.codes[layPad:], r.codes)
	for j := l.places - 1; j >= 0; j-- {
		l.rest[j] = l.rest[j+1] + l.t.perfect[r.codes[j]]
	}
	for j, run := range r.run {
		if !run {
			l.skip[j] = l.t.drop
		}
	}
	for i := range l.ring {
		l.ring[i].begin(l.places)
	}
}

// begin makes a row empty that was never used.
func (r *layRow) begin(places int) {
	for j := range places + 1 + 2*layPad {
		r.cell[j] = math.Inf(-1)
	}
	r.lo, r.hi = layWidth, -1
}

// empty makes a row empty that was used.
func (r *layRow) empty() {
	for j := r.lo; j <= r.hi; j++ {
		r.cell[(j+layPad)%layWidth] = math.Inf(-1)
	}
	r.lo, r.hi = layWidth, -1
}

// open makes a row that stands before the first character.
func (r *layRow) open() {
	r.empty()
	r.cell[layPad], r.lo, r.hi = 0, 0, 0
}

// above lays the reading onto a key with three rows, because a swapped pair
// reaches two back.
func (l *laying) above(key string, floor float64) (ll float64, ok bool) {
	bound := floor - rounding
	if l.rest[0] < bound {
		return math.Inf(-1), false
	}
	left := utf8.RuneCountInString(key)
	drift := l.drift(left, l.rest[0]-bound)
	old, before, next := &l.ring[0], &l.ring[1], &l.ring[2]
	old.open()
	before.empty()
	last := &l.t.single[alphabet]
	for _, k := range key {
		left--
		single := l.singles(k)
		if single == &l.oddNow && last == single {
			last = &l.oddLast
		}
		l.fill(next, old, before, drift, left, single, last, bound)
		old, before, next, last = next, old, before, single
		if old.lo > old.hi && before.lo > before.hi {
			return math.Inf(-1), false
		}
	}
	ll = old.cell[l.places+layPad]
	return ll, ll >= floor && !math.IsInf(ll, -1)
}

// fill works out the next row, for a character of the key behind which some are
// left. last holds the single readings of the character before; for the first
// one the row before is empty.
func (l *laying) fill(next, old, before *layRow, drift drifts, left int, single, last *[codes]float64, floor float64) {
	next.empty()
	ahead := l.places - left // places that go with the characters so far when nothing is left out
	lo := max(0, min(old.lo, before.lo+2), ahead-drift.double)
	hi := min(l.places, max(old.hi, before.hi)+2, ahead+drift.drop)
	if lo > hi {
		return
	}
	double, swap := l.t.double, l.t.swap
	lastSingle := single[l.codes[(lo+layPad-2)%layWidth]%codes]
	for j := uint(lo); j <= uint(hi); j++ {
		code := l.codes[(j+layPad-1)%layWidth] % codes
		this := single[code]
		best := old.cell[(j+layPad)%layWidth] + l.skip[j%layWidth]
		if v := old.cell[(j+layPad-1)%layWidth] + this; v > best {
			best = v
		}
		if v := old.cell[j%layWidth] + (double + lastSingle + this); v > best {
			best = v
		}
		if v := before.cell[j%layWidth] + (swap + lastSingle + last[code]); v > best {
			best = v
		}
		lastSingle = this
		if best+l.rest[j%layWidth] < floor || best == math.Inf(-1) {
			continue
		}
		next.cell[(j+layPad)%layWidth] = best
		next.lo, next.hi = min(next.lo, int(j)), int(j)
	}
}

// drifts bound how far a reading may fall behind the key and run ahead of it.
type drifts struct{ drop, double int }

// drift bounds by what the floor leaves for characters left out and read twice,
// for a key of this length.
func (l *laying) drift(length int, budget float64) drifts {
	d := drifts{drop: length + maxPlaces, double: length + maxPlaces}
	if l.runs || math.IsInf(budget, 1) {
		return d
	}
	d.drop = min(d.drop, int(budget/l.t.costs.Dropped))
	d.double = min(d.double, int(budget/l.t.costs.Doubled))
	return d
}

// singles gives the logs of reading a character of the key once. Those of an
// odd one are worked out, and those of an odd one before it kept.
func (l *laying) singles(k rune) *[codes]float64 {
	code := keyCode(k)
	if code != alphabet {
		return &l.t.single[code]
	}
	l.oddLast, l.oddNow = l.oddNow, l.t.single[alphabet]
	for i, c := range l.odd {
		if c == k {
			l.oddNow[min(firstOddCode+i, codeUnread-1)] = l.t.oddly
		}
	}
	return &l.oddNow
}
