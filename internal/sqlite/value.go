package sqlite

import (
	"context"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

var valueTable = table{
	name: "value",
	own:  []string{"attribute", "raw", "numbers", "words", "doubt", "measured_by", "measured_how"},
	keys: []string{"key"},
	bit:  8,
	put: func(b *bulk, s *statement.Statement) {
		v := s.Value
		b.texts(v.Attribute, v.Value.Raw)
		b.value(numbersOrNull(v.Value.Numbers))
		b.value(jsonOrNull(len(v.Value.Words), v.Value.Words))
		b.texts(v.Value.Doubt, v.By, v.How)
	},
	get: func(r *record, at int, s *statement.Statement) {
		s.Kind = statement.KindValue
		s.Value = statement.Value{Attribute: r.text(at), By: r.text(at + 5), How: r.text(at + 6),
			Value: part.Value{Raw: r.text(at + 1), Numbers: r.numbers(at + 2), Doubt: r.text(at + 4)}}
		r.json(at+3, &s.Value.Value.Words)
	},
}

// Values gives the value statements of parts with any of the keys.
func (r *reader) Values(ctx context.Context, keys []string) ([]statement.Statement, error) {
	out, err := r.byKeys(ctx, &valueTable, keys)
	return out, explain("reading values", err)
}

// Parts gives the part statements with any of the keys.
func (r *reader) Parts(ctx context.Context, keys []string) ([]statement.Statement, error) {
	out, err := r.byKeys(ctx, &partTable, keys)
	return out, explain("reading parts", err)
}
