package importers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// valueColumn is a column that holds an attribute of a part type.
type valueColumn struct {
	at    ref
	field Field
	attr  part.Attribute
	unit  string // named in the heading, for cells without one
}

// valueStatements says what the row says of the part's attributes.
func (r *rowReader) valueStatements(lead number) {
	if r.typ.Name == "" {
		r.valuesWithoutType()
		return
	}
	by, how := r.text(MeasuredBy), r.text(HowTaken)
	said := map[string]statement.Value{}
	for _, found := range r.foundValues() {
		if before, again := said[found.Attribute]; again {
			if !before.Value.Same(found.Value.Value) {
				r.problem(found.col, "value_twice", found.Value.Value.Raw, fmt.Sprintf("one %s a row; another cell says %s, which was kept", found.Attribute, before.Value))
			}
			continue
		}
		said[found.Attribute] = found.Value
		found.By, found.How = by, how
		r.add(found.col, statement.Statement{Kind: statement.KindValue, A: lead.ref, Note: lead.note(), Value: found.Value})
	}
}

// foundValue is a value and the column that it stands in.
type foundValue struct {
	statement.Value
	col int
}

// foundValues reads the value cells: first what each column is for, then what
// else a cell says, as the volts in a cell of amps.
func (r *rowReader) foundValues() []foundValue {
	plan := r.plan()
	own := make([]foundValue, 0, len(plan))
	var besides []foundValue
	for _, c := range plan {
		v, ok := r.value(c.at)
		if !ok {
			continue
		}
		for _, found := range r.readValue(c, v) {
			if found.Attribute == c.attr.Name {
				own = append(own, foundValue{found, v.col})
			} else {
				besides = append(besides, foundValue{found, v.col})
			}
		}
	}
	return append(own, besides...)
}

// valuesWithoutType flags a row whose values cannot be read because nobody says
// what kind of part it is.
func (r *rowReader) valuesWithoutType() {
	for _, f := range valueFields {
		for _, at := range r.table.byField[f] {
			if v, ok := r.value(at); ok {
				r.needsType(v.col, "its values cannot be read")
				return
			}
		}
	}
}

// needsType flags a row of which nobody says what kind of part it is, once.
func (r *rowReader) needsType(col int, because string) {
	if r.typ.Name != "" || r.hasRule("unknown_part_type") || r.hasRule("description_names_no_type") || r.hasRule("no_part_type") {
		return
	}
	r.problem(col, "no_part_type", r.text(PartTitle), "what kind of part this is: a column Part type, or the part's name in the description or the sheet's name; without it "+because)
}

func (r *rowReader) hasRule(rule string) bool {
	for i := range r.out.Problems {
		if r.out.Problems[i].Rule == rule {
			return true
		}
	}
	return false
}

