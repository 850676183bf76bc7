// Package fulltext is the search index on bleve: one document per part key,
// found by number, code, part type and words. The index is disposable. It holds
// nothing that the book does not hold, says which revision of the book it has
// caught up with, and is thrown away and built anew when anything about it is
// in doubt.
//
// A folder of an index holds one folder per generation and a file that names
// the current one; a rebuild writes the next generation beside it and then moves
// the name, so that a crash leaves the one or the other.
package fulltext
