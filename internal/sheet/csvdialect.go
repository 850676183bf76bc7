package sheet

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// sampleBytes is how much of a text, as UTF-8, is looked at to find out how it is
// written: some thousand rows.
const sampleBytes = 256 << 10

// dialect is how a text is written.
type dialect struct {
	encoding  textEncoding
	delimiter byte // 0: each line is one cell
	lineEnd   byte
	columns   int  // how many fields most records have; 0 where not known
	sepLine   bool // the first line only names the delimiter
	why       string
}

func (d dialect) public() *Dialect {
	return &Dialect{
		Encoding: d.encoding.name, Delimiter: rune(d.delimiter), Quote: quoteMark,
		Why: d.encoding.name + ": " + d.encoding.why + "; " + d.why,
	}
}

// delimiters in the order in which they win where nothing else tells them apart:
// a comma is most often something else.
const delimiters = "\t;|,"

// findDialect looks at the beginning of a text. whole tells whether the sample is
// all of it.
func findDialect(sample []byte, whole bool, limits Limits) dialect {
	d := dialect{lineEnd: '\n'}
	if bytes.IndexByte(sample, '\n') < 0 && bytes.IndexByte(sample, '\r') >= 0 {
		d.lineEnd = '\r'
	}
	if rest, c := cutSepLine(sample, d.lineEnd); c != 0 {
		d.sepLine, d.delimiter = true, c
		f := judge(rest, whole, d, limits)
		d.columns = f.columns()
		d.why = fmt.Sprintf("its first line names the separator %s", inQuotes(c))
		return d
	}
	best := finding{}
	for _, c := range []byte(delimiters) {
		d.delimiter = c
		if f := judge(sample, whole, d, limits); f.eligible() && f.better(best) {
			best = f
		}
	}
	d.delimiter, d.columns = best.delimiter, best.columns()
	d.why = "no separator found, each line is one cell"
	if best.delimiter != 0 {
		d.why = fmt.Sprintf("separator %s: %d of the first %d rows have %d cells", inQuotes(best.delimiter), best.agree, best.records, best.mode)
	}
	return d
}

// cutSepLine recognises a first line like sep=; which some programs write for
// others to read.
func cutSepLine(sample []byte, lineEnd byte) (rest []byte, delimiter byte) {
	line, rest, found := bytes.Cut(sample, []byte{lineEnd})
	line = bytes.Trim(bytes.TrimRight(line, "\r"), `"`)
	if !found || len(line) != len("sep=;") || !strings.EqualFold(string(line[:4]), "sep=") {
		return sample, 0
	}
	if c := line[4]; c < 0x80 && c != quoteMark && (c >= 0x20 || c == '\t') {
		return rest, c
	}
	return sample, 0
}

func inQuotes(c byte) string {
	if c == '\t' {
		return "tab"
	}
	return fmt.Sprintf("%q", rune(c))
}

// finding is what a sample looks like when it is cut at one delimiter.
type finding struct {
	delimiter byte
	records   int // that are not blank
	several   int // of two fields or more
	mode      int // the commonest number of fields from two on
	agree     int // records that have it
	first     int // the first of them, from 0
}

// judge cuts a sample at the delimiter of d.
func judge(sample []byte, whole bool, d dialect, limits Limits) finding {
	f := finding{delimiter: d.delimiter}
	s := newSplitter(bytes.NewReader(sample), d, limits)
	count, first := map[int]int{}, map[int]int{}
	for s.next() == nil {
		if !whole && s.pos == s.end && s.eof && f.records > 0 {
			break // the last record is cut by the end of the sample
		}
		n := s.count
		if n == 1 && len(bytes.TrimSpace(s.text)) == 0 {
			continue
		}
		if n > 1 {
			f.several++
		}
		if count[n]++; count[n] == 1 {
			first[n] = f.records
		}
		f.records++
	}
	for n, times := range count {
		if n > 1 && (times > f.agree || times == f.agree && n > f.mode) {
			f.mode, f.agree, f.first = n, times, first[n]
		}
	}
	return f
}

// eligible tells whether the delimiter separates anything: 3 records of 10, so
// that titles and remarks above a short list do not hide it.
func (f finding) eligible() bool { return f.mode > 1 && f.several*10 >= f.records*3 }

// better compares two delimiters: first by the share of records that agree, in
// tenths; then by which finds its shape earlier in the file, because headings
// hold no decimal commas and no lists within a cell; then by the number of cells.
func (f finding) better(than finding) bool {
	if than.delimiter == 0 {
		return true
	}
	a, b := f.agree*10/f.records, than.agree*10/than.records
	switch {
	case a != b:
		return a > b
	case f.first != than.first:
		return f.first < than.first
	}
	return f.mode > than.mode
}

// columns is the number of fields to expect, 0 where it would not help to know.
func (f finding) columns() int {
	if f.mode > 1024 || f.agree*2 < f.records {
		return 0
	}
	return f.mode
}

// readSample decodes the beginning of a text.
func readSample(r io.Reader) (sample []byte, whole bool, err error) {
	sample = make([]byte, sampleBytes)
	n, err := io.ReadFull(r, sample)
	if err == io.EOF || err == io.ErrUnexpectedEOF {
		return sample[:n], true, nil
	}
	return sample[:n], false, err
}
