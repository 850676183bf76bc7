package numbers

import (
	"context"
	"math"
	"slices"

	"crossbin/internal/part"
)

// chunk is how many keys are looked at between two looks at the context and at
// what was found (some 10 to 100 microseconds).
const chunk = 4096

// question is one reading asked of an index.
type question struct {
	index   *Index
	view    *view
	reading part.Reading
	costs   part.Costs
	perfect float64
	need    uint64 // mask of the characters that were read
	scorer  *part.Scorer
	auto    *automaton
	found   found
	limits  limits
}

// limits are what a budget allows.
type limits struct {
	budget float64
	floor  float64 // least log-likelihood
	errors int     // most errors that are no look-alikes
	others bool    // whether a character may be read for any other
	slight bool    // whether any slight error is within the budget
}

func newQuestion(x *Index, r part.Reading, c part.Confusions, limit int) *question {
	q := &question{index: x, view: x.view(c), reading: r, costs: c.Costs(), perfect: r.Perfect(c), scorer: part.NewScorer(r, c)}
	var read []byte
	for j := range r.Places() {
		if c, known := r.At(j); known && c < 0x80 {
			read = append(read, byte(c))
		}
	}
	q.need = q.view.mask(string(read))
	q.auto = newAutomaton(r, q.view)
	q.found.limit, q.found.perfect = max(0, limit), q.perfect
	return q
}

// pass looks for every key within a budget.
func (q *question) pass(ctx context.Context, budget float64) error {
	q.found.reset()
	q.limit(budget)
	for _, at := range q.nearest() {
		s, masks := &q.index.shelves[at], q.view.masks[at]
		for from := 0; from < s.count; from += chunk {
			if err := ctx.Err(); err != nil {
				return err
			}
			q.limit(min(q.limits.budget, Budget(q.reading, q.found.cost())))
			q.scan(s, masks, from, min(s.count, from+chunk))
		}
	}
	for i, key := range q.index.odd {
		if i%chunk == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		q.score(key)
	}
	return ctx.Err()
}

func (q *question) limit(budget float64) {
	c := q.costs
	within := budget + rounding
	l := limits{
		budget: budget,
		floor:  q.perfect - within,
		errors: int(within / min(c.Other, c.Dropped, c.Doubled, c.Swapped)),
		others: c.Other <= within,
	}
	l.slight = c.ConfusedMost <= within && (l.errors == 0 || max(c.Dropped, c.Doubled, c.Swapped) <= within)
	if l.errors != q.limits.errors || l.others != q.limits.others {
		q.auto.forgive(l.errors, l.others)
	}
	q.limits = l
}

// nearest gives the shelves, those of the reading's length first: the sooner a
// good key is found, the less is looked at closely.
func (q *question) nearest() []int {
	order := make([]int, len(q.index.shelves))
	for i := range order {
		order[i] = i
	}
	away := func(i int) int {
		d := q.index.shelves[i].length - q.reading.Places()
		return max(d, -d)
	}
	slices.SortStableFunc(order, func(a, b int) int { return away(a) - away(b) })
	return order
}

// scan asks the questions in the order of their price.
func (q *question) scan(s *shelf, masks []uint64, from, to int) {
	most := q.mostMissing(s.length)
	if most < 0 {
		return
	}
	need := q.need
	for i := from; i < to; i++ {
		if missing(need, masks[i]) > most {
			continue
		}
		key := s.row(i)
		if q.limits.errors > mostErrors {
			q.score(key)
			continue
		}
		switch q.auto.judge(key) {
		case perfect:
			q.found.add(Match{key, q.perfect})
		case slight:
			if q.limits.slight && q.found.allPerfect() {
				q.found.count++ // listed, and behind all those that are shown
				continue
			}
			q.score(key)
		case maybe:
			q.score(key)
		}
	}
}

func (q *question) score(key string) {
	if ll, ok := q.scorer.Above(key, q.limits.floor); ok {
		q.found.add(Match{key, ll})
	}
}

// mostMissing is how many characters that were read a key of this length may
// lack within the budget; -1 where no such key can be near enough.
func (q *question) mostMissing(length int) int {
	most := -1
	for lack := range q.reading.Known() + 1 {
		if q.leastCost(lack, length) > q.limits.budget+rounding {
			break
		}
		most = lack
	}
	return most
}

// leastCost is the least cost of laying the reading onto a key of this length
// that lacks so many of the characters read. Each of them was read for another
// character, or is the second reading of one; what is read twice makes the
// reading longer, what is left out makes it shorter, and a run takes up what is
// left over.
func (q *question) leastCost(lack, length int) float64 {
	longer := q.reading.Places() - length
	least := math.Inf(1)
	for twice := max(0, longer); twice <= max(lack, longer, 0); twice++ {
		cost := float64(twice)*q.costs.Doubled + float64(max(0, lack-twice))*q.costs.Other
		if !q.reading.Runs() {
			cost += float64(twice-longer) * q.costs.Dropped
		}
		least = min(least, cost)
	}
	return least
}
