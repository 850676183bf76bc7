package sheet

import (
	"bytes"
	"errors"
	"unicode/utf8"
)

// Classes of bytes inside a tag.
const (
	classPlain byte = iota
	classQuote
	classClose
	classHigh    // part of a character beyond ASCII
	classIllegal // '<' and control characters
)

// xmlClass tells the class of every byte inside a tag.
var xmlClass = func() (class [256]byte) {
	for c := range class {
		switch {
		case c == '"' || c == '\'':
			class[c] = classQuote
		case c == '>':
			class[c] = classClose
		case c >= 0x80:
			class[c] = classHigh
		case c == '<' || c < 0x20 && c != '\t' && c != '\n' && c != '\r':
			class[c] = classIllegal
		}
	}
	return class
}()

// xmlName tells which bytes may stand in a name, xmlPlain which bytes of a text
// stand for themselves and need no look.
var xmlName, xmlPlain = func() (name, plain [256]bool) {
	for c := range 256 {
		letter := c|0x20 >= 'a' && c|0x20 <= 'z' && c < 0x80
		name[c] = letter || c >= '0' && c <= '9' || c == '_' || c == '-' || c == '.' || c == ':'
		plain[c] = c >= 0x20 && c < 0x80 && c != '&' && c != ']' || c == '\t' || c == '\n'
	}
	return name, plain
}()

// cutName splits a name off the front; nil where none stands there.
func cutName(b []byte) (name, rest []byte) {
	n, colons := 0, 0
	for n < len(b) && xmlName[b[n]] {
		if b[n] == ':' {
			colons++
		}
		n++
	}
	if n == 0 || colons > 1 || !nameStart(b[0]) {
		return nil, b
	}
	if colons == 1 {
		i := bytes.IndexByte(b[:n], ':')
		if i == n-1 || !nameStart(b[i+1]) {
			return nil, b
		}
	}
	return b[:n], b[n:]
}

func nameStart(c byte) bool { return c == '_' || c|0x20 >= 'a' && c|0x20 <= 'z' }

func isSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// skipSpace gives what stands behind white space.
func skipSpace(b []byte) []byte {
	for len(b) > 0 && isSpace(b[0]) {
		b = b[1:]
	}
	return b
}

// localName is the name without its prefix.
func localName(name []byte) []byte { return name[bytes.IndexByte(name, ':')+1:] }

// readText reads characters up to the next tag, or as many as the buffer holds.
// found is false for white space outside the root.
func (x *xmlReader) readText() (found bool, err error) {
	n := bytes.IndexByte(x.buf[x.pos:x.end], '<')
	for n < 0 && !x.eof && x.end-x.pos < xmlWindow/2 {
		from := x.end - x.pos
		if err := x.more(); err != nil {
			return false, err
		}
		if n = bytes.IndexByte(x.buf[x.pos+from:x.end], '<'); n >= 0 {
			n += from
		}
	}
	if n < 0 {
		n = x.end - x.pos
		if !x.eof {
			n = wholeChars(x.buf[x.pos:x.end])
		}
	}
	raw := x.buf[x.pos : x.pos+n]
	if err := x.setText(raw); err != nil {
		return false, err
	}
	if x.depth() == 0 {
		if !x.began && x.read == int64(x.end) && x.pos == 0 {
			raw = bytes.TrimPrefix(raw, []byte("\xEF\xBB\xBF"))
		}
		if len(skipSpace(raw)) > 0 {
			return false, x.broken("characters outside the root element")
		}
	}
	x.pos += n
	return x.depth() > 0, nil
}

