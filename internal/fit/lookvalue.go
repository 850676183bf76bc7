package fit

import (
	"slices"

	"crossbin/internal/part"
)

// valueTable holds the readings of each class of numbers together, so that the
// looks need not gather a class once an attribute.
type valueTable struct {
	w       *world
	members map[part.Ref][]part.Ref // root -> its class
	byClass map[part.Ref]readings
}

// readings is what is known of one class: a table by attribute for each number
// that has any.
type readings []map[string][]reading

func (w *world) newValueTable() *valueTable {
	t := &valueTable{w: w, members: map[part.Ref][]part.Ref{}, byClass: map[part.Ref]readings{}}
	for n := range w.classes.parent {
		root := w.classes.find(n)
		t.members[root] = append(t.members[root], n)
	}
	for _, class := range t.members {
		slices.SortFunc(class, part.Ref.Compare)
	}
	return t
}

// of gives the readings of a part.
func (t *valueTable) of(n part.Ref) readings {
	root := t.w.classes.find(n)
	r, ok := t.byClass[root]
	if ok {
		return r
	}
	class := t.members[root]
	if len(class) == 0 {
		class = []part.Ref{n}
	}
	for _, m := range class {
		if values := t.w.values[m]; values != nil {
			r = append(r, values)
		}
	}
	t.byClass[root] = r
	return r
}

// clear gives a value that can be held against another, see world.clear.
func (rs readings) clear(attribute string) (v part.Value, known bool) {
	for _, values := range rs {
		list := values[attribute]
		for i := range list {
			switch {
			case !known:
				v, known = list[i].value, true
			case !v.Same(list[i].value):
				return part.Value{}, false // disputed
			}
		}
	}
	return v, known && v.Doubt == ""
}
