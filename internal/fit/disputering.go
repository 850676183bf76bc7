package fit

import (
	"maps"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Rings finds where one can walk in a circle. next lists, for each of the points
// 0 to len(next)-1, where one can go from it. A ring is a greatest set of points
// that can all reach one another, of two points or more, or one that leads to
// itself; its points ascend, and rings come by their first point. (Strongly
// connected components: Tarjan, "Depth-first search and linear graph algorithms",
// SIAM J. Comput. 1(2), 1972; time and memory grow with points and edges.)
func Rings(next [][]int32) [][]int32 {
	s := ringSearch{next: next, order: make([]int32, len(next)), low: make([]int32, len(next)), open: make([]bool, len(next))}
	for v := range next {
		if s.order[v] == 0 {
			s.walk(int32(v))
		}
	}
	slices.SortFunc(s.found, func(a, b []int32) int { return int(a[0]) - int(b[0]) })
	return s.found
}

// ringSearch is a depth-first walk that keeps its own stack: chains of numbers
// may be longer than a call stack should be.
type ringSearch struct {
	next       [][]int32
	order, low []int32 // order of arrival from 1, and the earliest open point that can be reached
	open       []bool  // on the stack
	stack      []int32
	arrived    int32
	found      [][]int32
}

// at is a point on the way with the edge that is looked at next.
type at struct {
	v    int32
	edge int
}

func (s *ringSearch) arrive(v int32) at {
	s.arrived++
	s.order[v], s.low[v], s.open[v] = s.arrived, s.arrived, true
	s.stack = append(s.stack, v)
	return at{v: v}
}

func (s *ringSearch) walk(start int32) {
	way := []at{s.arrive(start)}
	for len(way) > 0 {
		here := &way[len(way)-1]
		if here.edge < len(s.next[here.v]) {
			to := s.next[here.v][here.edge]
			here.edge++
			switch {
			case s.order[to] == 0:
				way = append(way, s.arrive(to))
			case s.open[to]:
				s.low[here.v] = min(s.low[here.v], s.order[to])
			}
			continue
		}
		v := here.v
		if way = way[:len(way)-1]; len(way) > 0 {
			from := way[len(way)-1].v
			s.low[from] = min(s.low[from], s.low[v])
		}
		if s.low[v] == s.order[v] {
			s.leave(v)
		}
	}
}

// leave takes a finished component off the stack and keeps it if it is a ring.
func (s *ringSearch) leave(v int32) {
	from := len(s.stack) - 1
	for s.stack[from] != v {
		from--
	}
	members := slices.Sorted(slices.Values(s.stack[from:]))
	s.stack = s.stack[:from]
	for _, m := range members {
		s.open[m] = false
	}
	if len(members) > 1 || slices.Contains(s.next[v], v) {
		s.found = append(s.found, members)
	}
}

// rings are the rings of replacements that some knowledge holds.
type rings struct {
	of      map[part.Ref]int // for parts that stand on one
	members [][]part.Ref
}

// oneWay reports whether an edge is a replacement that nobody says to go both
// ways.
func (e edge) oneWay() bool {
	return e.class.replaced && e.step.Statement.Link.BothWays != vehicle.Yes && e.step.Direction == Forward
}

// allRings finds the rings of replacements.
func (w *world) allRings() *rings {
	if w.rings != nil {
		return w.rings
	}
	w.rings = &rings{of: map[part.Ref]int{}}
	number := map[part.Ref]int32{}
	var refs []part.Ref
	for _, a := range slices.SortedFunc(maps.Keys(w.edges), part.Ref.Compare) {
		for _, e := range w.edges[a] {
			for _, n := range []part.Ref{a, e.to} {
				if _, known := number[n]; e.oneWay() && !known {
					number[n] = int32(len(refs))
					refs = append(refs, n)
				}
			}
		}
	}
	next := make([][]int32, len(refs))
	for i, n := range refs {
		for _, e := range w.edges[n] {
			if e.oneWay() {
				next[i] = append(next[i], number[e.to])
			}
		}
	}
	for _, ring := range Rings(next) {
		members := make([]part.Ref, len(ring))
		for i, v := range ring {
			members[i] = refs[v]
			w.rings.of[refs[v]] = len(w.rings.members)
		}
		w.rings.members = append(w.rings.members, members)
	}
	return w.rings
}

// onRing lists the one-way replacements out of a part that stay on its ring.
func (w *world) onRing(n part.Ref) []edge {
	r := w.allRings()
	ring, on := r.of[n]
	if !on {
		return nil
	}
	return slices.DeleteFunc(w.sortedEdges(n), func(e edge) bool {
		other, on := r.of[e.to]
		return !e.oneWay() || !on || other != ring
	})
}

func (w *world) ringDisputes() []Dispute {
	var out []Dispute
	for _, members := range w.allRings().members {
		var sides []Side
		for _, a := range members {
			steps := map[part.Ref][]Step{}
			for _, e := range w.onRing(a) {
				steps[e.to] = append(steps[e.to], e.step)
			}
			for _, b := range slices.SortedFunc(maps.Keys(steps), part.Ref.Compare) {
				sides = append(sides, Side{Says: w.linkSays(statement.ReplacedBy, a, b), Steps: steps[b]})
			}
		}
		out = append(out, w.dispute(DisputeRing, "", members, sides...))
	}
	return out
}

// circle is one way round a ring through a part: the replacement that leaves it
// and the one that comes back.
type circle struct{ leaves, returns Step }

// circles gives, for each replacement that comes back to a part, the shortest
// way round that ends with it, in the order of the walk.
func (w *world) circles(n part.Ref) []circle {
	var out []circle
	first := map[part.Ref]Step{} // how the shortest way to a part leaves n
	queue := []part.Ref{n}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, e := range w.onRing(at) {
			leaves, gone := first[at]
			if !gone {
				leaves = e.step
			}
			if e.to == n {
				out = append(out, circle{leaves, e.step})
			} else if _, seen := first[e.to]; !seen {
				first[e.to] = leaves
				queue = append(queue, e.to)
			}
		}
	}
	return out
}