// wholeChars tells how many bytes of a text, of which more follows, can be
// looked at now: no entity, character, line end or "]]>" is cut in two.
func wholeChars(b []byte) int {
	n := len(b)
	if i := bytes.LastIndexByte(b[max(0, n-maxEntity):], '&'); i >= 0 {
		i += max(0, n-maxEntity)
		if bytes.IndexByte(b[i:], ';') < 0 {
			n = i
		}
	}
	for i := 1; i < utf8.UTFMax && i <= n; i++ {
		if c := b[n-i]; utf8.RuneStart(c) {
			if c >= utf8.RuneSelf && !utf8.FullRune(b[n-i:n]) {
				n -= i
			}
			break
		}
	}
	for n > 0 && (b[n-1] == ']' || b[n-1] == '\r') {
		n--
	}
	if n == 0 {
		return len(b)
	}
	return n
}

// setText checks raw characters, resolves their entities and keeps them.
func (x *xmlReader) setText(raw []byte) error {
	x.text = raw
	for _, c := range raw {
		if !xmlPlain[c] {
			var err error
			if x.scratch, err = resolve(x.scratch[:0], raw); err != nil {
				return x.broken("%v", err)
			}
			if bytes.Contains(raw, []byte("]]>")) {
				return x.broken("]]> outside a CDATA section")
			}
			x.text = x.scratch
			return nil
		}
	}
	return nil
}

// readInstruction passes over "<?...?>". Any encoding but UTF-8 is refused: the
// packaging standard allows that and UTF-16, which is converted before it comes
// here.
func (x *xmlReader) readInstruction() error {
	n, err := x.until("?>", 2)
	if err != nil {
		return err
	}
	body := x.buf[x.pos+2 : x.pos+n]
	name, rest := cutName(body)
	if name == nil || len(rest) > 0 && !isSpace(rest[0]) || !validChars(body) {
		return x.broken("a processing instruction without a proper name")
	}
	if string(name) == "xml" {
		if x.began {
			return x.broken("an XML declaration in the middle")
		}
		if v := declared(rest, "version"); v != "" && v != "1.0" {
			return x.broken("XML version %.20q is not known here", v)
		}
		if enc := declared(rest, "encoding"); enc != "" && enc != "utf-8" && enc != "us-ascii" && enc != "utf-16" {
			return x.broken("encoding %.20q is not known here", enc)
		}
	}
	x.pos += n + 2
	return nil
}

// declared finds a value in an XML declaration, lower case; "" where it has none,
// "?" where it is not quoted.
func declared(declaration []byte, name string) string {
	_, after, found := bytes.Cut(declaration, []byte(name))
	if !found {
		return ""
	}
	after = bytes.TrimLeft(after, " \t\r\n=")
	if len(after) == 0 || after[0] != '"' && after[0] != '\'' {
		return "?"
	}
	value, _, _ := bytes.Cut(after[1:], after[:1])
	return string(bytes.ToLower(value))
}

// readDeclaration reads what begins with "<!".
func (x *xmlReader) readDeclaration() (xmlToken, bool, error) {
	for x.end-x.pos < len("<![CDATA[") && !x.eof {
		if err := x.more(); err != nil {
			return 0, false, err
		}
	}
	b := x.buf[x.pos:x.end]
	switch {
	case bytes.HasPrefix(b, []byte("<!--")):
		n, err := x.until("--", 4)
		if err != nil {
			return 0, false, err
		}
		body := x.buf[x.pos+4 : x.pos+n]
		if end := x.buf[x.pos+n+2 : x.end]; len(end) == 0 || end[0] != '>' || !validChars(body) {
			return 0, false, x.broken("a comment is not closed properly")
		}
		x.pos += n + 3
		return 0, false, nil
	case bytes.HasPrefix(b, []byte("<![CDATA[")):
		return x.readCDATA()
	}
	return 0, false, x.broken("a document type or other declaration, which no workbook holds")
}

func (x *xmlReader) readCDATA() (xmlToken, bool, error) {
	const head = len("<![CDATA[")
	n, err := x.until("]]>", head)
	if err != nil {
		return 0, false, err
	}
	body := x.buf[x.pos+head : x.pos+n]
	if x.depth() == 0 || !validChars(body) {
		return 0, false, x.broken("a CDATA section that may not stand there")
	}
	x.scratch = lineEnds(x.scratch[:0], body)
	x.text = x.scratch
	x.pos += n + 3
	return xmlText, true, nil
}

