package vehicle

import "strings"

// ParseRange reads a range of dates in any Order; see Order.ParseRange.
func ParseRange(s string) (Interval, []Warning, error) { return AnyOrder.ParseRange(s) }

// ParseRange reads the cell of a year-range column: two dates with a dash, a
// wave, an arrow or a word between, one date with an open end (1996/8-, -8/99,
// 8/96 on, bis 12/01, 1996年8月～), or one date alone. A year begins in January
// and ends in December. "all" and "-" are the zero Interval, open at both ends;
// so is "?", with a warning that nobody knows.
//
// A range speaks of many vehicles, so it is never widened to be on the safe
// side: where a text has several readings (96-01 is 1996 to 2001, or January
// 1996; 8/9/96 is August or September) the answer is an AmbiguousError with all
// of them. A range that ends before it begins is a ParseError (reversed), and
// what is no date, as a version of the model (facelift, 後期), is not_a_date.
func (o Order) ParseRange(s string) (Interval, []Warning, error) {
	text := foldDate(s)
	if text == "" {
		return Interval{}, nil, emptyDate(s)
	}
	if warnings, ok := wholeCell(text); ok {
		return Interval{}, warnings, nil
	}
	found, err := o.readRange(scan(text))
	if err != nil {
		return Interval{}, nil, withText(err, s)
	}
	return settle(s, found)
}

// wholeCell knows the cells that name no date on purpose.
func wholeCell(text string) ([]Warning, bool) {
	switch strings.Trim(text, ". ") {
	case "ALL", "ANY", "ALL YEARS", "ALLE", "ALLE BJ", "TODOS", "TODAS", "TOUS", "TOUTES", "TUTTI", "ВСЕ",
		"全車", "全年式", "全て", "すべて", "共通", "*", "-", "--", "---", "~", "…":
		return nil, true
	case "?", "??", "???", "UNKNOWN", "UNK", "N/A", "NA", "#N/A", "UNBEKANNT", "DESCONOCIDO", "INCONNU", "不明", "不詳", "НЕИЗВЕСТНО":
		return []Warning{{WarnUnknown, "the list says that the time is not known"}}, true
	}
	return nil, text == "..." // "…" after folding
}

// ends are the two sides of a range; an open side has no tokens.
type ends struct {
	from, to []token
	western  bool // a word of a Western language stands beside the dates
	counted  bool // after, before: the month named is counted in
}

// readRange reads all that can be meant: a list of years, two dates with a sign
// between, one date with an open end, or dates and dashes.
func (o Order) readRange(toks []token) ([]reading, error) {
	if found, ok, err := readYearList(toks); ok {
		return found, err
	}
	toks, opens, err := openEnds(toks)
	if err != nil {
		return nil, err
	}
	if at, ok := strongSplit(toks); ok {
		if opens.to || opens.on {
			return nil, notADate(false)
		}
		return o.readEnds(ends{toks[:at], toks[at+1:], opens.word || isLatin(toks[at]), opens.counted})
	}
	if opens.any() {
		return o.readOpen(toks, opens)
	}
	return o.readLoose(toks)
}

// openMarks are the signs and words that stand at the outside of a range.
type openMarks struct{ from, to, on, until, counted, word bool }

func (m openMarks) any() bool { return m.from || m.to || m.on || m.until }

// openEnds takes the words and signs off both ends.
func openEnds(toks []token) ([]token, openMarks, error) {
	var marks openMarks
	toks = dropNoise(toks)
	for len(toks) > 0 {
		t := toks[0]
		switch {
		case (t.kind == kUp || t.kind == kTo) && len(toks) > 1 && (toks[1].kind == kTo || toks[1].kind == kFrom):
			toks = toks[1:] // up to, à partir de
			continue
		case t.kind == kFrom || t.kind == kMore:
			marks.from, marks.word = true, t.kind == kFrom
		case t.kind == kTo || t.kind == kLess:
			marks.to, marks.word = true, t.kind == kTo
		case t.kind == kSpan || t.kind == kDash:
			marks.to = true
		default:
			return closeEnds(toks, marks)
		}
		marks.counted = marks.counted || t.value == 1 || t.text == ">" || t.text == "<"
		toks = dropNoise(toks[1:])
	}
	return nil, marks, notADate(false)
}

// dropNoise drops words at the beginning that only announce a date.
func dropNoise(toks []token) []token {
	for len(toks) > 1 && toks[0].kind == kNoise {
		toks = toks[1:]
	}
	return toks
}

func closeEnds(toks []token, marks openMarks) ([]token, openMarks, error) {
	for len(toks) > 1 {
		t := toks[len(toks)-1]
		switch {
		case t.kind == kOn, t.kind == kUp, t.kind == kSpan, t.kind == kDash, t.kind == kMore,
			t.kind == kTo && marks.on: // 96 to present
			marks.on = true
			marks.word = marks.word || isLatin(t)
		case t.kind == kUntil:
			marks.until = true
		case t.kind == kAnd:
		default:
			return toks, marks, nil
		}
		toks = toks[:len(toks)-1]
	}
	return toks, marks, nil
}

func isLatin(t token) bool { return t.text != "" && t.text[0] >= 'A' && t.text[0] <= 'Z' }

// readOpen reads one date with one open end.
func (o Order) readOpen(toks []token, marks openMarks) ([]reading, error) {
	begins, stops := marks.from || marks.on, marks.to || marks.until
	if begins == stops {
		return nil, notADate(false)
	}
	e := ends{western: marks.word, counted: marks.counted}
	if begins {
		e.from = toks
	} else {
		e.to = toks
	}
	return o.readEnds(e)
}

// strongSplit finds the one sign or word that can only stand between two dates.
// A dash with spaces on both sides is one.
func strongSplit(toks []token) (int, bool) {
	at, count := 0, 0
	for i, t := range toks {
		strong := t.kind == kSpan || t.kind == kTo || t.kind == kOn || t.kind == kMore ||
			t.kind == kDash && t.spaced && i+1 < len(toks) && toks[i+1].spaced
		if strong && i > 0 && i+1 < len(toks) {
			at, count = i, count+1
		}
	}
	return at, count == 1
}
