package fulltext

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"

	"github.com/blevesearch/bleve/v2"

	"crossbin/internal/app"
)

// Open opens the index in a folder, which is made if it is not there, and says
// how it was found against the book's revision. In every state that calls for a
// rebuild the index that is returned is empty and stands at revision 0. The only
// errors are an index that another process holds (app.CodeInUse) and a folder
// that cannot be written (app.CodeUnavailable). The caller holds the book's owner
// lock.
func Open(ctx context.Context, dir string, bookRevision int64, log *slog.Logger) (*Index, State, error) {
	if err := ctx.Err(); err != nil {
		return nil, "", err
	}
	x, err := newIndex(dir, log)
	if err != nil {
		return nil, "", err
	}
	state, err := x.openCurrent(bookRevision)
	if err != nil {
		return nil, "", err
	}
	var aside string
	if state.Action() == Rebuild {
		if aside, err = x.empty(); err != nil {
			return nil, "", cannotWrite(dir, err)
		}
	}
	if err := x.folder.sweep(x.name, aside); err != nil {
		log.Warn("old search indexes were not removed", "folder", dir, "error", err)
	}
	log.Info("search index opened", "state", string(state), "then", string(state.Action()), "revision", x.Revision(), "book", bookRevision)
	return x, state, nil
}

func newIndex(dir string, log *slog.Logger) (*Index, error) {
	m, err := newMapping()
	if err != nil {
		return nil, err
	}
	hash, err := hashMapping(m)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, cannotWrite(dir, err)
	}
	return &Index{
		folder: folder(dir), log: log, mapping: m, lostNow: make(chan struct{}),
		program: header{documents: documentsVersion, mapping: hash},
	}, nil
}

// openCurrent opens the current generation and judges it. Where it returns
// Missing or Corrupt there may be no engine.
func (x *Index) openCurrent(bookRevision int64) (State, error) {
	name, err := x.folder.current()
	if errors.Is(err, fs.ErrNotExist) {
		return Missing, nil
	}
	if err == nil {
		x.name = name
		x.engine, err = openEngine(x.folder.path(name), x.watch(name))
	}
	switch {
	case isHeld(err):
		return "", &app.Error{Code: app.CodeInUse, Cause: err,
			Message: fmt.Sprintf("the search index in %s is in use by another process", x.folder),
			Hint:    "ask the server that is running, or stop it first"}
	case errors.Is(err, fs.ErrPermission):
		return "", cannotWrite(string(x.folder), err)
	case err != nil:
		x.log.Warn("the search index cannot be opened and will be built anew", "generation", name, "error", err)
		return Corrupt, nil
	}
	return x.judge(bookRevision), nil
}

func (x *Index) judge(bookRevision int64) State {
	h, err := readHeader(x.engine)
	var docs uint64
	if err == nil {
		docs, err = x.engine.DocCount()
	}
	if err != nil {
		x.log.Warn("the search index does not say what it holds and will be built anew", "generation", x.name, "error", err)
		return Corrupt
	}
	x.revision.Store(h.revision)
	return judge(h, x.program, docs, bookRevision)
}

// watch gives the callback for a generation's background work.
func (x *Index) watch(name string) func(error, bool) {
	return func(err error, fatal bool) { x.onLost(name, err, fatal) }
}

// empty puts what was opened aside and makes an empty generation the current
// one. It names what it put aside.
func (x *Index) empty() (aside string, err error) {
	if x.engine != nil {
		if err := x.engine.Close(); err != nil {
			x.log.Warn("closing the old search index", "generation", x.name, "error", err)
		}
	}
	if x.name != "" {
		if aside, err = x.folder.putAside(x.name); err != nil {
			return "", err
		}
	}
	engine, name, err := x.newEmpty(x.program)
	if err != nil {
		return "", err
	}
	if err := x.folder.makeCurrent(name); err != nil {
		return "", errors.Join(err, engine.Close())
	}
	x.engine, x.name = engine, name
	x.revision.Store(0)
	return aside, nil
}

// newEmpty makes the next generation without documents.
func (x *Index) newEmpty(h header) (bleve.Index, string, error) {
	name, err := x.folder.next()
	if err != nil {
		return nil, "", err
	}
	if err := createEngine(x.folder.path(name), x.mapping, h); err != nil {
		return nil, "", err
	}
	engine, err := openEngine(x.folder.path(name), x.watch(name))
	return engine, name, err
}

func cannotWrite(dir string, err error) error {
	return &app.Error{Code: app.CodeUnavailable, Cause: err,
		Message: fmt.Sprintf("the search index in %s cannot be written", dir),
		Hint:    "look at the disk's free space and the folder's rights; the index can be deleted, it is built again"}
}
