package app

import (
	"context"
	"log/slog"
	"time"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// Service answers what people ask, over one book. Index may be nil: fit reads
// the book alone.
type Service struct {
	Book      Book
	Index     Index
	Types     PartTypes
	Standings statement.Standings
	Clock     func() time.Time
	Log       *slog.Logger
	// Confusions is the error model of readings; NumbersOf gives the numbers of a
	// snapshot, and may be nil where nobody identifies.
	Confusions part.Confusions
	NumbersOf  func(context.Context, Reader) (Numbers, error)

	shelf shelfCache
}
