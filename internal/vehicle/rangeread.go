package vehicle

// readEnds reads both sides and keeps the pairs that one hand can have written
// and that do not end before they begin. The word beside the dates decides only
// what they leave open themselves.
func (o Order) readEnds(e ends) ([]reading, error) {
	out, err := o.readPairs(e, false)
	if e.western && len(distinct(out)) > 1 {
		out, err = o.readPairs(e, true)
	}
	if err != nil {
		return nil, err
	}
	if e.counted {
		for i := range out {
			out[i].warnings = joined(out[i].warnings, []Warning{{WarnEndCounted, "before or after: the month named is counted in"}})
		}
	}
	return out, nil
}

func (o Order) readPairs(e ends, westernWord bool) ([]reading, error) {
	from, to := borrow(e.from, e.to)
	first, err := o.readSide(from, westernWord)
	if err != nil {
		return nil, err
	}
	last, err := o.readLast(from, to, first, westernWord)
	if err != nil {
		return nil, err
	}
	out := pairs(first, last)
	if len(out) == 0 {
		return nil, refuse(CodeReversed, "write the earlier date first", "ends before it begins")
	}
	return out, nil
}

// readSide reads one side; no tokens are an open end. Beside a word of a Western
// language a date such as 12/01 is month and year.
func (o Order) readSide(toks []token, westernWord bool) ([]reading, error) {
	if len(toks) == 0 {
		return []reading{{}}, nil
	}
	found, err := o.readDate(toks)
	if err != nil || !westernWord || len(found) != 2 {
		return found, err
	}
	if found[0].manner == yearLast && found[1].manner == yearAhead && found[0].span != found[1].span {
		found[0].warnings = joined(found[0].warnings, []Warning{{WarnMonthFirst,
			"read as month and year, " + found[0].span.words() + ", as the word beside it suggests"}})
		return found[:1], nil
	}
	return found, nil
}

// readLast reads the second date, which may lean on the first: its era
// (H8.9~11.8), or its year where it is a bare month (1996/8~10).
func (o Order) readLast(from, to []token, first []reading, westernWord bool) ([]reading, error) {
	if carried, ok := o.carryEra(from, to, first); ok {
		return carried, nil
	}
	found, err := o.readSide(to, westernWord)
	if core, _ := setAside(to); len(core) == 1 && isMonth(core[0]) && core[0].kind == kNumber {
		if months := sameYear(core[0].value, first); len(months) > 0 {
			if err != nil {
				return months, nil
			}
			return append(months, found...), nil
		}
	}
	return found, err
}

// carryEra reads the second date in the era of the first where it has none of
// its own and its year has one or two digits.
func (o Order) carryEra(from, to []token, first []reading) ([]reading, bool) {
	at := indexKind(from, kEra)
	if at < 0 || len(to) == 0 || to[0].kind != kNumber || to[0].width > 2 || to[0].quoted || indexKind(to, kEra) >= 0 {
		return nil, false
	}
	found, err := o.readDate(append([]token{from[at]}, to...))
	if err != nil || len(pairs(first, found)) == 0 {
		return nil, false
	}
	for i := range found {
		found[i].warnings = joined(found[i].warnings, []Warning{{WarnEraCarried,
			"the second date was read in the era of the first: " + found[i].span.words()}})
	}
	return found, true
}

// sameYear reads a bare number as a month in the year of a first date that
// names a month.
func sameYear(month int, first []reading) []reading {
	var out []reading
	for _, r := range first {
		m := MonthOf(r.span.From.Year(), month)
		if r.span.Exact() && m > r.span.From {
			out = append(out, reading{Interval{m, m}, r.manner, nil})
		}
	}
	return out
}

// borrow completes a side that names no year with the year of the other:
// 1996年8月～10月, Aug-Oct 1996.
func borrow(from, to []token) ([]token, []token) {
	switch shape := shapeOf(to); {
	case (shape == "9M" || shape == "9M9D") && indexKind(from, kYear) > 0:
		at := indexKind(from, kYear)
		to = append(append([]token(nil), from[:at+1]...), to...)
	case shape == "A9" && shapeOf(from) == "A":
		from = []token{from[0], to[1]}
	}
	return from, to
}

