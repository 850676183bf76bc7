package app

import (
	"context"

	"crossbin/internal/fit"
	"crossbin/internal/shelf"
)

// AroundResult is what the book knows around one part, with its stock.
type AroundResult struct {
	fit.Around
	Stock map[string][]shelf.Line // by key
}

// Around answers what can replace a part, what it can replace, and which
// vehicles it goes into.
func (s *Service) Around(ctx context.Context, req FitRequest) (AroundResult, error) {
	ref, err := req.part()
	if err != nil {
		return AroundResult{}, err
	}
	if ref.IsZero() {
		return AroundResult{}, &Error{Code: CodeInvalid, Message: "which part?", Hint: "give its number"}
	}
	var out AroundResult
	err = s.Book.Read(ctx, func(r Reader) error {
		t, err := s.typeFor(ctx, r, req)
		if err != nil {
			return err
		}
		q := fit.Question{Type: t, Part: ref, Shop: s.Book.Shop()}
		g := gathering{service: s, reader: r, question: &q}
		k, err := g.around(ctx)
		if err != nil {
			return err
		}
		if len(k.Parts)+len(k.Links)+len(k.Fitments) == 0 {
			return &Error{Code: CodeNotFound, Message: "nothing in the book speaks of " + req.Part, Hint: "look for it with crossbin find"}
		}
		if err := checkMaker(ref, k, req); err != nil {
			return err
		}
		out = AroundResult{Around: fit.AskAround(q, k), Stock: map[string][]shelf.Line{}}
		for ref, lines := range g.lines {
			out.Stock[ref.Key] = lines
		}
		return nil
	})
	return out, err
}

// around gathers the links about a part first, and then the fitments of every
// part met on the way.
func (g *gathering) around(ctx context.Context) (fit.Knowledge, error) {
	if err := g.basics(ctx); err != nil {
		return g.k, err
	}
	if err := g.links(ctx); err != nil {
		return g.k, err
	}
	rows, err := g.reader.Fitments(ctx, FitmentQuery{Type: g.question.Type.Name, Keys: g.keys()})
	if err != nil {
		return g.k, err
	}
	g.k.Fitments = rows
	return g.k, g.rest(ctx)
}
