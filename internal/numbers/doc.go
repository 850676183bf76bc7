// Package numbers keeps the keys of all part numbers of a book in memory, to
// find one from a whole, partly legible or misread number. An index is built
// once from the keys of one revision of the book, never changes and is thrown
// away when the book has moved on.
//
// Keys lie packed without gaps, those of one length together and in order, so
// that a key needs its characters and no pointer. A scan for half-legible
// numbers asks cheap questions first: a mask of 64 bits a key (which characters
// it holds, and how many), then a bit-parallel automaton, then the error model
// itself. The first two only ever leave out what the third would refuse, so the
// result is that of scoring every key.
package numbers
