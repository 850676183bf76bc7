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
	steps  [256]steps
	runs   uint64 // bit j: any run may stand behind j places
	last   uint64 // the bit of all places
	others uint64 // all bits where a character may be read for any other, else none
	errors int    // how many are forgiven, at most mostErrors
	path   [maxLength + 2]state
	key    string // the key of path[1:]
	dead   int    // path[dead] and what follows can read nothing more; past the key where it is alive
}

// steps has bit j set where place j, from 1, can be a character of a key.
type steps struct {
	equal uint64 // read as it is, or not read
	alike uint64 // or read for a look-alike
}

// state is what can have been read of the places: exactly, with look-alikes
// only, and with one and two errors more. slight is exactly but for one slip
// that is no other character. The last two are of the step that led here.
type state struct{ exact, slight, none, one, two, equal, alike uint64 }

// verdict is what the automaton says of a key.
type verdict uint8

const (
	refused verdict = iota
	maybe           // the error model has to say
	slight          // agrees but for one look-alike, character left out or read twice, or swapped pair
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
	a.forgive(0, false)
	return a
}

// forgive sets how many errors are forgiven, and whether another character is
// one of them.
func (a *automaton) forgive(errors int, others bool) {
	a.errors, a.others = min(errors, mostErrors), 0
	if others {
		a.others = ^uint64(0)
	}
	a.path[1] = state{exact: 1, none: 1}
	a.key, a.dead = "", maxLength+2
}

// judge says whether a key can explain the reading.
func (a *automaton) judge(key string) verdict {
	from := common(a.key, key)
	if from+1 >= a.dead {
		return refused
	}
	a.key, a.dead = key, maxLength+2
	switch a.errors {
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
	case s.slight&a.last != 0:
		return slight
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

// withNone walks the key from a place on, with no error but look-alikes. In this
// and the next two the words stand in variables of their own, which is twice as
// fast as a state at a time.
func (a *automaton) withNone(from int) {
	was := &a.path[from+1]
	exact, slight, none, runs := was.exact, was.slight, was.none, a.runs
	for i := from; i < len(a.key); i++ {
		equal, alike := a.steps[a.key[i]].equal, a.steps[a.key[i]].alike
		slight = slight<<1&equal | slight&runs | exact<<1&alike
		exact = exact<<1&equal | exact&runs
		none = none<<1&alike | none&runs
		now := &a.path[i+2]
		now.exact, now.slight, now.none = exact, slight, none
		if none == 0 {
			a.dead = i + 2
			return
		}
	}
}

// withOne is withNone with at most one error.
func (a *automaton) withOne(from int) {
	before, was := &a.path[from], &a.path[from+1]
	exact, slight, none, one, runs := was.exact, was.slight, was.none, was.one, a.runs
	exactBefore, noneBefore, equalBefore, alikeBefore := before.exact, before.none, was.equal, was.alike
	for i := from; i < len(a.key); i++ {
		equal, alike := a.steps[a.key[i]].equal, a.steps[a.key[i]].alike
		e := exact<<1&equal | exact&runs
		slight = slight<<1&equal | slight&runs | slip(exact, e, exactBefore, equal, equalBefore) | exact<<1&alike
		n := none<<1&alike | none&runs
		one = one<<1&alike | one&runs | slip(none, n, noneBefore, alike, alikeBefore) | none<<1&a.others
		exactBefore, exact, noneBefore, none, equalBefore, alikeBefore = exact, e, none, n, equal, alike
		now := &a.path[i+2]
		now.exact, now.slight, now.none, now.one, now.equal, now.alike = exact, slight, none, one, equal, alike
		if none|one == 0 {
			a.dead = i + 2
			return
		}
	}
}

// withTwo is withNone with at most two errors. It leaves slight alone: with so
// many forgiven, few keys are perfect and each is scored.
func (a *automaton) withTwo(from int) {
	before, was := &a.path[from], &a.path[from+1]
	exact, none, one, two, runs := was.exact, was.none, was.one, was.two, a.runs
	noneBefore, oneBefore, alikeBefore := before.none, before.one, was.alike
	for i := from; i < len(a.key); i++ {
		equal, alike := a.steps[a.key[i]].equal, a.steps[a.key[i]].alike
		exact = exact<<1&equal | exact&runs
		n := none<<1&alike | none&runs
		o := one<<1&alike | one&runs | slip(none, n, noneBefore, alike, alikeBefore) | none<<1&a.others
		// A character read twice, the second time for another, is two errors.
		two = two<<1&alike | two&runs | slip(one, o, oneBefore, alike, alikeBefore) | one<<1&a.others | n<<1
		noneBefore, none, oneBefore, one, alikeBefore = none, n, one, o, alike
		now := &a.path[i+2]
		now.exact, now.none, now.one, now.two, now.alike = exact, none, one, two, alike
		if none|one|two == 0 {
			a.dead = i + 2
			return
		}
	}
}

// slip gives the places reached by one error more that is no other character:
// one left out, one read twice, or a swapped pair.
func slip(was, now, before, agree, agreeBefore uint64) uint64 {
	return was | now<<1&agree | before<<2&(agree<<1)&agreeBefore
}
