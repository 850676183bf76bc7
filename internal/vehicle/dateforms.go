package vehicle

import "fmt"

// readOne reads one number: a year, or year, month and day run together.
func readOne(t token) ([]reading, error) {
	switch t.width {
	case 8:
		return one(dated(plain, t.value/10000, t.value/100%100, t.value%100))
	case 6:
		return readSix(t.value)
	}
	year, ok := yearOf(t)
	if !ok {
		return nil, notADate(false)
	}
	return one(dated(plain, year, 0, 0))
}

// readSix reads 199705, and 200105 both as May 2001 and as 5 January 2020.
func readSix(n int) ([]reading, error) {
	var out []reading
	if r, err := dated(plain, n/100, n%100, 0); err == nil && n%100 > 0 {
		out = append(out, r)
	}
	year, _ := yearOf(token{value: n / 10000, width: 2})
	if r, err := dated(yearAhead, year, n/100%100, n%100); err == nil && n/100%100 > 0 && n%100 > 0 {
		out = append(out, r)
	}
	if len(out) == 0 {
		return nil, notADate(false)
	}
	return out, nil
}

// readTwo reads year and month in either order.
func readTwo(a, b token) ([]reading, error) {
	var out []reading
	if year, ok := yearOf(b); ok && isMonth(a) {
		if r, err := dated(yearLast, year, a.value, 0); err == nil {
			out = append(out, r)
		}
	}
	if year, ok := yearOf(a); ok && isMonth(b) {
		if r, err := dated(yearAhead, year, b.value, 0); err == nil {
			out = append(out, r)
		}
	}
	if len(out) > 0 {
		return out, nil
	}
	if a.width <= 2 && b.width <= 2 && (isDay(a) || isDay(b)) && a.width+b.width < 4 {
		return nil, refuse(CodeNotADate, "write the year too, as 1997-05", "is a day and a month without a year")
	}
	return nil, refuse(CodeInvalidDate, "write year and month as 1997-05", "holds no month from 1 to 12")
}

// readThree reads day, month and year. A four-digit or quoted number, or one
// above 31, is the year. Dates with dots put the day before the month wherever
// they end in the year; with slashes and dashes both orders are in use.
func readThree(a, b, c token, dots bool) ([]reading, error) {
	var out []reading
	add := func(m manner, year, month, day token) {
		y, ok := yearOf(year)
		if !ok || !isMonth(month) || !isDay(day) {
			return
		}
		if r, err := dated(m, y, month.value, day.value); err == nil {
			out = append(out, r)
		}
	}
	add(yearAhead, a, b, c)
	add(dayMonthYear, c, b, a)
	if !dots || len(out) == 0 {
		add(monthDayYear, c, a, b)
	}
	if len(out) == 0 {
		return nil, refuse(CodeInvalidDate, "write it as 1997-05-31", "no order of day, month and year makes a date of it")
	}
	return out, nil
}

// readKanji reads numbers marked with 年, 月 and 日. A year of one or two digits
// may be an era year without its era.
func readKanji(nums []token) ([]reading, error) {
	month, day := 0, 0
	if len(nums) > 1 {
		month = nums[1].value
	}
	if len(nums) > 2 {
		day = nums[2].value
	}
	if len(nums) > 1 && month == 0 || len(nums) > 2 && day == 0 {
		return nil, refuse(CodeInvalidDate, "read the paper again", "there is no month or day 0")
	}
	return readBareYear(nums[0], month, day)
}

// Era years without their era are read only for vehicles that come in: 8年 is no
// year of Showa (1933), and 63年 none of Reiwa (2081). The last is that of the
// pivot of two-digit years.
const (
	firstBareYear = 1950
	lastBareYear  = 2039
)

func readBareYear(t token, month, day int) ([]reading, error) {
	var out []reading
	year, ok := yearOf(t)
	if ok {
		r, err := dated(western, year, month, day)
		if err != nil {
			return nil, err
		}
		if t.width == 4 {
			r.manner = plain
		}
		out = append(out, r)
	}
	if ok && (t.width > 2 || t.quoted) {
		return out, nil
	}
	for i, m := range [...]manner{inShowa, inHeisei, inReiwa} {
		span, warnings, err := eras[heisei-1+i].span(t.value, month, day)
		if t.width <= 2 && err == nil && warnings == nil && span.From.Year() >= firstBareYear && span.To.Year() <= lastBareYear {
			out = append(out, reading{span, m, nil})
		}
	}
	if len(out) == 0 {
		return nil, refuse(CodeInvalidDate, "write the era or the year in four digits", "year %d without an era", t.value)
	}
	return out, nil
}

// readNamed reads a date with the month as a word, marks already dropped.
func readNamed(toks []token) ([]reading, error) {
	switch shapeOf(toks) {
	case "A9":
		return readNamedYear(toks[1], toks[0].value)
	case "9A":
		return readNamedYear(toks[0], toks[1].value)
	case "9A9":
		year, day := toks[2], toks[0]
		if day.width == 4 || day.quoted || day.value > 31 {
			year, day = day, year
		}
		return readNamedDay(year, toks[1], day)
	case "A99":
		return readNamedDay(toks[2], toks[0], toks[1])
	}
	return nil, notADate(false)
}

