package sheet

import (
	"bytes"
	"strconv"
)

// xmlCell is one <c> of a sheet as it is read.
type xmlCell struct {
	col        int
	style      int
	kind       []byte // attribute t
	value      []byte // characters of <v>
	inline     []byte // characters of <is>
	hasValue   bool
	hasInline  bool
	hasFormula bool
}

// once notes that a part of the cell was met; a second one would hide the first.
func (c *xmlCell) once(seen *bool) error {
	if *seen {
		return damage("the cell holds two values")
	}
	*seen = true
	return nil
}

// span is a piece of the row's text.
type span struct{ from, to int }

// draft is a cell whose texts are still pieces of the row's text, so that a row
// costs one allocation for all its texts.
type draft struct {
	Cell
	raw, text span
	shared    bool // Raw and Text are set already
}

// rowDraft is the row that is being read.
type rowDraft struct {
	cells []draft
	text  []byte
}

func (d *rowDraft) reset() { d.cells, d.text = d.cells[:0], d.text[:0] }

// put appends characters to the row's text.
func (d *rowDraft) put(b []byte) span {
	from := len(d.text)
	d.text = append(d.text, b...)
	return span{from, len(d.text)}
}

// since is what was appended to the row's text from a point on.
func (d *rowDraft) since(from int) span { return span{from, len(d.text)} }

// finish makes the row's cells, without the blank ones at its end.
func (d *rowDraft) finish() []Cell {
	n := len(d.cells)
	for n > 0 && d.cells[n-1].Type == Blank {
		n--
	}
	if n == 0 {
		return nil
	}
	text := string(d.text)
	cells := make([]Cell, n)
	for i := range cells {
		c := &d.cells[i]
		if !c.shared {
			c.Raw, c.Text = text[c.raw.from:c.raw.to], text[c.text.from:c.text.to]
		}
		cells[i] = c.Cell
	}
	return cells
}

// add turns what stands in the file into a cell of the row. Blank cells are kept
// only as far as something follows them.
func (s *rowScan) add(c *xmlCell) error {
	cell, err := s.convert(c)
	if err != nil {
		return err
	}
	if cell.Type == Blank && !c.hasFormula {
		return nil
	}
	if c.col > s.w.limits.Columns {
		if cell.Type == Blank {
			return nil
		}
		return overLimit("clear what stands beyond column "+ColumnName(s.w.limits.Columns)+" and bring it again",
			"more than %d columns are used", s.w.limits.Columns)
	}
	for len(s.row.cells) < c.col-1 {
		s.row.cells = append(s.row.cells, draft{})
	}
	s.row.cells = append(s.row.cells, cell)
	return nil
}

// convert reads a cell's value by its type (ECMA-376 part 1, 18.18.11).
func (s *rowScan) convert(c *xmlCell) (draft, error) {
	d := draft{Cell: Cell{Formula: c.hasFormula}}
	format, err := s.format(c.style)
	if err != nil {
		return d, err
	}
	d.Format = format.code
	value := c.value
	if c.hasInline && (string(c.kind) == "inlineStr" || !c.hasValue) {
		value, c.kind = c.inline, cellKind([]byte("inlineStr"))
	}
	if len(value) == 0 {
		if c.hasFormula && !(c.hasValue && string(c.kind) == "str") {
			d.Type = FormulaNoValue
		}
		return d, nil
	}
	switch string(c.kind) {
	case "s":
		return d, s.sharedText(&d, value)
	case "b":
		s.boolean(&d, value)
	case "e":
		s.asText(&d, value, ErrorValue)
	case "d":
		s.isoDate(&d, value, format)
	case "", "n":
		s.number(&d, value, format)
	case "str":
		if value, err = unescapeFrom(value, 0, s.w.limits); err != nil {
			return d, err
		}
		s.asText(&d, value, Text)
	default:
		s.asText(&d, value, Text)
	}
	return d, nil
}

// format finds a style's number format. A style that is not there could hide
// that a number is a date.
func (s *rowScan) format(style int) (*numberFormat, error) {
	if style < len(s.w.formats) {
		return &s.w.formats[style], nil
	}
	if style == 0 {
		return &numberFormat{}, nil
	}
	return nil, damage("the cell has style %d, which the workbook does not hold", style)
}

func (s *rowScan) asText(d *draft, value []byte, as CellType) {
	d.Type = as
	d.raw = s.row.put(value)
	d.text = d.raw
}

func (s *rowScan) sharedText(d *draft, value []byte) error {
	i, ok := parseIndex(bytes.TrimSpace(value))
	if ok {
		d.Raw, ok = s.texts.get(i)
	}
	if !ok {
		return damage("the cell refers to text %.20q, which the workbook does not hold", value)
	}
	d.shared = true
	if d.Text = d.Raw; d.Text != "" {
		d.Type = Text
	}
	return nil
}

func (s *rowScan) boolean(d *draft, value []byte) {
	s.asText(d, value, Bool)
	switch string(value) {
	case "1", "true":
		d.text = s.row.put([]byte("TRUE"))
	case "0", "false":
		d.text = s.row.put([]byte("FALSE"))
	}
}

func (s *rowScan) isoDate(d *draft, value []byte, f *numberFormat) {
	s.asText(d, value, Text)
	if t, ok := isoDate(string(value)); ok {
		d.Type, d.Date = Date, t
		shown := plainDate(t)
		if len(f.pattern) > 0 {
			shown = showDate(t, 0, f)
		}
		d.text = s.row.put([]byte(shown))
	}
}

// number reads a number, which a format can make a date or a padded number. What
// is no number after all is kept as text.
func (s *rowScan) number(d *draft, value []byte, f *numberFormat) {
	s.asText(d, value, Text)
	from := len(s.row.text)
	var ok bool
	if s.row.text, ok = appendNumber(s.row.text, value); !ok {
		return
	}
	d.Type, d.text = Number, s.row.since(from)
	if bytes.Equal(s.row.text[from:], value) {
		s.row.text, d.text = s.row.text[:from], d.raw
	}
	switch {
	case f.date:
		s.serialDate(d, value, f)
	case f.pad != nil:
		digits := s.row.text[d.text.from:d.text.to]
		if allDigits(digits) {
			from = len(s.row.text)
			s.row.text = appendPadded(s.row.text, digits, f.pad)
			d.text = s.row.since(from)
		}
	}
}

func (s *rowScan) serialDate(d *draft, value []byte, f *numberFormat) {
	serial, err := strconv.ParseFloat(string(value), 64)
	if err != nil {
		return
	}
	if t, ok := serialTime(serial, s.w.date1904); ok {
		d.Type, d.Date = Date, t
		d.text = s.row.put([]byte(showDate(t, serial, f)))
	}
}