// pairs combines first and last dates.
func pairs(first, last []reading) []reading {
	var out []reading
	for _, a := range first {
		for _, b := range last {
			span := Interval{a.span.From, b.span.To}
			if !a.manner.agrees(b.manner) || span.Reversed() {
				continue
			}
			m := a.manner
			if m == plain {
				m = b.manner
			}
			out = append(out, reading{span, m, joined(a.warnings, b.warnings)})
		}
	}
	return out
}

// readLoose reads a cell whose dashes may stand inside a date or between two.
func (o Order) readLoose(toks []token) ([]reading, error) {
	switch core, beside := setAside(toks); {
	case shapeOf(core) == "9-9":
		found, err := o.readDashed(core[0], core[2])
		for i := range found {
			beside.apply(&found[i])
		}
		return found, err
	case shapeOf(core) == "9/9" && !isMonth(core[0]) && !isMonth(core[2]):
		return o.readEnds(ends{from: core[:1], to: core[2:]})
	}
	whole, err := o.readDate(toks)
	if err == nil && (indexKind(toks, kEra) < 0 || len(without(toks, "E.-/YMD")) != 2) {
		return whole, nil // only H8-9 is a month as well as a range
	}
	found := whole
	for i, t := range toks {
		if t.kind != kDash || i == 0 || i+1 == len(toks) {
			continue
		}
		split, splitErr := o.readEnds(ends{from: toks[:i], to: toks[i+1:]})
		found = append(found, split...)
		err = worse(err, splitErr)
	}
	if len(found) == 0 {
		return nil, err
	}
	return found, nil
}

// worse keeps the error that tells a person most.
func worse(a, b error) error {
	rank := map[string]int{"": 0, CodeNotADate: 1, CodeInvalidDate: 2, CodeContradiction: 3, CodeReversed: 4}
	if a == nil || b != nil && rank[CodeOf(b)] > rank[CodeOf(a)] {
		return b
	}
	return a
}

// readDashed reads two bare numbers with a dash: years, or year and month.
// Only an apostrophe, or a second number that is no month, makes them years for
// certain; 96-01 stays in doubt.
func (o Order) readDashed(a, b token) ([]reading, error) {
	years, err := o.readEnds(ends{from: []token{a}, to: []token{b}})
	if certain := a.quoted || b.quoted || b.width == 2 && (b.value == 0 || b.value > 12); certain && a.width > 1 {
		if CodeOf(err) == CodeReversed && isMonth(a) {
			return nil, refuse(CodeReversed, "write the earlier year first, or a month as 1/1996", "as years it ends before it begins")
		}
		return years, err
	}
	months, monthErr := readTwo(a, b)
	months = o.keep(months)
	if a.width == 1 && monthErr == nil {
		years = append(years, decadeYears(a, b)...)
	}
	if b.width == 1 && monthErr == nil {
		months[0].warnings = append(months[0].warnings, Warning{WarnRangeOrMonth, "read as a month, " + months[0].span.words()})
	}
	if found := append(months, years...); len(found) > 0 {
		return found, nil
	}
	return nil, worse(monthErr, err)
}

// decadeYears reads 6-10 as 2006 to 2010, which some write.
func decadeYears(a, b token) []reading {
	a.width = 2
	from, _ := yearOf(a)
	to, ok := yearOf(b)
	if !ok || from >= to {
		return nil
	}
	return []reading{{Interval{MonthOf(from, 1), MonthOf(to, 12)}, plain, nil}}
}

// readYearList reads years that follow one another (1996, 1997, 1998). Years
// with gaps are several ranges and no single one.
func readYearList(toks []token) ([]reading, bool, error) {
	var years []int
	for i, t := range toks {
		if i%2 == 1 {
			if t.kind != kComma && t.kind != kAnd && t.kind != kSlash {
				return nil, false, nil
			}
			continue
		}
		year, ok := yearOf(t)
		if t.kind != kNumber || !ok || isMonth(t) || checkDate(year, 0, 0) != nil {
			return nil, false, nil
		}
		years = append(years, year)
	}
	if len(years) < 2 || len(toks)%2 == 0 || len(years) == 2 && toks[1].kind == kSlash {
		return nil, false, nil
	}
	for i := 1; i < len(years); i++ {
		if years[i] != years[i-1]+1 {
			return nil, true, refuse(CodeSeveral, "give each its own row", "holds several years that do not follow one another")
		}
	}
	return []reading{{Interval{MonthOf(years[0], 1), MonthOf(years[len(years)-1], 12)}, plain, nil}}, true, nil
}
