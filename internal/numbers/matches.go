package numbers

import (
	"context"
	"math"

	"crossbin/internal/part"
)

// Match is a key that explains a reading.
type Match struct {
	Key           string
	LogLikelihood float64 // of the reading given the key, see part.LogLikelihood
}

const (
	// held is what the characters of a reading must tell beyond chance, as odds:
	// a key is listed when it explains the reading at least 300 times better than
	// characters drawn blindly. Our guess: three known characters then forgive one
	// look-alike, five any one error, eight two or three.
	held = 300
	// window is the odds against the best key at which the list ends. Our guess:
	// one good measurement turns odds of a thousand round, hardly more.
	window = 1000
	// blind is how many characters there are to draw from.
	blind = 36
)

// rounding takes up what is lost where sums of logarithms are compared.
const rounding = 1e-9

// Budget is how far, as a natural logarithm, a key may stay behind a perfect
// agreement with the reading and still be listed; best is how far the best one
// does, +Inf where none is known.
func Budget(r part.Reading, best float64) float64 {
	told := float64(r.Known())*math.Log(blind) - math.Log(held)
	return max(0, min(told, best+math.Log(window)))
}

// Matches gives the keys that explain a reading best, at most limit of them, by
// log-likelihood and then by key, and how many more are listed. Listed is every
// key whose log-likelihood lies within Budget of the perfect one. The error is
// that of the context.
func (x *Index) Matches(ctx context.Context, r part.Reading, c part.Confusions, limit int) (best []Match, rest int, err error) {
	q := newQuestion(x, r, c, limit)
	budget := Budget(r, 0)
	for n := 1; ; n++ {
		if err := q.pass(ctx, budget); err != nil {
			return nil, 0, err
		}
		// The first pass goes as far as the list would go behind a perfect key.
		// What it finds says how far the list really goes; where it finds nothing,
		// the next goes twice as far, because most readings hold few errors.
		need := Budget(r, q.found.cost())
		if q.found.count == 0 && n == 1 {
			need = Budget(r, math.Log(window))
		}
		if need <= budget {
			best, rest = q.found.list(q.perfect - need - rounding)
			return best, rest, nil
		}
		budget = need
	}
}
