package fulltext

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"

	"github.com/blevesearch/bleve/v2/index/scorch"
	index "github.com/blevesearch/bleve_index_api"

	"crossbin/internal/app"
)

// Check reads every file of documents and holds it against the sum at its end,
// which the engine writes and never reads: a file with a few bytes overwritten
// opens and answers, wrongly. A file that does not agree is app.ErrIndexDamaged,
// and the index is to be rebuilt. It reads at the speed of the disk and may run
// beside searches and batches.
func (x *Index) Check(ctx context.Context) error {
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.closed {
		return errClosed
	}
	engine, err := x.engine.Advanced()
	if err != nil {
		return err
	}
	reader, err := engine.Reader()
	if err != nil {
		return err
	}
	err = checkSegments(ctx, reader)
	err = errors.Join(err, reader.Close())
	if errors.Is(err, app.ErrIndexDamaged) {
		x.log.Error("search index: a file does not agree with its sum; it will be built anew", "generation", x.name, "error", err)
		x.markLost()
	}
	return err
}

// checkSegments checks the files of one snapshot; the reader keeps them there.
func checkSegments(ctx context.Context, reader index.IndexReader) error {
	snapshot, ok := reader.(*scorch.IndexSnapshot)
	if !ok {
		return fmt.Errorf("search index: a reader of another kind, %T", reader)
	}
	for _, s := range snapshot.Segments() {
		file, ok := s.Segment().(interface{ Path() string })
		if !ok {
			continue // not on disk yet
		}
		if err := checkFile(ctx, file.Path()); err != nil {
			return err
		}
	}
	return nil
}

// checkFile compares the sum of a file with its last four bytes: CRC-32 (IEEE) of
// all before them, big endian (zap file format, footer).
func checkFile(ctx context.Context, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("%w: %w", app.ErrIndexDamaged, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() < crc32.Size {
		return fmt.Errorf("%w: %s holds %d bytes", app.ErrIndexDamaged, path, info.Size())
	}
	sum := crc32.NewIEEE()
	if _, err := io.Copy(sum, io.LimitReader(&readerWithContext{ctx, f}, info.Size()-crc32.Size)); err != nil {
		return fmt.Errorf("search index: reading %s: %w", path, err)
	}
	var last [crc32.Size]byte
	if _, err := io.ReadFull(f, last[:]); err != nil {
		return fmt.Errorf("search index: reading %s: %w", path, err)
	}
	if got, want := sum.Sum32(), binary.BigEndian.Uint32(last[:]); got != want {
		return fmt.Errorf("%w: %s has the sum %08x, want %08x", app.ErrIndexDamaged, path, got, want)
	}
	return nil
}

// readerWithContext ends a long read when its context does.
type readerWithContext struct {
	ctx context.Context
	r   io.Reader
}

func (r *readerWithContext) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.r.Read(p)
}
