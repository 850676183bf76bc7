package numbers

import "crossbin/internal/part"

// mostErrors is how many errors the automaton tells apart; with more, most keys
// pass and the error model is asked at once.
const mostErrors = 2

// automaton steps through keys with one bit for each number of places that can
// have been read so far, and one such word for each number of errors (the method
// of Wu and Manber, Fast text searching, 1992). Look-alikes are no errors. A
// character read for another, left out or read twice and a swapped pair are one
// each, and so it accepts every key that the error model can explain with that
// many, and some more. What two keys in a row begin with is stepped through once.
type automaton struct {
	steps [256]steps
	runs  uint64 // bit j: any run may stand behind j places
	last  uint64 // the bit of all places
	path  [maxLength + 2]state
	key   string // the key of path[1:]
	dead  int    // path[dead] and what follows can read nothing more; past the key where it is alive
}

// steps has bit j set where place j, from 1, can be a character of a key.
type steps struct {
	equal uint64 // read as it is, or not read
	alike uint64 // or read for a look-alike
}

// state is what can have been read of the places: exactly, with look-alikes
// only, and with one and two errors more. alike is the step that led here.
type state struct{ exact, none, one, two, alike uint64 }

// verdict is what the automaton says of a key.
type verdict uint8

const (
	refused verdict = iota
	maybe           // the error model has to say
	perfect         // every place that was read agrees
)

func newAutomaton(r part.Reading, v *view) *automaton {
	a := &automaton{last: 1 << r.Places()}
	for j := range r.Places() {
		c, read := r.At(j)
		for b := range a.steps {
			if !read || rune(b) == c {
				a.steps[b].equal |= 1 << (j + 1)
			}
			if !read || c < 0x80 && v.class[b] < classes-1 && v.class[b] == v.class[c] {
				a.steps[b].alike |= 1 << (j + 1)
			}
		}
	}
	for j := range r.Places() + 1 {
		if r.RunBehind(j) {
			a.runs |= 1 << j
		}
	}
	a.reset()
	return a
}

// reset forgets the keys so far; it is needed where the number of errors
// changes.
func (a *automaton) reset() {
	a.path[1] = state{exact: 1, none: 1}
	a.key, a.dead = "", maxLength+2
}

// judge says whether a key can explain the reading with so many errors, at most
// mostErrors.
func (a *automaton) judge(key string, errors int) verdict {
	from := common(a.key, key)
	if from+1 >= a.dead {
		return refused
	}
	a.key, a.dead = key, maxLength+2
	switch errors {
	case 0:
		a.withNone(from)
	case 1:
		a.withOne(from)
	default:
		a.withTwo(from)
	}
	s := &a.path[len(key)+1]
	switch {
	case a.dead < maxLength+2:
		return refused
	case s.exact&a.last != 0:
		return perfect
	case (s.none|s.one|s.two)&a.last != 0:
		return maybe
	}
	return refused
}

// common is the length of what two keys begin with.
func common(a, b string) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}

// withNone walks the key from a place on, with no error but look-alikes.
func (a *automaton) withNone(from int) {
	was := a.path[from+1]
	for i := from; i < len(a.key); i++ {
		step := &a.steps[a.key[i]]
		was = state{
			exact: was.exact<<1&step.equal | was.exact&a.runs,
			none:  was.none<<1&step.alike | was.none&a.runs,
		}
		a.path[i+2] = was
		if was.none == 0 {
			a.dead = i + 2
			return
		}
	}
}

// withOne is withNone with at most one error.
func (a *automaton) withOne(from int) {
	before, was := a.path[from], a.path[from+1]
	for i := from; i < len(a.key); i++ {
		step := &a.steps[a.key[i]]
		now := state{
			exact: was.exact<<1&step.equal | was.exact&a.runs,
			none:  was.none<<1&step.alike | was.none&a.runs,
			alike: step.alike,
		}
		now.one = was.one<<1&step.alike | was.one&a.runs | slip(was.none, now.none, before.none, step.alike, was.alike)
		before, was = was, now
		a.path[i+2] = now
		if now.none|now.one == 0 {
			a.dead = i + 2
			return
		}
	}
}

// withTwo is withNone with at most two errors.
func (a *automaton) withTwo(from int) {
	before, was := a.path[from], a.path[from+1]
	for i := from; i < len(a.key); i++ {
		step := &a.steps[a.key[i]]
		now := state{
			exact: was.exact<<1&step.equal | was.exact&a.runs,
			none:  was.none<<1&step.alike | was.none&a.runs,
			alike: step.alike,
		}
		now.one = was.one<<1&step.alike | was.one&a.runs | slip(was.none, now.none, before.none, step.alike, was.alike)
		now.two = was.two<<1&step.alike | was.two&a.runs | slip(was.one, now.one, before.one, step.alike, was.alike)
		before, was = was, now
		a.path[i+2] = now
		if now.none|now.one|now.two == 0 {
			a.dead = i + 2
			return
		}
	}
}

// slip gives the places reached by one error more: another character, one left
// out, one read twice, or a swapped pair.
func slip(was, now, before, alike, alikeBefore uint64) uint64 {
	return was<<1 | was | now<<1 | before<<2&(alike<<1)&alikeBefore
}
