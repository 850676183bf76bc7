package numbers

import (
	"math/bits"

	"crossbin/internal/part"
)

// classes is the number of look-alike classes there can be, with one for every
// byte outside A-Z and 0-9.
const classes = 37

// view is what a scan wants to know of every key first, for one way to sort
// characters into look-alike classes.
type view struct {
	class [256]uint8
	shift [classes]uint8 // first bit of a class
	width [classes]uint8 // how many of a class are counted
	masks [][]uint64     // one a key, shelf by shelf
}

// Prepare readies the index for questions with an error model, which the first
// such question would do otherwise (some 20 ms for a million keys). Only the
// model prepared last is kept ready.
func (x *Index) Prepare(c part.Confusions) { x.view(c) }

func (x *Index) view(c part.Confusions) *view {
	var class [256]uint8
	for b := range class {
		class[b] = c.Class(byte(b))
	}
	if v := x.views.Load(); v != nil && v.class == class {
		return v
	}
	x.prepare.Lock()
	defer x.prepare.Unlock()
	if v := x.views.Load(); v != nil && v.class == class {
		return v
	}
	v := &view{class: class}
	v.shareBits()
	for i := range x.shelves {
		v.masks = append(v.masks, v.shelfMasks(&x.shelves[i]))
	}
	x.views.Store(v)
	return v
}

// mostCounted is how many characters of a class a mask counts: more than three
// equal digits are rare.
const mostCounted = 3

// shareBits gives the 64 bits to the classes: one each, then a second and a
// third to those with a digit, of which numbers are mostly made, then to the
// letters.
func (v *view) shareBits() {
	left := 64
	give := func(chars string, upTo uint8) {
		for i := range len(chars) {
			if k := v.class[chars[i]]; left > 0 && v.width[k] < upTo {
				v.width[k]++
				left--
			}
		}
	}
	const digits, letters = "0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	give(digits, 1)
	give(letters, 1)
	for n := uint8(2); n <= mostCounted; n++ {
		give(digits, n)
	}
	for n := uint8(2); n <= mostCounted; n++ {
		give(letters, n)
	}
	next := uint8(0)
	for k, w := range v.width {
		v.shift[k] = next
		next += w
	}
}

// mask counts the characters of each class in unary, as far as the width of the
// class goes: three zeros are three bits. So the bits that one mask has and
// another lacks are the characters that the one text has more, at least.
func (v *view) mask(text string) (m uint64) {
	for i := range len(text) {
		k := v.class[text[i]]
		field := (uint64(1)<<v.width[k] - 1) << v.shift[k]
		free := field &^ m
		m |= free & -free
	}
	return m
}

func (v *view) shelfMasks(s *shelf) []uint64 {
	masks := make([]uint64, s.count)
	for i := range masks {
		masks[i] = v.mask(s.row(i))
	}
	return masks
}

// missing is how many characters of one mask another lacks.
func missing(need, has uint64) int { return bits.OnesCount64(need &^ has) }
