package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"crossbin/internal/vehicle"
)

// span is a run of serials or months, both ends included.
type span struct{ from, to int64 }

func (s span) meets(o span) bool { return s.from <= o.to && o.from <= s.to }

// Ends of the months that labels speak of, see builtAxis.
const (
	firstMonth = vehicle.Month(1)
	lastMonth  = vehicle.Month(9999 * 12)
)

// readSpan reads the label of a way in which a serial or a build date may turn
// out: "from 1995-09 to 1999-12", "up to 0124999". A label without an end is
// open there; one that cannot be read is open at both, so that it excludes
// nothing.
func readSpan(f vehicle.Fact, label string) span {
	s := span{0, math.MaxInt64}
	words := strings.Fields(label)
	for i := range len(words) - 1 {
		n, ok := readEnd(f, words[i+1])
		switch {
		case !ok:
		case words[i] == "from":
			s.from = n
		case words[i] == "to":
			s.to = n
		}
	}
	return s
}

func readEnd(f vehicle.Fact, word string) (int64, bool) {
	if f == vehicle.FactSerial {
		n, err := strconv.ParseInt(word, 10, 64)
		return n, err == nil
	}
	year, month, _ := strings.Cut(word, "-")
	y, err := strconv.Atoi(year)
	m, err2 := strconv.Atoi(month)
	at := vehicle.MonthOf(y, m)
	return int64(at), err == nil && err2 == nil && at != vehicle.NoMonth
}

// spanResults cuts serials or build dates where the spans of the open candidates
// begin and end. Runs of which the same candidates are left are one result.
func (k *looker) spanResults(f vehicle.Fact) []supposed {
	whole, width := k.wholeSpan(f), 0
	cuts := []int64{whole.from}
	for _, c := range k.open {
		for _, label := range k.cs[c].GoesInWhen[f] {
			s := readSpan(f, label)
			cuts = append(cuts, s.from)
			if s.to < whole.to {
				cuts = append(cuts, s.to+1)
			}
			for _, word := range strings.Fields(label) {
				if _, ok := readEnd(f, word); ok {
					width = max(width, len(word))
				}
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.DeleteFunc(slices.Compact(cuts), func(c int64) bool { return c < whole.from || c > whole.to })
	return k.spansAt(f, cuts, whole.to, width)
}

// wholeSpan is where the true value may lie: all there is, or around a build
// date that is known.
func (k *looker) wholeSpan(f vehicle.Fact) span {
	if f == vehicle.FactSerial {
		return span{0, math.MaxInt64}
	}
	s, built := span{int64(firstMonth), int64(lastMonth)}, k.w.q.Facts.Built
	if built.From != vehicle.NoMonth {
		s.from = int64(built.From) - builtWindow
	}
	if built.To != vehicle.NoMonth {
		s.to = int64(built.To) + builtWindow
	}
	return s
}

func (k *looker) spansAt(f vehicle.Fact, cuts []int64, last int64, width int) []supposed {
	var results []supposed
	before := ""
	for n, from := range cuts {
		s := span{from, last}
		if n+1 < len(cuts) {
			s.to = cuts[n+1] - 1
		}
		left := make([]leave, len(k.open))
		for i := range k.open {
			left[i] = k.dependsLeave(i, f, supposed{span: &s})
		}
		if key := fmt.Sprint(left); n > 0 && key == before {
			results[len(results)-1].span.to = s.to
		} else {
			results, before = append(results, supposed{span: &s}), key
		}
	}
	for i := range results {
		results[i].label = spanLabel(f, *results[i].span, width)
	}
	return results
}

// spanLabel names a run for people.
func spanLabel(f vehicle.Fact, s span, width int) string {
	if f == vehicle.FactBuilt {
		return monthLabel(vehicle.Month(s.from), vehicle.Month(s.to), firstMonth, lastMonth)
	}
	print := vehicle.SerialRange{Width: width}.Print
	switch {
	case s.to == math.MaxInt64:
		return "from " + print(s.from)
	case s.from == 0:
		return "up to " + print(s.to)
	}
	return "from " + print(s.from) + " to " + print(s.to)
}
