package part

import (
	"fmt"
	"math"
)

// The error model: how often one character of a number on a worn label is read
// wrong, and how. All are our guess. They are set so that a likely slip costs less
// than an unlikely one, and none so little that two of them pass for a plain
// reading. How often the true number comes first hardly moves, by less than one
// in a hundred, when any of them is halved or doubled (what is reached, with
// other rates than these, stands in testdata/numbers/misread.txt).
const (
	// probConfused: taken for a look-alike of its group. Our guess: the commonest
	// slip by far; where half of the characters have look-alikes, about one number
	// of ten characters in seven has one.
	probConfused = 0.03
	// probOther: taken for any character that is no known look-alike. Our guess: a
	// third of probConfused, since the groups are those that people confuse.
	probOther = 0.01
	// otherOfKind: the share of those that are a digit for a digit or a letter for a
	// letter. Our guess: who reads a number mostly sees which of the two a sign is.
	otherOfKind = 0.8
	// probDropped: left out. Our guess: one number of ten characters in 25.
	probDropped = 0.004
	// probDoubled: read twice. Our guess: somewhat rarer than left out.
	probDoubled = 0.003
	// probSwapped: read in the wrong order with the next one. Our guess: as rare as
	// doubled; it comes from typing, not from the label.
	probSwapped = 0.003
)

// Codes of characters: 0-9 and A-Z are 0 to 35. In a reading odd letters follow,
// and the last code is the unread place.
const (
	alphabet     = 36
	firstOddCode = alphabet
	codeUnread   = 63
	codes        = 64
)

// codeOf gives the code of an ASCII byte of a key; noCode for any other.
var codeOf = makeCodes()

const noCode = 255

func makeCodes() (t [256]uint8) {
	for i := range t {
		t[i] = noCode
	}
	for c := byte('0'); c <= '9'; c++ {
		t[c] = c - '0'
	}
	for c := byte('A'); c <= 'Z'; c++ {
		t[c] = c - 'A' + 10
	}
	return t
}

// Confusions is the error model of readings: which characters are taken for one
// another, and what each error costs, as natural logarithms. It never changes.
// The zero value knows no look-alikes.
type Confusions struct{ t *errorTable }

// errorTable holds the model worked out.
type errorTable struct {
	class [alphabet]uint8 // look-alike class of each character
	// single[k][r]: log of "k was read once, as r"; k is a character of the key
	// (alphabet for an odd one), r a code of a reading. An unread place is 0:
	// that nothing was read there is no evidence.
	single  [alphabet + 1][codes]float64
	drop    float64 // log of "left out"
	double  float64 // what reading twice adds to the two single readings
	swap    float64 // what the wrong order adds to the two single readings
	oddly   float64 // log of an odd character read right
	costs   Costs
	perfect [codes]float64 // the most that a place of this code can get
}

// Costs are the least amounts, in natural logarithms and above 0, by which an
// error of each kind lowers the log-likelihood below that of a perfect reading.
// A search may leave out what can only be explained by more. Leaving out, and
// reading twice or swapping without another error, always cost the same; a
// look-alike costs at most ConfusedMost.
type Costs struct {
	Confused, Other, Dropped, Doubled, Swapped float64
	ConfusedMost                               float64
}

// plainErrors is the model without look-alikes.
var plainErrors = newErrorTable([alphabet]uint8{})

// NewConfusions makes the error model from groups of characters that are taken
// for one another (data.Confusions gives them). A group needs two characters out
// of A-Z and 0-9, and no character stands in two groups.
func NewConfusions(groups [][]rune) (Confusions, error) {
	var class [alphabet]uint8
	for g, group := range groups {
		if len(group) < 2 {
			return Confusions{}, fmt.Errorf("look-alike group %q needs two characters", string(group))
		}
		for _, c := range group {
			if c > 'Z' || codeOf[c&0xff] == noCode {
				return Confusions{}, fmt.Errorf("look-alike group %q: %q is none of A-Z and 0-9", string(group), c)
			}
			if class[codeOf[c]] != 0 {
				return Confusions{}, fmt.Errorf("look-alike group %q: %q stands in another group too", string(group), c)
			}
			class[codeOf[c]] = uint8(g + 1)
		}
	}
	return Confusions{newErrorTable(class)}, nil
}

