package importers

import (
	"crossbin/internal/sheet"
)

// rowAs is what a row is in its sheet.
type rowAs int

const (
	asData rowAs = iota
	asBlank
	asTitle
	asHeading
	asRepeat
	asStray // data in a sheet where no headings were found
)

// seenRow is a row with what it is and the table that it belongs to.
type seenRow struct {
	row   sheet.Row
	as    rowAs
	table *Table
	first bool // the first stray or heading row: it carries the problems of the sheet or table
}

// sheetState takes the rows of one sheet as they come. Rows are held back until
// headings are found and the columns are settled, at most lookAhead of them.
type sheetState struct {
	info   sheet.SheetInfo
	find   *recogniser
	emit   func(seenRow) error
	table  *Table // nil while looking for one
	held   []sheet.Row
	strays bool
}

// push takes the next row.
func (s *sheetState) push(r sheet.Row) error {
	if s.table != nil {
		return s.inTable(r)
	}
	s.held = append(s.held, r)
	if len(s.held) < lookAhead {
		return nil
	}
	return s.flush()
}

// end takes the end of the sheet.
func (s *sheetState) end() error {
	for len(s.held) > 0 {
		if err := s.flush(); err != nil {
			return err
		}
	}
	return nil
}

// flush settles the rows held back: titles, headings, and the rows of the table
// below them.
func (s *sheetState) flush() error {
	held := s.held
	s.held = nil
	at := s.find.findHeading(held)
	if at < 0 {
		return s.stray(held)
	}
	t, n := s.find.table(s.info, held, at)
	for i, r := range held[:at+n] {
		seen := seenRow{row: r, as: asHeading, table: t, first: i == at}
		switch {
		case i < at && isBlank(r):
			seen.as = asBlank
		case i < at:
			seen.as = asTitle
		}
		if err := s.emit(seen); err != nil {
			return err
		}
	}
	s.table = t
	for _, r := range held[at+n:] {
		if err := s.push(r); err != nil {
			return err
		}
	}
	return nil
}

// inTable hands out a row below the headings; another row of headings begins
// another table.
func (s *sheetState) inTable(r sheet.Row) error {
	seen := seenRow{row: r, table: s.table}
	switch {
	case isBlank(r):
		seen.as = asBlank
	case s.table.repeats(r):
		seen.as = asRepeat
	case s.find.beginsAgain(r):
		s.table = nil
		return s.push(r)
	}
	s.table.LastRow = max(s.table.LastRow, r.Number)
	return s.emit(seen)
}

// stray hands out rows of a sheet without headings.
func (s *sheetState) stray(rows []sheet.Row) error {
	for _, r := range rows {
		seen := seenRow{row: r, as: asStray}
		if isBlank(r) {
			seen.as = asBlank
		} else {
			seen.first, s.strays = !s.strays, true
		}
		if err := s.emit(seen); err != nil {
			return err
		}
	}
	return nil
}
