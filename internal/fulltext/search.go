package fulltext

import (
	"context"
	"errors"
	"fmt"

	"github.com/blevesearch/bleve/v2"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// maxHits bounds a page of hits; whoever wants more of them wants other words.
const maxHits = 1000

// Search gives the best hits and how many there are. What the engine cannot read
// of its own files ends in app.ErrIndexDamaged.
func (x *Index) Search(ctx context.Context, q query.Query, limit int) ([]app.Hit, int, error) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	switch {
	case x.closed:
		return nil, 0, errClosed
	case x.lost.Load():
		return nil, 0, app.ErrIndexDamaged
	case len(q.Terms) == 0:
		return nil, 0, nil
	}
	limit = min(max(limit, 0), maxHits)
	hits, count, err := x.ask(ctx, q, false, limit)
	if err == nil && count == 0 {
		hits, count, err = x.ask(ctx, q, true, limit)
	}
	return hits, count, x.searchError(err)
}

// ask makes one search in the engine, with x.mu held.
func (x *Index) ask(ctx context.Context, q query.Query, b begun, limit int) (hits []app.Hit, count int, err error) {
	defer func() {
		if p := recover(); p != nil { // the engine trusts its files and indexes past their ends
			err = fmt.Errorf("%w: %v", app.ErrIndexDamaged, p)
		}
	}()
	req := bleve.NewSearchRequestOptions(plan(q, b), limit, 0, false)
	req.SortBy([]string{"-_score", "_id"})
	res, err := x.engine.SearchInContext(ctx, req)
	if err != nil {
		return nil, 0, err
	}
	hits = make([]app.Hit, len(res.Hits))
	for i, h := range res.Hits {
		hits[i] = app.Hit{Key: h.ID, Score: h.Score}
	}
	return hits, int(res.Total), nil
}

// searchError says what went wrong with a search. An error that is neither the
// asker's nor the caller's is the index's.
func (x *Index) searchError(err error) error {
	var many errTooMany
	switch {
	case err == nil, errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &many):
		return &app.Error{Code: app.CodeInvalid, Message: many.Error(), Hint: "type more of it", Cause: err}
	}
	x.log.Error("search index: a search failed; it will be built anew", "generation", x.name, "error", err)
	x.markLost()
	return fmt.Errorf("%w: %w", app.ErrIndexDamaged, err)
}