func (c Confusions) table() *errorTable {
	if c.t == nil {
		return plainErrors
	}
	return c.t
}

// Class is the look-alike class of a byte of a key: the code (0-9 and A-Z as 0
// to 35) of the first character of its group; a byte outside A-Z and 0-9 is 36.
func (c Confusions) Class(b byte) uint8 {
	code := codeOf[b]
	if code == noCode {
		return alphabet
	}
	return c.table().class[code]
}

// Costs gives the least cost of each kind of error.
func (c Confusions) Costs() Costs { return c.table().costs }

// newErrorTable works the model out; grouped[c] is 0 for a character without
// look-alikes.
func newErrorTable(grouped [alphabet]uint8) *errorTable {
	const once = 1 - probDropped - probDoubled - probSwapped
	t := &errorTable{drop: logOf(probDropped), double: logOf(probDoubled / (once * once)), swap: logOf(probSwapped / (once * once))}
	t.classes(grouped)
	for k := range alphabet {
		for r := range codeUnread {
			t.single[k][r] = logOf(once * t.readAs(k, r))
		}
	}
	for r := range codeUnread {
		t.single[alphabet][r] = logOf(once * probOther / alphabet)
	}
	t.oddly = logOf(once * (1 - probOther))
	t.bounds()
	return t
}

// logOf is the natural logarithm to 24 binary places. Sums of such are exact, in
// whatever order they are added, so that numbers which explain a reading equally
// well get equal figures, on every machine.
func logOf(chance float64) float64 {
	const places = 1 << 24
	return math.Round(math.Log(chance)*places) / places
}

// classes numbers each class by the code of its first character.
func (t *errorTable) classes(grouped [alphabet]uint8) {
	for k := range alphabet {
		t.class[k] = uint8(k)
		for first := range k {
			if grouped[k] != 0 && grouped[first] == grouped[k] {
				t.class[k] = uint8(first)
				break
			}
		}
	}
}

// readAs is the chance that k, which is read once, is read as r.
func (t *errorTable) readAs(k, r int) float64 {
	var alike, ofKind, others float64 // characters that k can be taken for
	for c := range alphabet {
		switch {
		case t.class[c] == t.class[k]:
			alike++
		case digit(c) == digit(k):
			ofKind++
		default:
			others++
		}
	}
	share := otherOfKind
	if ofKind == 0 {
		share = 0
	} else if others == 0 {
		share = 1
	}
	switch {
	case r == k && alike > 1:
		return 1 - probOther - probConfused
	case r == k:
		return 1 - probOther
	case r >= alphabet: // an odd character, which nobody counts
		return probOther / alphabet
	case t.class[r] == t.class[k]:
		return probConfused / (alike - 1)
	case digit(r) == digit(k):
		return probOther * share / ofKind
	}
	return probOther * (1 - share) / others
}

func digit(code int) bool { return code < 10 }

// bounds works out what a place can get at most, and the least cost of each
// kind of error below that.
func (t *errorTable) bounds() {
	for r := range codeUnread {
		t.perfect[r] = t.oddly
		if r < alphabet {
			t.perfect[r] = t.single[r][r]
		}
	}
	t.costs = Costs{Confused: math.Inf(1), Other: math.Inf(1), Dropped: -t.drop, Doubled: -t.double, Swapped: -t.swap}
	for k := range t.single {
		for r := range codeUnread {
			cost := t.perfect[r] - t.single[k][r]
			switch {
			case k == r: // no error
			case k < alphabet && r < alphabet && t.class[k] == t.class[r]:
				t.costs.Confused = min(t.costs.Confused, cost)
				t.costs.ConfusedMost = max(t.costs.ConfusedMost, cost)
			default:
				t.costs.Other = min(t.costs.Other, cost)
			}
		}
	}
}

// Perfect is the log-likelihood of a reading given a number that agrees with it
// in every place that was read: the most that any number can get.
func (r Reading) Perfect(c Confusions) float64 {
	t, sum := c.table(), 0.0
	for _, code := range r.codes {
		sum += t.perfect[code]
	}
	return sum
}
