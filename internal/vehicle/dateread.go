package vehicle

import "fmt"

// aside is what stands beside a date and is no part of it.
type aside struct {
	warnings []Warning
	part     int // 1 early, 2 mid, 3 late
	phase    bool
}

// readDate reads the tokens of one date in every way that they allow; it
// returns at least one reading or an error.
func (o Order) readDate(toks []token) ([]reading, error) {
	if at := indexKind(toks, kOpen); at > 0 && len(toks) > at+2 && toks[len(toks)-1].kind == kClose {
		outer, inner := toks[:at:at], toks[at+1:len(toks)-1]
		if indexKind(inner, kNumber) >= 0 && inner[0].kind != kPhase {
			return o.readTwice(outer, inner)
		}
		toks = append(outer, inner...) // a remark in brackets
	}
	core, beside := setAside(toks)
	if len(core) == 0 || indexKind(core, kNumber) < 0 {
		return nil, notADate(beside.phase)
	}
	found, err := readCore(core)
	if err != nil {
		return nil, err
	}
	found = o.keep(found)
	for i := range found {
		beside.apply(&found[i])
	}
	return found, nil
}

func notADate(phase bool) error {
	if phase {
		return refuse(CodeNotADate, "write the months of that version", "names a version of the model, not a time")
	}
	return refuse(CodeNotADate, "write a year, or a year and a month as 1997-05", "is not a date")
}

// readTwice reads a date with the same date in brackets after it, as in
// 1997年(平成9年): only what both say is taken.
func (o Order) readTwice(outer, inner []token) ([]reading, error) {
	first, err := o.readDate(outer)
	if err != nil {
		return nil, err
	}
	second, err := o.readDate(inner)
	if err != nil {
		return nil, err
	}
	var out []reading
	for _, a := range first {
		for _, b := range second {
			if span, ok := a.span.Intersect(b.span); ok {
				out = append(out, reading{span, a.manner, joined(a.warnings, b.warnings)})
			}
		}
	}
	if len(out) == 0 {
		return nil, refuse(CodeContradiction, "look at the paper again", "the date and the one in brackets are not the same time")
	}
	return out, nil
}

// setAside separates a date from what is said about it.
func setAside(toks []token) ([]token, aside) {
	var core []token
	var beside aside
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		switch t.kind {
		case kNoise:
		case kAbout:
			beside.warn(WarnApproximate, "about: the month can be off")
		case kDoubt:
			beside.warn(WarnDoubtful, "a question mark: somebody was not sure")
		case kPart:
			beside.part = t.value
		case kModel:
			beside.warn(WarnModelYear, "a model year: building often began in the autumn before")
		case kPhase:
			beside.phase = true
			beside.warn(WarnPhase, t.text+" names a version of the model, not a part of the year: read without it")
			if t.value == 1 && i+1 < len(toks) && toks[i+1].kind == kNumber {
				i++
			}
		default:
			core = append(core, t)
		}
	}
	return trimMarks(core), beside
}

// trimMarks drops dots and commas at both ends: "1997.", "BJ. 96".
func trimMarks(toks []token) []token {
	for len(toks) > 0 && (toks[0].kind == kDot || toks[0].kind == kComma) {
		toks = toks[1:]
	}
	for len(toks) > 0 && (toks[len(toks)-1].kind == kDot || toks[len(toks)-1].kind == kComma) {
		toks = toks[:len(toks)-1]
	}
	return toks
}

func (a *aside) warn(code, message string) { a.warnings = append(a.warnings, Warning{code, message}) }

// apply puts remarks on a reading and narrows a whole year to the part named.
func (a aside) apply(r *reading) {
	r.warnings = joined(r.warnings, a.warnings)
	if a.part == 0 {
		return
	}
	year := r.span.From.Year()
	if r.span == WholeYear(year) {
		months := [...][2]int{{1, 6}, {4, 9}, {7, 12}}[a.part-1]
		r.span = Interval{MonthOf(year, months[0]), MonthOf(year, months[1])}
	}
	r.warnings = append(r.warnings, Warning{WarnApproximate, fmt.Sprintf("early, mid or late: read as %s", r.span.words())})
}

// joined appends without touching the array of either.
func joined(a, b []Warning) []Warning {
	return append(append([]Warning(nil), a...), b...)
}

func indexKind(toks []token, k kind) int {
	for i, t := range toks {
		if t.kind == k {
			return i
		}
	}
	return -1
}

// readCore chooses the reader by the shape of the tokens.
func readCore(core []token) ([]reading, error) {
	switch shape := shapeOf(core); {
	case indexKind(core, kName) >= 0:
		return readNamed(without(core, "-/.,"))
	case indexKind(core, kEra) >= 0:
		return readEra(core)
	case indexKind(core, kQuarter) >= 0, indexKind(core, kHalf) >= 0:
		return readPartOfYear(without(core, "-/.Y"))
	case shape == "9":
		return readOne(core[0])
	case shape == "9Y", shape == "9Y9M", shape == "9Y9M9D":
		return readKanji(without(core, "YMD"))
	case shape == "9-9", shape == "9/9", shape == "9.9":
		return readTwo(core[0], core[2])
	case shape == "9-9-9", shape == "9/9/9", shape == "9.9.9":
		return readThree(core[0], core[2], core[4], core[1].kind == kDot)
	}
	return nil, notADate(false)
}

// yearOf reads a token as a year: four digits, or two by the pivot that
// Order.ParseDate explains.
func yearOf(t token) (int, bool) {
	const pivot = 40
	switch {
	case t.width == 4:
		return t.value, true
	case t.width == 2 && t.value < pivot:
		return 2000 + t.value, true
	case t.width == 2:
		return 1900 + t.value, true
	}
	return 0, false
}

// isMonth tells a token that can be a month.
func isMonth(t token) bool {
	return t.width <= 2 && t.value >= 1 && t.value <= 12 && !t.quoted
}

// isDay tells a token that can be a day of a month.
func isDay(t token) bool {
	return t.width <= 2 && t.value >= 1 && t.value <= 31 && !t.quoted
}

// dated makes a reading of a Western date; month and day are 0 where not given.
func dated(m manner, year, month, day int, warnings ...Warning) (reading, error) {
	if err := checkDate(year, month, day); err != nil {
		return reading{}, err
	}
	from, to := packed(year, month, day)
	return reading{Interval{monthOfPacked(from), monthOfPacked(to)}, m, warnings}, nil
}

// one wraps the result of dated for a text with a single reading.
func one(r reading, err error) ([]reading, error) {
	if err != nil {
		return nil, err
	}
	return []reading{r}, nil
}
