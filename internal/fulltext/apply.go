package fulltext

import (
	"context"
	"fmt"

	"github.com/blevesearch/bleve/v2"

	"crossbin/internal/app"
)

// batchSize is how many documents one batch holds: batches of 100 cost three
// times the work per document, batches of 10,000 three times the memory.
const batchSize = 1000

// Apply writes documents in batches that are on disk when it returns, the new
// revision with the last of them.
func (x *Index) Apply(ctx context.Context, docs []app.Document, revision int64) error {
	x.writing.Lock()
	defer x.writing.Unlock()
	if err := x.usable(); err != nil {
		return err
	}
	at := x.revision.Load()
	if revision < at {
		return fmt.Errorf("search index at revision %d: cannot go back to %d", at, revision)
	}
	for len(docs) > batchSize {
		if err := x.apply(ctx, docs[:batchSize], at); err != nil {
			return err
		}
		docs = docs[batchSize:]
	}
	return x.apply(ctx, docs, revision)
}

// usable reports why the index takes no documents, with x.writing held.
func (x *Index) usable() error {
	switch {
	case x.closed:
		return errClosed
	case x.lost.Load():
		return app.ErrIndexDamaged
	}
	return nil
}

// apply writes one batch with the revision.
func (x *Index) apply(ctx context.Context, docs []app.Document, revision int64) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	b := x.engine.NewBatch()
	for _, d := range docs {
		if len(d.Numbers) == 0 {
			b.Delete(d.Key)
			continue
		}
		if err := b.Index(d.Key, newFields(d)); err != nil {
			return fmt.Errorf("search index: part %q: %w", d.Key, err)
		}
	}
	h := x.program
	h.revision, h.count = revision, unknownCount
	h.write(b)
	if err := x.run(b); err != nil {
		return err
	}
	x.revision.Store(revision)
	return nil
}

// run executes a batch and returns when it is on disk. An engine whose
// background work has ended would let it wait for ever; its goroutine is then
// left behind with the engine.
func (x *Index) run(b *bleve.Batch) error {
	done := make(chan error, 1)
	go func() { done <- x.engine.Batch(b) }()
	select {
	case err := <-done:
		if err != nil {
			return fmt.Errorf("search index: writing a batch: %w", err)
		}
		return nil
	case <-x.lostNow:
		return app.ErrIndexDamaged
	}
}
