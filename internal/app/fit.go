package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
)

// Fit answers a fit question on one snapshot of the book. The vehicle must be
// named by something, and the type must be one of the book's part types; a
// question by number alone takes the type from the number.
func (s *Service) Fit(ctx context.Context, req FitRequest) (FitResult, error) {
	facts, warnings, err := req.facts()
	if err != nil {
		return FitResult{}, err
	}
	var out FitResult
	err = s.Book.Read(ctx, func(r Reader) error {
		q := fit.Question{Facts: facts, Shop: s.Book.Shop()}
		if q.Type, err = s.typeFor(ctx, r, req); err != nil {
			return err
		}
		if q.Part, err = req.part(); err != nil {
			return err
		}
		if q.Observed, q.CannotSee, err = observed(q.Type, req.Observed); err != nil {
			return err
		}
		g := gathering{service: s, reader: r, question: &q}
		k, err := g.knowledge(ctx)
		if err != nil {
			return err
		}
		if err := checkMaker(q.Part, k, req); err != nil {
			return err
		}
		answer, err := g.withShelf(ctx, fit.Ask(q, k), k)
		if err != nil {
			return err
		}
		out = FitResult{Answer: answer, Request: req, Warnings: append(warnings, g.warnings...)}
		return g.stock(ctx, &out)
	})
	return out, err
}

// part reads the number that is asked for; zero where none is.
func (req FitRequest) part() (part.Ref, error) {
	if req.Part == "" {
		return part.Ref{}, nil
	}
	ref, err := part.NewRef(req.Part, req.PartMaker)
	if err != nil {
		return part.Ref{}, &Error{Code: CodeInvalid, Message: fmt.Sprintf("%q is no part number", req.Part),
			Hint: "give the number as it is printed on the part", Cause: err}
	}
	return ref, nil
}

// typeFor finds the part type of a question: as asked, or the one under which
// the book knows the number.
func (s *Service) typeFor(ctx context.Context, r Reader, req FitRequest) (part.Type, error) {
	if req.Type != "" {
		if t, ok := s.Types.ByName(req.Type); ok {
			return t, nil
		}
		if t, ok := s.Types.ByWord(req.Type); ok {
			return t, nil
		}
		return part.Type{}, &Error{Code: CodeInvalid, Message: fmt.Sprintf("no part type %q", req.Type),
			Hint: "known are " + typeNames(s.Types)}
	}
	ref, err := req.part()
	if err != nil {
		return part.Type{}, err
	}
	if !ref.IsZero() {
		return s.typeOfNumber(ctx, r, ref, req.Part)
	}
	return part.Type{}, &Error{Code: CodeInvalid, Message: "which kind of part?", Hint: "name one with --type: " + typeNames(s.Types)}
}

// typeOfNumber finds the part type under which the book knows a number, or a
// number that it is linked with.
func (s *Service) typeOfNumber(ctx context.Context, r Reader, ref part.Ref, printed string) (part.Type, error) {
	keys := []string{ref.Key}
	for range 2 {
		known, err := r.Parts(ctx, keys)
		if err != nil {
			return part.Type{}, err
		}
		for _, st := range known {
			if t, ok := s.Types.ByName(st.Type); ok {
				return t, nil
			}
		}
		links, err := r.Links(ctx, keys)
		if err != nil {
			return part.Type{}, err
		}
		if len(known)+len(links) == 0 {
			return part.Type{}, &Error{Code: CodeNotFound, Message: "nothing in the book speaks of " + printed, Hint: "search for a part of it, or for words"}
		}
		for _, l := range links {
			keys = append(keys, l.A.Key, l.Link.B.Key)
		}
		slices.Sort(keys)
		keys = slices.Compact(keys)
	}
	return part.Type{}, &Error{Code: CodeInvalid, Message: "which kind of part is " + printed + "?", Hint: "name one of " + typeNames(s.Types)}
}

// checkMaker refuses a maker that bears no such number where others do: the
// answer would be about a part that does not exist.
func checkMaker(ref part.Ref, k fit.Knowledge, req FitRequest) error {
	var makers []string
	for _, st := range k.Parts {
		if st.A.Key != ref.Key {
			continue
		}
		if st.A.Maker == ref.Maker {
			return nil
		}
		makers = addTo(makers, st.A.Maker)
	}
	if ref.Maker == "" || len(makers) == 0 {
		return nil
	}
	return &Error{Code: CodeNotFound, Message: fmt.Sprintf("%s bears no %s in the book", req.PartMaker, req.Part), Hint: "known makers of it: " + strings.Join(makers, ", ")}
}

func typeNames(types PartTypes) string {
	text := ""
	for i, t := range types.All() {
		if i > 0 {
			text += ", "
		}
		text += t.Name
	}
	return text
}

// stock puts the shelf lines beside each candidate.
func (g *gathering) stock(ctx context.Context, out *FitResult) error {
	out.Stock = make([][]shelf.Line, len(out.Candidates))
	for i, c := range out.Candidates {
		for _, ref := range c.Refs {
			out.Stock[i] = append(out.Stock[i], g.lines[ref]...)
		}
		shelf.Sort(out.Stock[i])
	}
	return nil
}
