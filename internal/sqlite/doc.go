// Package sqlite keeps the book of one shop in a folder: one SQLite file, and
// beside it the locks of the processes that use it.
//
// A list is kept in versions, and a statement counts while
// since <= current(list) < until. An import writes under a version that nobody
// reads; moving current(list) is its commit. So a killed import changes nothing,
// and the next Sweep removes what it left.
//
// One connection writes, in immediate transactions; several read, each question
// on one snapshot. Errors that leave the package are *app.Error with a code.
package sqlite
