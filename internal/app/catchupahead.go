package app

import (
	"context"
	"iter"
	"slices"
)

// readDocuments is one chunk of documents on its way to the index.
type readDocuments struct {
	docs []Document
	err  error
}

// readAhead gives the documents of keys chunk by chunk, in order, and reads the
// next chunk from the book while the taker is busy with the one before: book and
// index each keep a core busy. It ends at the first error. The reading has ended
// when the walk has.
func (s *Service) readAhead(ctx context.Context, keys []string) iter.Seq2[[]Document, error] {
	return func(yield func([]Document, error) bool) {
		ctx, cancel := context.WithCancel(ctx)
		chunks := make(chan readDocuments)
		defer func() {
			cancel()
			for range chunks { // until the reader has gone
			}
		}()
		go func() {
			defer close(chunks)
			for chunk := range slices.Chunk(keys, documentChunk) {
				r := s.readDocuments(ctx, chunk)
				select {
				case chunks <- r:
				case <-ctx.Done():
					return
				}
				if r.err != nil {
					return
				}
			}
		}()
		for r := range chunks {
			if !yield(r.docs, r.err) {
				return
			}
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
		}
	}
}

func (s *Service) readDocuments(ctx context.Context, keys []string) (out readDocuments) {
	out.err = s.Book.Read(ctx, func(r Reader) (err error) {
		out.docs, err = documents(ctx, r, keys)
		return err
	})
	return out
}
