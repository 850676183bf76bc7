package sqlite

// idSet is a set of numbers that lie close together: one bit each.
type idSet map[int64]uint64

func (s idSet) has(id int64) bool { return s[id>>6]&(1<<(id&63)) != 0 }

// add reports whether the number is new to the set.
func (s idSet) add(id int64) bool {
	if s.has(id) {
		return false
	}
	s[id>>6] |= 1 << (id & 63)
	return true
}

func (s idSet) addAll(o idSet) {
	for word, bits := range o {
		s[word] |= bits
	}
}

// run is a range of numbers, both ends included.
type run struct{ first, last int64 }

// runsOf joins ascending numbers that follow one another.
func runsOf(ids []int64) []run {
	var out []run
	for _, id := range ids {
		if n := len(out); n > 0 && out[n-1].last+1 == id {
			out[n-1].last = id
			continue
		}
		out = append(out, run{id, id})
	}
	return out
}

func (r run) args() []any { return []any{r.first, r.last} }
