package fit

import (
	"cmp"
	"fmt"
	"slices"
)

// group puts numbers under one heading when they have the same verdict, changes
// and what they depend on, and counted same links join them. A number that was
// asked for keeps its own.
func (w *world) group(in []Candidate) []Candidate {
	slices.SortFunc(in, func(a, b Candidate) int {
		return cmp.Or(b.Confidence-a.Confidence, rank[a.Basis]-rank[b.Basis], a.Refs[0].Compare(b.Refs[0]))
	})
	if !w.q.Part.IsZero() {
		return in
	}
	var out []Candidate
	heading := map[string]int{}
	for _, c := range in {
		key := fmt.Sprint(w.classes.find(c.Refs[0]), c.Verdict, c.Changes, c.DependsOn, c.GoesInWhen)
		at, ok := heading[key]
		if !ok {
			heading[key] = len(out)
			out = append(out, c)
			continue
		}
		head := &out[at]
		head.Refs = append(head.Refs, c.Refs...)
		head.Numbers = append(head.Numbers, c.Numbers...)
		head.Against = merge(head.Against, c.Against)
		head.Notes = merge(head.Notes, c.Notes)
		if head.Name == "" {
			head.Name = c.Name
		}
	}
	return out
}

func merge(a, b []string) []string {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}

// order sorts by verdict, then basis, then what is free on the shelf, then
// confidence, ties by number.
func (w *world) order(cs []Candidate) {
	verdicts := []Verdict{Fits, FitsWithChange, CheckFirst, RuledOut, NotKnown}
	for i := range cs {
		cs[i].Free = 0
		slices.SortStableFunc(cs[i].Numbers, compareNumbers)
		for _, r := range cs[i].Refs {
			if w.k.Free != nil {
				cs[i].Free += w.k.Free(r)
			}
		}
	}
	slices.SortFunc(cs, func(a, b Candidate) int {
		return cmp.Or(
			slices.Index(verdicts, a.Verdict)-slices.Index(verdicts, b.Verdict),
			rank[a.Basis]-rank[b.Basis],
			b.Free-a.Free,
			b.Confidence-a.Confidence,
			a.Refs[0].Compare(b.Refs[0]))
	})
}
