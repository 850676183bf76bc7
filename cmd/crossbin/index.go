package main

import (
	"context"
	"log/slog"

	"crossbin/internal/app"
	"crossbin/internal/fulltext"
	"crossbin/internal/sqlite"
)

// openIndex opens the index beside the book; what its state asks for is done by
// catching up.
func openIndex(ctx context.Context, book *sqlite.Book, dir string, log *slog.Logger) (*fulltext.Index, error) {
	var revision int64
	if err := book.Read(ctx, func(r app.Reader) error {
		revision = r.Revision()
		return nil
	}); err != nil {
		return nil, err
	}
	index, _, err := fulltext.Open(ctx, dir, revision, log)
	return index, err
}
