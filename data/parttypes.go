package data

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

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
	var docs []typeDoc
	var errs []error
	for _, name := range names {
		text, err := fs.ReadFile(from, name)
		if err != nil {
			return nil, err
		}
		doc, err := readType(name, text)
		errs = append(errs, err)
		docs = append(docs, doc)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return newTypes(docs)
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
