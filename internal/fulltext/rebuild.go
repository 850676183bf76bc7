package fulltext

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"os"

	"github.com/blevesearch/bleve/v2"

	"crossbin/internal/app"
)

// Settings of a rebuild. Batches as in Apply; ten segments are merged at a time,
// which bounds the open files.
const mergeSegments = 10

// Rebuild writes a new generation from all documents and puts it in the place of
// the current one. Until then, and after any error, the current one stays.
func (x *Index) Rebuild(ctx context.Context, docs iter.Seq2[app.Document, error], revision int64) error {
	x.writing.Lock()
	defer x.writing.Unlock()
	if x.closed {
		return errClosed
	}
	name, err := x.folder.next()
	if err != nil {
		return cannotWrite(string(x.folder), err)
	}
	engine, err := x.build(ctx, name, docs, revision)
	if err == nil {
		if err = x.folder.makeCurrent(name); err != nil {
			err = errors.Join(cannotWrite(string(x.folder), err), engine.Close())
		}
	}
	if err != nil {
		return errors.Join(err, x.folder.sweep(x.name))
	}
	x.swap(engine, name, revision)
	return nil
}

// build writes a generation with its header and opens it.
func (x *Index) build(ctx context.Context, name string, docs iter.Seq2[app.Document, error], revision int64) (bleve.Index, error) {
	path := x.folder.path(name)
	n, err := x.fill(ctx, path, docs)
	if err != nil {
		return nil, err
	}
	h := x.program
	h.revision, h.count = revision, n
	if n == 0 { // the builder cannot end without a document
		if err := createEngine(path, x.mapping, h); err != nil {
			return nil, err
		}
	}
	engine, err := openEngine(path, x.watch(name))
	if err != nil {
		return nil, fmt.Errorf("search index: opening what was built: %w", err)
	}
	b := engine.NewBatch()
	h.write(b)
	if err := engine.Batch(b); err != nil {
		return nil, errors.Join(fmt.Errorf("search index: header: %w", err), engine.Close())
	}
	return engine, nil
}

// fill writes all documents with bleve's builder and counts them. Nothing is
// left at path where there was none.
func (x *Index) fill(ctx context.Context, path string, docs iter.Seq2[app.Document, error]) (int64, error) {
	builder, err := bleve.NewBuilder(path, x.mapping, map[string]any{
		"batchSize": batchSize, "mergeMax": mergeSegments,
		"buildPathPrefix": string(x.folder), // the default is on another file system, from where it cannot rename
	})
	if err != nil {
		return 0, fmt.Errorf("search index: starting to build: %w", err)
	}
	var n int64
	for d, err := range docs {
		if err == nil {
			err = ctx.Err()
		}
		if err != nil {
			return 0, err
		}
		if len(d.Numbers) == 0 {
			continue
		}
		if err := builder.Index(d.Key, newFields(d)); err != nil {
			return 0, fmt.Errorf("search index: part %q: %w", d.Key, err)
		}
		n++
	}
	if n == 0 {
		return 0, os.RemoveAll(path)
	}
	return n, builder.Close()
}
