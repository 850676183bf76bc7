package sheet

import (
	"bytes"
	"fmt"
	"io"
)

// Sizes of the XML reader.
const (
	xmlWindow = 64 << 10 // bytes read at a time; the buffer grows only for a longer tag
	xmlMaxTag = 1 << 20  // a tag, comment or CDATA section beyond this is refused
	xmlDepth  = 64       // elements within elements; a sheet needs 8
)

// xmlToken is what stands next in a document.
type xmlToken int

const (
	xmlStart xmlToken = iota // an element begins: name, attrs
	xmlEnd                   // an element ends: name
	xmlText                  // characters: text, perhaps only a part of them
	xmlDone                  // the document is whole and ends here
)

// xmlAttr is one attribute as it stands in the tag, entities not yet resolved.
type xmlAttr struct{ name, value []byte }

// xmlReader reads an XML document token by token. It takes what a workbook may
// hold and refuses the rest: every element must be closed, no document type
// (so no entity can grow), names of ASCII letters, UTF-8 only. All slices are
// valid until the next call.
//
// It exists because the standard decoder takes eight times as long as unpacking
// the same bytes, and sheets are read cell by cell.
type xmlReader struct {
	r        io.Reader
	buf      []byte
	pos, end int
	eof      bool
	read     int64 // bytes taken from r, for the words of an error

	open    []byte // names of the open elements, end to end
	starts  []int  // where each of them begins in open
	began   bool   // the root was seen
	pending bool   // the current element closes itself: its end comes next

	name  []byte // the element's name without prefix
	attrs []xmlAttr
	text  []byte

	scratch []byte
}

// xmlError is a document that is not well formed.
type xmlError struct {
	at  int64
	msg string
}

func (e *xmlError) Error() string { return fmt.Sprintf("%s near byte %d", e.msg, e.at) }

func newXMLReader(r io.Reader) *xmlReader {
	x := &xmlReader{}
	x.reset(r)
	return x
}

// reset starts a new document and keeps the buffers.
func (x *xmlReader) reset(r io.Reader) {
	if x.buf == nil {
		x.buf = make([]byte, xmlWindow)
	}
	*x = xmlReader{r: r, buf: x.buf, open: x.open[:0], starts: x.starts[:0], attrs: x.attrs[:0], scratch: x.scratch[:0]}
}

func (x *xmlReader) broken(format string, args ...any) error {
	return &xmlError{at: x.read - int64(x.end-x.pos), msg: fmt.Sprintf(format, args...)}
}

// depth is the number of open elements.
func (x *xmlReader) depth() int { return len(x.starts) }

// more reads further bytes behind those in the buffer. At the end of the input
// it sets eof and gives no error.
func (x *xmlReader) more() error {
	if x.pos > 0 {
		copy(x.buf, x.buf[x.pos:x.end])
		x.end -= x.pos
		x.pos = 0
	}
	if x.end == len(x.buf) {
		if len(x.buf) >= xmlMaxTag {
			return x.broken("a tag is longer than %s", inWords(xmlMaxTag))
		}
		x.buf = append(x.buf, make([]byte, len(x.buf))...)
	}
	for range 100 {
		n, err := x.r.Read(x.buf[x.end:])
		x.end += n
		x.read += int64(n)
		if err == io.EOF {
			x.eof = true
			return nil
		}
		if err != nil || n > 0 {
			return err
		}
	}
	return io.ErrNoProgress
}

// next moves to the next token.
func (x *xmlReader) next() (xmlToken, error) {
	if x.pending {
		x.pending = false
		return xmlEnd, x.pop()
	}
	for {
		for x.end-x.pos < 2 && !x.eof {
			if err := x.more(); err != nil {
				return 0, err
			}
		}
		if x.pos == x.end {
			return x.finish()
		}
		if x.buf[x.pos] != '<' {
			found, err := x.readText()
			if err != nil || found {
				return xmlText, err
			}
			continue
		}
		token, found, err := x.readMarkup()
		if err != nil || found {
			return token, err
		}
	}
}

// finish is the end of the input.
func (x *xmlReader) finish() (xmlToken, error) {
	if x.depth() > 0 {
		return 0, x.broken("it ends inside <%s>", x.innermost())
	}
	if !x.began {
		return 0, x.broken("it holds no element")
	}
	return xmlDone, nil
}

func (x *xmlReader) innermost() []byte { return x.open[x.starts[len(x.starts)-1]:] }

func (x *xmlReader) push(name []byte) error {
	switch {
	case x.depth() == 0 && x.began:
		return x.broken("a second root element <%s>", name)
	case x.depth() >= xmlDepth:
		return x.broken("elements stand more than %d deep", xmlDepth)
	}
	x.began = true
	x.starts = append(x.starts, len(x.open))
	x.open = append(x.open, name...)
	return nil
}

// pop closes the innermost element and leaves its name in x.name.
func (x *xmlReader) pop() error {
	last := len(x.starts) - 1
	x.name = localName(x.open[x.starts[last]:])
	x.open = x.open[:x.starts[last]]
	x.starts = x.starts[:last]
	return nil
}

// readMarkup reads what begins with '<'. found is false for what a caller does
// not see: comments and processing instructions.
func (x *xmlReader) readMarkup() (token xmlToken, found bool, err error) {
	switch x.buf[x.pos+min(1, x.end-x.pos-1)] {
	case '/':
		return xmlEnd, true, x.readEnd()
	case '?':
		return 0, false, x.readInstruction()
	case '!':
		return x.readDeclaration()
	}
	return xmlStart, true, x.readStart()
}

