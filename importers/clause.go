package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"crossbin/internal/sheet"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// mostScopes bounds the fitments that one row can make: a row that names more
// combinations is a matrix and no list.
const mostScopes = 64

// factValue is one text clause.
type factValue struct {
	fact  vehicle.Fact
	value string
}

// clause is one reading of a cell: facts that must all hold, and ranges.
type clause struct {
	facts  []factValue
	serial *vehicle.SerialRange
	built  *vehicle.Interval
}

// clauses is what a vehicle cell says: one clause, or several alternatives. An
// empty list restricts nothing.
type clauses struct {
	alts    []clause
	remarks []remark // the cell was read all the same
	failed  *remark  // the cell could not be read
}

// remark is a rule and what would have been wanted.
type remark struct{ rule, wanted string }

func refuse(rule, format string, args ...any) clauses {
	return clauses{failed: &remark{rule, fmt.Sprintf(format, args...)}}
}

// fitments says into which vehicles the part goes.
func (r *rowReader) fitments(lead number, note string) {
	scopes, col, ok := r.scopes()
	if !ok {
		return
	}
	note = strings.Trim(lead.note()+"; "+note, "; ")
	r.needsType(col, "its vehicles cannot be asked for")
	for _, s := range scopes {
		r.add(col, statement.Statement{Kind: statement.KindFitment, A: lead.ref, Scope: s, Note: note})
	}
}

// scopes gives the scopes that the vehicle cells of a row describe, and the
// first of their columns. ok is false where the row speaks of no vehicles, or
// where a clause could not be read: without it the scope would be wider than
// what the sheet says.
func (r *rowReader) scopes() (scopes []vehicle.Scope, col int, ok bool) {
	parts, col, ok := r.clauseCells()
	if !ok || len(parts) == 0 {
		return nil, col, false
	}
	scopes = []vehicle.Scope{vehicle.NewScope()}
	for _, alts := range parts {
		if len(scopes)*max(len(alts), 1) > mostScopes {
			r.problem(col, "too_many_vehicles", fmt.Sprintf("more than %d combinations", mostScopes), "fewer alternatives in one row: write several rows; the vehicles of this row were left out")
			return nil, col, false
		}
		scopes = multiply(scopes, alts)
	}
	if len(scopes) == 0 {
		r.problem(col, "contradiction", rowText(r.row, ", "), "vehicle columns that agree; two of them say different things of one fact, so the vehicles of this row were left out")
		return nil, col, false
	}
	position, quantity := r.position(), r.perVehicle()
	for i := range scopes {
		scopes[i].Position, scopes[i].Quantity = position, quantity
	}
	return scopes, col, true
}

// clauseCells reads all vehicle cells of the row. Without one of the narrowing
// fields the row speaks of no vehicles that could be told.
func (r *rowReader) clauseCells() (parts [][]clause, col int, ok bool) {
	col, ok = -1, true
	narrow := false
	for _, f := range clauseFields {
		for _, v := range r.values(f) {
			if col < 0 {
				col = v.col
			}
			c := r.clauseOf(f, v)
			for _, m := range c.remarks {
				r.problem(v.col, m.rule, v.text, m.wanted)
			}
			if c.failed != nil {
				r.problem(v.col, c.failed.rule, v.text, c.failed.wanted+"; the vehicles of this row were left out, since without it they would be too many")
				ok = false
				continue
			}
			if len(c.alts) > 0 {
				parts = append(parts, c.alts)
				narrow = narrow || c.narrows()
			}
		}
	}
	if r.hasRule("uneven_pieces") {
		ok = false
	}
	if len(parts) > 0 && !narrow {
		if r.table.has(narrowing...) && r.moreThanMake() {
			r.problem(col, "no_vehicle", rowText(r.row, ", "), "a model, a model code or an engine; with what stands here the part would go into all that the maker built, so the vehicles were left out")
		}
		return nil, col, false
	}
	return parts, col, ok
}

// narrows reports whether every alternative names a model, a code or an engine.
func (c clauses) narrows() bool {
	for _, a := range c.alts {
		if valueOf(a, vehicle.FactModel) == "" && valueOf(a, vehicle.FactModelCode) == "" && valueOf(a, vehicle.FactEngine) == "" {
			return false
		}
	}
	return true
}

// moreThanMake tells a row that restricts vehicles by more than their maker.
func (r *rowReader) moreThanMake() bool {
	for _, f := range clauseFields {
		if _, ok := r.first(f); ok && f != Make {
			return true
		}
	}
	return false
}

