package app

import (
	"context"
	"maps"
	"slices"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Bounds of what one question reads: a group of cross-references grows to
// thousands of numbers, and what lies beyond three links is never offered.
const (
	linkSteps   = 3
	maxFrontier = 5000
)

// gathering collects what the book holds around one question.
type gathering struct {
	service  *Service
	reader   Reader
	question *fit.Question
	warnings []string
	lines    map[part.Ref][]shelf.Line
	k        fit.Knowledge
}

// knowledge reads everything that an answer can depend on from the snapshot.
func (g *gathering) knowledge(ctx context.Context) (fit.Knowledge, error) {
	steps := []func(context.Context) error{g.basics, g.fitments, g.links, g.rest}
	for _, step := range steps {
		if err := step(ctx); err != nil {
			return fit.Knowledge{}, err
		}
	}
	return g.k, nil
}

func (g *gathering) basics(ctx context.Context) (err error) {
	g.k.Revision, g.k.Standings = g.reader.Revision(), g.service.Standings
	if g.k.Sources, err = g.reader.Sources(ctx); err != nil {
		return err
	}
	joinNames(g.k.Sources)
	if g.k.Engines, err = g.reader.Engines(ctx); err != nil {
		return err
	}
	g.settleEngine()
	return nil
}

// joinNames makes sources of one name count as one: a page that two lists cite,
// or a list that another one names as where it has a row from, is one voice
// however often it is copied.
func joinNames(sources map[string]statement.Source) {
	first := map[string]string{}
	for _, id := range slices.Sorted(maps.Keys(sources)) {
		name := part.FoldMaker(sources[id].Title())
		if have, ok := first[name]; !ok || sources[id].Name == "" && sources[have].Name != "" {
			first[name] = id // the list itself speaks for all that cite it
		}
	}
	for id, s := range sources {
		if to := first[part.FoldMaker(s.Title())]; to != id && s.CopiedFrom == "" {
			s.CopiedFrom = to
			sources[id] = s
		}
	}
}

// settleEngine finds the families of the engine. An engine that is the name of
// a family says only the family.
func (g *gathering) settleEngine() {
	f := &g.question.Facts
	code, known := f.Get(vehicle.FactEngine)
	if !known {
		return
	}
	f.Families = g.k.Engines[code]
	if _, listed := g.k.Engines[code]; listed {
		return
	}
	for _, families := range g.k.Engines {
		if slices.Contains(families, code) {
			f.Families = []string{code}
			f.Text = maps.Clone(f.Text)
			delete(f.Text, vehicle.FactEngine)
			g.warnings = append(g.warnings, code+" is an engine family: the code stamped on the block says more")
			return
		}
	}
}

// fitments reads the rows that speak of this vehicle or of its kin, and those of
// the part that was asked for.
func (g *gathering) fitments(ctx context.Context) error {
	f := g.question.Facts
	q := FitmentQuery{Type: g.question.Type.Name, Engines: slices.Clone(f.Families)}
	add := func(to *[]string, fact vehicle.Fact) {
		if v, ok := f.Get(fact); ok {
			*to = append(*to, v)
		}
	}
	add(&q.ModelCodes, vehicle.FactModelCode)
	add(&q.Engines, vehicle.FactEngine)
	for code, families := range g.k.Engines { // another engine of the family may be all that is listed
		if overlap(families, f.Families) {
			q.Engines = append(q.Engines, code)
		}
	}
	slices.Sort(q.Engines)
	add(&q.Models, vehicle.FactModel)
	add(&q.Makers, vehicle.FactMaker)
	if !g.question.Part.IsZero() {
		q.Keys = []string{g.question.Part.Key}
	}
	rows, err := g.reader.Fitments(ctx, q)
	g.k.Fitments = rows
	return err
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// links walks outward from the parts that the rows name.
func (g *gathering) links(ctx context.Context) error {
	seen, have := map[string]bool{}, map[string]bool{}
	var frontier []string
	meet := func(key string) {
		if key != "" && !seen[key] && len(seen) < maxFrontier {
			seen[key] = true
			frontier = append(frontier, key)
		}
	}
	for _, s := range g.k.Fitments {
		meet(s.A.Key)
	}
	meet(g.question.Part.Key)
	for range linkSteps + 1 {
		if len(frontier) == 0 {
			break
		}
		slices.Sort(frontier)
		found, err := g.reader.Links(ctx, frontier)
		if err != nil {
			return err
		}
		frontier = nil
		for _, s := range found {
			if have[s.ID] {
				continue
			}
			have[s.ID] = true
			g.k.Links = append(g.k.Links, s)
			meet(s.A.Key)
			meet(s.Link.B.Key)
		}
	}
	return nil
}

// rest reads names, values and stock of every part met.
func (g *gathering) rest(ctx context.Context) (err error) {
	keys := g.keys()
	if g.k.Parts, err = g.reader.Parts(ctx, keys); err != nil {
		return err
	}
	if g.k.Values, err = g.reader.Values(ctx, keys); err != nil {
		return err
	}
	lines, err := g.reader.Stock(ctx, keys)
	if err != nil {
		return err
	}
	g.lines = settleLines(lines, g.k)
	g.k.Free = func(r part.Ref) int { return shelf.Free(g.lines[r]) }
	return nil
}

func (g *gathering) keys() []string {
	var keys []string
	for _, list := range [][]statement.Statement{g.k.Fitments, g.k.Links} {
		for _, s := range list {
			keys = append(keys, s.A.Key, s.Link.B.Key)
		}
	}
	keys = append(keys, g.question.Part.Key)
	slices.Sort(keys)
	return slices.DeleteFunc(slices.Compact(keys), func(k string) bool { return k == "" })
}

// settleLines puts each shelf line under the part that its reference means: a
// bare number under every maker that bears it, because the box says no more. Where
// a bin is counted once with the maker and once without, the later count holds,
// and of one day the smaller: nothing is offered twice.
func settleLines(lines []shelf.Line, k fit.Knowledge) map[part.Ref][]shelf.Line {
	bearers := bearersOf(k)
	out := map[part.Ref][]shelf.Line{}
	for _, l := range lines {
		out[l.Part] = addLine(out[l.Part], l)
		if l.Part.Maker != "" {
			continue
		}
		for _, r := range bearers[l.Part.Key] {
			if r.Maker != "" {
				out[r] = addLine(out[r], l)
			}
		}
	}
	return out
}

func bearersOf(k fit.Knowledge) map[string][]part.Ref {
	bearers := map[string][]part.Ref{}
	for _, list := range [][]statement.Statement{k.Parts, k.Fitments, k.Links} {
		for _, s := range list {
			for _, r := range []part.Ref{s.A, s.Link.B} {
				if !r.IsZero() && !slices.Contains(bearers[r.Key], r) {
					bearers[r.Key] = append(bearers[r.Key], r)
				}
			}
		}
	}
	return bearers
}

func addLine(lines []shelf.Line, l shelf.Line) []shelf.Line {
	i := slices.IndexFunc(lines, func(o shelf.Line) bool { return o.Bin == l.Bin && o.Condition == l.Condition })
	switch {
	case i < 0:
		return append(lines, l)
	case l.Seen > lines[i].Seen, l.Seen == lines[i].Seen && l.OnHand < lines[i].OnHand:
		lines[i] = l
	}
	return lines
}
