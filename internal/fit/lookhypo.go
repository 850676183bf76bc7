package fit

import (
	"fmt"
	"math/bits"
	"slices"
)

// maxHypotheses bounds what a puzzle tells apart; one more is "none of these".
const maxHypotheses = maxInGame - 1

// noneOpen is the chance that none of the candidates is meant where a look may
// show what nobody lists (another engine, a build date outside every span): our
// guess, one in ten. Where it shows one of a few known results (air
// conditioning: yes or no) each is as likely as another.
const noneOpen = 0.1

// hypothesis is one way in which it may turn out: a candidate, and where its
// verdict hangs on looks, what those show.
type hypothesis struct {
	candidate int // open candidate
	chance    float64
	class     string
	under     []uint64 // by look, the results that it may show
}

// puzzle turns the candidates and looks into the bare question of what to look
// at next.
func (k *looker) puzzle(all []prospect) Puzzle {
	var p Puzzle
	hs := k.hypotheses(all)
	classes := map[string]int{}
	for _, h := range hs {
		if _, ok := classes[h.class]; !ok {
			classes[h.class] = len(classes)
		}
		p.Chance, p.Class = append(p.Chance, h.chance), append(p.Class, classes[h.class])
	}
	for l, look := range all {
		pl := PuzzleLook{Name: look.Attribute, Minutes: minutesOf(look.Effort), CannotSee: look.hides, Results: make([][]int, len(look.says))}
		for i, h := range hs {
			for r := range bitsOf(h.under[l]) {
				pl.Results[r] = append(pl.Results[r], i)
			}
		}
		p.Looks = append(p.Looks, pl)
	}
	return p
}

func (k *looker) hypotheses(all []prospect) []hypothesis {
	var hs []hypothesis
	classes := k.classes()
	for i := range k.open {
		h := hypothesis{candidate: i, chance: float64(max(k.cs[k.open[i]].Confidence, 1)), class: fmt.Sprint(classes[i])}
		for _, p := range all {
			under := uint64(0)
			for r := range p.says {
				if p.says[r][i] != out {
					under |= 1 << r
				}
			}
			h.under = append(h.under, under)
		}
		hs = append(hs, h)
	}
	return withNone(all, k.split(all, hs))
}

// split makes one hypothesis of each way in which a look may turn out on which
// the verdict of a candidate hangs, each as likely as another, as long as there
// is room.
func (k *looker) split(all []prospect, hs []hypothesis) []hypothesis {
	for l, p := range all {
		for at := 0; at < len(hs); at++ {
			ways := p.ways(hs[at].candidate)
			if len(ways) < 2 || len(hs)+len(ways)-1 > maxHypotheses {
				continue
			}
			var parts []hypothesis
			for _, way := range ways {
				h := hs[at]
				h.under = slices.Clone(h.under)
				h.chance /= float64(len(ways))
				h.class += fmt.Sprint(" ", l, ":", way)
				h.under[l] = way
				parts = append(parts, h)
			}
			hs = slices.Replace(hs, at, at+1, parts...)
			at += len(parts) - 1
		}
	}
	return hs
}

// ways groups the results that leave a candidate by what is to be done then.
func (p prospect) ways(i int) []uint64 {
	var asItIs, changed uint64
	var ways []uint64
	for r := range p.says {
		switch p.says[r][i] {
		case hangs:
			ways = append(ways, 1<<r)
		case stays:
			asItIs |= 1 << r
		case changes:
			changed |= 1 << r
		}
	}
	for _, way := range []uint64{asItIs, changed} {
		if way != 0 {
			ways = append(ways, way)
		}
	}
	return ways
}

// withNone adds "none of these" where a look has a result that leaves no
// candidate. It stands under those, and under every result of the other looks.
func withNone(all []prospect, hs []hypothesis) []hypothesis {
	none, chance, sum := hypothesis{class: "none"}, 0.0, 0.0
	for l, p := range all {
		every := uint64(1)<<len(p.says) - 1
		empty := every
		for _, h := range hs {
			empty &^= h.under[l]
		}
		switch {
		case empty == 0:
			none.under = append(none.under, every)
			continue
		case p.closed:
			chance = max(chance, float64(bits.OnesCount64(empty))/float64(len(p.says)))
		default:
			chance = max(chance, noneOpen)
		}
		none.under = append(none.under, empty)
	}
	if chance == 0 {
		return hs
	}
	for _, h := range hs {
		sum += h.chance
	}
	none.chance = sum * chance / (1 - chance)
	return append(hs, none)
}
