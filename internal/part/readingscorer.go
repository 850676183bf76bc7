package part

import "math"

// keptRows bounds the keys of which a Scorer keeps the rows.
const keptRows = 48

// Scorer is LogLikelihoodAbove for one reading and many keys. Keys of one length
// in a row that begin alike are cheapest: what they begin with is laid once. It
// is not safe for use by several goroutines at once.
type Scorer struct {
	laying
	rows  [keptRows + 2]layRow // rows[i+1] stands behind i characters of key; rows[0] is empty
	key   string
	dead  int     // characters of key behind which nothing can reach the floor any more
	floor float64 // the highest that a row was made with
}

// never is more characters than a kept key has.
const never = keptRows + 1

// NewScorer prepares a reading.
func NewScorer(r Reading, c Confusions) *Scorer {
	s := new(Scorer)
	s.begin(r, c)
	for i := range s.rows {
		s.rows[i].begin(s.places)
	}
	s.rows[1].open()
	s.forget()
	return s
}

// forget lets no row be used again.
func (s *Scorer) forget() { s.key, s.dead, s.floor = "", never, math.Inf(-1) }

// Above gives the log-likelihood of the reading given a key, or false where it
// is below floor. It allocates nothing.
func (s *Scorer) Above(key string, floor float64) (ll float64, ok bool) {
	if len(key) > keptRows || !plainKey(key) {
		return s.above(key, floor)
	}
	if len(key) != len(s.key) || floor < s.floor {
		s.forget()
	}
	from := sameStart(s.key, key)
	if from >= s.dead {
		return math.Inf(-1), false
	}
	s.key, s.dead, s.floor = key, never, floor
	bound := floor - rounding
	if s.rest[0] < bound {
		s.dead = 0
		return math.Inf(-1), false
	}
	s.setLength(len(key))
	if !s.lay(from, bound) {
		return math.Inf(-1), false
	}
	ll = s.rows[len(key)+1].cell[s.places+layPad]
	return ll, ll >= floor && !math.IsInf(ll, -1)
}

// lay makes the rows behind the first from characters.
func (s *Scorer) lay(from int, bound float64) bool {
	band, ok := s.band(s.rest[0] - bound)
	if !ok {
		s.dead = 0
		return false
	}
	last := &s.t.single[alphabet]
	if from > 0 {
		last = &s.t.single[codeOf[s.key[from-1]]]
	}
	for i := from; i < len(s.key); i++ {
		single := &s.t.single[codeOf[s.key[i]]]
		s.fill(&s.rows[i+2], &s.rows[i+1], &s.rows[i], i+1, band, single, last, bound)
		last = single
		if s.rows[i+2].lo > s.rows[i+2].hi && s.rows[i+1].lo > s.rows[i+1].hi {
			s.dead = i + 1
			return false
		}
	}
	return true
}

// plainKey reports whether a key is made of A-Z and 0-9.
func plainKey(key string) bool {
	for i := range len(key) {
		if codeOf[key[i]] == noCode {
			return false
		}
	}
	return true
}

// sameStart is the length of what two keys begin with.
func sameStart(a, b string) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}
