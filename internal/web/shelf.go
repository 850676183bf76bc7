package web

import (
	"fmt"

	"crossbin/internal/shelf"
)

// shelfView is what stands on the shelf of one candidate: one line in large
// words, and the bins one by one.
type shelfView struct {
	Free  []binView
	Words string // where nothing is free
	Lines []string
}

// binView is one bin with units that may be offered.
type binView struct {
	Bin  string
	Free int
}

func newShelf(lines []shelf.Line) shelfView {
	v := shelfView{Words: "Not on the shelf"}
	if len(lines) > 0 {
		v.Words = "None free on the shelf"
	}
	for _, l := range lines {
		if n := l.Free(); n > 0 {
			v.Free = append(v.Free, binView{l.Bin, n})
		}
		v.Lines = append(v.Lines, shelfLine(l))
	}
	return v
}

// shelfLine says all of one bin: how many, in which condition, held, last seen.
func shelfLine(l shelf.Line) string {
	text := fmt.Sprintf("bin %s: %d on hand, %s", l.Bin, l.OnHand, l.Condition)
	if l.Held > 0 {
		text += fmt.Sprintf(", %d held", l.Held)
	}
	if l.Seen != "" {
		text += ", seen " + l.Seen
	}
	return text
}
