package fulltext

import (
	"context"
	"fmt"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/searcher"
	index "github.com/blevesearch/bleve_index_api"
)

// beginning is a query for all terms of a field that begin with a text.
type beginning struct{ field, text string }

// errTooMany is a beginning that stands for more terms than a question may ask.
type errTooMany struct{ text string }

func (e errTooMany) Error() string {
	return fmt.Sprintf("more than %d numbers or words begin with %q", maxClauses, e.text)
}

// Searcher lists the terms, up to the bound, and joins their documents. No
// scores: the tier is all that a beginning is worth.
func (b beginning) Searcher(ctx context.Context, r index.IndexReader, _ mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
	terms, err := b.terms(r)
	if err != nil {
		return nil, err
	}
	if len(terms) == 0 {
		return searcher.NewMatchNoneSearcher(r)
	}
	o.Score = "none"
	return searcher.NewMultiTermSearcher(ctx, r, terms, b.field, 1, o, true)
}

// terms lists the terms that begin with the text.
func (b beginning) terms(r index.IndexReader) (terms []string, err error) {
	dict, err := r.FieldDictPrefix(b.field, []byte(b.text))
	if err != nil {
		return nil, err
	}
	defer func() {
		if e := dict.Close(); err == nil {
			err = e
		}
	}()
	for {
		entry, err := dict.Next()
		if err != nil || entry == nil {
			return terms, err
		}
		if len(terms) > 0 && terms[len(terms)-1] == entry.Term {
			continue // another segment holds it too
		}
		if len(terms) == maxClauses {
			return nil, errTooMany{b.text}
		}
		terms = append(terms, entry.Term)
	}
}
