package numbers

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// found collects the matches of one pass: the best ones, and the
// log-likelihoods of the others, because how far the list goes is only known at
// the end.
type found struct {
	limit   int
	perfect float64 // the log-likelihood that no match exceeds
	best    []Match // a heap with the worst in front once it is full
	top     float64 // the highest log-likelihood so far
	count   int
	low     []float64 // of matches below perfect that are not among the best
}

func (f *found) reset() {
	f.best, f.low, f.count, f.top = f.best[:0], f.low[:0], 0, math.Inf(-1)
}

// cost is how far the best match stays behind a perfect one; +Inf where there is
// none.
func (f *found) cost() float64 { return f.perfect - f.top }

func (f *found) add(m Match) {
	f.top = max(f.top, m.LogLikelihood)
	f.count++
	if len(f.best) < f.limit {
		f.best = append(f.best, m)
		if len(f.best) == f.limit {
			slices.SortFunc(f.best, func(a, b Match) int { return order(b, a) })
		}
		return
	}
	if f.limit > 0 && order(m, f.best[0]) < 0 {
		m, f.best[0] = f.best[0], m
		f.sink()
	}
	if m.LogLikelihood < f.perfect { // no list is too short for a perfect one
		f.low = append(f.low, m.LogLikelihood)
	}
}

// allPerfect reports whether the list is full of perfect matches: then nothing
// else comes into it, and it goes as far behind them as the pass does.
func (f *found) allPerfect() bool {
	return len(f.best) == f.limit && f.limit > 0 && f.best[0].LogLikelihood >= f.perfect
}

// order puts the likelier match first, and the lower key of two equals.
func order(a, b Match) int {
	if c := cmp.Compare(b.LogLikelihood, a.LogLikelihood); c != 0 {
		return c
	}
	return strings.Compare(a.Key, b.Key)
}

// sink brings the heap in order after its first was replaced.
func (f *found) sink() {
	for i := 0; ; {
		worst := i
		for _, child := range []int{2*i + 1, 2*i + 2} {
			if child < len(f.best) && order(f.best[child], f.best[worst]) > 0 {
				worst = child
			}
		}
		if worst == i {
			return
		}
		f.best[i], f.best[worst] = f.best[worst], f.best[i]
		i = worst
	}
}

// list gives the matches down to a floor, best first, and how many more there
// are.
func (f *found) list(floor float64) (best []Match, rest int) {
	for _, ll := range f.low {
		if ll < floor {
			f.count--
		}
	}
	for _, m := range f.best {
		if m.LogLikelihood >= floor {
			best = append(best, m)
		} else {
			f.count--
		}
	}
	slices.SortFunc(best, order)
	return best, f.count - len(best)
}
