package fit

import (
	"cmp"
	"slices"

	"crossbin/internal/vehicle"
)

// maxLooks bounds how many looks an answer lists.
const maxLooks = 6

// factEffort is what it costs to see a vehicle fact, and where (common
// practice, no source).
var factSight = map[vehicle.Fact]struct {
	effort int
	where  string
}{
	vehicle.FactModelCode:    {1, "caution plate in the engine bay or on the door pillar"},
	vehicle.FactPrefix:       {1, "before the hyphen of the model designation on plate or paper"},
	vehicle.FactEngine:       {2, "stamped on the block; the sticker on the cover moves with the cover"},
	vehicle.FactSerial:       {1, "stamped frame number, last digits"},
	vehicle.FactBuilt:        {1, "build plate; without one, belt labels and glass dates"},
	vehicle.FactSide:         {1, "look"},
	vehicle.FactTransmission: {1, "pedals, selector, plate"},
	vehicle.FactDrive:        {2, "look under"},
	vehicle.FactTurbo:        {1, "look"},
	vehicle.FactMaker:        {1, "plate"},
	vehicle.FactModel:        {1, "badge and paper"},
	vehicle.FactMarket:       {2, "plate, speedometer units, label language"},
}

// looks lists the observations that tell the candidates apart, the cheapest
// first and among equals the one that splits them more evenly.
func (w *world) looks(cs []Candidate) []Look {
	var open []int
	for i, c := range cs {
		if c.Verdict != RuledOut && c.Verdict != NotKnown {
			open = append(open, i)
		}
	}
	out := w.factLooks(cs, open)
	if len(open) > 1 {
		out = append(out, w.attributeLooks(cs, open)...)
	}
	slices.SortStableFunc(out, func(a, b Look) int {
		return cmp.Or(a.Effort-b.Effort, largest(a)-largest(b), cmp.Compare(a.Attribute, b.Attribute))
	})
	return out[:min(len(out), maxLooks)]
}

// largest is how many candidates the least telling result leaves.
func largest(l Look) int {
	n := 0
	for _, r := range l.TellsApart {
		n = max(n, len(r.Candidates))
	}
	return n
}

func (w *world) factLooks(cs []Candidate, open []int) []Look {
	var facts []vehicle.Fact
	for _, i := range open {
		facts = append(facts, cs[i].DependsOn...)
	}
	slices.Sort(facts)
	var out []Look
	for _, f := range slices.Compact(facts) {
		sight, ok := factSight[f]
		if !ok {
			sight.effort, sight.where = 1, "look"
		}
		l := Look{Attribute: string(f), Where: sight.where, Effort: sight.effort}
		var values []string
		for _, i := range open {
			values = append(values, cs[i].GoesInWhen[f]...)
		}
		slices.Sort(values)
		for _, v := range slices.Compact(values) {
			r := Result{Value: v}
			for _, i := range open {
				if when := cs[i].GoesInWhen[f]; len(when) == 0 || slices.Contains(when, v) {
					r.Candidates = append(r.Candidates, i)
				}
			}
			l.TellsApart = append(l.TellsApart, r)
		}
		out = append(out, l)
	}
	return out
}

func (w *world) attributeLooks(cs []Candidate, open []int) []Look {
	var out []Look
	for _, a := range w.q.Type.Attributes {
		if _, seen := w.q.Observed[a.Name]; seen || w.q.CannotSee[a.Name] || a.OnVehicle.Effort == 0 {
			continue // what was looked at, or cannot be seen, is not asked again
		}
		byValue, unknown := map[string][]int{}, []int{}
		for _, i := range open {
			v, known, disputed, _ := w.valueOf(cs[i].Refs[0], a.Name)
			if !known || disputed {
				unknown = append(unknown, i)
				continue
			}
			byValue[v.String()] = append(byValue[v.String()], i)
		}
		if len(byValue) < 2 {
			continue
		}
		l := Look{Attribute: a.Name, Where: a.OnVehicle.How, Effort: a.OnVehicle.Effort}
		for v, left := range byValue {
			left = append(left, unknown...)
			slices.Sort(left)
			l.TellsApart = append(l.TellsApart, Result{v, left})
		}
		slices.SortFunc(l.TellsApart, func(a, b Result) int { return cmp.Compare(a.Value, b.Value) })
		out = append(out, l)
	}
	return out
}
