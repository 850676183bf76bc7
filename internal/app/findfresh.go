package app

import (
	"context"
	"time"
)

// How long a search waits for an index that stands behind, and how often it
// looks: a small change is searchable within tens of milliseconds, a large import
// is not worth waiting for.
const (
	findPatience = 500 * time.Millisecond
	findLook     = 5 * time.Millisecond
)

// caughtUp reports whether the index has come to a revision of the book, after
// some patience.
func (s *Service) caughtUp(ctx context.Context, revision int64) bool {
	if s.Index.Revision() >= revision {
		return true
	}
	ctx, cancel := context.WithTimeout(ctx, findPatience)
	defer cancel()
	look := time.NewTicker(findLook)
	defer look.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case <-look.C:
			if s.Index.Revision() >= revision {
				return true
			}
		}
	}
}
