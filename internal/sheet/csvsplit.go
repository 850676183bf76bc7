package sheet

import (
	"bytes"
	"errors"
	"io"
)

// quoteMark is the one character that csv files quote with.
const quoteMark = '"'

// splitter cuts UTF-8 text into records of fields. It follows RFC 4180 where the
// text does, and loses no line where it does not: a quote that is never closed
// properly is taken as a character (12" hose), not as the beginning of a cell
// that swallows the lines behind it.
type splitter struct {
	r        io.Reader
	buf      []byte
	pos, end int
	eof      bool

	delimiter byte // 0: each line is one field
	lineEnd   byte // '\n', or '\r' where the text has no '\n'
	expect    int  // how many fields most records have, 0 where not known
	window    int  // bytes within which a quoted field of several lines must be closed
	maxLine   int
	keep      int // how many fields are kept; beyond them only count and beyond

	fields []field
	text   []byte // of the fields, end to end
	count  int    // all fields of the record
	beyond bool   // a field that was not kept holds something

	// The looks ahead are bounded for each record, so that a text of nothing but
	// quotes takes no more than a few passes.
	several bool // a field of the record went over several lines
	noLoose bool // no quote in the rest of the line closes loosely
	guesses int  // how often the number of fields was asked to decide
}

// maxGuesses is how many broken fields of one record are judged by the number of
// fields behind them; a record with more is beyond repair.
const maxGuesses = 3

// field is a piece of the record's text.
type field = span

var errLongLine = errors.New("a line is too long")

// newSplitter reads text from r. Buffers grow with the longest line.
func newSplitter(r io.Reader, d dialect, limits Limits) *splitter {
	return &splitter{
		r: r, buf: make([]byte, 64<<10), delimiter: d.delimiter, lineEnd: d.lineEnd, expect: d.columns,
		window: 4*limits.CellChars + 2, maxLine: limits.LineBytes, keep: limits.Columns,
	}
}

