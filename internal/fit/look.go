package fit

import (
	"fmt"
	"math"
	"slices"

	"crossbin/internal/vehicle"
)

// maxLooks bounds how many looks an answer lists.
const maxLooks = 6

// What a wrong part costs, in minutes, our guess: the day on which the vehicle
// stands and another part is sent for; for brakes, steering, fuel and
// timing-driven pumps, where it is found out on the road, a week of such days.
const (
	wrongMinutes         = 8 * 60
	wrongMinutesHighCare = 5 * wrongMinutes
)

// prospect is a look in the making: what it says of every open candidate.
type prospect struct {
	Look
	hides float64   // chance that it cannot be seen
	says  [][]leave // by result, then by open candidate
	// closed is set where one of the results listed must come out; elsewhere none
	// of them may.
	closed bool
}

// leave is what a result of a look leaves of a candidate.
type leave int

const (
	stays   leave = iota // it goes as it is, or the look says nothing of it
	changes              // it goes, and something else is to be done
	hangs                // it goes, and its verdict hangs on the look all the same
	out                  // it does not go, or another one is the right one
)

// looker gathers the looks of one answer.
type looker struct {
	w        *world
	cs       []Candidate
	open     []int // positions of the candidates that are neither ruled out nor unknown
	values   *valueTable
	readings []readings // by open candidate
	conds    []openCondition
	links    []map[vehicle.Fact][]string
	trails   trailTable
}

// looks lists the observations that tell the candidates apart: the one to make
// first, so that in the least expected time one class of parts that go for one
// another is left, then the others by what they tell a minute.
func (w *world) looks(cs []Candidate) []Look {
	k := &looker{w: w, cs: cs, values: w.newValueTable()}
	for i, c := range cs {
		if c.Verdict != RuledOut && c.Verdict != NotKnown {
			k.open = append(k.open, i)
			k.readings = append(k.readings, k.values.of(c.Refs[0]))
		}
	}
	if len(k.open) == 0 {
		return nil
	}
	k.conds, k.links = k.openConditions(), k.linkFacts()
	all := slices.Concat(k.factLooks(), k.attributeLooks(), k.makerLooks())
	all = slices.DeleteFunc(all, func(p prospect) bool { return !p.tells() })
	return k.order(all)
}

// tells reports whether results of a look leave different candidates, or
// different things to do.
func (p prospect) tells() bool {
	for i := range p.says[0] {
		for r := range p.says {
			if p.says[r][i] != p.says[0][i] || p.says[r][i] == hangs && len(p.says) > 1 {
				return true
			}
		}
	}
	return false
}

// hang marks the candidates whose verdict hangs on a look and which go in
// whatever it shows: what is to be done differs, or is only known then.
func (p prospect) hang(hanging func(i int) bool) {
	for i := range p.says[0] {
		if slices.ContainsFunc(p.says, func(says []leave) bool { return says[i] != stays }) || !hanging(i) {
			continue
		}
		for _, says := range p.says {
			says[i] = hangs
		}
	}
}

// order puts the looks into the order of the plan, with their results.
func (k *looker) order(all []prospect) []Look {
	puzzle := k.puzzle(all)
	plan := Next(puzzle)
	var result []Look
	for n, at := range plan.Order {
		p := all[at]
		if len(result) == maxLooks || !puzzle.separates(at) {
			continue
		}
		p.Minutes = int(minutesOf(p.Effort))
		minutes := float64(p.Minutes)
		if n == 0 {
			minutes = max(minutes, plan.Minutes)
		}
		p.Note = k.note(minutes, chanceWrong(puzzle))
		for r := range p.TellsApart {
			p.TellsApart[r].Candidates = k.left(p.says[r])
		}
		result = append(result, p.Look)
	}
	return result
}

// separates reports whether some result of a look leaves nothing of a class.
func (p Puzzle) separates(look int) bool {
	all := map[int]bool{}
	for _, c := range p.Class {
		all[c] = true
	}
	return slices.ContainsFunc(p.Looks[look].Results, func(r []int) bool {
		left := map[int]bool{}
		for _, i := range r {
			left[p.Class[i]] = true
		}
		return len(left) > 0 && len(left) < len(all)
	})
}

// left gives the positions in the answer of the candidates that a result leaves:
// those that go as they are, else those that go with a change.
func (k *looker) left(says []leave) []int {
	var asItIs, changed []int
	for i, s := range says {
		switch s {
		case stays, hangs:
			asItIs = append(asItIs, k.open[i])
		case changes:
			changed = append(changed, k.open[i])
		}
	}
	if len(asItIs) > 0 {
		return asItIs
	}
	return changed
}

// chanceWrong is the chance that the likeliest class is not the right one.
func chanceWrong(p Puzzle) float64 {
	sum, ofClass := 0.0, map[int]float64{}
	for i, c := range p.Chance {
		sum += c
		ofClass[p.Class[i]] += c
	}
	most := 0.0
	for _, c := range ofClass {
		most = max(most, c)
	}
	return 1 - most/sum
}

// note says where looking costs more than being wrong.
func (k *looker) note(minutes, wrong float64) string {
	cost := float64(wrongMinutes)
	if k.w.q.Type.HighCare {
		cost = wrongMinutesHighCare
	}
	if minutes <= wrong*cost {
		return ""
	}
	return fmt.Sprintf("costs more than being wrong, by our guess: about %.0f minutes of looking, and at these odds a wrong part costs about %.0f",
		math.Ceil(minutes), math.Floor(wrong*cost))
}

// cannot reports whether somebody looked for a fact or attribute in vain.
func (k *looker) cannot(name string) bool { return k.w.q.CannotSee[name] }

// dependsOn reports whether the verdict of an open candidate hangs on a fact.
func (k *looker) dependsOn(i int, f vehicle.Fact) bool {
	return slices.Contains(k.cs[k.open[i]].DependsOn, f)
}
