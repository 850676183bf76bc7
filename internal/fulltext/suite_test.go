package fulltext_test

import (
	"log/slog"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/fulltext"
	"crossbin/internal/testkit/indexsuite"
)

func open(t *testing.T, folder string, bookRevision int64) *fulltext.Index {
	t.Helper()
	x, _, err := fulltext.Open(t.Context(), folder, bookRevision, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestSuite(t *testing.T) {
	indexsuite.Run(t, func(t *testing.T, folder string, bookRevision int64) app.Index {
		return open(t, folder, bookRevision)
	})
}
