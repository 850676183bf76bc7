package fulltext

import (
	"context"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	index "github.com/blevesearch/bleve_index_api"
)

// Tiers of the ranking. A document gets for each term the best tier in which the
// term is found, more where its words hold the term besides, and the sum over the
// terms. Words count with the engine's own
// score, which is above that of a document of more words and never above 15 (the
// inverse frequency in a million documents); the steps are so wide that sixteen
// terms (query.MaxTerms) of one tier never reach one of the next. The engine's
// scores alone would let a rare word outrank a number.
const (
	tierFilter float64 = 0
	tierWord   float64 = 1 // stands for the engine's own score
	tierType   float64 = 1e3
	tierCode   float64 = 1e5
	tierStart  float64 = 1e7
	tierExact  float64 = 1e9
)

// choice is one way in which a term may be found.
type choice struct {
	tier float64
	how  query.Query
}

// best is a query that a document satisfies in any of several ways; its score is
// the tier of the best, and what its words add.
type best []choice

// Searcher opens the ways that can lead anywhere.
func (b best) Searcher(ctx context.Context, r index.IndexReader, m mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
	out := &bestSearcher{}
	for _, c := range b {
		with := o
		if c.tier != tierWord {
			with.Score = "none" // no frequencies to be read
		}
		s, err := c.how.Searcher(ctx, r, m, with)
		if err != nil {
			_ = out.Close()
			return nil, err
		}
		if s == nil || leadsNowhere(c.how, s) {
			continue
		}
		out.ways = append(out.ways, way{Searcher: s, tier: c.tier, spent: true})
	}
	switch {
	case len(out.ways) == 0:
		return searcher.NewMatchNoneSearcher(r)
	case len(out.ways) == 1 && out.ways[0].tier == tierWord:
		return out.ways[0].Searcher, nil // the engine joins its own faster than ours
	}
	return out, nil
}

// leadsNowhere reports whether a searcher will find nothing, and closes it then.
// Only those of a single term know their count.
func leadsNowhere(how query.Query, s search.Searcher) bool {
	_, none := s.(*searcher.MatchNoneSearcher)
	_, term := how.(*query.TermQuery)
	if none || term && s.Count() == 0 {
		_ = s.Close()
		return true
	}
	return false
}

// way is an open choice and the document it stands at, nil after the last. A way
// whose document was handed out is spent, and moves on only when it is known how
// far.
type way struct {
	search.Searcher
	tier  float64
	at    *search.DocumentMatch
	spent bool
}

// bestSearcher walks all ways side by side in the order of documents.
type bestSearcher struct{ ways []way }

// Next gives the next document that any way holds.
func (s *bestSearcher) Next(ctx *search.SearchContext) (_ *search.DocumentMatch, err error) {
	for i := range s.ways {
		if w := &s.ways[i]; w.spent {
			if w.at, err = w.Searcher.Next(ctx); err != nil {
				return nil, err
			}
			w.spent = false
		}
	}
	return s.take(ctx), nil
}

// Advance gives the first document at or after id that any way holds.
func (s *bestSearcher) Advance(ctx *search.SearchContext, id index.IndexInternalID) (_ *search.DocumentMatch, err error) {
	for i := range s.ways {
		w := &s.ways[i]
		switch {
		case w.spent:
			w.spent = false
		case w.at == nil || w.at.IndexInternalID.Compare(id) >= 0:
			continue
		default:
			ctx.DocumentMatchPool.Put(w.at)
		}
		if w.at, err = w.Searcher.Advance(ctx, id); err != nil {
			return nil, err
		}
	}
	return s.take(ctx), nil
}

// take hands out the first document that any way stands at, with its score.
func (s *bestSearcher) take(ctx *search.SearchContext) *search.DocumentMatch {
	doc := s.least()
	if doc == nil {
		return nil
	}
	tier, words := 0.0, 0.0
	for i := range s.ways {
		w := &s.ways[i]
		if w.at == nil || !w.at.IndexInternalID.Equals(doc.IndexInternalID) {
			continue
		}
		if w.tier == tierWord {
			words = w.at.Score
		} else {
			tier = max(tier, w.tier)
		}
		if w.at != doc {
			ctx.DocumentMatchPool.Put(w.at)
		}
		w.at, w.spent = nil, true
	}
	doc.Score = tier + words
	return doc
}

// least gives the first document that any way stands at.
func (s *bestSearcher) least() *search.DocumentMatch {
	var least *search.DocumentMatch
	for i := range s.ways {
		if at := s.ways[i].at; at != nil && (least == nil || at.IndexInternalID.Compare(least.IndexInternalID) < 0) {
			least = at
		}
	}
	return least
}

// Close closes all ways.
func (s *bestSearcher) Close() (err error) {
	for _, w := range s.ways {
		if e := w.Searcher.Close(); e != nil {
			err = e
		}
	}
	return err
}

// Weight keeps the sum of weights above 0 where all other terms are filters: the
// engine divides by it.
func (s *bestSearcher) Weight() float64 { return 1 }

// SetQueryNorm hands the norm on to the ways with words; tiers are not scaled.
func (s *bestSearcher) SetQueryNorm(norm float64) {
	for _, w := range s.ways {
		w.Searcher.SetQueryNorm(norm)
	}
}

// Count is an upper bound of how many documents there are.
func (s *bestSearcher) Count() (n uint64) {
	for _, w := range s.ways {
		n += w.Searcher.Count()
	}
	return n
}

// Min is how many ways must hold a document.
func (s *bestSearcher) Min() int { return 1 }

// Size estimates the memory, in bytes, for bleve's own bounds.
func (s *bestSearcher) Size() (n int) {
	for _, w := range s.ways {
		n += w.Searcher.Size()
	}
	return n
}

// DocumentMatchPoolSize is how many documents are in hand at once.
func (s *bestSearcher) DocumentMatchPoolSize() (n int) {
	for _, w := range s.ways {
		n += w.Searcher.DocumentMatchPoolSize() + 1
	}
	return n
}
