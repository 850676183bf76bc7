package sqlite

import (
	"context"
	"maps"

	"crossbin/internal/app"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// scopeColumns are the facts with a column of their own, in column order; every
// other fact of a scope goes into the JSON of "options".
var scopeColumns = []struct {
	fact   vehicle.Fact
	column string
}{
	{vehicle.FactMaker, "scope_maker"},
	{vehicle.FactModel, "model"},
	{vehicle.FactModelCode, "model_code"},
	{vehicle.FactPrefix, "emission_prefix"},
	{vehicle.FactEngine, "engine"},
	{vehicle.FactSide, "side"},
	{vehicle.FactTransmission, "transmission"},
	{vehicle.FactDrive, "drive"},
	{vehicle.FactTurbo, "turbo"},
	{vehicle.FactMarket, "market"},
}

var fitmentTable = table{
	name: "fitment",
	own:  fitmentColumns(),
	keys: []string{"key"},
	bit:  2,
	put:  putFitment,
	get:  getFitment,
}

func fitmentColumns() []string {
	columns := []string{"none"}
	for _, c := range scopeColumns {
		columns = append(columns, c.column)
	}
	return append(columns, "options", "serial_from", "serial_to", "serial_width", "built_from", "built_to", "position", "quantity")
}

func putFitment(b *bulk, s *statement.Statement) {
	sc := s.Scope
	b.flag(s.Kind == statement.KindNone)
	others := len(sc.Text)
	for _, c := range scopeColumns {
		v, ok := sc.Text[c.fact]
		if ok {
			others--
		}
		b.texts(v)
	}
	b.value(otherFacts(sc, others))
	b.value(serialOrNull(sc.Serial.From))
	b.value(serialOrNull(sc.Serial.To))
	b.intOrNull(int64(sc.Serial.Width))
	b.intOrNull(int64(sc.Built.From))
	b.intOrNull(int64(sc.Built.To))
	b.texts(sc.Position)
	b.intOrNull(int64(sc.Quantity))
}

func otherFacts(sc vehicle.Scope, n int) any {
	if n == 0 {
		return nil
	}
	others := maps.Clone(sc.Text)
	for _, c := range scopeColumns {
		delete(others, c.fact)
	}
	return jsonOrNull(n, others)
}

func serialOrNull(n int64) any {
	if n == vehicle.NoSerial {
		return nil
	}
	return n
}

func getFitment(r *record, at int, s *statement.Statement) {
	s.Kind = statement.KindFitment
	if r.num(at) != 0 {
		s.Kind = statement.KindNone
	}
	s.Scope = vehicle.NewScope()
	for i, c := range scopeColumns {
		if v := r.text(at + 1 + i); v != "" {
			s.Scope.Text[c.fact] = v
		}
	}
	at += 1 + len(scopeColumns)
	r.json(at, &s.Scope.Text)
	s.Scope.Serial = vehicle.SerialRange{From: r.numOr(at+1, vehicle.NoSerial), To: r.numOr(at+2, vehicle.NoSerial), Width: int(r.num(at + 3))}
	s.Scope.Built = vehicle.Interval{From: vehicle.Month(r.num(at + 4)), To: vehicle.Month(r.num(at + 5))}
	s.Scope.Position, s.Scope.Quantity = r.text(at+6), int(r.num(at+7))
}

// Fitments gives fitments and "none" statements of a part type, "" for every
// type, that match any of the query's ways in. Without Makers a model name is
// enough.
func (r *reader) Fitments(ctx context.Context, q app.FitmentQuery) ([]statement.Statement, error) {
	g := r.gather(&fitmentTable)
	g.byWay(ctx, wayModelCode, q.ModelCodes, q.Type)
	g.byWay(ctx, wayEngine, q.Engines, q.Type)
	if q.Type != "" {
		g.keep = func(s *statement.Statement) bool { return s.Type == q.Type }
	}
	g.byKeys(ctx, q.Keys)
	g.keep = nil
	if len(q.Makers) > 0 {
		g.keep = func(s *statement.Statement) bool { return ofMakers(s, q.Makers) }
	}
	g.byWay(ctx, wayModel, q.Models, q.Type)
	out, err := g.done()
	return out, explain("reading fitments", err)
}

// fitmentWay is a fact of the scope by which fitments are found.
type fitmentWay int

const (
	wayModelCode fitmentWay = 1
	wayEngine    fitmentWay = 2
	wayModel     fitmentWay = 3
)

var fitmentWays = []fitmentWay{wayModelCode, wayEngine, wayModel}

var wayColumns = map[fitmentWay]string{wayModelCode: "model_code", wayEngine: "engine", wayModel: "model"}

func (g *gathering) byWay(ctx context.Context, w fitmentWay, values []string, partType string) {
	var more []any
	if partType != "" {
		more = []any{partType}
	}
	g.add(ctx, values, more, func(n int) string { return prepared.ways[wayQuery{w, n, partType != ""}] })
}

func ofMakers(s *statement.Statement, makers []string) bool {
	maker, named := s.Scope.Text[vehicle.FactMaker]
	if !named {
		return true
	}
	for _, m := range makers {
		if m == maker {
			return true
		}
	}
	return false
}
