package sqlite

import "crossbin/internal/statement"

// table is one of the tables that hold statements. They begin alike (see the
// schema); put and get carry what is the table's own.
type table struct {
	name string
	own  []string // columns after the common ones
	put  func(b *bulk, s *statement.Statement)
	get  func(r *record, at int, s *statement.Statement)
	keys []string // columns that name part keys
	bit  int      // in row_key.kinds; 0 where rows are not found by key
}

// commonColumns stand first in every table of statements.
var commonColumns = []string{"pos", "id", "source", "cell", "type", "key", "maker", "note"}

// tables are all tables of statements, in the order of the kinds.
var tables = []*table{&partTable, &fitmentTable, &linkTable, &valueTable, &engineTable}

// tableOf gives the table that holds a kind; nil for an unknown one.
func tableOf(k statement.Kind) *table {
	switch k {
	case statement.KindPart:
		return &partTable
	case statement.KindFitment, statement.KindNone:
		return &fitmentTable
	case statement.KindLink:
		return &linkTable
	case statement.KindValue:
		return &valueTable
	case statement.KindEngine:
		return &engineTable
	}
	return nil
}

// rowShift is how far a sheet row's number is shifted to make room for the
// numbers of its statements: 65,536 of each kind in one row, four times what
// the longest cell that a spreadsheet allows can name.
const rowShift = 16

func posOf(row int64, n int) int64 { return row<<rowShift | int64(n) }

// posRange gives the positions of all statements in some sheet rows, both ends
// included.
func posRange(first, last int64) (from, to int64) { return first << rowShift, (last+1)<<rowShift - 1 }
