// Package query is the language of the search box: it parses what a person
// types into terms, prints them back, and says what a term looks like. It knows
// nothing of the engine that answers; an index of any kind asks a term for its
// key, code and words and compares them with those of its documents, folded by
// the same functions.
//
// What can be typed:
//
//	98760-50090          a part number, in any spelling, from its third character on
//	A 987 654 08 02      a number with blanks
//	98?60-5009*          a partly readable number: ? one character, * any run
//	alternator 12V       words, all of which must be found
//	"water pump"         words that belong together and are no number
//	type:alternator  maker:ACME  engine:ZQ20  model:KV31
//
// A prefix that is none of these four belongs to the text.
package query
