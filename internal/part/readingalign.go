package part

import (
	"math"
	"slices"
)

// MarkKind is what a place of a reading has to do with the key beside it.
type MarkKind string

// Kinds of marks.
const (
	MarkAgrees   MarkKind = "agrees"
	MarkConfused MarkKind = "confused" // a look-alike was read
	MarkDiffers  MarkKind = "differs"  // another character was read
	MarkUnread   MarkKind = "unread"   // not read, or taken up by a run
	MarkDropped  MarkKind = "dropped"  // the key's character was left out
	MarkDoubled  MarkKind = "doubled"  // two places were read for one character
	MarkSwapped  MarkKind = "swapped"  // two characters in the wrong order
)

// Mark is one step of laying a reading onto a key, for people: what was read and
// what stands there. Read is empty for a dropped character and one taken up by a
// run, two characters long for a doubled one; both are two long for a swapped
// pair. The Read of all marks in a row are the reading without its runs, the
// Keys are the key, and the Logs sum up to LogLikelihood.
type Mark struct {
	Kind MarkKind
	Read string
	Key  string
	Log  float64 // what the step adds to the log-likelihood, at most 0
}

// Align lays a reading onto a key in the likeliest way, so that the places that
// differ can be marked. It is empty where no way exists. Among equally likely
// ways the one is taken that puts errors as far back as it can.
func Align(r Reading, key string, c Confusions) []Mark {
	a := aligner{r: &r, t: c.table(), key: []rune(key)}
	a.fill()
	var marks []Mark
	i, j := len(a.key), len(r.codes)
	if math.IsInf(a.best[i][j].log, -1) {
		return nil
	}
	for i > 0 {
		s := a.best[i][j].last
		marks = append(marks, a.mark(s, i, j))
		i, j = i-s.keys, j-s.places
	}
	slices.Reverse(marks)
	return marks
}

// aligner is the whole table of LogLikelihood, kept to walk back through.
type aligner struct {
	r    *Reading
	t    *errorTable
	key  []rune
	best [][]laid
}

// laid is the best way to read the first j places from the first i characters,
// with its last advance.
type laid struct {
	log  float64
	last advance
}

// advance takes characters of the key and places of the reading.
type advance struct {
	keys, places int
	log          float64
}

func (a *aligner) fill() {
	a.best = make([][]laid, len(a.key)+1)
	for i := range a.best {
		a.best[i] = make([]laid, len(a.r.codes)+1)
		for j := range a.best[i] {
			a.best[i][j] = a.lay(i, j)
		}
	}
}

func (a *aligner) lay(i, j int) laid {
	if i == 0 && j == 0 {
		return laid{}
	}
	best := laid{log: math.Inf(-1)}
	for _, s := range a.steps(i, j) {
		if log := a.best[i-s.keys][j-s.places].log + s.log; log > best.log {
			best = laid{log, s}
		}
	}
	return best
}

// steps lists the steps that end after i characters and j places.
func (a *aligner) steps(i, j int) []advance {
	var out []advance
	if i == 0 {
		return nil
	}
	if j > 0 {
		out = append(out, advance{1, 1, a.single(i, j)})
	}
	if a.r.run[j] {
		out = append(out, advance{1, 0, 0})
	} else {
		out = append(out, advance{1, 0, a.t.drop})
	}
	if j > 1 {
		out = append(out, advance{1, 2, a.t.double + a.single(i, j-1) + a.single(i, j)})
		if i > 1 {
			out = append(out, advance{2, 2, a.t.swap + a.single(i, j-1) + a.single(i-1, j)})
		}
	}
	return out
}

// single is the log of reading the i-th character as the j-th place.
func (a *aligner) single(i, j int) float64 {
	k, code := a.key[i-1], a.r.codes[j-1]
	if at := keyCode(k); at != alphabet {
		return a.t.single[at][code]
	}
	if code != codeUnread && a.r.chars[j-1] == k {
		return a.t.oddly
	}
	return a.t.single[alphabet][code]
}

// keyCode is the code of a character of a key, alphabet for an odd one.
func keyCode(k rune) int {
	if k < 0x80 && codeOf[k] != noCode {
		return int(codeOf[k])
	}
	return alphabet
}

func (a *aligner) mark(s advance, i, j int) Mark {
	m := Mark{Read: string(a.r.chars[j-s.places : j]), Key: string(a.key[i-s.keys : i]), Log: s.log}
	switch {
	case s.keys == 2:
		m.Kind = MarkSwapped
	case s.places == 2:
		m.Kind = MarkDoubled
	case s.places == 0 && s.log == 0:
		m.Kind = MarkUnread
	case s.places == 0:
		m.Kind = MarkDropped
	default:
		m.Kind = a.kind(a.key[i-1], a.r.chars[j-1], a.r.codes[j-1])
	}
	return m
}

func (a *aligner) kind(k, read rune, code uint8) MarkKind {
	at := keyCode(k)
	switch {
	case code == codeUnread:
		return MarkUnread
	case read == k:
		return MarkAgrees
	case at != alphabet && code < alphabet && a.t.class[at] == a.t.class[code]:
		return MarkConfused
	}
	return MarkDiffers
}