// readStart reads "<name attr="value">" or "<name/>".
func (x *xmlReader) readStart() error {
	n, err := x.tagEnd()
	if err != nil {
		return err
	}
	tag := x.buf[x.pos+1 : x.pos+n]
	if len(tag) > 0 && tag[len(tag)-1] == '/' {
		tag = tag[:len(tag)-1]
		x.pending = true
	}
	name, rest := cutName(tag)
	if name == nil {
		return x.broken("a tag without a proper name")
	}
	if err := x.push(name); err != nil {
		return err
	}
	x.name = localName(name)
	if err := x.readAttrs(rest); err != nil {
		return err
	}
	x.pos += n + 1
	return nil
}

// readEnd reads "</name>".
func (x *xmlReader) readEnd() error {
	n, err := x.tagEnd()
	if err != nil {
		return err
	}
	name := x.buf[x.pos+2 : x.pos+n]
	for len(name) > 0 && isSpace(name[len(name)-1]) {
		name = name[:len(name)-1]
	}
	if x.depth() == 0 || !bytes.Equal(name, x.innermost()) {
		return x.broken("</%.40s> closes nothing", name)
	}
	x.pos += n + 1
	return x.pop()
}

// tagEnd gives the distance from pos to the '>' that closes the tag.
func (x *xmlReader) tagEnd() (int, error) {
	quote := byte(0)
	high := false
	for i := 1; ; {
		for b := x.buf[x.pos:x.end]; i < len(b); i++ {
			c := b[i]
			switch xmlClass[c] {
			case classPlain:
			case classHigh:
				high = true
			case classQuote:
				if quote == 0 {
					quote = c
				} else if quote == c {
					quote = 0
				}
			case classClose:
				if quote == 0 {
					if high && !validChars(b[:i]) {
						return 0, x.broken("a tag holds bytes that are no UTF-8")
					}
					return i, nil
				}
			default:
				return 0, x.broken("a tag holds a character that may not stand there")
			}
		}
		if x.eof {
			return 0, x.broken("it ends inside a tag")
		}
		if err := x.more(); err != nil {
			return 0, err
		}
	}
}

// readAttrs reads the attributes of a start tag.
func (x *xmlReader) readAttrs(b []byte) error {
	x.attrs = x.attrs[:0]
	for {
		trimmed := skipSpace(b)
		if len(trimmed) == 0 {
			return nil
		}
		name, rest := cutName(trimmed)
		if name == nil || len(trimmed) == len(b) {
			return x.broken("<%s> holds something that is no attribute", x.name)
		}
		rest = skipSpace(rest)
		if len(rest) == 0 || rest[0] != '=' {
			return x.broken("attribute %s has no value", name)
		}
		rest = skipSpace(rest[1:])
		if len(rest) == 0 || (rest[0] != '"' && rest[0] != '\'') {
			return x.broken("attribute %s has no quoted value", name)
		}
		n := bytes.IndexByte(rest[1:], rest[0])
		if n < 0 {
			return x.broken("attribute %s has no end", name)
		}
		if err := x.addAttr(xmlAttr{name, rest[1 : 1+n]}); err != nil {
			return err
		}
		b = rest[n+2:]
	}
}

func (x *xmlReader) addAttr(a xmlAttr) error {
	if len(x.attrs) > 256 {
		return x.broken("<%s> has more than 256 attributes", x.name)
	}
	for _, other := range x.attrs {
		if bytes.Equal(other.name, a.name) {
			return x.broken("<%s> has attribute %s twice", x.name, a.name)
		}
	}
	if bytes.IndexByte(a.value, '&') >= 0 {
		if _, err := resolve(nil, a.value); err != nil {
			return x.broken("attribute %s: %v", a.name, err)
		}
	}
	x.attrs = append(x.attrs, a)
	return nil
}

// attr gives an attribute's value as bytes, nil where there is none. It is meant
// for values that are numbers or plain words; see attrText for others.
func (x *xmlReader) attr(name string) []byte {
	for i := range x.attrs {
		if string(x.attrs[i].name) == name {
			return x.attrs[i].value
		}
	}
	return nil
}

// attrText gives an attribute's value with entities resolved.
func (x *xmlReader) attrText(name string) string {
	value, _ := resolve(nil, x.attr(name)) // checked by addAttr
	return string(value)
}

// attrTrue tells whether an attribute is set, as xsd:boolean.
func (x *xmlReader) attrTrue(name string) bool {
	v := string(x.attr(name))
	return v == "1" || v == "true"
}

// skip passes over the rest of the current element.
func (x *xmlReader) skip() error {
	for depth := x.depth(); ; {
		token, err := x.next()
		if err != nil {
			return err
		}
		if token == xmlEnd && x.depth() < depth {
			return nil
		}
	}
}

// leap passes over the inside of the open element at the given depth without
// reading it, and stands before its end tag. What it passes is not checked.
func (x *xmlReader) leap(depth int) error {
	if x.pending && x.depth() == depth {
		return nil
	}
	x.pending = false
	from := x.starts[depth-1]
	to := len(x.open)
	if depth < len(x.starts) {
		to = x.starts[depth]
	}
	x.open, x.starts = x.open[:to], x.starts[:depth]
	closing := append([]byte("</"), x.open[from:]...)
	for {
		if i := bytes.Index(x.buf[x.pos:x.end], closing); i >= 0 {
			x.pos += i
			return nil
		}
		if x.eof {
			return x.broken("it ends inside <%s>", x.innermost())
		}
		x.pos = max(x.pos, x.end-len(closing)+1)
		if err := x.more(); err != nil {
			return err
		}
	}
}
