package fit

import (
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// trailBudget bounds how many paths are walked out of one part: groups of
// cross-references grow to thousands of numbers, and beyond the strongest few
// a path adds nothing to a confidence.
const trailBudget = 4000

// trail is a Trail in the making.
type trail struct {
	Trail
	start     part.Ref // the part that the fitment names
	end       part.Ref
	row       int // index of the fitment row in world.rows
	kin       bool
	ambiguous bool
	kit       bool
	open      []string // conditions that nobody knows to hold
	sources   []string // roots, sorted
	id        string
}

// path is a chain of links out of one part.
type path struct {
	begin     part.Ref
	end       part.Ref
	edges     []edge
	chain     chain
	ambiguous bool
}

// paths walks every chain of links that the chaining table allows out of a
// part, the empty one first, then by length: what is near is never crowded out
// by what is far.
func (w *world) paths(start part.Ref) []path {
	out := []path{{begin: start, end: start}}
	for i := 0; i < len(out); i++ {
		p := out[i]
		for _, e := range w.sortedEdges(p.end) {
			next, ok := p.chain.then(e.class)
			if !ok || p.visits(e.to) {
				continue
			}
			if len(out) >= trailBudget {
				return out
			}
			out = append(out, path{begin: start, end: e.to, chain: next,
				edges: append(slices.Clone(p.edges), e), ambiguous: p.ambiguous || e.ambiguous})
		}
	}
	return out
}

// visits reports whether a path has been at a part.
func (p path) visits(n part.Ref) bool {
	return p.begin == n || slices.ContainsFunc(p.edges, func(e edge) bool { return e.to == n })
}

// trails joins every row that speaks of this vehicle, or of its kin, with every
// path out of the part that it names.
func (w *world) trails() map[part.Ref][]*trail {
	out := map[part.Ref][]*trail{}
	cache := map[part.Ref][]path{}
	for i, r := range w.rows {
		kin := w.kin(r)
		if r.none || r.tri == vehicle.No && !kin {
			continue
		}
		for _, n := range r.nodes {
			paths := cache[n]
			if paths == nil {
				paths = w.paths(n)
				cache[n] = paths
			}
			if kin {
				paths = paths[:1] // kin is offered as it stands, without links
			}
			for _, p := range paths {
				out[p.end] = append(out[p.end], w.newTrail(i, n, p, kin))
			}
		}
	}
	return out
}

func (w *world) newTrail(i int, start part.Ref, p path, kin bool) *trail {
	r := w.rows[i]
	t := w.linkTrail(p)
	t.start, t.row, t.kin = start, i, kin
	t.ambiguous = t.ambiguous || r.ambiguous
	t.Basis = basisOf(kin, len(p.edges))
	t.Steps = append([]Step{r.step}, t.Steps...)
	w.finish(t)
	return t
}

// linkTrail makes a trail of the links of a path alone.
func (w *world) linkTrail(p path) *trail {
	t := &trail{end: p.end, ambiguous: p.ambiguous, kit: p.chain.kit}
	t.Starred, t.Basis = p.chain.starred, ByNumber
	for _, e := range p.edges {
		t.Steps = append(t.Steps, e.step)
		t.open = append(t.open, e.open...)
		t.Conditions = append(t.Conditions, e.step.Statement.Link.Conditions...)
		t.Changes = append(t.Changes, changesOf(e)...)
	}
	w.finish(t)
	return t
}

// finish reckons what a trail is worth, whose it is, and its id.
func (w *world) finish(t *trail) {
	t.Reliability = trailReliability(t.Steps)
	ids := make([]string, len(t.Steps))
	t.sources = t.sources[:0]
	for j, s := range t.Steps {
		ids[j] = s.Statement.ID
		t.sources = append(t.sources, statement.Root(s.Statement.Source, w.k.Sources))
	}
	slices.Sort(t.sources)
	t.sources = slices.Compact(t.sources)
	t.id = strings.Join(ids, "+")
}

func basisOf(kin bool, links int) Basis {
	switch {
	case kin:
		return ByKin
	case links > 0:
		return ByNumber
	}
	return Stated
}

// changesOf gives the tasks of a link: its named changes, and for a set the
// task of fitting its members together. Walked backward only both-ways links
// arrive here, and their changes hold for both ways.
func changesOf(e edge) []statement.Change {
	l := e.step.Statement.Link
	out := slices.Clone(l.Changes)
	if len(l.Set) > 0 {
		c := statement.Change{Task: "goes in only as a set"}
		for _, m := range l.Set {
			c.Pieces = append(c.Pieces, m.Key)
		}
		out = append(out, c)
	}
	return out
}

// trailReliability is the chance that a chain of statements is right, each
// statement a noisy channel: 1/2 + 1/2 prod(2r-1). A row of a list counts once,
// however many of its statements the trail uses.
func trailReliability(steps []Step) float64 {
	product, seen := 1.0, map[string]bool{}
	for _, s := range steps {
		key := rowKey(s)
		if seen[key] {
			continue
		}
		seen[key] = true
		product *= 2*s.Reliability - 1
	}
	return 0.5 + 0.5*product
}

func rowKey(s Step) string {
	p := s.Statement.Place
	return fmt.Sprintf("%s|%s|%s|%d", s.Source.List, p.File, p.Sheet, p.Row)
}
