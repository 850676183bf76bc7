package shelf

import (
	"cmp"
	"slices"
	"strings"

	"crossbin/internal/part"
)

// Kind is what a movement does.
type Kind string

// The movements of the ledger.
const (
	Receive  Kind = "receive"
	Issue    Kind = "issue"
	Hold     Kind = "hold"
	Release  Kind = "release"
	Transfer Kind = "transfer"
	Count    Kind = "count"
	CoreIn   Kind = "core in"
	CoreOut  Kind = "core out"
	Scrap    Kind = "scrap"
	Reverse  Kind = "reverse" // takes back what an undone import posted
)

// Condition is in which state units are.
type Condition string

// Conditions. Free counts only the sellable ones: complete, and tested or new.
const (
	New            Condition = "new"
	Remanufactured Condition = "remanufactured"
	UsedTested     Condition = "used, tested"
	UsedUntested   Condition = "used, not tested"
	Core           Condition = "core"
	Quarantine     Condition = "quarantine"
	Incomplete     Condition = "incomplete"
	NotSaid        Condition = "condition not said"
)

// Sellable reports whether units in this condition may be offered. A condition
// that nobody wrote down is shown with its words and offered, because most
// small lists hold no such column; a core, a suspect or an incomplete unit
// never is.
func (c Condition) Sellable() bool {
	return c == New || c == Remanufactured || c == UsedTested || c == NotSaid
}

// Movement is one posting. OnHand and Held are the changes it makes.
type Movement struct {
	ID        string // sortable
	Key       string // idempotency key: the same key is posted once
	Kind      Kind
	Part      part.Ref
	Printed   string
	Bin       string
	Condition Condition
	OnHand    int
	Held      int
	Counted   int    // for a count: the number seen
	Job       string // for a hold
	Reason    string
	Batch     string // import that posted it, or ""
	Day       string // when the unit was last seen there, 2026-11-02 in the shop's time zone; "" where not said
	At        int64  // UTC milliseconds
	Who       string
	Device    string
}

// Line is what stands in one bin in one condition, summed over the ledger.
type Line struct {
	Part      part.Ref
	Printed   string
	Bin       string
	Condition Condition
	OnHand    int
	Held      int
	Seen      string // day
}

// Free is what may be offered: nothing of cores, suspects and incomplete units,
// never below zero.
func (l Line) Free() int {
	if !l.Condition.Sellable() {
		return 0
	}
	return max(0, l.OnHand-l.Held)
}

// Free sums what may be offered over several lines.
func Free(lines []Line) int {
	sum := 0
	for _, l := range lines {
		sum += l.Free()
	}
	return sum
}

// Sort orders lines for display: what is free first, then bin and condition.
func Sort(lines []Line) {
	slices.SortFunc(lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(b.Free(), a.Free()), strings.Compare(a.Bin, b.Bin),
			strings.Compare(string(a.Condition), string(b.Condition)), a.Part.Compare(b.Part))
	})
}

// Posting is what a sheet says of stock: a quantity counted, a number held, or
// both, in one bin.
type Posting struct {
	Part      part.Ref
	Printed   string
	Bin       string
	Condition Condition
	Quantity  int  // counted on hand
	Counted   bool // false where the row holds no quantity
	Held      int
	Job       string
	Day       string
}