func readNamedYear(t token, month int) ([]reading, error) {
	year, ok := yearOf(t)
	if !ok {
		return nil, refuse(CodeNotADate, "write the year too, as Aug 1997", "is a day and a month without a year")
	}
	if t.width == 2 && isDay(t) {
		return one(dated(plain, year, month, 0, Warning{WarnDayOrYear,
			fmt.Sprintf("%s was read as the year %d; if it is the day, the year is missing", t.text, year)}))
	}
	return one(dated(plain, year, month, 0))
}

func readNamedDay(yearToken, month, day token) ([]reading, error) {
	year, ok := yearOf(yearToken)
	if !ok || !isDay(day) {
		return nil, refuse(CodeInvalidDate, "write it as 9 Aug 1997", "holds no day and year")
	}
	return one(dated(plain, year, month.value, day.value))
}

// readEra reads a date with an era, and what only looks like one: H1 beside a
// year is the first half of it, 1990s a decade.
func readEra(core []token) ([]reading, error) {
	at := indexKind(core, kEra)
	index := core[at].value
	if r, ok, err := readHalfLetter(core, index); ok {
		return one(r, err)
	}
	if shape := shapeOf(core); shape == "9E" && core[1].text == "S" && core[0].value%10 == 0 {
		return readDecade(core[0])
	}
	var nums []token
	switch shapeOf(core) {
	case "E9", "E.9", "E9Y", "E9.9", "E9/9", "E9-9", "E.9.9", "E9Y9M", "E9.9.9", "E9/9/9", "E9-9-9", "E.9.9.9", "E9Y9M9D":
		nums = without(core, "EYMD./-")
	default:
		if at+1 < len(core) && core[at+1].kind == kDash {
			return nil, refuse(CodeInvalidDate, "the first year of an era is 1 (元年)", "an era has no negative year")
		}
		return nil, notADate(false)
	}
	values := [3]int{}
	for i, t := range nums {
		if t.width > 2 || t.quoted || i > 0 && t.value == 0 {
			return nil, refuse(CodeInvalidDate, "write it as H8.9", "%s is no year, month or day of an era date", t.text)
		}
		values[i] = t.value
	}
	span, warnings, err := eras[index].span(values[0], values[1], values[2])
	return one(reading{span, plain, warnings}, err)
}

// readHalfLetter reads H1 1997, 1997 H2, 1H97: Heisei is never followed by a
// Western year.
func readHalfLetter(core []token, index int) (r reading, ok bool, err error) {
	if index != heisei || core[indexKind(core, kEra)].text != "H" {
		return reading{}, false, nil
	}
	var half, yearToken token
	switch nums := without(core, "E-/."); shapeOf(core) {
	case "E99", "E9-9", "E9/9", "9E9":
		half, yearToken = nums[0], nums[1]
	case "99E", "9-9E", "9/9E", "9-E9", "9/E9":
		half, yearToken = nums[1], nums[0]
	default:
		return reading{}, false, nil
	}
	if half.width == 4 {
		half, yearToken = yearToken, half
	}
	year, ok := yearOf(yearToken)
	if !ok || half.width != 1 || half.value < 1 || half.value > 2 || yearToken.width == 2 && isMonth(yearToken) {
		return reading{}, false, nil
	}
	if r, err = dated(plain, year, 0, 0); err != nil {
		return r, true, err
	}
	r.span = halfOf(year, half.value)
	r.warnings = []Warning{{WarnHalfYear, fmt.Sprintf("read as %s, not as a Heisei year", r.span.words())}}
	return r, true, nil
}

func halfOf(year, half int) Interval {
	return Interval{MonthOf(year, half*6-5), MonthOf(year, half*6)}
}

func readDecade(t token) ([]reading, error) {
	year, ok := yearOf(t)
	if !ok {
		return nil, notADate(false)
	}
	r, err := dated(plain, year, 0, 0)
	r.span.To = MonthOf(year+9, 12)
	return one(r, err)
}

// readPartOfYear reads halves (上半期) and quarters (Q3) of a year.
func readPartOfYear(toks []token) ([]reading, error) {
	var yearToken token
	from, months := 0, 6
	switch shapeOf(toks) {
	case "9h":
		yearToken, from = toks[0], toks[1].value*6-5
	case "Q99":
		yearToken, from, months = toks[2], toks[1].value*3-2, 3
	case "9Q9":
		yearToken, from, months = toks[0], toks[2].value*3-2, 3
	}
	year, ok := yearOf(yearToken)
	if !ok || from < 1 || from > 10 {
		return nil, notADate(false)
	}
	r, err := dated(plain, year, from, 0)
	r.span.To = r.span.From + Month(months-1)
	return one(r, err)
}
