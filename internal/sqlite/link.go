package sqlite

import (
	"context"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

var linkTable = table{
	name: "link",
	own: []string{"relation", "b_key", "b_maker", "printed_a", "printed_b", "both_ways", "kit", "conditions", "changes",
		"with_set", "reason"},
	keys: []string{"key", "b_key"},
	bit:  4,
	put:  putLink,
	get:  getLink,
}

func putLink(b *bulk, s *statement.Statement) {
	l := s.Link
	b.texts(string(l.Relation), l.B.Key, l.B.Maker, l.PrintedA, l.PrintedB)
	b.intOrNull(int64(l.BothWays))
	b.flag(l.Kit)
	b.value(jsonOrNull(len(l.Conditions), l.Conditions))
	b.value(jsonOrNull(len(l.Changes), l.Changes))
	b.value(jsonOrNull(len(l.Set), l.Set))
	b.texts(l.Reason)
}

func getLink(r *record, at int, s *statement.Statement) {
	s.Kind = statement.KindLink
	s.Link = statement.Link{
		Relation: statement.Relation(r.text(at)),
		B:        part.Ref{Key: r.text(at + 1), Maker: r.text(at + 2)},
		PrintedA: r.text(at + 3),
		PrintedB: r.text(at + 4),
		BothWays: vehicle.Tri(r.num(at + 5)),
		Kit:      r.num(at+6) != 0,
		Reason:   r.text(at + 10),
	}
	r.json(at+7, &s.Link.Conditions)
	r.json(at+8, &s.Link.Changes)
	r.json(at+9, &s.Link.Set)
}

// Links gives the links that touch any of the keys on either side.
func (r *reader) Links(ctx context.Context, keys []string) ([]statement.Statement, error) {
	out, err := r.byKeys(ctx, &linkTable, keys)
	return out, explain("reading links", err)
}
