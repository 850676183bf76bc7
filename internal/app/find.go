package app

import (
	"cmp"
	"context"
	"slices"

	"crossbin/internal/query"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// FindAnswer is the answer to a search.
type FindAnswer struct {
	Revision int64     `json:"revision"` // of the index
	Query    string    `json:"query"`    // as it was understood
	Count    int       `json:"count"`    // how many there are in all
	Hits     []FindHit `json:"hits"`     // best first
}

// FindHit is one part number that was found, with what the book knows of it.
type FindHit struct {
	Key        string       `json:"key"`
	Numbers    []FindNumber `json:"numbers"`
	Type       string       `json:"type"`
	Name       string       `json:"name"`
	Engines    []string     `json:"engines"`
	ModelCodes []string     `json:"model_codes"`
	Free       int          `json:"free"` // units that may be offered
}

// FindNumber is a number as printed, and whose it is.
type FindNumber struct {
	Maker  string `json:"maker"`
	Number string `json:"number"`
	Role   string `json:"role"`
}

// Find searches numbers, descriptions, makers, engines and model codes.
func (s *Service) Find(ctx context.Context, words string, limit int) (FindAnswer, error) {
	if s.Index == nil {
		return FindAnswer{}, &Error{Code: CodeUnavailable, Message: "the search index is not open here", Hint: "ask the server of this book"}
	}
	q, err := query.Parse(words)
	if err != nil {
		return FindAnswer{}, &Error{Code: CodeInvalid, Message: err.Error(), Cause: err}
	}
	q = q.Resolve(func(text string) (string, bool) {
		t, ok := s.Types.ByWord(text)
		return t.Name, ok
	})
	hits, count, err := s.Index.Search(ctx, q, limit)
	if err != nil {
		return FindAnswer{}, err
	}
	out := FindAnswer{Revision: s.Index.Revision(), Query: q.String(), Count: count, Hits: []FindHit{}}
	err = s.Book.Read(ctx, func(r Reader) error {
		out.Hits, err = describe(ctx, r, hits)
		return err
	})
	return out, err
}

// describe puts what the book knows beside each hit.
func describe(ctx context.Context, r Reader, hits []Hit) ([]FindHit, error) {
	keys := make([]string, len(hits))
	for i, h := range hits {
		keys[i] = h.Key
	}
	docs, err := documents(ctx, r, keys)
	if err != nil {
		return nil, err
	}
	parts, err := r.Parts(ctx, keys)
	if err != nil {
		return nil, err
	}
	lines, err := r.Stock(ctx, keys)
	if err != nil {
		return nil, err
	}
	out := make([]FindHit, len(docs))
	for i, d := range docs {
		out[i] = FindHit{Key: d.Key, Type: first(d.Types), Name: first(d.Names), Engines: texts(d.Engines), ModelCodes: texts(d.ModelCodes),
			Numbers: numbersOf(d, parts), Free: freeOf(d.Key, lines)}
	}
	return out, nil
}

func first(of []string) string {
	if len(of) == 0 {
		return ""
	}
	return of[0]
}

// texts is never nil, so that it prints as [].
func texts(of []string) []string { return append([]string{}, of...) }

// numbersOf lists a key's numbers with their makers; those that only a link
// names come without one.
func numbersOf(d Document, parts []statement.Statement) []FindNumber {
	out := []FindNumber{}
	for _, st := range parts {
		n := FindNumber{Maker: st.Part.Maker, Number: st.Part.Printed, Role: string(st.Part.Role)}
		if st.A.Key == d.Key && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, printed := range d.Numbers {
		if !slices.ContainsFunc(out, func(n FindNumber) bool { return n.Number == printed }) {
			out = append(out, FindNumber{Number: printed, Role: string(statement.Other)})
		}
	}
	out = slices.DeleteFunc(out, func(bare FindNumber) bool {
		return bare.Maker == "" && slices.ContainsFunc(out, func(n FindNumber) bool { return n.Maker != "" && n.Number == bare.Number })
	})
	slices.SortFunc(out, func(a, b FindNumber) int { return cmp.Or(cmp.Compare(a.Maker, b.Maker), cmp.Compare(a.Number, b.Number)) })
	return out
}

func freeOf(key string, lines []shelf.Line) int {
	return shelf.Free(slices.DeleteFunc(slices.Clone(lines), func(l shelf.Line) bool { return l.Part.Key != key }))
}
