// Package booksuite is the suite that any book must pass: what every
// implementation of app.Book promises, seen from outside.
package booksuite

import (
	"context"
	"testing"

	"crossbin/internal/app"
)

// Reopener is a book that lies on a disk: Reopen ends it as a kill would and
// opens it anew.
type Reopener interface {
	Reopen(t *testing.T) app.Book
}

// Run runs the suite. open gives a new, empty book of the shop "main" each time;
// where it is a Reopener, what a killed import leaves is tested too.
func Run(t *testing.T, open func(t *testing.T) app.Book) {
	tests := []struct {
		name string
		test func(*desk)
	}{
		{"an import is read only after its commit", testVisibility},
		{"a question reads one snapshot", testSnapshot},
		{"the same file again changes nothing", testSameAgain},
		{"sorted rows change nothing but places", testSorted},
		{"a changed row is one added and one dropped", testChangedRow},
		{"a row that says less is noticed", testSameRowSaysLess},
		{"a row that reads otherwise is shown as it reads now", testSameButOtherText},
		{"an abandoned import leaves nothing", testAbandon},
		{"one import at a time", testOneImport},
		{"a commit can be repeated", testCommitTwice},
		{"calls at the wrong time are refused", testWrongTime},
		{"input that makes no sense is refused", testRefused},
		{"undo steps back, twice when asked twice", testUndo},
		{"undo refuses what is not newest", testUndoRefused},
		{"after an undo the version number is not used again", testVersionsOnce},
		{"two lists do not touch one another", testTwoLists},
		{"every kind comes back as it went in", testRoundTrip},
		{"links are found from either side", testLinks},
		{"fitments are found by every way in", testFitments},
		{"engine families", testEngines},
		{"sources change with their version", testSources},
		{"row hashes recur", testRecurring},
		{"the change feed names what changed", testChanges},
		{"all keys in order", testKeys},
		{"long lists of keys", testManyKeys},
		{"stock is the sum of the ledger", testStock},
		{"what is on the shelf", testOnShelf},
		{"the same count again posts nothing", testStockAgain},
		{"a count is held against the ledger", testCountAgainstLedger},
		{"what a list no longer names is counted empty", testGone},
		{"what others booked since stays", testGoneButOthers},
		{"holds follow the list", testHolds},
		{"a row without a quantity counts nothing", testNotCounted},
		{"undo reverses what was posted", testUndoStock},
		{"undo leaves bins with later movements", testUndoLeaves},
		{"readers during an import see the old revision", testConcurrent},
		{"a cancelled question ends", testCancelled},
		{"any sequence of imports and undos", testModel},
		{"a killed import leaves nothing", testKilled},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { tt.test(newDesk(t, open)) })
	}
}

func background() context.Context { return context.Background() }
