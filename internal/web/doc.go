// Package web is the pages, one file a page, with its struct and its template:
// ask what fits and read the answer, find, lists. Every question is a GET form,
// so that an answer has an address; no page needs a script, a pointer or a
// colour. A part is a paper tag, and the shape of the tag is the verdict: whole,
// a clipped corner with the change written on it, a window to look through,
// turned over with the reason on its back, a blank outline. Templates see the
// structs of this package only, never a row of the book, and render into memory
// before anything is sent.
package web
