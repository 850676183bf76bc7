package data

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"crossbin/internal/part"
)

// Types is the set of part types that the program knows.
type Types struct {
	all   []part.Type
	words []typeWord
	heads map[int][]string // type -> words that, standing behind its name, speak of another thing
}

// PartTypes reads the part types that the program carries. Every mistake in
// them is listed with its file and line.
func PartTypes() (*Types, error) { return loadTypes(files) }

// loadTypes reads parttypes/*.yaml.
func loadTypes(from fs.FS) (*Types, error) {
	names, err := fs.Glob(from, "parttypes/*.yaml")
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, errors.New("parttypes: no part types")
	}
	docs, errs := readTypes(from, names)
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return newTypes(docs)
}

// readTypes reads the files side by side: together they take as long as all
// the rest of a short command.
func readTypes(from fs.FS, names []string) ([]typeDoc, []error) {
	docs, errs := make([]typeDoc, len(names)), make([]error, len(names))
	var wait sync.WaitGroup
	for i, name := range names {
		wait.Go(func() {
			text, err := fs.ReadFile(from, name)
			if err == nil {
				docs[i], err = readType(name, text)
			}
			errs[i] = err
		})
	}
	wait.Wait()
	return docs, errs
}

func newTypes(docs []typeDoc) (*Types, error) {
	t := &Types{heads: map[int][]string{}}
	slices.SortFunc(docs, func(a, b typeDoc) int { return strings.Compare(a.Name.Text, b.Name.Text) })
	for i, doc := range docs {
		t.all = append(t.all, doc.partType())
		t.heads[i] = foldAll(doc.NotWith)
	}
	return t, t.index(docs)
}

// All gives every part type, by name.
func (t *Types) All() []part.Type { return slices.Clone(t.all) }

// ByName finds a part type by its name.
func (t *Types) ByName(name string) (part.Type, bool) {
	for _, p := range t.all {
		if p.Name == name {
			return p, true
		}
	}
	return part.Type{}, false
}

// fileName is the name of the file that a type must stand in.
func fileName(name string) string {
	return path.Join("parttypes", strings.ReplaceAll(name, " ", "-")+".yaml")
}
