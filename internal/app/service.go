package app

import (
	"log/slog"
	"time"

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

	shelf shelfCache
}
