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
	var s Scorer
	s.begin(r, c)
	return s.Above(key, floor)
}

const (
	// layPad is how far a step reaches back, so that the loop asks for no bounds.
	layPad = 2
	// layWidth is a power of two above maxPlaces and the pads on both sides.
	layWidth = 64
)

// Scorer is LogLikelihoodAbove prepared for one reading and many keys. It is not
// safe for use by several goroutines at once.
type Scorer struct {
	t      *errorTable
	odd    []rune
	runs   bool
	places int
	codes  [layWidth]uint8   // of the places, from layPad on
	rest   [layWidth]float64 // rest[j]: the most that the places from j on can get
	skip   [layWidth]float64 // skip[j]: what a key character not read behind j places costs
	rows   [3]layRow

	oddNow, oddLast [codes]float64 // single readings of odd characters of the key
}

// layRow holds, for each number of places from lo to hi, the best log-likelihood
// of having read these places from the characters of the key so far; -Inf where
// the floor is out of reach. All cells outside lo to hi are -Inf.
type layRow struct {
	cell   [layWidth]float64 // from layPad on
	lo, hi int               // lo > hi where no cell is left
}

// NewScorer prepares a reading.
func NewScorer(r Reading, c Confusions) *Scorer {
	s := new(Scorer)
	s.begin(r, c)
	return s
}

func (s *Scorer) begin(r Reading, c Confusions) {
	s.t, s.odd, s.runs, s.places = c.table(), r.odd, r.anyRun, len(r.codes)
	for j := range layPad {
		s.codes[j] = codeUnread
	}
	copy(s.codes[layPad:], r.codes)
	for j := s.places - 1; j >= 0; j-- {
		s.rest[j] = s.rest[j+1] + s.t.perfect[r.codes[j]]
	}
	for j, run := range r.run {
		if !run {
			s.skip[j] = s.t.drop
		}
	}
	for i := range s.rows {
		for j := range s.places + 1 + 2*layPad {
			s.rows[i].cell[j] = math.Inf(-1)
		}
		s.rows[i].empty()
	}
}

func (r *layRow) empty() {
	for j := r.lo; j <= r.hi; j++ {
		r.cell[(j+layPad)%layWidth] = math.Inf(-1)
	}
	r.lo, r.hi = layWidth, -1
}

// Above gives the log-likelihood of the reading given a key, or false where it
// is below floor.
func (s *Scorer) Above(key string, floor float64) (ll float64, ok bool) {
	bound := floor - rounding
	if s.rest[0] < bound {
		return math.Inf(-1), false
	}
	left := utf8.RuneCountInString(key)
	drift := s.drift(left, s.rest[0]-bound)
	old, before, next := s.start()
	last := &s.t.single[alphabet]
	for _, k := range key {
		left--
		ahead := s.places - left // places that go with the characters so far when nothing is left out
		lo := max(0, min(old.lo, before.lo+2), ahead-drift.double)
		hi := min(s.places, max(old.hi, before.hi)+2, ahead+drift.drop)
		single := s.singles(k)
		if single == &s.oddNow && last == single {
			last = &s.oddLast
		}
		next.empty()
		s.fill(next, old, before, lo, hi, single, last, bound)
		old, before, next, last = next, old, before, single
		if old.lo > old.hi && before.lo > before.hi {
			return math.Inf(-1), false
		}
	}
	ll = old.cell[s.places+layPad]
	return ll, ll >= floor && !math.IsInf(ll, -1)
}

// start gives the three rows, the first as it is before any character.
func (s *Scorer) start() (old, before, next *layRow) {
	old, before, next = &s.rows[0], &s.rows[1], &s.rows[2]
	old.empty()
	before.empty()
	old.cell[layPad], old.lo, old.hi = 0, 0, 0
	return old, before, next
}

// fill works out the cells lo to hi of the next row. last holds the single
// readings of the character before; for the first one the row before is empty.
func (s *Scorer) fill(next, old, before *layRow, lo, hi int, single, last *[codes]float64, floor float64) {
	if lo > hi {
		return
	}
	double, swap := s.t.double, s.t.swap
	lastSingle := single[s.codes[(lo+layPad-2)%layWidth]%codes]
	for j := uint(lo); j <= uint(hi); j++ {
		code := s.codes[(j+layPad-1)%layWidth] % codes
		this := single[code]
		best := old.cell[(j+layPad)%layWidth] + s.skip[j%layWidth]
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
		if best+s.rest[j%layWidth] < floor || best == math.Inf(-1) {
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
func (s *Scorer) drift(length int, budget float64) drifts {
	d := drifts{drop: length + maxPlaces, double: length + maxPlaces}
	if s.runs || math.IsInf(budget, 1) {
		return d
	}
	d.drop = min(d.drop, int(budget/s.t.costs.Dropped))
	d.double = min(d.double, int(budget/s.t.costs.Doubled))
	return d
}

// singles gives the logs of reading a character of the key once. Those of an
// odd one are worked out, and those of an odd one before it kept.
func (s *Scorer) singles(k rune) *[codes]float64 {
	code := keyCode(k)
	if code != alphabet {
		return &s.t.single[code]
	}
	s.oddLast, s.oddNow = s.oddNow, s.t.single[alphabet]
	for i, c := range s.odd {
		if c == k {
			s.oddNow[min(firstOddCode+i, codeUnread-1)] = s.t.oddly
		}
	}
	return &s.oddNow
}
