package sheet

import (
	"context"
	"slices"
)

// rowScan reads the rows of one sheet.
type rowScan struct {
	w     *workbook
	x     *xmlReader
	texts *sharedTexts
	merge mergeFiller
	yield func(Row) error

	last  int // number of the row read last
	cells int // read so far
	row   rowDraft
	cell  xmlCell
	buf   []byte // characters of the cell's <v>
	rich  []byte // characters of the cell's <is>
}

// rows hands out the rows of a sheet. An error of yield comes back as it is.
func (w *workbook) rows(ctx context.Context, s *worksheet, yield func(Row) error) error {
	if w.texts == nil {
		texts, err := w.readTexts(ctx)
		if err != nil {
			return err
		}
		w.texts = texts
	}
	p, err := w.zip.open(ctx, s.part, w.limits.PartBytes)
	if err != nil {
		return err
	}
	defer p.Close()
	scan := &rowScan{w: w, x: newXMLReader(p), texts: w.texts, yield: yield}
	scan.merge = mergeFiller{coming: s.merges, limit: w.limits.MergedFilled}
	merges, err := w.walk(scan.x, &worksheet{}, scan.read)
	if err == nil && !slices.Equal(sortMerges(merges, w.limits), s.merges) {
		err = damage("its merged ranges are not where they were")
	}
	return w.placed(err, s.part, s)
}

// read reads <sheetData> to its end.
func (s *rowScan) read() error {
	for depth := s.x.depth(); ; {
		token, err := s.x.next()
		if err != nil {
			return err
		}
		switch {
		case token == xmlEnd && s.x.depth() < depth:
			return nil
		case token != xmlStart:
			continue
		case string(s.x.name) != "row":
			return damage("<%s> stands among the rows", s.x.name)
		}
		if err := s.readRow(); err != nil {
			return err
		}
	}
}

// readRow reads one <row> and hands it out.
func (s *rowScan) readRow() error {
	row, err := s.startRow()
	if err != nil {
		return err
	}
	s.row.reset()
	s.cell.col = 0
	for depth := s.x.depth(); ; {
		token, err := s.x.next()
		if err != nil {
			return err
		}
		if token == xmlEnd && s.x.depth() < depth {
			break
		}
		if token != xmlStart {
			continue
		}
		switch string(s.x.name) {
		case "c":
			err = s.readCell()
		case "extLst":
			err = s.x.skip()
		default:
			err = damage("<%s> stands among the cells", s.x.name).at(0, s.last)
		}
		if err != nil {
			return err
		}
	}
	if row.Cells, err = s.merge.fill(row.Number, s.row.finish()); err != nil {
		return atCell(err, 0, row.Number)
	}
	return s.yield(row)
}

// startRow reads the row's number, which must go up.
func (s *rowScan) startRow() (Row, error) {
	number := s.last + 1
	if r := s.x.attr("r"); r != nil {
		var ok bool
		if number, ok = parseCount(r); !ok {
			return Row{}, damage("a row behind row %d has the number %.20q", s.last, r)
		}
	}
	if number <= s.last {
		return Row{}, damage("row %d stands behind row %d", number, s.last)
	}
	if number > s.w.limits.Rows {
		return Row{}, overLimit(hintSplit, "row %d lies beyond the %s rows that are read", number, decimal(s.w.limits.Rows))
	}
	s.last = number
	return Row{Number: number, Hidden: s.x.attrTrue("hidden")}, nil
}

// readCell reads one <c>; its column must go up and its row be the row's.
func (s *rowScan) readCell() error {
	c := xmlCell{col: s.cell.col + 1}
	if ref := s.x.attr("r"); ref != nil {
		col, row, ok := parseAddress(ref)
		switch {
		case !ok || row != s.last:
			return damage("a cell has the address %.20q", ref).at(0, s.last)
		case col < c.col:
			return damage("the cell stands behind %s", Address(s.cell.col, row)).at(col, row)
		}
		c.col = col
	}
	s.cell.col = c.col
	if s.cells++; s.cells > s.w.limits.Cells {
		return overLimit(hintSplit, "the sheet has more than %s cells", decimal(s.w.limits.Cells)).at(c.col, s.last)
	}
	if err := s.readCellParts(&c); err != nil {
		return atCell(err, c.col, s.last)
	}
	return nil
}

// atCell puts a cell's address into an error that has no place yet.
func atCell(err error, col, row int) error {
	if u, ok := err.(*UnreadableError); ok {
		return u.at(col, row)
	}
	return err
}

func (s *rowScan) readCellParts(c *xmlCell) error {
	if style := s.x.attr("s"); style != nil {
		var ok bool
		if c.style, ok = parseIndex(style); !ok {
			return damage("the cell's style %.20q is no number", style)
		}
	}
	c.kind = cellKind(s.x.attr("t"))
	s.buf = s.buf[:0]
	for depth := s.x.depth(); ; {
		token, err := s.x.next()
		if err != nil {
			return err
		}
		if token == xmlEnd && s.x.depth() < depth {
			return s.add(c)
		}
		if token != xmlStart {
			continue
		}
		switch string(s.x.name) {
		case "v":
			err = c.once(&c.hasValue)
			if err == nil {
				c.value, err = s.characters()
			}
		case "is":
			err = c.once(&c.hasInline)
			if err == nil {
				s.rich, err = readRichText(s.x, s.rich[:0], s.w.limits)
				c.inline = s.rich
			}
		case "f":
			c.hasFormula = true
			err = s.x.skip()
		default:
			err = s.x.skip()
		}
		if err != nil {
			return err
		}
	}
}

// cellKinds are the values of attribute t; the attribute itself is gone when the
// value has been read.
var cellKinds = [][]byte{[]byte("s"), []byte("n"), []byte("str"), []byte("inlineStr"), []byte("b"), []byte("e"), []byte("d")}

func cellKind(t []byte) []byte {
	for _, known := range cellKinds {
		if string(known) == string(t) {
			return known
		}
	}
	if t == nil {
		return nil
	}
	return []byte("unknown")
}

// characters reads the text of the current element to its end.
func (s *rowScan) characters() ([]byte, error) {
	s.buf = s.buf[:0]
	for depth := s.x.depth(); ; {
		token, err := s.x.next()
		if err != nil {
			return nil, err
		}
		switch {
		case token == xmlText:
			if s.buf = append(s.buf, s.x.text...); len(s.buf) > maxCellBytes(s.w.limits) {
				return nil, longCell(s.w.limits)
			}
		case token == xmlEnd && s.x.depth() < depth:
			return s.buf, nil
		}
	}
}