// plan lists the value columns of the table for the row's part type.
func (r *rowReader) plan() []valueColumn {
	if p, ok := r.plans[r.typ.Name]; ok {
		return p
	}
	var out []valueColumn
	for _, f := range valueFields {
		for _, at := range r.table.byField[f] {
			c := valueColumn{at: at, field: f, unit: r.table.Columns[at.col].Unit}
			a, ok := r.attribute(f, r.table.Columns[at.col])
			if c.attr = a; ok || f == Rating {
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b valueColumn) int { return a.at.col - b.at.col })
	r.plans[r.typ.Name] = out
	return out
}

// attribute is the row type's attribute that a column holds.
func (r *rowReader) attribute(f Field, c Column) (part.Attribute, bool) {
	if a, ok := r.attributeNamed(c.Heading, c.Attribute); ok {
		return a, true
	}
	return r.attributeFor(f)
}

func (r *rowReader) attributeNamed(heading, name string) (part.Attribute, bool) {
	for _, a := range r.typ.Attributes {
		if a.Name == name || squash(a.Name) == squash(heading) || squash(a.Title) == squash(heading) {
			return a, true
		}
	}
	return part.Attribute{}, false
}

func (r *rowReader) attributeFor(f Field) (part.Attribute, bool) {
	for _, name := range r.rd.opt.Words.attributes[f] {
		if a, ok := r.typ.Attribute(name); ok {
			return a, true
		}
	}
	return part.Attribute{}, false
}

var (
	rating     = regexp.MustCompile(`(?i)^(?:(\d+(?:[.,]\d+)?)\s*V)?[\s,/-]*(?:(?:(\d+)\s*/\s*)?(\d+(?:[.,]\d+)?)\s*A)?[\s,/-]*(?:(\d+(?:[.,]\d+)?)\s*kW)?(\s*\?)?$`)
	ratingBack = regexp.MustCompile(`(?i)^(?:(\d+)\s*/\s*)?(\d+(?:[.,]\d+)?)\s*A[\s,/-]*(\d+(?:[.,]\d+)?)\s*V(\s*\?)?$`)
	bareThread = regexp.MustCompile(`(?i)^M\d{1,2}$`)
	thread     = regexp.MustCompile(`\bM(?:5|6|8|10|12|14)\b`)
	threadSaid = regexp.MustCompile(`(?i)\bM\d{1,2}\s*[x×]|thread|stud|bolt|wrench|spanner|hex|AF\b|Gewinde|Schlüssel|rosca|llave|ネジ|ねじ|レンチ`)
)

// valueRead is what a value cell says, and what is to be said about it.
type valueRead struct {
	values  []statement.Value
	remarks []remark
}

func (v *valueRead) remark(rule, format string, args ...any) {
	v.remarks = append(v.remarks, remark{rule, fmt.Sprintf(format, args...)})
}

// readValue reads a value cell. Values recur, so what a text says of an
// attribute is remembered.
func (r *rowReader) readValue(c valueColumn, v value) []statement.Value {
	key := valueKey{r.typ.Name, c.attr.Name, c.field, c.unit, v.text}
	read, ok := r.types.values[key]
	if !ok {
		read = r.newValue(c, v.text)
		if len(r.types.values) < cacheSize {
			r.types.values[key] = read
		}
	}
	for _, m := range read.remarks {
		r.problem(v.col, m.rule, v.text, m.wanted)
	}
	return read.values
}

// newValue reads a value cell; a cell of volts and amps gives both.
func (r *rowReader) newValue(c valueColumn, raw string) valueRead {
	text := norm.NFKC.String(width.Fold.String(raw))
	if read, ok := r.readRating(c, raw, text); ok {
		return read
	}
	var read valueRead
	switch {
	case c.field == Rating:
		read.remark("value_unread", "a rating such as 12V 80A or 1.4 kW; it was left out")
	case c.attr.Kind == part.KindThread && bareThread.MatchString(text):
		read.remark("thread_or_wrench", "%s: thread or wrench size? It was left out; write M10x1.25 for a thread, 17 mm for a wrench", strings.ToUpper(text))
	default:
		r.readOne(&read, c.attr, c.unit, raw)
	}
	return read
}

// readRating reads "12V 80A", "70/120A 14V" and "1.4 kW" as a label says them:
// a current before the slash is that at low speed, and none is made up where
// none stands (ISO 8854 form of ratings; Japanese labels carry one current).
func (r *rowReader) readRating(c valueColumn, raw, text string) (valueRead, bool) {
	texts := map[Field]string{}
	if m := rating.FindStringSubmatch(text); m != nil {
		texts = map[Field]string{Volts: m[1], IdleAmps: m[2], Amps: m[3], Power: m[4]}
	} else if m := ratingBack.FindStringSubmatch(text); m != nil {
		texts = map[Field]string{IdleAmps: m[1], Amps: m[2], Volts: m[3]}
	}
	given := 0
	for _, f := range ratingFields {
		if texts[f] != "" {
			given++
		}
	}
	var read valueRead
	if given == 0 || given == 1 && c.field != Rating {
		return read, false
	}
	doubt := ""
	if strings.HasSuffix(text, "?") {
		doubt = " ?"
	}
	for _, f := range ratingFields {
		if a, ok := r.attributeFor(f); ok && texts[f] != "" {
			r.readOne(&read, a, "", texts[f]+doubt)
		}
	}
	for i := range read.values {
		read.values[i].Value.Raw = raw
	}
	return read, true
}

var ratingFields = []Field{Volts, Amps, IdleAmps, Power}

// readOne reads one attribute; what cannot be read is left out and flagged.
func (r *rowReader) readOne(out *valueRead, a part.Attribute, unit, raw string) {
	text, beside := takeRemark(raw)
	if beside != "" {
		out.remark("remark_beside_value", "%s alone; what stands in brackets was kept in the row only", a.Title)
	}
	read, err := readWithUnit(a, r.rd.opt.Words.valueWord(a, text), unit)
	switch {
	case err != nil:
		out.remark("value_unread", "%s; it was left out: %v", wantedValue(a), err)
		return
	case implausible(a, text, unit):
		out.remark("unit_missing", "%s with its unit: in %s this is far from what is usual; it was left out", a.Title, a.Unit)
		return
	case read.Doubt != "":
		out.remark("doubtful", "%s without the mark, once somebody has looked; it was kept with the doubt noted", a.Title)
	}
	read.Raw = raw
	out.values = append(out.values, statement.Value{Attribute: a.Name, Value: read})
}

// readWithUnit reads a value; the unit of the heading serves a number without
// one.
func readWithUnit(a part.Attribute, text, unit string) (part.Value, error) {
	if unit != "" && bareNumber.MatchString(text) {
		if v, err := part.ReadValue(a, text+" "+unit); err == nil {
			return v, nil
		}
	}
	return part.ReadValue(a, text)
}

var bareNumber = regexp.MustCompile(`^[0-9.,x×X* ?]+$`)

// implausible tells a number without a unit that, in the attribute's own unit,
// lies beyond ten times off all that is usual: it was measured in another one.
func implausible(a part.Attribute, text, unit string) bool {
	const far = 10
	if a.Kind != part.KindNumber || unit != "" || len(a.Typical) != 2 || !bareNumber.MatchString(text) {
		return false
	}
	v, err := part.ReadValue(a, text)
	return err == nil && len(v.Numbers) == 1 && v.Numbers[0] > 0 && (v.Numbers[0]*far < a.Typical[0] || v.Numbers[0] > a.Typical[1]*far)
}

func wantedValue(a part.Attribute) string {
	switch {
	case len(a.Words) > 0:
		return a.Title + ", one of " + strings.Join(a.Words, ", ")
	case a.Unit != "":
		return a.Title + " in " + a.Unit
	}
	return a.Title
}

// valueWord gives the part type's own word for a direction of rotation in the
// languages of the sheets; other words are the part type's business.
func (w Words) valueWord(a part.Attribute, text string) string {
	if a.Kind != part.KindWord || a.Name != string(Rotation) {
		return text
	}
	if m := w.facts[string(Rotation)].of(text); len(m) > 0 {
		return m[0]
	}
	return text
}

// checkNote asks back where a remark holds a bare thread: "M10" may be the
// thread or the wrench.
func (r *rowReader) checkNote() {
	for _, v := range r.values(Notes) {
		text := norm.NFKC.String(v.text)
		if m := thread.FindString(text); m != "" && !threadSaid.MatchString(text) {
			r.problem(v.col, "thread_or_wrench", v.text, m+": thread or wrench size? Write M10x1.25 for a thread, 17 mm for a wrench")
		}
	}
}
