package vehicle

import "fmt"

// Month is one calendar month, counted as year*12 + month-1, so that months
// are compared and subtracted as integers. The zero value is NoMonth.
type Month int

// NoMonth means that no month is given: unknown, or an open end of an Interval.
// It is January of a year 0 that no calendar here has.
const NoMonth Month = 0

const maxYear = 9999

// MonthOf returns the month of a year (1 to 9999) and a month (1 to 12), and
// NoMonth for anything else.
func MonthOf(year, month int) Month {
	if year < 1 || year > maxYear || month < 1 || month > 12 {
		return NoMonth
	}
	return Month(year*12 + month - 1)
}

// Year returns the year, 0 for NoMonth.
func (m Month) Year() int {
	if m <= NoMonth {
		return 0
	}
	return int(m) / 12
}

// Month returns the month of the year from 1 to 12, 0 for NoMonth.
func (m Month) Month() int {
	if m <= NoMonth {
		return 0
	}
	return int(m)%12 + 1
}

// String returns "1997-05", and "" for NoMonth.
func (m Month) String() string {
	if m <= NoMonth {
		return ""
	}
	return fmt.Sprintf("%04d-%02d", m.Year(), m.Month())
}

// Interval is a span of months, both ends included. NoMonth at an end means
// open at that end; the zero value says nothing at all.
type Interval struct{ From, To Month }

// WholeYear returns January to December of a year, the zero Interval for a
// year outside 1 to 9999.
func WholeYear(year int) Interval {
	return Interval{MonthOf(year, 1), MonthOf(year, 12)}
}

// Known reports whether at least one end is given.
func (iv Interval) Known() bool { return iv.From != NoMonth || iv.To != NoMonth }

// Exact reports whether the interval is one single month.
func (iv Interval) Exact() bool { return iv.From != NoMonth && iv.From == iv.To }

// Reversed reports whether the interval ends before it begins.
func (iv Interval) Reversed() bool {
	return iv.From != NoMonth && iv.To != NoMonth && iv.From > iv.To
}

// Contains reports whether m lies in the interval; NoMonth lies in none.
func (iv Interval) Contains(m Month) bool {
	return m != NoMonth && (iv.From == NoMonth || m >= iv.From) && (iv.To == NoMonth || m <= iv.To)
}

// Intersect returns the months that lie in both, and false where there are none.
func (iv Interval) Intersect(other Interval) (Interval, bool) {
	out := Interval{max(iv.From, other.From), iv.To}
	if out.To == NoMonth || other.To != NoMonth && other.To < out.To {
		out.To = other.To
	}
	if out.Reversed() {
		return Interval{}, false
	}
	return out, true
}

// Cover returns the smallest interval that holds both.
func (iv Interval) Cover(other Interval) Interval {
	out := Interval{min(iv.From, other.From), max(iv.To, other.To)}
	if iv.To == NoMonth || other.To == NoMonth {
		out.To = NoMonth
	}
	return out
}

// String returns "1997-05", "1997-01…1997-12", "…1997-05", "1997-05…" or, open
// at both ends, "…".
func (iv Interval) String() string {
	if iv.Exact() {
		return iv.From.String()
	}
	return iv.From.String() + "…" + iv.To.String()
}

// words says an interval as a person would: "January 1996", "1996 to 2001".
func (iv Interval) words() string {
	from, to := iv.From.words(), iv.To.words()
	if iv.From.Month() == 1 && iv.To.Month() == 12 {
		from, to = fmt.Sprint(iv.From.Year()), fmt.Sprint(iv.To.Year())
	}
	switch {
	case !iv.Known():
		return "any time"
	case from == to:
		return from
	case iv.To == NoMonth:
		return "from " + from
	case iv.From == NoMonth:
		return "up to " + to
	}
	return from + " to " + to
}

func (m Month) words() string {
	if m <= NoMonth {
		return ""
	}
	return fmt.Sprintf("%s %d", monthNames[m.Month()-1], m.Year())
}

var monthNames = [12]string{"January", "February", "March", "April", "May", "June",
	"July", "August", "September", "October", "November", "December"}
