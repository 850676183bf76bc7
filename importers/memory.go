package importers

import (
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
)

// cacheSize bounds each of the memories of a Reading: the texts of lists recur,
// and where they do not, remembering them is of no use.
const cacheSize = 20_000

// cache remembers what a pure function said of a text.
type cache[V any] map[string]V

func (c cache[V]) get(text string, compute func() V) V {
	v, ok := c[text]
	if !ok {
		v = compute()
		if len(c) < cacheSize {
			c[text] = v
		}
	}
	return v
}

// memory holds what was found out about texts of a file. It changes nothing
// but the time that reading takes.
type memory struct {
	types   cache[typeAnswer]
	clauses map[Field]cache[clauses]
	blank   cache[mark]
	values  map[valueKey]valueRead
	makers  cache[string]
}

// valueKey is a text and what it is to be read as.
type valueKey struct {
	typ, attribute string
	field          Field
	unit, text     string
}

type typeAnswer struct {
	typ part.Type
	ok  bool
}

// mark is what a short text means wherever it stands.
type mark struct{ blank, above, failed bool }

func newMemory() *memory {
	return &memory{types: cache[typeAnswer]{}, clauses: map[Field]cache[clauses]{}, blank: cache[mark]{},
		values: map[valueKey]valueRead{}, makers: cache[string]{}}
}

// typeOf is the part type that a text names.
func (m *memory) typeOf(types app.PartTypes, text string) (part.Type, bool) {
	a := m.types.get(text, func() typeAnswer {
		t, ok := types.ByWord(text)
		return typeAnswer{t, ok}
	})
	return a.typ, a.ok
}

// maker folds a maker's name.
func (m *memory) maker(name string) string {
	if name == "" {
		return ""
	}
	return m.makers.get(name, func() string { return part.FoldMaker(name) })
}

// key is part.Key, quicker for the commonest form of a number.
func (m *memory) key(number string) (key string, odd []rune, err error) {
	if isPlainNumber(number) {
		if key := strings.ReplaceAll(number, "-", ""); key != "" {
			return key, nil, nil
		}
	}
	return part.Key(number)
}
