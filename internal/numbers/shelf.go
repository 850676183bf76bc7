package numbers

import (
	"sort"
	"strings"
)

// stride is how many keys stand between two heads. Heads fit into the
// processor's second cache for a million keys, and a search behind one touches
// few lines of memory.
const stride = 32

// shelf holds the keys of one length, packed and in order.
type shelf struct {
	length, count int
	data          string
	heads         []uint64 // the first eight bytes of every stride-th key
}

// pack packs keys of one length that are in order.
func pack(keys []string, length int) shelf {
	var b strings.Builder
	b.Grow(length * len(keys))
	s := shelf{length: length, count: len(keys), heads: make([]uint64, 0, (len(keys)+stride-1)/stride)}
	for i, k := range keys {
		if i%stride == 0 {
			s.heads = append(s.heads, head(k))
		}
		b.WriteString(k)
	}
	s.data = b.String()
	return s
}

// head gives the first eight bytes of a key as a number that orders alike.
func head(key string) (h uint64) {
	for i := range 8 {
		h <<= 8
		if i < len(key) {
			h |= uint64(key[i])
		}
	}
	return h
}

// row gives the i-th key without copying it.
func (s *shelf) row(i int) string { return s.data[i*s.length : (i+1)*s.length] }

// has looks a key of the shelf's length up.
func (s *shelf) has(key string) bool {
	i := s.first(key)
	return i < s.count && s.row(i) == key
}

// first is the place of the first key that is not below text.
func (s *shelf) first(text string) int {
	h := head(text)
	lo := firstHead(s.heads, h)
	hi := lo + firstHead(s.heads[lo:], h+1)
	return s.firstWithin(text, max(0, lo-1)*stride, min(s.count, hi*stride))
}

// firstHead is the place of the first head that is not below h.
func firstHead(heads []uint64, h uint64) int {
	lo, hi := 0, len(heads)
	for lo < hi {
		if mid := int(uint(lo+hi) / 2); heads[mid] < h {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// firstWithin is first among the keys lo up to, not with, hi.
func (s *shelf) firstWithin(text string, lo, hi int) int {
	for lo < hi {
		if mid := int(uint(lo+hi) / 2); s.row(mid) < text {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// within gives the places of the keys that begin with a prefix.
func (s *shelf) within(prefix string) (from, to int) {
	if len(prefix) > s.length {
		return 0, 0
	}
	from = s.first(prefix)
	return from, from + sort.Search(s.count-from, func(i int) bool {
		return !strings.HasPrefix(s.row(from+i), prefix)
	})
}