// until gives the distance from pos to the given end, with at least one byte
// behind it in the buffer where there is one.
func (x *xmlReader) until(end string, from int) (int, error) {
	for {
		if b := x.buf[x.pos:x.end]; len(b) > from {
			i := bytes.Index(b[from:], []byte(end))
			if i >= 0 && (x.eof || from+i+len(end) < len(b)) {
				return from + i, nil
			}
			if i < 0 {
				from = max(from, len(b)-len(end)+1)
			}
		}
		if x.eof {
			return 0, x.broken("it ends where %q is awaited", end)
		}
		if err := x.more(); err != nil {
			return 0, err
		}
	}
}

// maxEntity is the length of the longest reference, with leading zeros to spare.
const maxEntity = 16

var (
	errEntity  = errors.New("an entity that is not known")
	errLetters = errors.New("bytes that are no UTF-8, or a character that XML does not allow")
)

// resolve appends raw characters with their entities replaced and line ends made
// one (XML 1.0, 2.11).
func resolve(dst, raw []byte) ([]byte, error) {
	if !validChars(raw) {
		return dst, errLetters
	}
	for {
		i := bytes.IndexByte(raw, '&')
		if i < 0 {
			return lineEnds(dst, raw), nil
		}
		dst = lineEnds(dst, raw[:i])
		raw = raw[i+1:]
		semicolon := bytes.IndexByte(raw[:min(len(raw), maxEntity)], ';')
		if semicolon < 0 {
			return dst, errEntity
		}
		char, ok := entity(raw[:semicolon])
		if !ok {
			return dst, errEntity
		}
		dst = utf8.AppendRune(dst, char)
		raw = raw[semicolon+1:]
	}
}

// entity resolves "amp", "#38" or "#x26".
func entity(ref []byte) (rune, bool) {
	switch string(ref) {
	case "amp":
		return '&', true
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "quot":
		return '"', true
	case "apos":
		return '\'', true
	}
	if len(ref) < 2 || ref[0] != '#' {
		return 0, false
	}
	digits, base := ref[1:], rune(10)
	if digits[0] == 'x' {
		digits, base = digits[1:], 16
	}
	char := rune(0)
	for _, c := range digits {
		d := hexDigit(c)
		if d < 0 || rune(d) >= base {
			return 0, false
		}
		if char = char*base + rune(d); char > utf8.MaxRune {
			return 0, false
		}
	}
	return char, len(digits) > 0 && allowed(char)
}

func hexDigit(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c|0x20 >= 'a' && c|0x20 <= 'f':
		return int(c|0x20-'a') + 10
	}
	return -1
}

// lineEnds appends characters with CR LF and CR made LF.
func lineEnds(dst, raw []byte) []byte {
	for {
		i := bytes.IndexByte(raw, '\r')
		if i < 0 {
			return append(dst, raw...)
		}
		dst = append(append(dst, raw[:i]...), '\n')
		raw = raw[i+1:]
		if len(raw) > 0 && raw[0] == '\n' {
			raw = raw[1:]
		}
	}
}

// allowed tells whether XML allows a character (XML 1.0, 2.2).
func allowed(r rune) bool {
	return r >= 0x20 && r <= 0xD7FF || r == '\t' || r == '\n' || r == '\r' ||
		r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= utf8.MaxRune
}

// validChars tells whether bytes are UTF-8 and hold only allowed characters.
func validChars(b []byte) bool {
	for i := 0; i < len(b); {
		if c := b[i]; c < utf8.RuneSelf {
			if c < 0x20 && c != '\t' && c != '\n' && c != '\r' {
				return false
			}
			i++
			continue
		}
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n == 1 || !allowed(r) {
			return false
		}
		i += n
	}
	return true
}
