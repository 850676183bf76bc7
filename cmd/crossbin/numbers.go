package main

import (
	"context"
	"sync"

	"crossbin/internal/app"
	"crossbin/internal/numbers"
	"crossbin/internal/part"
)

// numberCache keeps the keys of the book in memory, stamped with their revision;
// they are read anew when the book has moved on.
type numberCache struct {
	confusions part.Confusions
	mu         sync.Mutex
	index      *numbers.Index
}

// of gives the numbers of a snapshot.
func (c *numberCache) of(ctx context.Context, r app.Reader) (app.Numbers, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.index == nil || c.index.Revision() != r.Revision() {
		var keys []string
		if err := r.Keys(ctx, func(key string) error {
			keys = append(keys, key)
			return nil
		}); err != nil {
			return nil, err
		}
		c.index = numbers.Build(keys, r.Revision())
	}
	return near{c.index, c.confusions}, nil
}

// near answers the application's question from the index in memory.
type near struct {
	index      *numbers.Index
	confusions part.Confusions
}

// Near gives the keys that explain a reading best.
func (n near) Near(ctx context.Context, r part.Reading, limit int) (keys []string, rest int, err error) {
	matches, rest, err := n.index.Matches(ctx, r, n.confusions, limit)
	for _, m := range matches {
		keys = append(keys, m.Key)
	}
	return keys, rest, err
}
