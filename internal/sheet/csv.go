package sheet

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/transform"
)

// textFile is an opened csv file.
type textFile struct {
	r       *io.SectionReader
	limits  Limits
	dialect dialect
	hash    string // of the bytes when it was opened
}

// openText finds out how a text is written and whether it holds anything.
func openText(ctx context.Context, r *io.SectionReader, limits Limits) (*textFile, error) {
	head := make([]byte, 3)
	n, err := r.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return nil, err
	}
	stats, err := countText(ctx, io.NewSectionReader(r, 0, r.Size()))
	if err != nil {
		return nil, err
	}
	t := &textFile{r: r, limits: limits}
	if t.dialect.encoding, err = findEncoding(head[:n], stats); err != nil {
		return nil, err
	}
	sample, whole, err := readSample(t.decoded(t.bytes()))
	if err != nil {
		return nil, err
	}
	encoding := t.dialect.encoding
	t.dialect = findDialect(sample, whole, limits)
	t.dialect.encoding = encoding
	return t, t.checkEmpty(ctx)
}

// bytes reads the file from behind the byte order mark.
func (t *textFile) bytes() io.Reader {
	mark := t.dialect.encoding.mark
	return io.NewSectionReader(t.r, mark, t.r.Size()-mark)
}

func (t *textFile) decoded(r io.Reader) io.Reader {
	t.dialect.encoding.decode.Reset()
	return transform.NewReader(r, t.dialect.encoding.decode)
}

var errFound = errors.New("a cell holds something")

func (t *textFile) checkEmpty(ctx context.Context) error {
	err := t.rows(ctx, func(r Row) error {
		for _, c := range r.Cells {
			if strings.TrimSpace(c.Text) != "" {
				return errFound
			}
		}
		return nil
	})
	if err == errFound {
		return nil
	}
	if err == nil {
		err = refusal(Empty, hintCopyAgain, "the file is empty, no line of it holds anything")
	}
	return err
}

// rows hands out the records of the file as rows.
func (t *textFile) rows(ctx context.Context, yield func(Row) error) error {
	hash := sha256.New()
	if _, err := io.Copy(hash, io.NewSectionReader(t.r, 0, t.dialect.encoding.mark)); err != nil {
		return systemError(err)
	}
	s := newSplitter(t.decoded(io.TeeReader(t.bytes(), hash)), t.dialect, t.limits)
	if t.dialect.sepLine {
		if err := s.next(); err != nil {
			return t.refused(err, 0)
		}
	}
	for number := 1; ; number++ {
		if number&0xFF == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		err := s.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return t.refused(err, number)
		}
		row, err := t.row(s, number)
		if err != nil {
			return err
		}
		if s.pos == s.end && s.eof && string(s.text) == "\x1A" {
			break // the mark of the eighties for the end of a text
		}
		if err := yield(row); err != nil {
			return err
		}
	}
	if t.hash != "" && t.hash != fmt.Sprintf("%x", hash.Sum(nil)) {
		return refusal(Damaged, "wait until nobody writes to it and bring it again", "the file was changed while it was read")
	}
	return nil
}

// refused turns an error of the splitter into one for a person.
func (t *textFile) refused(err error, row int) error {
	if errors.Is(err, errLongLine) {
		return overLimit("check that it is a list with one row on a line", "the line is longer than %s", inWords(int64(t.limits.LineBytes))).at(0, row)
	}
	return systemError(err)
}

// row makes a row of the record that was cut last.
func (t *textFile) row(s *splitter, number int) (Row, error) {
	row := Row{Number: number}
	if number > t.limits.Rows {
		return row, overLimit(hintSplit, "it has more than %s rows", decimal(t.limits.Rows)).at(0, number)
	}
	n := len(s.fields)
	for n > 0 && s.fields[n-1].from == s.fields[n-1].to {
		n--
	}
	if s.beyond {
		return row, overLimit("check the separator between its cells, or clear what stands further right",
			"more than %d columns are used", t.limits.Columns).at(0, number)
	}
	if n == 0 {
		return row, nil
	}
	text := string(s.text)
	row.Cells = make([]Cell, n)
	for i, f := range s.fields[:n] {
		if f.from == f.to {
			continue
		}
		field := text[f.from:f.to]
		if len(field) > t.limits.CellChars && utf8.RuneCountInString(field) > t.limits.CellChars {
			return row, longCell(t.limits).at(i+1, number)
		}
		row.Cells[i] = Cell{Text: field, Raw: field, Type: Text}
	}
	return row, nil
}