// more reads further bytes behind those in the buffer.
func (s *splitter) more() error {
	if s.pos > 0 {
		copy(s.buf, s.buf[s.pos:s.end])
		s.end -= s.pos
		s.pos = 0
	}
	if s.end == len(s.buf) {
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	for range 100 {
		n, err := s.r.Read(s.buf[s.end:])
		s.end += n
		if err == io.EOF {
			s.eof = true
			return nil
		}
		if err != nil || n > 0 {
			return err
		}
	}
	return io.ErrNoProgress
}

// line gives the length of the line that begins at from behind pos, without its
// line end, and the distance to the next line.
func (s *splitter) line(from int) (length, next int, err error) {
	for seen := from; ; {
		if i := bytes.IndexByte(s.buf[s.pos+seen:s.end], s.lineEnd); i >= 0 {
			length = seen + i
			next = length + 1
			break
		}
		if seen = s.end - s.pos; seen > s.maxLine {
			return 0, 0, errLongLine
		}
		if s.eof {
			length, next = seen, seen
			break
		}
		if err := s.more(); err != nil {
			return 0, 0, err
		}
	}
	for s.lineEnd == '\n' && length > from && s.buf[s.pos+length-1] == '\r' {
		length--
	}
	return length, next, nil
}

// next cuts the next record. It gives io.EOF behind the last one. The fields
// stand in s.fields and s.text until the next call.
func (s *splitter) next() error {
	s.fields, s.text = s.fields[:0], s.text[:0]
	s.count, s.beyond = 0, false
	s.several, s.noLoose, s.guesses = false, false, 0
	for s.pos == s.end && !s.eof {
		if err := s.more(); err != nil {
			return err
		}
	}
	if s.pos == s.end {
		return io.EOF
	}
	length, next, err := s.line(0)
	if err != nil {
		return err
	}
	for at := 0; ; {
		at, length, next, err = s.field(at, length, next)
		if err != nil {
			return err
		}
		if at > length {
			break
		}
	}
	s.pos += next
	return nil
}

// field cuts the field that begins at the given distance from pos in a line of
// the given length. It gives where the next field begins, which is beyond the
// line if this was the last, and the line that it ended in.
func (s *splitter) field(at, length, next int) (int, int, int, error) {
	if s.delimiter != 0 && at < length && s.buf[s.pos+at] == quoteMark {
		end, err := s.closing(at + 1)
		if err != nil {
			return 0, 0, 0, err
		}
		if end > length {
			lineLength, lineNext, err := s.line(end)
			if err != nil {
				return 0, 0, 0, err
			}
			if s.isStray(lineLength) {
				end = 0
			} else {
				length, next, s.several, s.noLoose = lineLength, lineNext, true, false
			}
		}
		if end == 0 {
			end = s.guessClosing(at, length)
		}
		if end > 0 {
			s.addQuoted(s.buf[s.pos+at+1 : s.pos+end])
			return s.behind(end+1, length), length, next, nil
		}
	}
	b := s.buf[s.pos+at : s.pos+length]
	n := -1
	if s.delimiter != 0 {
		n = bytes.IndexByte(b, s.delimiter)
	}
	if n < 0 {
		n = len(b)
	}
	s.add(b[:n])
	return at + n + 1, length, next, nil
}

// behind gives the beginning of the next field after a closing quote, over
// blanks and the delimiter.
func (s *splitter) behind(at, length int) int {
	for at < length && s.buf[s.pos+at] != s.delimiter {
		at++
	}
	return at + 1
}

// add adds a field as it stands.
func (s *splitter) add(b []byte) {
	if s.room(b) {
		s.text = append(s.text, b...)
		s.fields[len(s.fields)-1].to = len(s.text)
	}
}

// addQuoted adds the inside of quotes; a doubled quote is one.
func (s *splitter) addQuoted(b []byte) {
	if !s.room(b) {
		return
	}
	for {
		i := bytes.Index(b, []byte{quoteMark, quoteMark})
		if i < 0 {
			break
		}
		s.text = append(s.text, b[:i+1]...)
		b = b[i+2:]
	}
	s.text = append(s.text, b...)
	s.fields[len(s.fields)-1].to = len(s.text)
}

// room counts a field and begins it where it is kept.
func (s *splitter) room(b []byte) bool {
	s.count++
	if len(s.fields) >= s.keep {
		s.beyond = s.beyond || len(b) > 0
		return false
	}
	s.fields = append(s.fields, field{len(s.text), len(s.text)})
	return true
}

// closing finds the quote that closes a field whose inside begins at from, by
// the rules of RFC 4180: quotes inside are doubled, and behind the closing one
// stands a delimiter or the end of the line. 0 where there is none within the
// window.
func (s *splitter) closing(from int) (int, error) {
	for at := from; ; {
		i := bytes.IndexByte(s.buf[s.pos+at:s.end], quoteMark)
		if i < 0 {
			at = s.end - s.pos
		} else if at += i; !s.eof && s.pos+at+64 > s.end {
			// the bytes behind the quote are needed: read on, look again
			i = -1
		}
		if at-from > s.window {
			return 0, nil
		}
		if i < 0 {
			if s.eof {
				return 0, nil
			}
			if err := s.more(); err != nil {
				return 0, err
			}
			continue
		}
		switch s.afterQuote(at + 1) {
		case quoteCloses:
			return at, nil
		case quoteDoubled:
			at += 2
		default:
			return 0, nil
		}
	}
}

// quoteMeaning is what a quote inside a quoted field turns out to be.
type quoteMeaning int

const (
	quoteStray quoteMeaning = iota
	quoteDoubled
	quoteCloses
)

// afterQuote looks at what stands behind a quote.
func (s *splitter) afterQuote(at int) quoteMeaning {
	b := s.buf[s.pos+at : s.end]
	if len(b) > 0 && b[0] == quoteMark {
		return quoteDoubled
	}
	for i, c := range b {
		switch {
		case c == s.delimiter || c == s.lineEnd:
			return quoteCloses
		case c != ' ' && c != '\t' && c != '\r' || i >= 32:
			return quoteStray
		}
	}
	return quoteCloses // the end of the text
}

// looseClosing finds, in the same line, the first quote behind which a delimiter
// or the line's end stands, for fields whose inner quotes were not doubled:
// "12" pulley". 0 where there is none.
func (s *splitter) looseClosing(from, length int) int {
	for at := from; at < length; at++ {
		if s.buf[s.pos+at] != quoteMark {
			continue
		}
		if at+1 == length || s.buf[s.pos+at+1] == s.delimiter {
			return at
		}
		if s.buf[s.pos+at+1] == quoteMark {
			at++
		}
	}
	return 0
}

// guessClosing is looseClosing for the field whose quote stands at the given
// distance, unless only without it the record has as many fields as most.
func (s *splitter) guessClosing(at, length int) int {
	if s.noLoose {
		return 0
	}
	end := s.looseClosing(at+1, length)
	if end == 0 {
		s.noLoose = true
		return 0
	}
	if s.expect < 2 || s.several || s.guesses >= maxGuesses {
		return end
	}
	s.guesses++
	plain := bytes.IndexByte(s.buf[s.pos+at:s.pos+length], s.delimiter)
	quoted := s.count + 1 + s.countFields(s.behind(end+1, length), length)
	if plain >= 0 && quoted != s.expect && s.count+1+s.countFields(at+plain+1, length) == s.expect {
		return 0
	}
	return end
}

// isStray tells whether a quoted field over several lines is more likely a stray
// quote and another one some lines further down: each line up to the given
// distance, read for itself, has as many fields as the file's records have.
func (s *splitter) isStray(length int) bool {
	if s.expect < 2 || s.several {
		return false
	}
	for at := 0; at <= length; {
		n := bytes.IndexByte(s.buf[s.pos+at:s.pos+length], s.lineEnd)
		if n < 0 {
			n = length - at
		}
		if s.countFields(at, at+n) != s.expect {
			return false
		}
		at += n + 1
	}
	return true
}

// countFields counts the fields of a line read for itself from a place on; it
// stops counting when there are more than most records have.
func (s *splitter) countFields(at, length int) int {
	fields, noLoose := 0, false
	for at <= length && fields <= s.expect {
		fields++
		if at < length && s.buf[s.pos+at] == quoteMark && !noLoose {
			if end := s.looseClosing(at+1, length); end > 0 {
				at = s.behind(end+1, length)
				continue
			}
			noLoose = true
		}
		n := bytes.IndexByte(s.buf[s.pos+at:s.pos+length], s.delimiter)
		if n < 0 {
			break
		}
		at += n + 1
	}
	return fields
}
