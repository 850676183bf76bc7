package app

import (
	"context"
	"errors"
	"slices"
)

// ErrFeedGone is in the chain of Reader.Changes' error where the change feed does
// not reach back to the revision that was asked for.
var ErrFeedGone = errors.New("the change feed does not reach back that far")

// documentChunk is how many keys are read from the book at a time for the index,
// each time in a snapshot of its own, so that no long reading keeps the book from
// cleaning up behind its writers.
const documentChunk = 1000

// CatchUp brings the index to the book's revision: from the change feed, or whole
// where the index is empty, ahead of the book or damaged, or the feed does not
// reach back. The new revision is written with the last documents, so being
// killed on the way does no harm. One call at a time.
func (s *Service) CatchUp(ctx context.Context) error {
	if s.Index == nil {
		return nil
	}
	revision, keys, whole, err := s.outstanding(ctx)
	switch {
	case err != nil:
		return err
	case whole:
		return s.rebuildIndex(ctx)
	case revision == s.Index.Revision():
		return nil
	}
	err = s.applyChanges(ctx, keys, revision)
	if errors.Is(err, ErrIndexDamaged) {
		s.Log.Warn("the search index is damaged and will be built anew", "error", err)
		return s.rebuildIndex(ctx)
	}
	return err
}

// outstanding says what the index lacks: the keys that changed up to a revision,
// sorted, or all of them.
func (s *Service) outstanding(ctx context.Context) (revision int64, keys []string, whole bool, err error) {
	at := s.Index.Revision()
	err = s.Book.Read(ctx, func(r Reader) error {
		revision = r.Revision()
		if whole = at != revision && at == 0 || at > revision; whole || at == revision {
			return nil
		}
		changes, err := r.Changes(ctx, at)
		if errors.Is(err, ErrFeedGone) {
			whole, err = true, nil
		}
		for _, c := range changes {
			keys = append(keys, c.Key)
		}
		return err
	})
	slices.Sort(keys)
	return revision, slices.Compact(keys), whole, err
}

// applyChanges writes the documents of changed keys. Only the last of them carry
// the revision.
func (s *Service) applyChanges(ctx context.Context, keys []string, revision int64) error {
	at := s.Index.Revision()
	var last []Document
	for docs, err := range s.readAhead(ctx, keys) {
		if err != nil {
			return err
		}
		if last != nil {
			if err := s.Index.Apply(ctx, last, at); err != nil {
				return err
			}
		}
		last = docs
	}
	if err := s.Index.Apply(ctx, last, revision); err != nil {
		return err
	}
	s.Log.Info("the search index has caught up", "from", at, "to", revision, "keys", len(keys))
	return nil
}

// rebuildIndex builds the index from every key of the book. What changes while it
// reads is in the feed after its revision, and is caught up by the next call.
func (s *Service) rebuildIndex(ctx context.Context) error {
	var revision int64
	var keys []string
	err := s.Book.Read(ctx, func(r Reader) error {
		revision = r.Revision()
		return r.Keys(ctx, func(key string) error {
			keys = append(keys, key)
			return ctx.Err()
		})
	})
	if err != nil {
		return err
	}
	err = s.Index.Rebuild(ctx, func(yield func(Document, error) bool) {
		for docs, err := range s.readAhead(ctx, keys) {
			if err != nil {
				yield(Document{}, err)
				return
			}
			for _, d := range docs {
				if !yield(d, nil) {
					return
				}
			}
		}
	}, revision)
	if err != nil {
		return err
	}
	s.Log.Info("the search index was built anew", "revision", revision, "keys", len(keys))
	return nil
}
