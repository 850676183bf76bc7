package numbers

import (
	"math"
	"strings"
)

// ceiling scores keys as somebody would who knew the generator of the errors:
// its list, its rates and its shares. Nothing that has to guess them can do
// better on these readings; what it misses, the readings do not tell.
type ceiling struct {
	read                 [128][128]float64
	drop, double, swap   float64
	row, before, earlier []float64
}

func newCeiling(alike map[byte]string) *ceiling {
	c := &ceiling{
		drop:   logOf(slipRate * shareDropped / 100),
		double: logOf(slipRate * shareDoubled / 100),
		swap:   logOf(slipRate * (100 - shareLookAlike - shareOther - shareDropped - shareDoubled) / 100),
	}
	const all = digits + letters
	for _, k := range []byte(all) {
		others := alike[k]
		for _, r := range []byte(all) {
			p := slipRate * shareOther / 100 / float64(len(all)-1)
			if others != "" {
				p += slipRate * shareLookAlike / 100 * float64(strings.Count(others, string(r))) / float64(len(others))
			}
			if r == k {
				p = 1 - slipRate
			}
			c.read[k][r] = logOf(p)
		}
	}
	return c
}

// logOf is rounded so that sums of it are exact: ties are ties on every machine.
func logOf(chance float64) float64 { return math.Round(math.Log(chance)*(1<<24)) / (1 << 24) }

// score is the log-likelihood along the best way, by the whole table.
func (c *ceiling) score(text, key string) float64 {
	c.before, c.row = make([]float64, len(text)+1), make([]float64, len(text)+1)
	for i := range len(key) + 1 {
		c.earlier, c.before, c.row = c.before, c.row, make([]float64, len(text)+1)
		for j := range c.row {
			c.row[j] = c.cell(text, key, i, j)
		}
	}
	return c.row[len(text)]
}

func (c *ceiling) cell(text, key string, i, j int) float64 {
	if i == 0 && j == 0 {
		return 0
	}
	best := math.Inf(-1)
	if i > 0 {
		best = c.before[j] + c.drop
		if j > 0 {
			best = max(best, c.before[j-1]+c.read[key[i-1]][text[j-1]])
		}
		if j > 1 {
			best = max(best, c.before[j-2]+c.double+c.read[key[i-1]][text[j-2]]+c.read[key[i-1]][text[j-1]])
		}
		if j > 1 && i > 1 {
			best = max(best, c.earlier[j-2]+c.swap+c.read[key[i-1]][text[j-2]]+c.read[key[i-2]][text[j-1]])
		}
	}
	return best
}

// first reports whether the true key comes first among those that Matches gives
// and itself.
func (c *ceiling) first(best []Match, text, truth string) bool {
	own := c.score(text, truth)
	for _, m := range best {
		if s := c.score(text, m.Key); s > own || s == own && m.Key < truth {
			return false
		}
	}
	return true
}
