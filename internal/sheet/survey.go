package sheet

import "context"

// survey unpacks a sheet once: it notes hidden columns and merged ranges (which
// stand behind the rows), whether any cell holds something, and proves that the
// part can be unpacked whole. The rows are passed over, not read.
func (w *workbook) survey(ctx context.Context, s *worksheet) error {
	p, err := w.zip.open(ctx, s.part, w.limits.PartBytes)
	if err != nil {
		return err
	}
	defer p.Close()
	x := newXMLReader(p)
	s.blank = true
	seen, err := w.walk(x, s, func() error {
		var err error
		if s.blank, err = blankRows(x); err == nil && !s.blank {
			if err = x.leap(2); err == nil {
				_, err = x.next()
			}
		}
		return err
	})
	if err != nil {
		return err
	}
	s.merges = sortMerges(seen, w.limits)
	if w.merges += len(s.merges); w.merges > w.limits.Merges {
		return tooManyMerges(w.limits)
	}
	return nil
}

// walk reads a sheet from the first byte to the last and calls rows when it
// stands behind the start of <sheetData>; rows must read to its end. It gives
// the merged ranges as they stand in the file.
func (w *workbook) walk(x *xmlReader, s *worksheet, rows func() error) ([]mergedRange, error) {
	var merges []mergedRange
	seen := false
	for {
		token, err := x.next()
		if err != nil {
			return nil, err
		}
		switch {
		case token == xmlDone && !seen:
			return nil, damage("the sheet has no rows part")
		case token == xmlDone:
			return merges, nil
		case token != xmlStart:
			continue
		}
		switch name := string(x.name); {
		case x.depth() == 1 && name != "worksheet":
			return nil, damage("the sheet begins with <%s> where <worksheet> is awaited", name)
		case x.depth() == 1:
		case name == "sheetData" && seen:
			return nil, damage("the sheet has two rows parts")
		case name == "sheetData":
			seen = true
			err = rows()
		case name == "cols" && !seen:
			s.hiddenCols, err = readHiddenColumns(x, w.limits.Columns)
		case name == "mergeCells":
			merges, err = w.readMerges(x, merges)
		default:
			err = x.skip()
		}
		if err != nil {
			return nil, err
		}
	}
}

// blankRows reads on inside <sheetData> to the first cell that holds something,
// or to the end; true means that none does.
func blankRows(x *xmlReader) (bool, error) {
	depth := x.depth()
	inValue := false
	for {
		token, err := x.next()
		switch {
		case err != nil:
			return false, err
		case token == xmlEnd && x.depth() < depth:
			return true, nil
		case token == xmlStart && string(x.name) == "f", token == xmlText && inValue && len(x.text) > 0:
			return false, nil
		}
		inValue = token == xmlStart && (string(x.name) == "v" || string(x.name) == "t")
	}
}

// readHiddenColumns reads <cols>: which of the columns up to last are hidden.
func readHiddenColumns(x *xmlReader, last int) ([]int, error) {
	hidden := make([]bool, last+1)
	for depth := x.depth(); ; {
		token, err := x.next()
		if err != nil {
			return nil, err
		}
		if token == xmlEnd && x.depth() < depth {
			break
		}
		if token != xmlStart || string(x.name) != "col" || !x.attrTrue("hidden") {
			continue
		}
		from, ok1 := parseCount(x.attr("min"))
		to, ok2 := parseCount(x.attr("max"))
		if !ok1 || !ok2 {
			return nil, damage("a column's numbers cannot be read")
		}
		for col := from; col <= min(to, last); col++ {
			hidden[col] = true
		}
	}
	var cols []int
	for col, is := range hidden {
		if is {
			cols = append(cols, col)
		}
	}
	return cols, nil
}