// clauseOf reads one vehicle cell. Texts recur, so what a text says is
// remembered; what the spreadsheet did to the cell is looked at each time.
func (r *rowReader) clauseOf(f Field, v value) clauses {
	if v.cell.Type == sheet.Date && slices.Contains([]Field{YearRange, YearFrom, YearTo}, f) {
		return yearAsDate(v)
	}
	if f == EngineFamily {
		if _, ok := r.first(EngineCode); ok {
			return clauses{} // the code says more, see engines
		}
	}
	memo := r.types.clauses[f]
	if memo == nil {
		memo = cache[clauses]{}
		r.types.clauses[f] = memo
	}
	return memo.get(v.text, func() clauses { return r.rd.opt.Words.clause(f, v.text) })
}

// yearAsDate offers both readings of a cell that the spreadsheet made a date.
func yearAsDate(v value) clauses {
	d := v.cell.Date
	first := d.Format("Jan 2006")
	second := d.Format("06-01") + "?"
	if d.Day() != 1 {
		first, second = d.Format("2 Jan 2006"), d.Format("1-2")+"?"
	}
	return refuse("year_as_date", "years as text: the spreadsheet holds a date, which may be %q or %q; set the column to text and type what is meant", second, first)
}

// multiply gives every scope with every alternative. Where the two say
// different things of one fact, there is no such vehicle. The scopes given are
// used up.
func multiply(scopes []vehicle.Scope, alts []clause) []vehicle.Scope {
	out := scopes[:0]
	if len(alts) > 1 {
		out = make([]vehicle.Scope, 0, len(scopes)*len(alts))
	}
	for _, s := range scopes {
		for i, a := range alts {
			next := s
			if i < len(alts)-1 {
				next.Text = maps.Clone(s.Text)
			}
			if narrow(&next, a) {
				out = append(out, next)
			}
		}
	}
	return out
}

// narrow adds a clause to a scope; false where the scope contradicts it.
func narrow(s *vehicle.Scope, c clause) bool {
	for _, fv := range c.facts {
		have, there := s.Text[fv.fact]
		s.Want(fv.fact, fv.value)
		if there && s.Text[fv.fact] != have {
			return false
		}
	}
	if c.built != nil {
		joined, ok := s.Built.Intersect(*c.built)
		if !ok {
			return false
		}
		s.Built = joined
	}
	return c.serial == nil || narrowSerial(s, *c.serial)
}

func narrowSerial(s *vehicle.Scope, r vehicle.SerialRange) bool {
	s.Serial.From = max(s.Serial.From, r.From)
	if s.Serial.To == vehicle.NoSerial || r.To != vehicle.NoSerial && r.To < s.Serial.To {
		s.Serial.To = r.To
	}
	s.Serial.Width = max(s.Serial.Width, r.Width)
	return s.Serial.To == vehicle.NoSerial || s.Serial.From <= s.Serial.To
}

// position is where on the vehicle the part goes, in plain words: side and
// position together. Words that are not known stay as they are.
func (r *rowReader) position() string {
	var texts []string
	for _, f := range []Field{Position, PartSide} {
		if t := r.text(f); t != "" {
			texts = append(texts, r.rd.opt.Words.position(t))
		}
	}
	return strings.Join(texts, " ")
}

// perVehicle is how many go into one vehicle, 0 where not said.
func (r *rowReader) perVehicle() int {
	v, ok := r.first(PerVehicle)
	if !ok {
		return 0
	}
	n, ok := wholeNumberIn(v.text)
	if !ok || n < 1 || n > 100 {
		r.problem(v.col, "quantity_unread", v.text, "a whole number of parts for one vehicle; it was left out")
		return 0
	}
	return n
}

// position gives the plain words of a position cell, "front left".
func (w Words) position(text string) string {
	hits := w.positions.hits(text, true)
	covered := 0
	var out []string
	for _, h := range hits {
		covered += len(h.phrase)
		if !slices.Contains(out, h.meanings[0]) {
			out = append(out, h.meanings[0])
		}
	}
	if covered < len(squash(text)) {
		return strings.ToLower(strings.Join(strings.Fields(text), " "))
	}
	slices.SortFunc(out, func(a, b string) int { return slices.Index(positionOrder, a) - slices.Index(positionOrder, b) })
	if len(out) == 2 && (out[0] == "left" && out[1] == "right" || out[0] == "front" && out[1] == "rear") {
		return out[0] + " or " + out[1]
	}
	return strings.Join(out, " ")
}

var positionOrder = []string{"front", "rear", "upper", "lower", "inner", "outer", "left", "right", "nearside", "offside", "driver side", "passenger side"}
