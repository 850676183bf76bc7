package fulltext

import (
	"errors"
	"fmt"
	"sync"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/registry"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bolt "go.etcd.io/bbolt/errors"
)

// maxClauses is how many terms a beginning may stand for in one question. At
// ten microseconds a term it bounds the work at 20 ms; without a bound a
// beginning of three characters took 2 s and 335 MB on a million parts.
const maxClauses = 2048

// lockTimeout is how long an index waits for a process that holds it before it
// says so; bleve's own default is for ever.
const lockTimeout = "500ms"

// opening guards bleve's settings, which are package variables: indexes are
// opened and closed one after another in a process.
var opening sync.Mutex

// openEngine opens one generation. onLost is called, from a goroutine of the
// engine, with an error of its background work; fatal says that the work has
// ended and nothing will be persisted any more.
func openEngine(path string, onLost func(err error, fatal bool)) (bleve.Index, error) {
	opening.Lock()
	defer opening.Unlock()
	if err := guardEngine(); err != nil {
		return nil, err
	}
	scorch.RegistryAsyncErrorCallbacks[path] = func(err error, _ string) {
		onLost(err, errors.Is(err, scorch.ErrAsyncPanic))
	}
	// The engine has looked its callback up by the time it is open.
	defer delete(scorch.RegistryAsyncErrorCallbacks, path)
	idx, err := bleve.OpenUsing(path, map[string]any{"bolt_timeout": lockTimeout, "asyncErrorCallbackName": path})
	if err != nil {
		return nil, err // what comes with it is no nil interface
	}
	return idx, nil
}

// createEngine makes an empty generation with a header and closes it again.
func createEngine(path string, m mapping.IndexMapping, h header) error {
	opening.Lock()
	defer opening.Unlock()
	if err := guardEngine(); err != nil {
		return err
	}
	idx, err := bleve.New(path, m)
	if err != nil {
		return fmt.Errorf("new index %s: %w", path, err)
	}
	b := idx.NewBatch()
	h.write(b)
	return errors.Join(idx.Batch(b), idx.Close())
}

// guardEngine settles, once in a process, what the engine keeps in package
// variables: the bound on clauses, which is unlimited by default (our own check
// comes first and has a sentence; this one stays as the fence behind it), and the
// name of our tokenizer.
var guardEngine = sync.OnceValue(func() error {
	searcher.DisjunctionMaxClauseCount = maxClauses
	return registry.RegisterTokenizer(tokenizerTerms, newTermTokenizer)
})

// isHeld reports whether an index could not be opened because somebody else has
// it open.
func isHeld(err error) bool { return errors.Is(err, bolt.ErrTimeout) }
