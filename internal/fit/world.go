package fit

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// carries is the reliability above which a statement carries anything; at it or
// below a statement is a note, never evidence for or against.
const carries = 0.5

// world is the knowledge around one question, made ready for walking.
type world struct {
	q       Question
	k       Knowledge
	bearers map[string][]string // key -> makers that bear it as this part type, sorted
	foreign map[string]bool     // keys that are known only as another part type
	edges   map[part.Ref][]edge
	sorted  map[part.Ref][]edge // see sortedEdges
	alike   []alikePair
	names   map[part.Ref][]statement.Statement
	classes *classes // parts joined by same links
	values  map[part.Ref]map[string][]reading
	rows    []row
	rings   *rings // found when first asked for
}

// reading is one value statement with what its source is worth.
type reading struct {
	value part.Value
	step  Step
}

// newWorld settles all number references and sorts the knowledge by part.
func newWorld(q Question, k Knowledge) *world {
	k = k.standing()
	w := &world{q: q, k: k, edges: map[part.Ref][]edge{}, sorted: map[part.Ref][]edge{}, names: map[part.Ref][]statement.Statement{},
		values: map[part.Ref]map[string][]reading{}, classes: newClasses()}
	w.settleMakers()
	for _, s := range k.Parts {
		if !w.otherType(s.Type) {
			for _, n := range w.nodes(s.A) {
				w.names[n] = append(w.names[n], s)
			}
		}
	}
	for _, s := range k.Links {
		w.addLink(s)
	}
	for _, s := range k.Values {
		w.addValue(s)
	}
	for _, s := range k.Fitments {
		w.addRow(s)
	}
	return w
}

// otherType reports whether a statement speaks of another part type. One that
// names no type speaks of any.
func (w *world) otherType(t string) bool { return t != "" && t != w.q.Type.Name }

// settleMakers finds who bears each key as this part type. A key that is only
// ever named as another type belongs to that one.
func (w *world) settleMakers() {
	sets, types := map[string]map[string]bool{}, map[string]map[bool]bool{}
	bear := func(r part.Ref, t string) {
		if r.IsZero() {
			return
		}
		if types[r.Key] == nil {
			types[r.Key] = map[bool]bool{}
		}
		if t != "" {
			types[r.Key][w.otherType(t)] = true
		}
		if r.Maker == "" || w.otherType(t) {
			return
		}
		if sets[r.Key] == nil {
			sets[r.Key] = map[string]bool{}
		}
		sets[r.Key][r.Maker] = true
	}
	for _, list := range [][]statement.Statement{w.k.Parts, w.k.Fitments, w.k.Links, w.k.Values} {
		for _, s := range list {
			bear(s.A, s.Type)
			bear(s.Link.B, s.Type)
		}
	}
	w.bearers, w.foreign = map[string][]string{}, map[string]bool{}
	for key, makers := range sets {
		for m := range makers {
			w.bearers[key] = append(w.bearers[key], m)
		}
		slices.Sort(w.bearers[key])
	}
	for key, kinds := range types {
		w.foreign[key] = kinds[true] && !kinds[false]
	}
}

// nodes gives the parts that a reference may mean: with a maker the one, bare
// the one that a single maker bears, and all of them where several do.
func (w *world) nodes(r part.Ref) []part.Ref {
	makers := w.bearers[r.Key]
	if r.Maker != "" || len(makers) == 0 {
		return []part.Ref{r}
	}
	out := make([]part.Ref, len(makers))
	for i, m := range makers {
		out[i] = part.Ref{Key: r.Key, Maker: m}
	}
	return out
}

// ambiguous reports whether a reference may mean several parts.
func (w *world) ambiguous(r part.Ref) bool { return r.Maker == "" && len(w.bearers[r.Key]) > 1 }

// step reads a statement with what its source is worth to the asking shop.
func (w *world) step(s statement.Statement, d Direction) Step {
	src := w.k.Sources[s.Source]
	r := w.k.Standings.Reliability(src, w.q.Shop)
	if t, ok := w.k.Tallies[statement.TallyKey{Source: s.Source, Type: w.q.Type.Name}]; ok {
		r = t.Learn(r)
	}
	return Step{Statement: s, Source: src, Direction: d, Reliability: r}
}

func (w *world) addValue(s statement.Statement) {
	if w.otherType(s.Type) {
		return
	}
	st := w.step(s, Forward)
	if st.Reliability <= carries || w.ambiguous(s.A) {
		return // a value of one of several makers' parts says nothing of any of them
	}
	n := w.nodes(s.A)[0]
	if w.values[n] == nil {
		w.values[n] = map[string][]reading{}
	}
	w.values[n][s.Value.Attribute] = append(w.values[n][s.Value.Attribute], reading{s.Value.Value, st})
}

// row is one fitment with how its scope stands to the vehicle.
type row struct {
	step      Step
	nodes     []part.Ref
	ambiguous bool
	none      bool
	tri       vehicle.Tri
	open      []vehicle.Fact
	failing   []vehicle.Fact
}

func (w *world) addRow(s statement.Statement) {
	if w.otherType(s.Type) {
		return
	}
	st := w.step(s, Forward)
	if st.Reliability <= carries {
		return
	}
	r := row{step: st, none: s.Kind == statement.KindNone,
		tri:     s.Scope.Judge(w.q.Facts, w.k.Engines),
		open:    s.Scope.Open(w.q.Facts, w.k.Engines),
		failing: s.Scope.Failing(w.q.Facts, w.k.Engines)}
	if !r.none {
		if w.foreign[s.A.Key] {
			return
		}
		r.nodes, r.ambiguous = w.nodes(s.A), w.ambiguous(s.A)
	}
	w.rows = append(w.rows, r)
}
