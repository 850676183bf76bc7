package numbers

import (
	"fmt"
	"math/rand/v2"

	"crossbin/data"
	"crossbin/internal/part"
)

// Numbers for the tests are made up in the shapes that part numbers have: five
// and five, six and four, three groups of three, letter and digits, ten digits
// in four groups, seven digits, with the suffixes of each. They come in families
// as real ones do: a head names the kind of part, tails under it are near one
// another, and suffixes count up (common practice, no source).

const (
	digits   = "0123456789"
	letters  = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	plainer  = "ABCDEFGHJKLMNPRSTUVWXYZ" // what most makers keep to
	alphanum = digits + plainer
)

// maker makes numbers from a seed.
type maker struct{ *rand.Rand }

func newMaker(seed uint64) maker { return maker{rand.New(rand.NewPCG(seed, 0x9e3779b9))} }

// fill puts a character for each sign of a form: d digit, x letter, a either;
// capital letters and digits of the form stay.
func (m maker) fill(form string) string {
	out := []byte(form)
	for i, c := range out {
		switch c {
		case 'd':
			out[i] = digits[m.IntN(len(digits))]
		case 'x':
			out[i] = plainer[m.IntN(len(plainer))]
		case 'a':
			out[i] = alphanum[m.IntN(len(alphanum))]
		}
	}
	return string(out)
}

// family is a shape: how many heads there are, what stands under one, and the
// suffixes.
type family struct {
	share    int // of a hundred numbers
	head     string
	heads    int // for a hundred thousand numbers
	middle   string
	suffixes []string
}

var families = []family{
	{24, "ddddd", 400, "ddd", []string{"00", "10", "11", "20", "30", "40", "90", "91"}},
	{14, "ddddd", 300, "daa", []string{"0", "1", "A", "B", "00", "01"}},
	{12, "dddddd", 500, "dd", []string{"0", "00", "10", "20", "30", "A"}},
	{10, "aadddd", 500, "ad", []string{"", "A", "B", "C", "X"}},
	{10, "0ddd", 200, "ddd", []string{"001", "002", "003", "010", "011", "101"}},
	{10, "Addd", 100, "ddddd", []string{"01", "02", "10", "80"}},
	{6, "xdTd", 150, "dddd", []string{"", "A", "AE", "ZE"}},
	{6, "ddddd", 100, "xxdd", []string{"A", "0A", "1B", "00"}},
	{4, "dddd", 100, "xddd", []string{""}},
	{4, "ddd", 900, "dddd", []string{"", "0"}},
}

// numbers makes n different keys.
func (m maker) numbers(n int) []string {
	seen := make(map[string]bool, n)
	out := make([]string, 0, n)
	take := func(key string) {
		if !seen[key] && len(out) < n {
			seen[key] = true
			out = append(out, key)
		}
	}
	for _, f := range families {
		heads := make([]string, f.heads*n/100_000+1)
		for i := range heads {
			heads[i] = m.fill(f.head)
		}
		for end := min(n, len(out)+f.share*n/100+1); len(out) < end; {
			base := heads[m.IntN(len(heads))] + m.fill(f.middle)
			for range 1 + m.IntN(3) {
				take(base + f.suffixes[m.IntN(len(f.suffixes))])
			}
		}
	}
	for len(out) < n {
		take(m.fill("dddddddd"))
	}
	return out
}

// model is the error model that the program ships.
func model() part.Confusions {
	groups, err := data.Confusions()
	if err != nil {
		panic(err)
	}
	c, err := part.NewConfusions(groups)
	if err != nil {
		panic(err)
	}
	return c
}

func read(text string) part.Reading {
	r, err := part.ParseReading(text)
	if err != nil {
		panic(fmt.Sprintf("%q: %v", text, err))
	}
	return r
}
