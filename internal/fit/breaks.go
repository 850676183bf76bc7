package fit

import (
	"fmt"
	"slices"
	"strconv"

	"crossbin/internal/vehicle"
)

// nearSerial is how close to a change a serial may come before the answer says
// so: one misread digit in the thousands moves it across (our guess).
const nearSerial = 2000

// nearMonths is the same for build dates; within it a date clause is unknown.
const nearMonths = 3

// breaks says where the vehicle stands near a change in serial or date, nearest
// first: that comes before anything else in an answer.
func (w *world) breaks() []string {
	type found struct {
		distance int64
		text     string
	}
	var all []found
	for _, r := range w.rows {
		if !w.speaksOf(r) {
			continue
		}
		s := r.step.Statement.Scope
		for _, at := range serialBreaks(s.Serial) {
			if d := w.q.Facts.Serial - at; w.q.Facts.Serial != vehicle.NoSerial && d < nearSerial && d > -nearSerial {
				all = append(all, found{max(d, -d), serialText(d, s.Serial.Print(at))})
			}
		}
		for _, at := range builtBreaks(s.Built) {
			if d, near := w.monthsFrom(at); near {
				all = append(all, found{int64(max(d, -d)), builtText(d, at)})
			}
		}
	}
	slices.SortFunc(all, func(a, b found) int {
		if a.distance != b.distance {
			return int(a.distance - b.distance)
		}
		return compareText(a.text, b.text)
	})
	var out []string
	for _, f := range all {
		if !slices.Contains(out, f.text) {
			out = append(out, f.text)
		}
	}
	return out
}

// speaksOf reports whether a row fails on nothing but serial or date: only then
// is its break a break of this vehicle.
func (w *world) speaksOf(r row) bool {
	return !slices.ContainsFunc(r.failing, func(f vehicle.Fact) bool { return f != vehicle.FactSerial && f != vehicle.FactBuilt })
}

// serialBreaks gives the first serials of a new run: the start of a range, and
// the one after its end.
func serialBreaks(r vehicle.SerialRange) []int64 {
	var out []int64
	if r.From > 0 {
		out = append(out, r.From)
	}
	if r.To != vehicle.NoSerial {
		out = append(out, r.To+1)
	}
	return out
}

func builtBreaks(b vehicle.Interval) []vehicle.Month {
	var out []vehicle.Month
	if b.From != vehicle.NoMonth {
		out = append(out, b.From)
	}
	if b.To != vehicle.NoMonth {
		out = append(out, b.To+1)
	}
	return out
}

func (w *world) monthsFrom(at vehicle.Month) (int, bool) {
	b := w.q.Facts.Built
	if b.From == vehicle.NoMonth || b.To == vehicle.NoMonth {
		return 0, false
	}
	switch {
	case b.To < at:
		d := int(b.To - at)
		return d, d > -nearMonths
	case b.From >= at:
		d := int(b.From - at)
		return d, d < nearMonths
	}
	return 0, b.From == b.To || b.To-b.From < 12
}

func serialText(d int64, at string) string {
	if d < 0 {
		return fmt.Sprintf("%s before a change at %s: read the last four again", grouped(-d), at)
	}
	return fmt.Sprintf("%s after a change at %s: read the last four again", grouped(d), at)
}

func builtText(d int, at vehicle.Month) string {
	switch {
	case d < 0:
		return fmt.Sprintf("built %d months before a change in %s: look at the part that is on it", -d, at)
	case d > 0:
		return fmt.Sprintf("built %d months after a change in %s: look at the part that is on it", d, at)
	}
	return fmt.Sprintf("built about when it changed, in %s: look at the part that is on it", at)
}

// grouped prints a number with commas between thousands.
func grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
