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
	put:  putLink,
	get:  getLink,
}

func putLink(args []any, s *statement.Statement) []any {
	l := s.Link
	return append(args, textOrNull(string(l.Relation)), textOrNull(l.B.Key), textOrNull(l.B.Maker), textOrNull(l.PrintedA),
		textOrNull(l.PrintedB), intOrNull(int64(l.BothWays)), flagOrNull(l.Kit), jsonOrNull(len(l.Conditions), l.Conditions),
		jsonOrNull(len(l.Changes), l.Changes), jsonOrNull(len(l.Set), l.Set), textOrNull(l.Reason))
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
	g := r.gather(&linkTable)
	g.add(ctx, linkByA, keys)
	g.add(ctx, linkByB, keys)
	out, err := g.done()
	return out, explain("reading links", err)
}
