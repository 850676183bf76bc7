package importers

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"crossbin/internal/vehicle"
)

// factOf is the fact that a column of plain words speaks of.
var factOf = map[Field]vehicle.Fact{
	Transmission: vehicle.FactTransmission, Drive: vehicle.FactDrive, DriveSide: vehicle.FactSide, Turbo: vehicle.FactTurbo,
	AirCon: vehicle.OptionFact("ac"), ColdRegion: vehicle.OptionFact("cold"),
}

// clause reads the text of a vehicle cell.
func (w Words) clause(f Field, text string) clauses {
	switch {
	case w.marks.is(text, markAll):
		return clauses{}
	case w.marks.is(text, markUnknown):
		return refuse("unknown", "what the vehicle must have, or an empty cell where it makes no difference: the list says that nobody knows")
	}
	switch f {
	case Make:
		return w.alternatives(text, w.plain(vehicle.FactMaker))
	case Market:
		return w.alternatives(text, w.plain(vehicle.FactMarket))
	case Model:
		return w.alternatives(text, w.model)
	case ModelCode:
		return w.alternatives(text, w.modelCode)
	case EngineCode, EngineFamily:
		return w.alternatives(text, w.engine)
	case FrameNo:
		return w.alternatives(text, w.frame)
	case SerialRange, SerialFrom, SerialTo:
		return w.serial(f, text)
	case YearRange, YearFrom, YearTo:
		return years(f, text)
	case OptionWords:
		return w.options(text)
	}
	return w.factWords(factOf[f], text)
}

var alternativeMarks = regexp.MustCompile(`\s*[/／,;；、，\n\r&|]\s*|\s+(?:or|oder|ou|o|または|又は)\s+`)

