// Package part holds what is known of parts as such: part numbers and their
// keys, part types with their attributes, and how two values of an attribute
// compare. It knows nothing of vehicles, lists or who says what.
package part
