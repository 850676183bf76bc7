package fulltext

import (
	"errors"
	"log/slog"
	"os"
	"sync"
	"sync/atomic"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/mapping"

	"crossbin/internal/app"
)

// Index is the search index of one book. It implements app.Index and may be
// used by several goroutines.
type Index struct {
	folder  folder
	log     *slog.Logger
	mapping *mapping.IndexMappingImpl
	program header // what this program would write, at revision 0

	writing sync.Mutex // held by Apply, Rebuild and Close, one at a time

	mu     sync.RWMutex // held for reading while the engine is being asked
	engine bleve.Index
	name   string // of the generation
	closed bool

	revision atomic.Int64
	lost     atomic.Bool   // the engine's background work has ended, or its files are damaged
	lostNow  chan struct{} // closed with it; made anew by a rebuild
}

var _ app.Index = (*Index)(nil)

var errClosed = errors.New("the search index is closed")

// Revision is the book revision that the index has caught up with; 0 for one
// that is empty or must be rebuilt.
func (x *Index) Revision() int64 {
	if x.lost.Load() {
		return 0
	}
	return x.revision.Load()
}

// Close ends all work and counts the documents for the next open. It waits for
// searches that are being answered.
func (x *Index) Close() error {
	x.writing.Lock()
	defer x.writing.Unlock()
	if x.closed {
		return nil
	}
	lost := x.lost.Load()
	var counted error
	if !lost {
		counted = x.writeCount()
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	x.closed = true
	return errors.Join(counted, shut(x.engine, lost))
}

// shut closes an engine. One that is lost may have a batch in it that waits for
// ever, and closing would wait for the batch or end in a panic of the engine's:
// it is left to the end of the process.
func shut(engine bleve.Index, lost bool) error {
	if !lost {
		return engine.Close()
	}
	go func() {
		defer func() { _ = recover() }()
		_ = engine.Close()
	}()
	return nil
}

// writeCount writes the header with the number of documents.
func (x *Index) writeCount() error {
	n, err := x.engine.DocCount()
	if err != nil {
		return err
	}
	h := x.program
	h.revision, h.count = x.revision.Load(), int64(n)
	b := x.engine.NewBatch()
	h.write(b)
	return x.run(b)
}

// swap puts another generation in the place of the current one, once it is the
// current one on disk, and gives back the old one closed. Searches go on in the
// old one until this moment.
func (x *Index) swap(engine bleve.Index, name string, revision int64) {
	x.mu.Lock()
	old, oldName, lost := x.engine, x.name, x.lost.Load()
	x.engine, x.name = engine, name
	x.revision.Store(revision)
	x.lostNow = make(chan struct{})
	x.lost.Store(false)
	x.mu.Unlock()
	if err := errors.Join(shut(old, lost), os.RemoveAll(x.folder.path(oldName))); err != nil {
		x.log.Warn("an old search index was not removed", "generation", oldName, "error", err)
	}
}

// onLost hears of the engine's background work. An error that ends it would
// leave a batch waiting for ever, so the index is given up at once.
func (x *Index) onLost(name string, err error, fatal bool) {
	x.log.Error("search index: background work", "generation", name, "error", err, "ended", fatal)
	if fatal {
		x.giveUp(name)
	}
}

// giveUp marks the index for a rebuild, if this generation is still the current
// one.
func (x *Index) giveUp(name string) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.name == name {
		x.markLost()
	}
}

// markLost marks the index for a rebuild, with x.mu held.
func (x *Index) markLost() {
	if x.lost.CompareAndSwap(false, true) {
		close(x.lostNow)
	}
}
