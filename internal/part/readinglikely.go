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
	length int                   // of the key
	back   [2 * layWidth]float64 // what it costs at least to make up a drift, see setLength

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
	l.setLength(utf8.RuneCountInString(key))
	band, ok := l.band(l.rest[0] - bound)
	if !ok {
		return math.Inf(-1), false
	}
	old, before, next := &l.ring[0], &l.ring[1], &l.ring[2]
	old.open()
	before.empty()
	last := &l.t.single[alphabet]
	taken := 0
	for _, k := range key {
		taken++
		single := l.singles(k)
		if single == &l.oddNow && last == single {
			last = &l.oddLast
		}
		l.fill(next, old, before, taken, band, single, last, bound)
		old, before, next, last = next, old, before, single
		if old.lo > old.hi && before.lo > before.hi {
			return math.Inf(-1), false
		}
	}
	ll = old.cell[l.places+layPad]
	return ll, ll >= floor && !math.IsInf(ll, -1)
}

// fill works out the next row, for the last one of so many characters of the key.
// last holds the single readings of the character before; for the first one the
// row before is empty.
func (l *laying) fill(next, old, before *layRow, taken int, band drifts, single, last *[codes]float64, floor float64) {
	next.empty()
	lo := max(0, min(old.lo, before.lo+2), taken-band.high)
	hi := min(l.places, max(old.hi, before.hi)+2, taken-band.low)
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
		if best+l.rest[j%layWidth]-l.back[(uint(taken)-j)%(2*layWidth)] < floor || best == math.Inf(-1) {
			continue
		}
		next.cell[(j+layPad)%layWidth] = best
		next.lo, next.hi = min(next.lo, int(j)), int(j)
	}
}

// drifts are the least and the highest drift: how many more characters of the
// key were left out than read twice, up to a place.
type drifts struct{ low, high int }

// setLength works out, for each drift, what the rest of a key of this length
// costs at least to end where the reading ends. A run makes up any drift, and of
// a very long key the rest is not asked.
func (l *laying) setLength(length int) {
	if l.length == length {
		return
	}
	l.length = length
	for i := range l.back {
		drift := i
		if i > layWidth {
			drift -= len(l.back)
		}
		l.back[i] = 0
		if !l.runs && length <= layWidth {
			l.back[i] = l.making(length - l.places - drift)
		}
	}
}

// making is the least cost of a drift.
func (l *laying) making(drift int) float64 {
	if drift < 0 {
		return float64(-drift) * l.t.costs.Doubled
	}
	return float64(drift) * l.t.costs.Dropped
}

// band bounds the drift by what a budget leaves for getting there and back; ok
// is false where it does not even suffice for the difference in length.
func (l *laying) band(budget float64) (band drifts, ok bool) {
	if l.runs || math.IsInf(budget, 1) {
		return drifts{-l.places - l.length, l.places + l.length}, true
	}
	dropped, doubled := l.t.costs.Dropped, l.t.costs.Doubled
	longer := l.length - l.places
	if l.making(longer) > budget {
		return drifts{}, false
	}
	band.high = int((budget + float64(longer)*doubled) / (dropped + doubled))
	band.low = -int((budget - float64(longer)*dropped) / (dropped + doubled))
	return band, true
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
