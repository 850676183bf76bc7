package app

import (
	"context"
	"fmt"

	"crossbin/internal/query"
)

// FindAnswer is the answer to a search.
type FindAnswer struct {
	Revision int64      `json:"revision"` // of the index
	Query    string     `json:"query"`    // as it was understood
	Count    int        `json:"count"`    // how many there are in all
	Hits     []FindHit  `json:"hits"`     // best first
	Hints    []FindHint `json:"hints,omitempty"`
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

// Find searches numbers, descriptions, makers, engines and model codes. Hits come
// best first, at most limit of them. An index that stands behind the snapshot is
// waited for and then not used: a whole number is looked up in the book itself,
// anything else is CodeUnavailable.
func (s *Service) Find(ctx context.Context, words string, limit int) (FindAnswer, error) {
	if s.Index == nil {
		return FindAnswer{}, &Error{Code: CodeUnavailable, Message: "the search index is not open here", Hint: "ask the server of this book"}
	}
	typed, err := query.Parse(words)
	if err != nil {
		return FindAnswer{}, &Error{Code: CodeInvalid, Message: err.Error(), Cause: err}
	}
	out := FindAnswer{Query: typed.String(), Hints: s.hints(typed)}
	err = s.Book.Read(ctx, func(r Reader) error {
		hits, err := s.find(ctx, r, typed, limit, &out)
		if err != nil {
			return err
		}
		out.Hits, err = describe(ctx, r, hits)
		return err
	})
	return out, err
}

// find asks the index, or the book where the index is not to be used, and says
// in out how many there are and at which revision.
func (s *Service) find(ctx context.Context, r Reader, q query.Query, limit int, out *FindAnswer) (hits []Hit, err error) {
	if s.caughtUp(ctx, r.Revision()) {
		out.Revision = s.Index.Revision()
		hits, out.Count, err = s.Index.Search(ctx, s.resolve(q), limit)
		return hits, err
	}
	out.Revision = r.Revision()
	key, ok := wholeNumber(q)
	if !ok {
		return nil, &Error{Code: CodeUnavailable,
			Message: fmt.Sprintf("the search index is catching up with the book (revision %d of %d)", s.Index.Revision(), r.Revision()),
			Hint:    "ask again in a moment; a whole number alone is found meanwhile"}
	}
	docs, err := documents(ctx, r, []string{key})
	if err != nil || len(docs[0].Numbers) == 0 || limit < 1 {
		return nil, err
	}
	out.Count = 1
	return []Hit{{Key: key}}, nil
}

// wholeNumber gives the key where all that was typed can be one number.
func wholeNumber(q query.Query) (key string, ok bool) {
	if len(q.Terms) == 1 && q.Terms[0].Kind == query.Number {
		return q.Terms[0].Key(), true
	}
	for _, s := range q.Spans() {
		if s.From == 0 && s.To == len(q.Terms) {
			return s.Key, true
		}
	}
	return "", false
}
