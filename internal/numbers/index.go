package numbers

import (
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
)

// maxLength is the longest key that is packed. Longer ones, and those with
// letters outside A-Z, are kept one by one: a book has hardly any.
const maxLength = 48

// Index holds keys. It is safe for use by several goroutines.
type Index struct {
	revision int64
	total    int
	shelves  []shelf             // those that hold a key, by length
	byLength [maxLength + 1]int8 // place in shelves, from 1
	odd      []string            // in order
	prepare  sync.Mutex
	views    atomic.Pointer[view] // made for the error model asked last
}

// Build makes an index of the keys of one revision of the book (part.Key gives
// their form). Keys may come in any order and more than once; an empty one is
// left out. Keys in order are built fastest.
func Build(keys []string, revision int64) *Index {
	x := &Index{revision: revision}
	var counts [maxLength + 1]int
	for _, k := range keys {
		if plain(k) {
			counts[len(k)]++
		} else if k != "" {
			x.odd = append(x.odd, k)
		}
	}
	slices.Sort(x.odd)
	x.odd = slices.Compact(slices.Clip(x.odd))
	x.total = len(x.odd)
	for length, count := range counts {
		if count == 0 {
			continue
		}
		s := pack(pick(keys, length, count), length)
		x.shelves = append(x.shelves, s)
		x.byLength[length] = int8(len(x.shelves))
		x.total += s.count
	}
	return x
}

// plain reports whether a key can be packed.
func plain(key string) bool {
	if key == "" || len(key) > maxLength {
		return false
	}
	for i := range len(key) {
		if c := key[i]; (c < '0' || c > '9') && (c < 'A' || c > 'Z') {
			return false
		}
	}
	return true
}

// pick gives the keys of one length in order, each once.
func pick(keys []string, length, count int) []string {
	picked := make([]string, 0, count)
	for _, k := range keys {
		if len(k) == length && plain(k) {
			picked = append(picked, k)
		}
	}
	if !slices.IsSorted(picked) {
		slices.Sort(picked)
	}
	return slices.Compact(picked)
}

// Revision is the revision of the book that the keys were taken from.
func (x *Index) Revision() int64 { return x.revision }

// Len is the number of different keys.
func (x *Index) Len() int { return x.total }

// Bytes is the memory that the index holds, without what a started question
// needs.
func (x *Index) Bytes() int {
	n := 0
	for _, s := range x.shelves {
		n += len(s.data) + 8*len(s.heads)
	}
	for _, k := range x.odd {
		n += len(k) + 16
	}
	if v := x.views.Load(); v != nil {
		for _, masks := range v.masks {
			n += 8 * len(masks)
		}
	}
	return n
}

// Exact reports whether a key is there.
func (x *Index) Exact(key string) bool {
	if len(key) <= maxLength {
		if at := x.byLength[len(key)]; at > 0 && x.shelves[at-1].has(key) {
			return true
		}
	}
	_, found := slices.BinarySearch(x.odd, key)
	return found
}

// Prefix gives the first keys, in order, that begin with a prefix, and how many
// more do. An empty prefix is every key's.
func (x *Index) Prefix(prefix string, limit int) (keys []string, rest int) {
	found := 0
	for _, s := range x.shelves {
		from, to := s.within(prefix)
		found += to - from
		for i := from; i < min(to, from+limit); i++ {
			keys = append(keys, s.row(i))
		}
	}
	from := sort.SearchStrings(x.odd, prefix)
	for i := from; i < len(x.odd) && strings.HasPrefix(x.odd[i], prefix); i++ {
		found++
		if i < from+limit {
			keys = append(keys, x.odd[i])
		}
	}
	slices.Sort(keys)
	keys = keys[:min(len(keys), max(0, limit))]
	return keys, found - len(keys)
}
