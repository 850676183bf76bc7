package fit

import (
	"slices"

	"crossbin/internal/part"
)

// classes joins parts that counted same links make one physical part
// (union-find; the smallest reference stands for its class).
type classes struct{ parent map[part.Ref]part.Ref }

func newClasses() *classes { return &classes{parent: map[part.Ref]part.Ref{}} }

func (c *classes) find(r part.Ref) part.Ref {
	for {
		p, ok := c.parent[r]
		if !ok || p == r {
			return r
		}
		r = p
	}
}

func (c *classes) join(a, b part.Ref) {
	ra, rb := c.find(a), c.find(b)
	if ra == rb {
		return
	}
	if rb.Less(ra) {
		ra, rb = rb, ra
	}
	c.parent[ra], c.parent[rb] = ra, ra
}

// members lists the class of a part, sorted, itself included.
func (c *classes) members(r part.Ref) []part.Ref {
	root, out := c.find(r), []part.Ref{r}
	for m := range c.parent {
		if m != r && c.find(m) == root {
			out = append(out, m)
		}
	}
	slices.SortFunc(out, part.Ref.Compare)
	return out
}
