// Package statement holds what somebody says: fitments, links between part
// numbers, measured values, names of parts and engine families, each with its
// source and its place in a sheet, and how far a source is to be trusted.
package statement
