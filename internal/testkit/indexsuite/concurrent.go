package indexsuite

import (
	"context"
	"sync"
	"testing"
)

// sideBySide searches while documents are written and everything is rebuilt: each
// answer is that of one moment, with all ten documents or without any.
func sideBySide(t *testing.T, open Open) {
	x := newIndex(t, open)
	docs := many(10, "steady")
	apply(t, x, 1, docs...)
	q := parse(t, "steady")
	stop := make(chan struct{})
	var readers sync.WaitGroup
	for range 4 {
		readers.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				hits, count, err := x.Search(context.Background(), q, 20)
				if err != nil || count != 10 || len(hits) != 10 {
					t.Errorf("got %d hits of %d (%v), want 10", len(hits), count, err)
					return
				}
			}
		})
	}
	for i := range 5 {
		apply(t, x, int64(2+2*i), docs...)
		if err := x.Rebuild(context.Background(), seq(docs), int64(3+2*i)); err != nil {
			t.Error(err)
		}
	}
	close(stop)
	readers.Wait()
}
