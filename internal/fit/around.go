package fit

import (
	"cmp"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Around is what the book knows around one part: what can replace it, what it
// can replace, and which vehicles it goes into.
type Around struct {
	Revision int64
	Type     part.Type
	Part     Relative // the part itself, without trails
	Forward  []Relative
	Backward []Relative
	Vehicles []Place
	Against  []string
}

// Relative is a part on the other end of some links.
type Relative struct {
	Ref        part.Ref
	Numbers    []Number
	Name       string
	Verdict    Verdict // of the one going where the other goes, vehicles apart
	Reason     string
	Confidence int
	Changes    []statement.Change
	RuledOut   *Ruling
	Trails     []Trail
	Free       int
}

// Place is one set of vehicles that a part goes into, by its own fitment or by
// that of a part that it can replace.
type Place struct {
	Scope      vehicle.Scope
	Number     string // whose fitment it is
	Verdict    Verdict
	Confidence int
	Trails     []Trail
}

// AskAround answers what can replace a part, what it can replace, and where it
// goes. The question's vehicle is not looked at.
func AskAround(q Question, k Knowledge) Around {
	q.Facts = vehicle.NewFacts()
	w := newWorld(q, k)
	n := w.nodes(q.Part)[0]
	a := Around{Revision: k.Revision, Type: q.Type, Part: w.relative(n), Against: w.against(n)}
	a.Forward = w.relatives(n, w.pathsFrom(n), true)
	a.Backward = w.relatives(n, w.pathsTo(n), false)
	a.Vehicles = w.places(n)
	a.Against = append(a.Against, w.alikeWords(n)...)
	return a
}

// alikeWords says which parts only look like this one.
func (w *world) alikeWords(n part.Ref) []string {
	var out []string
	for _, p := range w.alike {
		if other, touches := w.otherEnd(n, p); touches {
			text := "only looks like " + w.display(other)
			if r := p.step.Statement.Link.Reason; r != "" {
				text += ": " + r
			}
			out = append(out, text+" ("+placeText(p.step)+")")
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (w *world) relative(n part.Ref) Relative {
	r := Relative{Ref: n}
	r.Numbers, r.Name = w.numbersOf(n)
	if w.k.Free != nil {
		r.Free = w.k.Free(n)
	}
	return r
}

// pathsFrom gives every chain of links out of a part, by its end.
func (w *world) pathsFrom(n part.Ref) map[part.Ref][]path {
	out := map[part.Ref][]path{}
	for _, p := range w.paths(n)[1:] {
		out[p.end] = append(out[p.end], p)
	}
	return out
}

// pathsTo gives every chain of links that ends at a part, by its start: whatever
// the part can replace. Chains are walked from their start, because a chain
// read backward is another one.
func (w *world) pathsTo(n part.Ref) map[part.Ref][]path {
	out := map[part.Ref][]path{}
	for _, start := range w.within(n) {
		for _, p := range w.paths(start)[1:] {
			if p.end == n {
				out[start] = append(out[start], p)
			}
		}
	}
	return out
}

// within lists the parts from which a part may be reached in as many links as a
// trail may hold.
func (w *world) within(n part.Ref) []part.Ref {
	into := map[part.Ref][]part.Ref{}
	for from, edges := range w.edges {
		for _, e := range edges {
			into[e.to] = append(into[e.to], from)
		}
	}
	seen, frontier := map[part.Ref]bool{n: true}, []part.Ref{n}
	var out []part.Ref
	for range maxHops {
		var next []part.Ref
		for _, at := range frontier {
			for _, from := range into[at] {
				if !seen[from] {
					seen[from] = true
					next = append(next, from)
				}
			}
		}
		out, frontier = append(out, next...), next
	}
	slices.SortFunc(out, part.Ref.Compare)
	return out
}

// relatives judges the ends of some chains. forward says that the other part
// goes where this one goes; else this one goes where the other goes.
func (w *world) relatives(n part.Ref, ends map[part.Ref][]path, forward bool) []Relative {
	var out []Relative
	for other, paths := range ends {
		trails := w.chainTrails(paths)
		if w.foreign[other.Key] || len(trails) == 0 {
			continue
		}
		from, to := other, n
		if forward {
			from, to = n, other
		}
		r := w.relative(other)
		w.judgeRelative(&r, from, to, trails)
		out = append(out, r)
	}
	slices.SortFunc(out, func(a, b Relative) int {
		order := []Verdict{Fits, FitsWithChange, CheckFirst, RuledOut}
		return cmp.Or(slices.Index(order, a.Verdict)-slices.Index(order, b.Verdict), b.Free-a.Free, b.Confidence-a.Confidence, a.Ref.Compare(b.Ref))
	})
	return out[:min(len(out), maxCandidates)]
}

// chainTrails makes trails of links alone; a kit is not the part.
func (w *world) chainTrails(paths []path) []*trail {
	var out []*trail
	for _, p := range paths {
		if !p.chain.kit {
			t := w.linkTrail(p)
			t.start = p.begin
			out = append(out, t)
		}
	}
	return out
}

func (w *world) judgeRelative(r *Relative, from, to part.Ref, trails []*trail) {
	live, ruling, _ := w.hold(to, trails)
	f := w.evaluate(live)
	if len(live) == 0 {
		f = w.evaluate(trails)
	}
	r.Confidence, r.Changes = f.confidence, f.changes
	r.Trails = w.shown(live, trails, f.counted)
	for _, p := range w.alike {
		if p.a == from && p.b == to || p.b == from && p.a == to {
			ruling = &Ruling{Kind: BlockedLook, Wanted: w.display(from), Effect: p.step.Statement.Link.Reason, By: []Step{p.step}}
			live = nil
		}
	}
	switch {
	case len(live) == 0 && ruling != nil:
		r.Verdict, r.RuledOut, r.Reason = RuledOut, ruling, w.ruledOutWords(*ruling)
	case f.class == goesChecked:
		r.Verdict, r.Reason = CheckFirst, orElse(w.doubtWords(weighed{finding: f}), "compare the two")
	case f.class == goesChanged:
		r.Verdict, r.Reason = FitsWithChange, changeWords(f.changes)
	default:
		r.Verdict, r.Reason = Fits, linkWords(r.Trails[0].Steps)
	}
}

// places lists the vehicles of a part: its own fitments, and those of the parts
// that it can replace.
func (w *world) places(n part.Ref) []Place {
	var out []Place
	for i, r := range w.rows {
		for _, named := range r.nodes {
			for _, p := range w.paths(named) {
				if p.end != n || p.chain.kit {
					continue
				}
				t := w.newTrail(i, named, p, false)
				f := w.evaluate([]*trail{t})
				t.Counted = true
				out = append(out, Place{Scope: r.step.Statement.Scope, Number: w.display(named), Verdict: verdictOfClass(f.class),
					Confidence: f.confidence, Trails: []Trail{t.Trail}})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Place) int {
		return cmp.Or(b.Confidence-a.Confidence, cmp.Compare(a.Trails[0].Steps[0].Statement.ID, b.Trails[0].Steps[0].Statement.ID))
	})
	return out[:min(len(out), maxCandidates)]
}

func verdictOfClass(c class) Verdict {
	switch c {
	case goes:
		return Fits
	case goesChanged:
		return FitsWithChange
	}
	return CheckFirst
}
