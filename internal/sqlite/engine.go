package sqlite

import (
	"context"
	"slices"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

var engineTable = table{
	name: "engine",
	own:  []string{"code", "family"},
	put:  func(b *bulk, s *statement.Statement) { b.texts(s.Engine.Code, s.Engine.Family) },
	get: func(r *record, at int, s *statement.Statement) {
		s.Kind = statement.KindEngine
		s.Engine = statement.Engine{Code: r.text(at), Family: r.text(at + 1)}
	},
}

// Engines gives the engine families; the map is shared between questions and
// must not be changed.
func (r *reader) Engines(ctx context.Context) (vehicle.Engines, error) {
	r.snap.mu.Lock()
	defer r.snap.mu.Unlock()
	if r.snap.engines != nil {
		return r.snap.engines, nil
	}
	var said []statement.Statement
	err := r.scan(ctx, &engineTable, selectText(&engineTable, "engine"+fromStatement, ""), nil, func(_ int64, s statement.Statement) {
		said = append(said, s)
	})
	if err != nil {
		return nil, explain("reading engine families", err)
	}
	r.snap.engines = familiesOf(said)
	return r.snap.engines, nil
}

// familiesOf collects families by code; a name that is itself a family has no
// entry.
func familiesOf(said []statement.Statement) vehicle.Engines {
	engines, families := vehicle.Engines{}, map[string]bool{}
	for _, s := range said {
		code, family := vehicle.FoldCode(s.Engine.Code), vehicle.FoldCode(s.Engine.Family)
		if code == "" || family == "" {
			continue
		}
		families[family] = true
		engines[code] = append(engines[code], family)
	}
	for code, f := range engines {
		if families[code] {
			delete(engines, code)
			continue
		}
		slices.Sort(f)
		engines[code] = slices.Compact(f)
	}
	return engines
}
