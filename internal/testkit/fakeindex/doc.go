// Package fakeindex is a search index in memory, for tests of what stands above
// the index. It looks at every document for every question and says in plain code
// what app.Index promises; it passes the same suite as the real one.
package fakeindex