// splitAlternatives divides a vehicle cell; brackets hold what they hold.
func splitAlternatives(text string) []string {
	var out []string
	rest := bracketed.ReplaceAllStringFunc(text, func(b string) string {
		return strings.Map(func(r rune) rune {
			if strings.ContainsRune("/,;&|、，", r) {
				return '\x01'
			}
			return r
		}, b)
	})
	for _, p := range alternativeMarks.Split(rest, -1) {
		if p = strings.TrimSpace(strings.ReplaceAll(p, "\x01", "/")); p != "" && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// alternatives reads each alternative of a cell; one that cannot be read fails
// the cell.
func (w Words) alternatives(text string, read func(piece string, before clause) clauses) clauses {
	var out clauses
	last := clause{}
	for _, piece := range splitAlternatives(text) {
		c := read(piece, last)
		out.remarks = append(out.remarks, c.remarks...)
		if c.failed != nil {
			out.failed = c.failed
			return out
		}
		if len(c.alts) > 0 {
			last = c.alts[len(c.alts)-1]
		}
		out.alts = append(out.alts, c.alts...)
	}
	if len(out.alts) == 0 && out.failed == nil {
		return refuse("clause_unread", "a name or a code; %q holds none", text)
	}
	return out
}

func only(facts ...factValue) clauses { return clauses{alts: []clause{{facts: facts}}} }

// plain takes a name as it stands.
func (w Words) plain(fact vehicle.Fact) func(string, clause) clauses {
	return func(piece string, _ clause) clauses {
		if strings.ContainsAny(piece, "?*") {
			return refuse("clause_unread", "the whole name; %q is not certain", piece)
		}
		return only(factValue{fact, piece})
	}
}

// model reads a model name; in brackets may stand its code or an option.
func (w Words) model(piece string, _ clause) clauses {
	name, inside := takeRemark(piece)
	if strings.ContainsAny(name, "?*") || name == "" {
		return refuse("clause_unread", "the model's name; %q is not certain", piece)
	}
	out := only(factValue{vehicle.FactModel, name})
	if inside == "" {
		return out
	}
	return w.narrowed(out, piece, inside)
}

var bareCode = regexp.MustCompile(`^(?:[0-9A-Z]{1,3}-)?(?:[A-Z]+[0-9]|[0-9]+[A-Z])[0-9A-Z]*$`)

// narrowed adds what stands in brackets to each alternative: a model code or
// options. Anything else is a restriction that cannot be judged.
func (w Words) narrowed(c clauses, piece, inside string) clauses {
	var more clauses
	if bareCode.MatchString(vehicle.Fold(inside)) {
		more = w.modelCode(inside, clause{})
	} else {
		more = w.options(inside)
	}
	if more.failed != nil || len(more.alts) != 1 {
		return refuse("clause_unread", "a plain name or code; what %q in %q restricts is not known", inside, piece)
	}
	c.remarks = append(c.remarks, more.remarks...)
	for i := range c.alts {
		c.alts[i].facts = append(c.alts[i].facts, more.alts[0].facts...)
	}
	return c
}

var digitsOnly = regexp.MustCompile(`^[0-9]{1,3}$`)

// modelCode reads a model designation. A bare tail of digits, as in KV30/31,
// stands for the last digits of the code before it.
func (w Words) modelCode(piece string, before clause) clauses {
	code, inside := takeRemark(piece)
	var out clauses
	if digitsOnly.MatchString(code) && len(before.facts) > 0 {
		full, ok := withTail(valueOf(before, vehicle.FactModelCode), code)
		if !ok {
			return refuse("clause_unread", "each model code in full; %q does not fit the code before it", code)
		}
		out.remarks = append(out.remarks, remark{"shorthand_expanded", "read as " + full + ": write each code in full if that is wrong"})
		code = full
		if p := valueOf(before, vehicle.FactPrefix); p != "" {
			code = p + "-" + full
		}
	}
	if strings.ContainsAny(code, "?*#") || strings.ContainsAny(strings.TrimSpace(code), " \t") {
		return refuse("clause_unread", "the whole model code, several parted by a comma; %q is not", piece)
	}
	d, warnings, err := vehicle.ParseDesignation(code)
	switch {
	case err != nil:
		return refuse("clause_unread", "a model code such as KV30; %v", err)
	case d.Tail != "" || d.Trim != "":
		return refuse("grade_not_judged", "the model code alone, %s: whether a part goes into the grades %s only cannot be asked of a vehicle", d.Code, strings.Trim(d.Tail+"-"+d.Trim, "-"))
	}
	for _, m := range warnings {
		out.remarks = append(out.remarks, remark{m.Code, m.Message})
	}
	facts := []factValue{{vehicle.FactModelCode, d.Code}}
	if d.Prefix != "" {
		facts = append(facts, factValue{vehicle.FactPrefix, d.Prefix})
	}
	out.alts = []clause{{facts: facts}}
	if inside != "" {
		return w.narrowed(out, piece, inside)
	}
	return out
}

// engineSerial tells an engine number, a code with the serial of one engine.
var engineSerial = regexp.MustCompile(`[- ][0-9]{5,}$`)

func valueOf(c clause, f vehicle.Fact) string {
	for _, fv := range c.facts {
		if fv.fact == f {
			return fv.value
		}
	}
	return ""
}

// engine reads an engine code or a family; in brackets may stand an option.
func (w Words) engine(piece string, _ clause) clauses {
	code, inside := takeRemark(piece)
	if vehicle.FoldCode(code) == "" || strings.ContainsAny(code, "?*#") {
		return refuse("clause_unread", "the whole engine code; %q is not", piece)
	}
	if engineSerial.MatchString(vehicle.Fold(code)) {
		return refuse("clause_unread", "the engine code alone; %q ends in the serial of one engine", piece)
	}
	out := only(factValue{vehicle.FactEngine, code})
	if inside != "" {
		more := w.options(inside)
		if more.failed != nil || len(more.alts) != 1 {
			return refuse("clause_unread", "a plain engine code; what %q restricts is not known", inside)
		}
		out.alts[0].facts = append(out.alts[0].facts, more.alts[0].facts...)
	}
	return out
}

// years reads a range of years or months, or one end of it.
func years(f Field, text string) clauses {
	iv, warnings, err := vehicle.ParseRange(text)
	if month, ok := standardMonth(text); ok {
		iv, warnings, err = month, nil, nil
	}
	var ambiguous *vehicle.AmbiguousError
	switch {
	case errors.As(err, &ambiguous):
		return refuse("year_ambiguous", "one reading: it may be %s", strings.Join(ambiguous.Labels, " or "))
	case err != nil:
		return refuse("clause_unread", "years or months such as 1996-08 to 2001-12; %v", err)
	}
	var out clauses
	for _, m := range warnings {
		if m.Code == vehicle.WarnDayOrYear || m.Code == vehicle.WarnEndCounted {
			return refuse("year_ambiguous", "one reading; %s", m.Message)
		}
		out.remarks = append(out.remarks, remark{"year_" + m.Code, m.Message})
	}
	switch f {
	case YearFrom:
		iv.To = vehicle.NoMonth
	case YearTo:
		iv.From = vehicle.NoMonth
	}
	if iv.Known() {
		out.alts = []clause{{built: &iv}}
	}
	return out
}

// isoMonth is a year and month as ISO 8601 writes them.
var isoMonth = regexp.MustCompile(`^(?:19|20)[0-9]{2}-(?:0[1-9]|1[0-2])$`)

// standardMonth reads 1996-08 as the month that ISO 8601 means by it, as the
// messages of this program ask for. Read so a scope is never wider than by the
// other reading, 1996 to 2008.
func standardMonth(text string) (vehicle.Interval, bool) {
	if !isoMonth.MatchString(vehicle.Fold(text)) {
		return vehicle.Interval{}, false
	}
	iv, _, err := vehicle.ParseDate(text)
	return iv, err == nil
}
