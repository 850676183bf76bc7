package fit

import (
	"slices"

	"crossbin/internal/part"
)

// trailTable holds all trails, walked when first asked for. A candidate shows
// only those that another does not make superfluous; whether every trail hangs
// on something is for all of them to say.
type trailTable map[part.Ref][]*trail

// everyTrail reports whether some condition holds of every trail that carries an
// open candidate.
func (k *looker) everyTrail(i int, holds func(Trail) bool) bool {
	c := k.cs[k.open[i]]
	fails := func(t Trail) bool { return !holds(t) }
	if len(c.Trails) == 0 || slices.ContainsFunc(c.Trails, fails) {
		return false
	}
	return !slices.ContainsFunc(k.trailsOf(i), fails)
}

// trailsOf gives all trails that carry an open candidate.
func (k *looker) trailsOf(i int) []Trail {
	c := k.cs[k.open[i]]
	if c.Basis == Measured {
		return c.Trails
	}
	if k.trails == nil {
		k.trails = k.w.trails()
	}
	n := c.Refs[0]
	walked := slices.DeleteFunc(slices.Clone(k.trails[n]), func(t *trail) bool { return t.kit })
	live, _, _ := k.w.hold(n, walked)
	var trails []Trail
	for _, t := range ofThisVehicle(live) {
		trails = append(trails, t.Trail)
	}
	return trails
}
