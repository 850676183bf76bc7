package sheet

import (
	"bytes"
	"context"
	"unicode/utf16"
	"unicode/utf8"
)

// Sizes of the table of shared texts. A place is 20 bits of block, 20 bits of
// offset and 24 bits of length.
const (
	textBlock  = 1 << 20
	indexBlock = 1 << 16
)

// sharedTexts holds the texts that cells refer to by number. It takes 8 bytes
// each and the characters; a slice of strings would take 16 and an allocation.
type sharedTexts struct {
	blocks []string
	places [][]uint64
	count  int
	bytes  int64
	open   []byte // the block being filled
}

// get gives the text of a number.
func (t *sharedTexts) get(i int) (string, bool) {
	if i < 0 || i >= t.count {
		return "", false
	}
	place := t.places[i/indexBlock][i%indexBlock]
	block, offset, length := place>>44, place>>24&(1<<20-1), place&(1<<24-1)
	return t.blocks[block][offset : offset+length], true
}

// add appends a text. One that does not fit the block begins a new one, so a
// block can be longer than textBlock only if the text is.
func (t *sharedTexts) add(text []byte) {
	if len(t.open) > 0 && len(t.open)+len(text) >= textBlock {
		t.flush()
	}
	if t.count%indexBlock == 0 {
		t.places = append(t.places, make([]uint64, 0, indexBlock))
	}
	last := len(t.places) - 1
	place := uint64(len(t.blocks))<<44 | uint64(len(t.open))<<24 | uint64(len(text))
	t.places[last] = append(t.places[last], place)
	t.open = append(t.open, text...)
	t.count++
	t.bytes += int64(len(text))
}

func (t *sharedTexts) flush() {
	t.blocks = append(t.blocks, string(t.open))
	t.open = t.open[:0]
}

// readTexts reads the part with the shared texts; it must be whole.
func (w *workbook) readTexts(ctx context.Context) (*sharedTexts, error) {
	t := &sharedTexts{}
	if w.textsPart == "" || !w.zip.has(w.textsPart) {
		return t, nil
	}
	p, err := w.zip.open(ctx, w.textsPart, w.limits.PartBytes)
	if err != nil {
		return nil, err
	}
	defer p.Close()
	if err := t.read(newXMLReader(p), w.limits); err != nil {
		return nil, w.placed(err, w.textsPart, nil)
	}
	t.flush()
	t.open = nil
	return t, nil
}

func (t *sharedTexts) read(x *xmlReader, limits Limits) error {
	var text []byte
	for {
		token, err := x.next()
		switch {
		case err != nil:
			return err
		case token == xmlDone:
			return nil
		case token != xmlStart:
			continue
		case x.depth() == 1 && string(x.name) != "sst":
			return damage("the list of shared texts begins with <%s>", x.name)
		case x.depth() == 1:
			continue
		case string(x.name) != "si":
			if err := x.skip(); err != nil {
				return err
			}
			continue
		}
		if text, err = readRichText(x, text[:0], limits); err != nil {
			return err
		}
		if err := t.room(len(text), limits); err != nil {
			return err
		}
		t.add(text)
	}
}

func (t *sharedTexts) room(more int, limits Limits) error {
	if t.count >= limits.Strings {
		return overLimit(hintSplit, "the workbook has more than %s different texts", decimal(limits.Strings))
	}
	if t.bytes+int64(more) > limits.StringBytes {
		return overLimit(hintSplit, "the texts of the workbook take more than %s", inWords(limits.StringBytes))
	}
	return nil
}

// readRichText reads <si> or <is> to its end: the text, or the texts of its runs
// joined. Readings of characters (<rPh>) are shown above the text and are no
// part of it.
func readRichText(x *xmlReader, dst []byte, limits Limits) ([]byte, error) {
	start := len(dst)
	inText := 0
	for depth := x.depth(); ; {
		token, err := x.next()
		if err != nil {
			return dst, err
		}
		switch token {
		case xmlStart:
			switch string(x.name) {
			case "rPh", "rPr", "phoneticPr", "extLst":
				if err := x.skip(); err != nil {
					return dst, err
				}
			case "t":
				inText = x.depth()
			}
		case xmlText:
			if inText > 0 {
				if dst = append(dst, x.text...); len(dst)-start > maxCellBytes(limits) {
					return dst, longCell(limits)
				}
			}
		case xmlEnd:
			if x.depth() < inText {
				inText = 0
			}
			if x.depth() < depth {
				return unescapeFrom(dst, start, limits)
			}
		}
	}
}

// maxCellBytes is the most that a cell of full length can take in the file, all
// its characters written as _xHHHH_.
func maxCellBytes(l Limits) int { return 7 * l.CellChars }

func longCell(l Limits) *UnreadableError {
	return overLimit("shorten it and bring the file again", "a cell holds more than %s characters", decimal(l.CellChars))
}

// unescapeFrom resolves _xHHHH_ in dst from start on and checks the length.
func unescapeFrom(dst []byte, start int, limits Limits) ([]byte, error) {
	if bytes.Contains(dst[start:], []byte("_x")) {
		dst = dst[:start+unescape(dst[start:])]
	}
	if len(dst)-start > limits.CellChars && utf8.RuneCount(dst[start:]) > limits.CellChars {
		return dst, longCell(limits)
	}
	return dst, nil
}

// unescape replaces _xHHHH_ by the UTF-16 unit that it stands for, in place, and
// gives the new length (ECMA-376 part 1, 22.9.2.19). What would give no
// character, half of a pair or a zero, stays as it is written.
func unescape(b []byte) int {
	const width = len("_xHHHH_")
	out := 0
	for i := 0; i < len(b); {
		unit, ok := escaped(b[i:])
		n := width
		if ok && utf16.IsSurrogate(unit) {
			low, _ := escaped(b[i+width:])
			unit, n = utf16.DecodeRune(unit, low), 2*width
			ok = unit != utf8.RuneError
		}
		if !ok || unit == 0 {
			b[out] = b[i]
			out++
			i++
			continue
		}
		out += utf8.EncodeRune(b[out:i+n], unit)
		i += n
	}
	return out
}

// escaped reads one _xHHHH_ at the beginning of b.
func escaped(b []byte) (rune, bool) {
	if len(b) < 7 || b[0] != '_' || b[1] != 'x' || b[6] != '_' {
		return 0, false
	}
	unit := rune(0)
	for _, c := range b[2:6] {
		d := hexDigit(c)
		if d < 0 {
			return 0, false
		}
		unit = unit<<4 | rune(d)
	}
	return unit, true
}
