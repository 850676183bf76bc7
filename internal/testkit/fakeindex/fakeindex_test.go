package fakeindex_test

import (
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/testkit/fakeindex"
	"crossbin/internal/testkit/indexsuite"
)

func TestSuite(t *testing.T) {
	disk := fakeindex.NewDisk()
	indexsuite.Run(t, func(t *testing.T, folder string, bookRevision int64) app.Index {
		return disk.Open(folder, bookRevision)
	})
}
