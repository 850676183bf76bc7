package vehicle

// Order is the habit of whoever wrote a list: in which order the numbers of a
// date stand. It is asked once per file; AnyOrder means that nobody has said.
type Order uint8

// The habits. DayFirst and MonthFirst both write a month before a year (8/96),
// YearFirst writes it after (96/8).
const (
	AnyOrder   Order = iota
	DayFirst         // 31/12/96
	MonthFirst       // 12/31/96
	YearFirst        // 96/12/31
)

// ParseDate reads one date as shops, plates and papers write it, in any Order;
// see Order.ParseDate.
func ParseDate(s string) (Interval, []Warning, error) { return AnyOrder.ParseDate(s) }

// ParseDate reads one date: 1997-05, 5/97, 1996年8月, H8.9, Aug 1997, 1997, '97.
// The answer is the months that it can mean: a year alone is January to
// December, an era year only the months that belong to the era.
//
// A year of two digits is 2000 to 2039 for 00 to 39 and 1940 to 1999 for 40 to
// 99: no vehicle is younger than a few years from now, hardly one on a lift is
// older than 1940, and who means an older one writes four digits.
//
// Where only the order of day and month is doubtful (8/9/96) the interval
// covers both readings and a Warning says so. Any other doubt is an
// AmbiguousError; what is no date is a ParseError (not_a_date, invalid_date).
func (o Order) ParseDate(s string) (Interval, []Warning, error) {
	text := foldDate(s)
	if text == "" {
		return Interval{}, nil, emptyDate(s)
	}
	found, err := o.readDate(scan(text))
	if err != nil {
		return Interval{}, nil, withText(err, s)
	}
	found = distinct(found)
	if len(found) == 2 && found[0].manner.dayOrMonth(found[1].manner) {
		return coverBoth(found)
	}
	return settle(s, found)
}

func emptyDate(s string) error {
	return &ParseError{Code: CodeEmpty, Text: s, Message: "no date here", Hint: "write a year, or a year and a month as 1997-05"}
}

func coverBoth(found []reading) (Interval, []Warning, error) {
	span := found[0].span.Cover(found[1].span)
	warnings := append(found[0].warnings, Warning{WarnDayOrMonth,
		"day or month first? " + found[0].span.words() + " or " + found[1].span.words() + ", all between is taken as possible"})
	return span, warnings, nil
}

// settle returns the one reading, or an AmbiguousError that carries them all.
func settle(s string, found []reading) (Interval, []Warning, error) {
	if len(found) == 1 {
		return found[0].span, found[0].warnings, nil
	}
	out := &AmbiguousError{Text: s}
	for _, r := range found {
		out.Readings = append(out.Readings, r.span)
		out.Labels = append(out.Labels, r.span.words())
	}
	return Interval{}, nil, out
}

// reading is one way to understand a date or a range.
type reading struct {
	span     Interval
	manner   manner
	warnings []Warning
}

// distinct drops readings that say the same months.
func distinct(found []reading) []reading {
	var out []reading
	for _, r := range found {
		seen := false
		for _, have := range out {
			seen = seen || have.span == r.span
		}
		if !seen {
			out = append(out, r)
		}
	}
	return out
}

// manner is how a reading takes the numbers; the two ends of one range are
// written in one manner.
type manner uint8

const (
	plain    manner = iota // no order or calendar had to be assumed
	yearLast               // 8/96
	dayMonthYear
	monthDayYear
	yearAhead // 96/8, 96/8/9
	western   // the year of 10年 in the Western calendar
	inShowa   // the same in an era
	inHeisei
	inReiwa
)

func (m manner) endsInYear() bool { return m >= yearLast && m <= monthDayYear }

func (m manner) dayOrMonth(other manner) bool {
	return m == dayMonthYear && other == monthDayYear || m == monthDayYear && other == dayMonthYear
}

// agrees reports whether one hand can have written both.
func (m manner) agrees(other manner) bool {
	switch {
	case m == plain || other == plain || m == other:
		return true
	case m >= western && other >= western:
		return false
	case m.dayOrMonth(other):
		return false
	}
	return m.endsInYear() == other.endsInYear()
}

// keep drops the readings that the habit excludes, unless none would be left.
func (o Order) keep(found []reading) []reading {
	var out []reading
	for _, r := range found {
		ok := true
		switch r.manner {
		case yearLast:
			ok = o != YearFirst
		case dayMonthYear:
			ok = o == AnyOrder || o == DayFirst
		case monthDayYear:
			ok = o == AnyOrder || o == MonthFirst
		case yearAhead:
			ok = o == AnyOrder || o == YearFirst
		}
		if ok {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return found
	}
	return out
}
