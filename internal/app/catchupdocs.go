package app

import (
	"context"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// documents gives what can be searched of some keys, one document each, in the
// order of the keys; one without numbers for a key that is no longer in the book.
func documents(ctx context.Context, r Reader, keys []string) ([]Document, error) {
	if len(keys) == 0 {
		return nil, nil
	}
	w := documentWriter{reader: r, docs: make([]Document, len(keys)), at: map[string]*Document{}, known: map[string]bool{}}
	for i, k := range keys {
		w.docs[i].Key = k
		w.at[k] = &w.docs[i]
	}
	for _, step := range []func(context.Context, []string) error{w.parts, w.fitments} {
		if err := step(ctx, keys); err != nil {
			return nil, err
		}
	}
	// What no row describes is called as a link calls it, else as the shelf does.
	for _, step := range []func(context.Context, []string) error{w.links, w.stock, w.values} {
		bare := w.unnumbered()
		if len(bare) == 0 {
			break
		}
		if err := step(ctx, bare); err != nil {
			return nil, err
		}
	}
	for _, k := range w.unnumbered() {
		if w.known[k] { // in the book, though nobody printed it: its key is all there is
			w.at[k].Numbers = []string{k}
		}
	}
	return w.docs, nil
}

// documentWriter fills documents from what the book says of their keys.
type documentWriter struct {
	reader Reader
	docs   []Document
	at     map[string]*Document
	known  map[string]bool // keys without a part statement that the book names
}

// unnumbered lists the keys without a printed number, in order.
func (w *documentWriter) unnumbered() (keys []string) {
	for _, d := range w.docs {
		if len(d.Numbers) == 0 {
			keys = append(keys, d.Key)
		}
	}
	return keys
}

func (w *documentWriter) parts(ctx context.Context, keys []string) error {
	rows, err := w.reader.Parts(ctx, keys)
	for _, st := range rows {
		d := w.at[st.A.Key]
		d.Numbers = addTo(d.Numbers, st.Part.Printed)
		d.Makers = addTo(d.Makers, st.Part.Maker)
		d.Types = addTo(d.Types, st.Type)
		d.Names = addTo(d.Names, st.Part.Name)
	}
	return err
}

func (w *documentWriter) fitments(ctx context.Context, keys []string) error {
	rows, err := w.reader.Fitments(ctx, FitmentQuery{Keys: keys})
	for _, st := range rows {
		d := w.at[st.A.Key]
		if d == nil {
			continue
		}
		w.known[d.Key] = true
		d.Types = addTo(d.Types, st.Type)
		d.Engines = addTo(d.Engines, st.Scope.Text[vehicle.FactEngine])
		d.ModelCodes = addTo(d.ModelCodes, st.Scope.Text[vehicle.FactModelCode])
		d.Models = addTo(d.Models, st.Scope.Text[vehicle.FactModel])
	}
	return err
}

// links takes the numbers of asked keys from the ends of links. A link reaches
// keys that were not asked for, and those that have a number of their own.
func (w *documentWriter) links(ctx context.Context, keys []string) error {
	rows, err := w.reader.Links(ctx, keys)
	asked := map[string]bool{}
	for _, k := range keys {
		asked[k] = true
	}
	end := func(ref part.Ref, printed string) {
		if asked[ref.Key] {
			w.name(ref, printed)
		}
	}
	for _, st := range rows {
		end(st.A, st.Link.PrintedA)
		end(st.Link.B, st.Link.PrintedB)
	}
	return err
}

func (w *documentWriter) stock(ctx context.Context, keys []string) error {
	lines, err := w.reader.Stock(ctx, keys)
	for _, l := range lines {
		w.name(l.Part, l.Printed)
	}
	return err
}

// values finds keys that are only measured.
func (w *documentWriter) values(ctx context.Context, keys []string) error {
	rows, err := w.reader.Values(ctx, keys)
	for _, st := range rows {
		w.name(st.A, "")
		w.at[st.A.Key].Types = addTo(w.at[st.A.Key].Types, st.Type)
	}
	return err
}

// name gives a document the number and maker by which something other than a
// part statement calls it.
func (w *documentWriter) name(ref part.Ref, printed string) {
	d := w.at[ref.Key]
	w.known[ref.Key] = true
	d.Numbers = addTo(d.Numbers, printed)
	d.Makers = addTo(d.Makers, ref.Maker)
}

// addTo keeps a sorted set of texts.
func addTo(set []string, text string) []string {
	i, have := slices.BinarySearch(set, text)
	if have || text == "" {
		return set
	}
	return slices.Insert(set, i, text)
}
