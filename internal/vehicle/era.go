package vehicle

import "fmt"

// era is one reign of the Japanese calendar. Days are packed as yyyymmdd.
type era struct {
	letter, kanji, name string
	offset              int // Western year = era year + offset
	first, last         int // last is 0 while the era runs
	foretold            int // last era year that papers printed before the change carry
}

// eras are in order of time. First days: Unicode CLDR 48.2,
// supplemental/calendarData, Japanese eras 232 to 236; each last day is the day
// before the next first day.
//
// The end of Heisei was announced, and papers printed before it carry Heisei
// dates after it; ten years ahead is the longest that papers run (common
// practice, no source). A later Showa date is a mistake.
var eras = [...]era{
	{"M", "明治", "Meiji", 1867, 18681023, 19120729, 0},
	{"T", "大正", "Taisho", 1911, 19120730, 19261224, 0},
	{"S", "昭和", "Showa", 1925, 19261225, 19890107, 0},
	{"H", "平成", "Heisei", 1988, 19890108, 20190430, 41},
	{"R", "令和", "Reiwa", 2018, 20190501, 0, 0},
}

const heisei = 3 // index of Heisei in eras: its letter also means "half"

// span reads a date of the era; month and day are 0 where not given. A year
// that the era shares with another is cut to the months that are the era's.
func (e era) span(year, month, day int) (Interval, []Warning, error) {
	if year < 1 {
		return Interval{}, nil, refuse(CodeInvalidDate, "the first year of an era is 1 (元年)", "there is no year %d of %s", year, e.name)
	}
	western := year + e.offset
	if err := checkDate(western, month, day); err != nil {
		return Interval{}, nil, err
	}
	from, to := packed(western, month, day)
	if to < e.first {
		return Interval{}, nil, refuse(CodeInvalidDate, eraHint(to), "%s begins on %s", e.name, unpack(e.first))
	}
	if e.last != 0 && from > e.last {
		if year > e.foretold {
			return Interval{}, nil, refuse(CodeInvalidDate, eraHint(from), "%s ended on %s", e.name, unpack(e.last))
		}
		span := Interval{monthOfPacked(from), monthOfPacked(to)}
		return span, []Warning{{WarnEraEnded, fmt.Sprintf("%s ended on %s; read as %s", e.name, unpack(e.last), span)}}, nil
	}
	return e.clip(from, to), nil, nil
}

func (e era) clip(from, to int) Interval {
	from = max(from, e.first)
	if e.last != 0 {
		to = min(to, e.last)
	}
	return Interval{monthOfPacked(from), monthOfPacked(to)}
}

// eraHint names the era that a day really belongs to.
func eraHint(day int) string {
	for i := len(eras) - 1; i >= 0; i-- {
		if e := eras[i]; day >= e.first {
			return fmt.Sprintf("that date is %s %d", e.name, day/10000-e.offset)
		}
	}
	return "write the year in four digits"
}

// packed returns the first and the last day that a date can mean.
func packed(year, month, day int) (from, to int) {
	switch {
	case month == 0:
		return year*10000 + 101, year*10000 + 1231
	case day == 0:
		return year*10000 + month*100 + 1, year*10000 + month*100 + daysIn(year, month)
	}
	return year*10000 + month*100 + day, year*10000 + month*100 + day
}

func monthOfPacked(day int) Month { return MonthOf(day/10000, day/100%100) }

func unpack(day int) string {
	return fmt.Sprintf("%04d-%02d-%02d", day/10000, day/100%100, day%100)
}

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// EraYears lists the Japanese era years that an interval touches, in order of
// time, as papers abbreviate them: 1989 gives "S64", "H1". At an open end the
// interval counts as its other end; the zero Interval gives none.
func EraYears(iv Interval) []string {
	from, to := iv.From, iv.To
	if from == NoMonth {
		from = to
	}
	if to == NoMonth {
		to = from
	}
	var out []string
	for year := from.Year(); year <= to.Year() && year > 0; year++ {
		for _, e := range eras {
			start, end := max(from, MonthOf(year, 1)), min(to, MonthOf(year, 12))
			last := e.last
			if last == 0 {
				last = maxYear*10000 + 1231
			}
			if start <= monthOfPacked(last) && end >= monthOfPacked(e.first) {
				out = append(out, fmt.Sprintf("%s%d", e.letter, year-e.offset))
			}
		}
	}
	return out
}
