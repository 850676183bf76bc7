package fulltext

import (
	"fmt"
	"strconv"

	"github.com/blevesearch/bleve/v2"
)

// header is what an index says of itself. It is written in the batch of the
// documents that it speaks of, so that the two cannot part.
type header struct {
	documents string // how documents are made, see documentsVersion
	mapping   string // hash of the field mapping
	revision  int64  // of the book
	count     int64  // documents, unknownCount while batches are being written
}

// unknownCount stands for a number of documents that nobody has counted: only a
// rebuild and an orderly end count.
const unknownCount = -1

// Keys of the header in the index's own store.
var (
	keyDocuments = []byte("crossbin.documents")
	keyMapping   = []byte("crossbin.mapping")
	keyRevision  = []byte("crossbin.revision")
	keyCount     = []byte("crossbin.count")
)

// write puts the header into a batch.
func (h header) write(b *bleve.Batch) {
	b.SetInternal(keyDocuments, []byte(h.documents))
	b.SetInternal(keyMapping, []byte(h.mapping))
	b.SetInternal(keyRevision, strconv.AppendInt(nil, h.revision, 10))
	b.SetInternal(keyCount, strconv.AppendInt(nil, h.count, 10))
}

// readHeader reads the header of an open index.
func readHeader(idx bleve.Index) (header, error) {
	var h header
	var err error
	text := func(key []byte) string {
		var v []byte
		if err == nil {
			v, err = idx.GetInternal(key)
		}
		return string(v)
	}
	number := func(key []byte) int64 {
		s := text(key)
		if err != nil {
			return 0
		}
		var n int64
		if n, err = strconv.ParseInt(s, 10, 64); err != nil {
			err = fmt.Errorf("index header %s: %w", key, err)
		}
		return n
	}
	h.documents, h.mapping = text(keyDocuments), text(keyMapping)
	h.revision, h.count = number(keyRevision), number(keyCount)
	return h, err
}
