package importers

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/sheet"
)

// Kind is what the rows of a table are; it follows from the table's fields.
type Kind string

// The kinds of tables.
const (
	KindParts    Kind = "parts"            // numbers with what is known of them
	KindFitments Kind = "fitments"         // numbers with vehicles
	KindShelf    Kind = "shelf"            // numbers with bins and quantities
	KindLinks    Kind = "cross-references" // two numbers and what they have to do with one another
	KindEngines  Kind = "engine families"  // engine codes and their families
	KindNothing  Kind = "nothing of use"   // headings, but no number to hang anything on
)

// Table is one table that was recognised in a sheet.
type Table struct {
	Sheet       string
	Kind        Kind
	Title       string // what stands above the headings
	HeadingRows []int
	FirstRow    int  // first row below the headings, 0 where there is none
	LastRow     int  // last row that was looked at
	More        bool // the look ended before the table did
	Columns     []Column

	byField   map[Field][]ref
	titleType part.Type // part type named by title or sheet
	problems  []tableProblem
	hidden    []int
}

// Column is what was recognised of one column.
type Column struct {
	Letter    string
	Heading   string
	Fields    []Field // none where the column is only kept; several for "Model/Year"
	Attribute string  // for a heading that is an attribute's name
	Unit      string  // named in the heading
	Maker     string  // named in the heading: "<maker> No"
	Score     float64 // 0 to 1
	Why       string
	Hidden    bool
}

// ref points to one field of one column.
type ref struct {
	col   int // from 0
	piece int // which of the column's fields
	of    int // how many fields the column has
}

// tableProblem is something that is wrong with a heading.
type tableProblem struct {
	col               int // from 0, -1 for the whole row
	rule, got, wanted string
}

func (t *Table) has(fields ...Field) bool {
	return slices.ContainsFunc(fields, func(f Field) bool { return len(t.byField[f]) > 0 })
}

// index fills byField from the columns.
func (t *Table) index() {
	t.byField = map[Field][]ref{}
	for i, c := range t.Columns {
		for p, f := range c.Fields {
			t.byField[f] = append(t.byField[f], ref{i, p, len(c.Fields)})
		}
	}
}

// kind tells what the rows are by the fields that are there.
func (t *Table) kind() Kind {
	switch {
	case t.linkColumns():
		return KindLinks
	case t.has(EngineCode) && t.has(EngineFamily) && !t.has(firstNumbers...) && !t.has(linkNumbers...):
		return KindEngines
	case !t.has(firstNumbers...):
		return KindNothing
	case t.has(Qty, Bin, CoreQty, Reserved) && !t.has(narrowing...):
		return KindShelf
	case t.has(narrowing...) && !t.has(Qty, Bin, CoreQty, Reserved):
		return KindFitments
	}
	return KindParts
}

// linkColumns tells a cross-reference table: a relation between two numbers, or
// an old and a new number and no other.
func (t *Table) linkColumns() bool {
	_, _, ok := t.linkPair()
	return ok && (t.has(Relation) || !t.has(firstNumbers...))
}

// linkPair gives the two number columns of a cross-reference table: the one
// before the relation word and the one behind it. Old and new number are one
// pair; else any column of own numbers stands before any of other numbers.
func (t *Table) linkPair() (first, other Field, ok bool) {
	if t.has(Replaces) && t.has(SupersededBy) {
		return Replaces, SupersededBy, true
	}
	for _, f := range firstNumbers {
		if !t.has(f) {
			continue
		}
		for _, o := range []Field{OtherNo, SupersededBy, Replaces, Cross} {
			if t.has(o) {
				return f, o, true
			}
		}
	}
	return "", "", false
}

// letter names a column from 0.
func letter(col int) string { return sheet.ColumnName(col + 1) }

// cellName writes a cell's place, column from 0.
func cellName(col, row int) string { return sheet.Address(col+1, row) }
