package sqlite

import "crossbin/internal/statement"

var partTable = table{
	name: "part",
	own:  []string{"printed", "printed_maker", "role", "name"},
	keys: []string{"key"},
	put: func(args []any, s *statement.Statement) []any {
		p := s.Part
		return append(args, textOrNull(p.Printed), textOrNull(p.Maker), textOrNull(string(p.Role)), textOrNull(p.Name))
	},
	get: func(r *record, at int, s *statement.Statement) {
		s.Kind = statement.KindPart
		s.Part = statement.PartName{Printed: r.text(at), Maker: r.text(at + 1), Role: statement.Role(r.text(at + 2)), Name: r.text(at + 3)}
	},
}
