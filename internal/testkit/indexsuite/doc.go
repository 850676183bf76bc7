// Package indexsuite holds the tests that every search index must pass, whatever
// engine stands behind it.
package indexsuite
