package app

import (
	"context"
	"fmt"
	"slices"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// maxDisputeKeys bounds how many part numbers are held against one another in
// one go; about 1 KiB of statements each is kept in memory meanwhile.
const maxDisputeKeys = 200_000

// DisputesAnswer lists the contradictions in the book.
type DisputesAnswer struct {
	Revision int64
	Count    int
	Disputes []fit.Dispute // the first of them, in the order of fit.Dispute.Compare
}

// Disputes lists what contradicts what in the book, with both places: of one
// part type, or of all.
func (s *Service) Disputes(ctx context.Context, partType string, limit int) (DisputesAnswer, error) {
	types, err := s.disputeTypes(partType)
	if err != nil {
		return DisputesAnswer{}, err
	}
	out := DisputesAnswer{Disputes: []fit.Dispute{}}
	err = s.Book.Read(ctx, func(r Reader) error {
		k, err := s.everyStatement(ctx, r)
		if err != nil {
			return err
		}
		out.Revision = r.Revision()
		for _, t := range types {
			if err := ctx.Err(); err != nil {
				return err
			}
			out.Disputes = append(out.Disputes, fit.Disputes(fit.Question{Type: t, Shop: s.Book.Shop()}, k)...)
		}
		return nil
	})
	slices.SortFunc(out.Disputes, fit.Dispute.Compare)
	out.Disputes = slices.CompactFunc(out.Disputes, func(a, b fit.Dispute) bool { return a.ID == b.ID && a.Type == b.Type })
	out.Count = len(out.Disputes)
	out.Disputes = out.Disputes[:min(limit, out.Count)]
	return out, err
}

func (s *Service) disputeTypes(name string) ([]part.Type, error) {
	if name == "" {
		return s.Types.All(), nil
	}
	if t, ok := s.Types.ByName(name); ok {
		return []part.Type{t}, nil
	}
	if t, ok := s.Types.ByWord(name); ok {
		return []part.Type{t}, nil
	}
	return nil, &Error{Code: CodeInvalid, Message: fmt.Sprintf("no part type %q", name), Hint: "known are " + typeNames(s.Types)}
}

// everyStatement reads the whole book, within bounds.
func (s *Service) everyStatement(ctx context.Context, r Reader) (k fit.Knowledge, err error) {
	k.Revision, k.Standings = r.Revision(), s.Standings
	if k.Sources, err = r.Sources(ctx); err != nil {
		return k, err
	}
	joinNames(k.Sources)
	if k.Engines, err = r.Engines(ctx); err != nil {
		return k, err
	}
	var keys []string
	err = r.Keys(ctx, func(key string) error {
		if keys = append(keys, key); len(keys) > maxDisputeKeys {
			return &Error{Code: CodeUnavailable, Message: fmt.Sprintf("more than %d part numbers to hold against one another", maxDisputeKeys),
				Hint: "ask about one part at a time: its answer names what stands against it"}
		}
		return nil
	})
	if err != nil {
		return k, err
	}
	return k, addStatements(ctx, r, keys, &k)
}

func addStatements(ctx context.Context, r Reader, keys []string, k *fit.Knowledge) error {
	links := map[string]bool{}
	for chunk := range slices.Chunk(keys, documentChunk) {
		parts, err := r.Parts(ctx, chunk)
		if err != nil {
			return err
		}
		values, err := r.Values(ctx, chunk)
		if err != nil {
			return err
		}
		fitments, err := r.Fitments(ctx, FitmentQuery{Keys: chunk})
		if err != nil {
			return err
		}
		found, err := r.Links(ctx, chunk)
		if err != nil {
			return err
		}
		k.Parts, k.Values, k.Fitments = append(k.Parts, parts...), append(k.Values, values...), append(k.Fitments, fitments...)
		k.Links = append(k.Links, slices.DeleteFunc(found, func(st statement.Statement) bool {
			have := links[st.ID] // a link touches two keys, and both may be asked for
			links[st.ID] = true
			return have
		})...)
	}
	return addNones(ctx, r, k)
}

// addNones reads the statements that vehicles have no such part: they bear no
// number and are found by the model codes of the fitments.
func addNones(ctx context.Context, r Reader, k *fit.Knowledge) error {
	q := FitmentQuery{}
	for _, st := range k.Fitments {
		q.ModelCodes = addTo(q.ModelCodes, st.Scope.Text["model_code"])
	}
	for chunk := range slices.Chunk(q.ModelCodes, documentChunk) {
		rows, err := r.Fitments(ctx, FitmentQuery{ModelCodes: chunk})
		if err != nil {
			return err
		}
		k.Fitments = append(k.Fitments, onlyNones(rows)...)
	}
	return nil
}

func onlyNones(rows []statement.Statement) []statement.Statement {
	return slices.DeleteFunc(rows, func(st statement.Statement) bool { return st.Kind != statement.KindNone })
}
