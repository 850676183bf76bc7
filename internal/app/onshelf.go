package app

import (
	"context"
	"slices"
	"sync"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

// shelfCache keeps which parts of each type are on the shelf, stamped with the
// revision at which that was read; an older one is not used.
type shelfCache struct {
	mu       sync.Mutex
	revision int64
	byType   map[string][]part.Ref
}

// onShelf gives the parts of a type of which units are on hand.
func (s *Service) onShelf(ctx context.Context, r Reader, partType string) ([]part.Ref, error) {
	c := &s.shelf
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.byType == nil || c.revision != r.Revision() {
		byType, err := shelfByType(ctx, r)
		if err != nil {
			return nil, err
		}
		c.byType, c.revision = byType, r.Revision()
	}
	return c.byType[partType], nil
}

// shelfByType sorts what is on hand by part type, as part statements name it.
func shelfByType(ctx context.Context, r Reader) (map[string][]part.Ref, error) {
	refs, err := r.OnShelf(ctx)
	if err != nil {
		return nil, err
	}
	out := map[string][]part.Ref{}
	for chunk := range slices.Chunk(refs, documentChunk) {
		keys := make([]string, len(chunk))
		for i, ref := range chunk {
			keys[i] = ref.Key
		}
		parts, err := r.Parts(ctx, slices.Compact(keys))
		if err != nil {
			return nil, err
		}
		types := map[string][]string{}
		for _, st := range parts {
			types[st.A.Key] = addTo(types[st.A.Key], st.Type)
		}
		for _, ref := range chunk {
			for _, t := range types[ref.Key] {
				out[t] = append(out[t], ref)
			}
		}
	}
	return out, nil
}

// withShelf asks again with the units on the shelf, where they can be measured
// at all: every attribute that the type needs is known of the reference.
func (g *gathering) withShelf(ctx context.Context, a fit.Answer, k fit.Knowledge) (fit.Answer, error) {
	if a.None != nil || !measurable(a) {
		return a, nil
	}
	refs, err := g.service.onShelf(ctx, g.reader, g.question.Type.Name)
	if err != nil || len(refs) == 0 {
		return a, err
	}
	keys := make([]string, len(refs))
	for i, ref := range refs {
		keys[i] = ref.Key
	}
	met := g.keys()
	keys = slices.DeleteFunc(slices.Compact(keys), func(key string) bool {
		_, have := slices.BinarySearch(met, key)
		return have
	})
	parts, err := g.reader.Parts(ctx, keys)
	if err != nil {
		return a, err
	}
	values, err := g.reader.Values(ctx, keys)
	if err != nil {
		return a, err
	}
	lines, err := g.reader.Stock(ctx, keys)
	if err != nil {
		return a, err
	}
	k.OnShelf, k.Parts, k.Values = refs, append(k.Parts, parts...), append(k.Values, values...)
	for ref, more := range settleLines(lines, k) {
		g.lines[ref] = append(g.lines[ref], more...)
	}
	k.Free = func(r part.Ref) int { return shelf.Free(g.lines[r]) }
	return fit.Ask(*g.question, k), nil
}

// measurable reports whether the reference has every attribute that the part
// type needs, and the type needs any.
func measurable(a fit.Answer) bool {
	needed := 0
	for _, at := range a.Type.Attributes {
		if !at.Needed {
			continue
		}
		needed++
		if !slices.ContainsFunc(a.Reference, func(r fit.ReferenceValue) bool { return r.Attribute == at.Name }) {
			return false
		}
	}
	return needed > 0
}
