package fit

import (
	"slices"
	"strings"

	"crossbin/internal/vehicle"
)

// sight is where something is seen, what it costs, and the chance that it
// cannot be seen.
type sight struct {
	where  string
	effort int
	hides  float64
}

func newSight(effort int, where string) sight { return sight{where, effort, cannotSee(effort)} }

// factSights is what it costs to see a vehicle fact, and where (common practice,
// no source; efforts are our guess).
var factSights = map[vehicle.Fact]sight{
	vehicle.FactModelCode:      newSight(1, "caution plate in the engine bay or on the door pillar; the frame number begins with it"),
	vehicle.FactPrefix:         newSight(1, "before the hyphen of the model designation, on the plate or the paper"),
	vehicle.FactEngine:         newSight(2, "stamped on the block; the sticker on the cover moves with the cover"),
	vehicle.FactSerial:         newSight(1, "the digits after the hyphen of the stamped frame number"),
	vehicle.FactBuilt:          newSight(1, "build plate; without one, belt labels and the dates in the glass"),
	vehicle.FactSide:           newSight(1, "which side the steering wheel is on"),
	vehicle.FactTransmission:   newSight(1, "pedals and selector; the plate names the gearbox"),
	vehicle.FactDrive:          newSight(2, "look under: a shaft to the other axle, a second differential"),
	vehicle.FactTurbo:          newSight(1, "look at the exhaust side of the engine, and for an intercooler"),
	vehicle.FactMaker:          newSight(1, "plate in the engine bay, or the paper"),
	vehicle.FactModel:          newSight(1, "badge and paper"),
	vehicle.FactMarket:         newSight(2, "plate, units of the speedometer, language of the labels"),
	vehicle.OptionFact("ac"):   newSight(1, "a compressor on the engine; the button on the dash may be a blank"),
	vehicle.OptionFact("cold"): newSight(2, "option plate or paper; a bigger battery, a heated mirror or rear heater"),
}

// Sights of facts that are known and not well enough.
var (
	builtAgain  = sight{"the build date lies too near a change to decide: belt labels and the dates in the glass may narrow it down", 2, .5}
	prefixAgain = sight{"ask the vehicle maker's book or counter: is it the same part under both prefixes?", 3, .3}
)

func (k *looker) factSight(f vehicle.Fact) sight {
	known := k.w.q.Facts.Knows(f)
	switch s, ok := factSights[f]; {
	case known && f == vehicle.FactBuilt:
		return builtAgain
	case known && f == vehicle.FactPrefix:
		return prefixAgain
	case ok:
		return s
	}
	return newSight(1, "look, or ask the owner")
}

// factLooks lists a look for every vehicle fact that an open candidate, a link
// to it, or a comparison of it hangs on.
func (k *looker) factLooks() []prospect {
	var looks []prospect
	for _, f := range k.factsAsked() {
		s := k.factSight(f)
		results := k.factResults(f)
		p := prospect{Look: Look{Attribute: string(f), Where: s.where, Effort: s.effort}, hides: s.hides, closed: len(closedDomain(f)) > 0}
		for _, h := range results {
			p.TellsApart = append(p.TellsApart, Result{Value: h.label})
			says := make([]leave, len(k.open))
			for i := range k.open {
				says[i] = max(k.dependsLeave(i, f, h), k.linkLeave(i, f, h), k.conditionLeave(i, string(f), h))
			}
			p.says = append(p.says, says)
		}
		if len(results) > 0 {
			p.hang(func(i int) bool { return k.dependsOn(i, f) || len(k.links[i][f]) > 0 || k.asks(i, string(f)) })
			looks = append(looks, p)
		}
	}
	return looks
}

func (k *looker) factsAsked() []vehicle.Fact {
	var facts []vehicle.Fact
	for i, c := range k.open {
		facts = append(facts, k.cs[c].DependsOn...)
		for f := range k.links[i] {
			facts = append(facts, f)
		}
	}
	for _, c := range k.conds {
		if _, attribute := k.w.q.Type.Attribute(c.clause.Name); !attribute {
			facts = append(facts, vehicle.Fact(c.clause.Name))
		}
	}
	slices.Sort(facts)
	return slices.DeleteFunc(slices.Compact(facts), func(f vehicle.Fact) bool { return k.cannot(string(f)) })
}

// factResults lists what a look at a fact may show: whatever the candidates, and
// the links and comparisons of them, tell apart, and the rest.
func (k *looker) factResults(f vehicle.Fact) []supposed {
	if f == vehicle.FactSerial || f == vehicle.FactBuilt {
		return k.spanResults(f)
	}
	values := slices.Clone(closedDomain(f))
	for i, c := range k.open {
		values = append(values, k.cs[c].GoesInWhen[f]...)
		values = append(values, k.links[i][f]...)
	}
	for _, c := range k.conds {
		if c.clause.Name == string(f) {
			values = append(values, vehicle.FoldValue(c.clause.Value))
		}
	}
	rest := anything
	if f == vehicle.FactPrefix && k.w.q.Facts.Knows(f) {
		rest = otherPrefixPart
	}
	slices.Sort(values)
	values = slices.DeleteFunc(slices.Compact(values), func(v string) bool { return v == rest })
	if len(closedDomain(f)) == 0 {
		values = append(values, rest)
	}
	results := make([]supposed, len(values))
	for i, v := range values {
		results[i] = supposed{label: v}
	}
	return results
}

// otherPrefixPart is the way in which a known emission prefix may still turn out
// against a candidate, see newAxis.
const otherPrefixPart = "another part under another prefix"

// dependsLeave says whether a candidate goes in with a value of a fact.
func (k *looker) dependsLeave(i int, f vehicle.Fact, h supposed) leave {
	when := k.cs[k.open[i]].GoesInWhen[f]
	switch {
	case !k.dependsOn(i, f) || len(when) == 0 || slices.Contains(when, h.label) || slices.Contains(when, anything):
		return stays
	case h.span != nil && slices.ContainsFunc(when, func(label string) bool { return readSpan(f, label).meets(*h.span) }):
		return stays
	}
	return out
}

// linkFacts gives for each open candidate the values of unknown facts on which
// every trail of it depends by the condition of a link: "only 4WD".
func (k *looker) linkFacts() []map[vehicle.Fact][]string {
	links := make([]map[vehicle.Fact][]string, len(k.open))
	for i := range k.open {
		values := map[vehicle.Fact][]string{}
		if k.everyTrail(i, func(t Trail) bool { return len(k.openFacts(t)) > 0 }) {
			for _, t := range k.trailsOf(i) {
				for f, v := range k.openFacts(t) {
					values[f] = append(values[f], v)
				}
			}
		}
		links[i] = values
	}
	return links
}

// openFacts gives the unknown facts on which the links of a trail depend, and
// the values that they ask for.
func (k *looker) openFacts(t Trail) map[vehicle.Fact]string {
	facts := map[vehicle.Fact]string{}
	for _, c := range t.Conditions {
		if f, v, ok := readCondition(c); ok && !k.w.q.Facts.Knows(f) {
			facts[f] = v
		}
	}
	return facts
}

// linkLeave says whether some trail of a candidate holds with a value of a fact.
func (k *looker) linkLeave(i int, f vehicle.Fact, h supposed) leave {
	if len(k.links[i][f]) == 0 {
		return stays
	}
	fails := func(t Trail) bool {
		v, asks := k.openFacts(t)[f]
		return asks && !strings.EqualFold(v, h.label)
	}
	if k.everyTrail(i, fails) {
		return out
	}
	return stays
}
