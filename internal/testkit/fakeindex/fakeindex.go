package fakeindex

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"
	"sync"

	"crossbin/internal/app"
	"crossbin/internal/query"
)

// Disk keeps what indexes hold beyond their closing, by folder.
type Disk struct {
	mu      sync.Mutex
	folders map[string]*content
}

// content is what one index holds.
type content struct {
	revision int64
	docs     map[string]app.Document
}

// NewDisk makes a disk that holds nothing.
func NewDisk() *Disk { return &Disk{folders: map[string]*content{}} }

// Open opens the index of a folder. One that is ahead of the book is emptied.
func (d *Disk) Open(folder string, bookRevision int64) *Index {
	d.mu.Lock()
	defer d.mu.Unlock()
	c, ok := d.folders[folder]
	if !ok || c.revision > bookRevision {
		c = &content{docs: map[string]app.Document{}}
		d.folders[folder] = c
	}
	return &Index{content: c}
}

// New gives an index of its own, empty and at revision 0.
func New() *Index { return NewDisk().Open("", 0) }

// Index is an open index.
type Index struct {
	mu      sync.RWMutex
	content *content
	closed  bool
	damaged bool
}

var _ app.Index = (*Index)(nil)

var errClosed = errors.New("the search index is closed")

// Damage makes the index one that must be rebuilt.
func (x *Index) Damage() {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.damaged = true
}

// Revision is the book revision that the index has caught up with; 0 for one
// that must be rebuilt.
func (x *Index) Revision() int64 {
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.damaged {
		return 0
	}
	return x.content.revision
}

// Apply writes documents and the revision.
func (x *Index) Apply(ctx context.Context, docs []app.Document, revision int64) error {
	x.mu.Lock()
	defer x.mu.Unlock()
	switch {
	case x.closed:
		return errClosed
	case x.damaged:
		return app.ErrIndexDamaged
	case ctx.Err() != nil:
		return ctx.Err()
	case revision < x.content.revision:
		return fmt.Errorf("search index at revision %d: cannot go back to %d", x.content.revision, revision)
	}
	for _, d := range docs {
		x.content.put(d)
	}
	x.content.revision = revision
	return nil
}

func (c *content) put(d app.Document) {
	if len(d.Numbers) == 0 {
		delete(c.docs, d.Key)
		return
	}
	c.docs[d.Key] = d
}

// Rebuild replaces everything.
func (x *Index) Rebuild(ctx context.Context, docs iter.Seq2[app.Document, error], revision int64) error {
	fresh := content{revision: revision, docs: map[string]app.Document{}}
	for d, err := range docs {
		if err = cmp.Or(err, ctx.Err()); err != nil {
			return err
		}
		fresh.put(d)
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.closed {
		return errClosed
	}
	*x.content, x.damaged = fresh, false
	return nil
}

// Close ends the use of this index; what it holds stays on its disk.
func (x *Index) Close() error {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.closed = true
	return nil
}

// Search looks at every document.
func (x *Index) Search(ctx context.Context, q query.Query, limit int) ([]app.Hit, int, error) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	switch {
	case x.closed:
		return nil, 0, errClosed
	case x.damaged:
		return nil, 0, app.ErrIndexDamaged
	case ctx.Err() != nil:
		return nil, 0, ctx.Err()
	case len(q.Terms) == 0:
		return nil, 0, nil
	}
	hits := x.content.ask(q, false)
	if len(hits) == 0 {
		hits = x.content.ask(q, true)
	}
	return hits[:min(max(limit, 0), len(hits))], len(hits), nil
}

func (c *content) ask(q query.Query, begun bool) []app.Hit {
	hits := []app.Hit{}
	for _, key := range slices.Sorted(maps.Keys(c.docs)) {
		if score, ok := newEntry(c.docs[key]).score(q, begun); ok {
			hits = append(hits, app.Hit{Key: key, Score: score})
		}
	}
	slices.SortStableFunc(hits, func(a, b app.Hit) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), strings.Compare(a.Key, b.Key))
	})
	return hits
}
