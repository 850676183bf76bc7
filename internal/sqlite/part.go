package sqlite

import "crossbin/internal/statement"

var partTable = table{
	name: "part",
	own:  []string{"printed", "printed_maker", "role", "name"},
	keys: []string{"key"},
	bit:  1,
	put: func(b *bulk, s *statement.Statement) {
		b.texts(s.Part.Printed, s.Part.Maker, string(s.Part.Role), s.Part.Name)
	},
	get: func(r *record, at int, s *statement.Statement) {
		s.Kind = statement.KindPart
		s.Part = statement.PartName{Printed: r.text(at), Maker: r.text(at + 1), Role: statement.Role(r.text(at + 2)), Name: r.text(at + 3)}
	},
}
