package app

import (
	"context"
	"errors"
	"iter"
	"slices"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// documentChunk is how many keys are read from the book at a time for the index.
const documentChunk = 500

// CatchUp brings the index to the book's revision: from the change feed, or
// whole where the index is empty or ahead of the book. The revision stands in
// the same batch as the documents, so being killed on the way does no harm.
func (s *Service) CatchUp(ctx context.Context) error {
	if s.Index == nil {
		return nil
	}
	return s.Book.Read(ctx, func(r Reader) error {
		at := s.Index.Revision()
		switch {
		case at == r.Revision():
			return nil
		case at == 0 || at > r.Revision():
			return s.Index.Rebuild(ctx, s.everything(ctx, r), r.Revision())
		}
		return s.applyChanges(ctx, r, at)
	})
}

func (s *Service) applyChanges(ctx context.Context, r Reader, after int64) error {
	changes, err := r.Changes(ctx, after)
	if err != nil {
		return err
	}
	keys := make([]string, 0, len(changes))
	for _, c := range changes {
		keys = append(keys, c.Key)
	}
	slices.Sort(keys)
	keys = slices.Compact(keys)
	var docs []Document
	for chunk := range slices.Chunk(keys, documentChunk) {
		some, err := documents(ctx, r, chunk)
		if err != nil {
			return err
		}
		docs = append(docs, some...)
	}
	return s.Index.Apply(ctx, docs, r.Revision())
}

// errStop ends a walk over keys whose taker wants no more.
var errStop = errors.New("no more wanted")

// everything gives a document for each key of the book.
func (s *Service) everything(ctx context.Context, r Reader) iter.Seq2[Document, error] {
	return func(yield func(Document, error) bool) {
		var chunk []string
		give := func() error {
			docs, err := documents(ctx, r, chunk)
			chunk = chunk[:0]
			if err != nil {
				return err
			}
			for _, d := range docs {
				if len(d.Numbers) > 0 && !yield(d, nil) {
					return errStop
				}
			}
			return nil
		}
		err := r.Keys(ctx, func(key string) error {
			if chunk = append(chunk, key); len(chunk) < documentChunk {
				return nil
			}
			return give()
		})
		if err == nil {
			err = give()
		}
		if err != nil && !errors.Is(err, errStop) {
			yield(Document{}, err)
		}
	}
}

// documents gives what can be searched of some keys, one document each, in the
// order of the keys; one without numbers for a key that is no longer in the
// book.
func documents(ctx context.Context, r Reader, keys []string) ([]Document, error) {
	if len(keys) == 0 {
		return nil, nil
	}
	at := map[string]*Document{}
	docs := make([]Document, len(keys))
	for i, k := range keys {
		docs[i].Key = k
		at[k] = &docs[i]
	}
	parts, err := r.Parts(ctx, keys)
	if err != nil {
		return nil, err
	}
	links, err := r.Links(ctx, keys)
	if err != nil {
		return nil, err
	}
	fitments, err := r.Fitments(ctx, FitmentQuery{Keys: keys})
	if err != nil {
		return nil, err
	}
	for _, st := range parts {
		at[st.A.Key].addPart(st)
	}
	for _, st := range links {
		at[st.A.Key].addNumber(st.Link.PrintedA)
		at[st.Link.B.Key].addNumber(st.Link.PrintedB)
	}
	for _, st := range fitments {
		if d := at[st.A.Key]; d != nil {
			d.addFitment(st)
		}
	}
	return docs, nil
}

func (d *Document) addPart(st statement.Statement) {
	d.addNumber(st.Part.Printed)
	d.Makers = addTo(d.Makers, st.Part.Maker)
	d.Types = addTo(d.Types, st.Type)
	d.Names = addTo(d.Names, st.Part.Name)
}

// addNumber does nothing for a key that was not asked for.
func (d *Document) addNumber(printed string) {
	if d != nil {
		d.Numbers = addTo(d.Numbers, printed)
	}
}

func (d *Document) addFitment(st statement.Statement) {
	d.Types = addTo(d.Types, st.Type)
	d.Engines = addTo(d.Engines, st.Scope.Text[vehicle.FactEngine])
	d.ModelCodes = addTo(d.ModelCodes, st.Scope.Text[vehicle.FactModelCode])
	d.Models = addTo(d.Models, st.Scope.Text[vehicle.FactModel])
}

// addTo keeps a sorted set of texts.
func addTo(set []string, text string) []string {
	i, have := slices.BinarySearch(set, text)
	if have || text == "" {
		return set
	}
	return slices.Insert(set, i, text)
}
