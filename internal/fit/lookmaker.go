package fit

import (
	"slices"

	"crossbin/internal/part"
)

// makerLook is the name of the look that asks which maker's number is meant.
const makerLook = "part_maker"

// makerLooks asks for the maker of every bare number that several bear and on
// which an open candidate hangs.
func (k *looker) makerLooks() []prospect {
	var keys []string
	for i := range k.open {
		keys = append(keys, k.bareKeys(i)...)
	}
	slices.Sort(keys)
	var looks []prospect
	for _, key := range slices.Compact(keys) {
		if k.cannot(makerLook) {
			break
		}
		p := prospect{Look: Look{Attribute: makerLook, Effort: 2,
			Where: "several makers bear " + k.w.printed(part.Ref{Key: key}) + ": the name on the label of the part that is on the vehicle, or ask who wrote the number down"},
			hides: cannotSee(2), closed: true}
		for _, maker := range k.w.bearers[key] {
			p.TellsApart = append(p.TellsApart, Result{Value: maker})
			says := make([]leave, len(k.open))
			for i := range k.open {
				if slices.Contains(k.bareKeys(i), key) && !k.mayBe(i, key, maker) {
					says[i] = out
				}
			}
			p.says = append(p.says, says)
		}
		looks = append(looks, p)
	}
	return looks
}

// bareKeys lists the numbers without a maker on which every trail of a candidate
// rests and which several makers bear.
func (k *looker) bareKeys(i int) []string {
	var keys []string
	for _, t := range k.cs[k.open[i]].Trails[:min(len(k.cs[k.open[i]].Trails), 1)] {
		keys = k.bareIn(t)
	}
	return slices.DeleteFunc(keys, func(key string) bool {
		return !k.everyTrail(i, func(t Trail) bool { return slices.Contains(k.bareIn(t), key) })
	})
}

func (k *looker) bareIn(t Trail) []string {
	var keys []string
	for _, s := range t.Steps {
		for _, r := range []part.Ref{s.Statement.A, s.Statement.Link.B} {
			if k.w.ambiguous(r) {
				keys = append(keys, r.Key)
			}
		}
	}
	return keys
}

// mayBe reports whether a candidate can be what a bare number means when it is a
// maker's: it is that number, or a trail names it so.
func (k *looker) mayBe(i int, key, maker string) bool {
	c, named := k.cs[k.open[i]], false
	refs := slices.Clone(c.Refs)
	for _, t := range c.Trails {
		for _, s := range t.Steps {
			refs = append(refs, s.Statement.A, s.Statement.Link.B)
		}
	}
	for _, r := range refs {
		if r.Key == key && r.Maker != "" {
			if r.Maker == maker {
				return true
			}
			named = true
		}
	}
	return !named
}
