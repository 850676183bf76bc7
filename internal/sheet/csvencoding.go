package sheet

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Names of encodings, as IANA registers them.
const (
	utf8Name     = "UTF-8"
	utf16LEName  = "UTF-16LE"
	utf16BEName  = "UTF-16BE"
	shiftJISName = "Shift_JIS" // read with the additions of code page 932
	cp1252Name   = "windows-1252"
)

// textStats is what one pass over a text file counts.
type textStats struct {
	bytes     int64
	nulEven   int64 // zero bytes at even places: UTF-16 with the high byte first
	nulOdd    int64 // and at odd places: low byte first
	controls  int64 // control characters that no list holds
	ascii     bool
	good, bad int64 // characters beyond ASCII that are UTF-8, and bytes that are not
	japanese  sjisStats
}

// countText reads a file to its end.
func countText(ctx context.Context, r io.Reader) (textStats, error) {
	s := textStats{ascii: true}
	buf := make([]byte, 64<<10)
	held := 0 // bytes of a character that was cut by the buffer's end
	for {
		if err := ctx.Err(); err != nil {
			return s, err
		}
		n, err := r.Read(buf[held:])
		s.countBytes(buf[held : held+n])
		held = s.countUTF8(buf[:held+n], err == io.EOF)
		if err == io.EOF {
			return s, nil
		}
		if err != nil {
			return s, err
		}
	}
}

func (s *textStats) countBytes(b []byte) {
	for i, c := range b {
		switch {
		case c >= utf8.RuneSelf:
			s.ascii = false
		case c >= 0x20 || c >= '\t' && c <= '\r' || c == 0x1A: // 0x1A ended a text of the eighties
		case c == 0 && (s.bytes+int64(i))%2 == 0:
			s.nulEven++
		case c == 0:
			s.nulOdd++
		default:
			s.controls++
		}
		s.japanese.next(c)
	}
	s.bytes += int64(len(b))
}

// countUTF8 counts characters and moves an unfinished one to the front; it gives
// the number of bytes moved.
func (s *textStats) countUTF8(b []byte, last bool) int {
	for i := 0; i < len(b); {
		if b[i] < utf8.RuneSelf {
			i++
			continue
		}
		if !last && !utf8.FullRune(b[i:]) {
			return copy(b, b[i:])
		}
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n == 1 {
			s.bad++
		} else {
			s.good++
		}
		i += n
	}
	return 0
}

// sjisStats follows a text as Shift_JIS: whether it can be that, and whether it
// looks like Japanese. A text of Western Europe can be valid by accident: its
// letters with accents stand alone between ASCII letters.
type sjisStats struct {
	lead     byte // first byte of a character that is not finished
	before   bool // the character before was no ASCII
	broken   int64
	likely   int64 // kana, full-width forms and common characters
	unlikely int64 // rare ones that swallow an ASCII letter, and half-width kana alone
	single   bool  // a half-width kana that so far stands alone
}

func (s *sjisStats) next(c byte) {
	if s.lead != 0 {
		s.pair(s.lead, c)
		s.lead = 0
		return
	}
	switch {
	case c < 0x80:
		if s.single {
			s.unlikely++
		}
		s.single, s.before = false, false
	case c >= 0xA1 && c <= 0xDF: // half-width katakana
		if s.before {
			s.likely++
			s.single = false
		} else {
			s.single = true
		}
		s.before = true
	case c == 0x80 || c == 0xA0 || c > 0xFC:
		s.broken++
	default:
		s.lead = c
	}
}

// pair judges a character of two bytes (JIS X 0208 in its shifted form).
func (s *sjisStats) pair(lead, trail byte) {
	code := int(lead)<<8 | int(trail)
	switch {
	case trail < 0x40 || trail == 0x7F || trail > 0xFC:
		s.broken++
	case code >= 0x8140 && code <= 0x8396: // punctuation, full-width forms, kana
		s.likely += 2
	case code >= 0x889F && code <= 0x9872: // the common characters
		s.likely++
	case trail < 0x80:
		s.unlikely++
	}
	s.before, s.single = true, false
}

// isJapanese tells whether the text is Shift_JIS.
func (s *sjisStats) isJapanese() bool { return s.broken == 0 && s.lead == 0 && s.likely > s.unlikely }

// textEncoding is a found encoding: its name, how many bytes of byte order mark
// to pass over, how to decode the rest, and why it was chosen.
type textEncoding struct {
	name   string
	mark   int64
	decode transform.Transformer
	why    string
}

// findEncoding decides by the byte order mark, else by what was counted.
func findEncoding(head []byte, s textStats) (textEncoding, error) {
	switch {
	case bytes.HasPrefix(head, []byte("\xEF\xBB\xBF")):
		return textEncoding{utf8Name, 3, strayBytes{}, "has the byte order mark of UTF-8"}, nil
	case bytes.HasPrefix(head, []byte("\xFF\xFE")):
		return textEncoding{utf16LEName, 2, utf16Decoder(unicode.LittleEndian), "has the byte order mark of UTF-16, low byte first"}, nil
	case bytes.HasPrefix(head, []byte("\xFE\xFF")):
		return textEncoding{utf16BEName, 2, utf16Decoder(unicode.BigEndian), "has the byte order mark of UTF-16, high byte first"}, nil
	case s.nulOdd > 0 && s.nulEven == 0 && s.bytes%2 == 0:
		return textEncoding{utf16LEName, 0, utf16Decoder(unicode.LittleEndian), "every second byte of ASCII characters is zero, low byte first"}, nil
	case s.nulEven > 0 && s.nulOdd == 0 && s.bytes%2 == 0:
		return textEncoding{utf16BEName, 0, utf16Decoder(unicode.BigEndian), "every second byte of ASCII characters is zero, high byte first"}, nil
	case s.nulEven+s.nulOdd > 0:
		return textEncoding{}, refusal(NotASpreadsheet, hintBring, "it holds zero bytes (NUL), so it is no text")
	case s.controls*100 > s.bytes:
		return textEncoding{}, refusal(NotASpreadsheet, hintBring, "it holds many control characters, so it is no text")
	case s.ascii:
		return textEncoding{utf8Name, 0, strayBytes{}, "only ASCII characters"}, nil
	case s.bad == 0:
		return textEncoding{utf8Name, 0, strayBytes{}, "all bytes are valid UTF-8"}, nil
	case s.good > 10*s.bad:
		why := fmt.Sprintf("nearly all is valid UTF-8; %d other bytes are read as windows-1252", s.bad)
		return textEncoding{utf8Name, 0, strayBytes{}, why}, nil
	case s.japanese.isJapanese():
		return textEncoding{shiftJISName, 0, japanese.ShiftJIS.NewDecoder(), "no UTF-8, but Japanese characters in Shift_JIS"}, nil
	}
	return textEncoding{cp1252Name, 0, charmap.Windows1252.NewDecoder(), "neither UTF-8 nor Japanese"}, nil
}

func utf16Decoder(order unicode.Endianness) *encoding.Decoder {
	return unicode.UTF16(order, unicode.IgnoreBOM).NewDecoder()
}

// strayBytes passes UTF-8 on and reads each byte that is none as windows-1252, so
// that one odd byte spoils one character and not the file.
type strayBytes struct{ transform.NopResetter }

// Transform implements transform.Transformer.
func (strayBytes) Transform(dst, src []byte, atEOF bool) (nDst, nSrc int, err error) {
	for nSrc < len(src) {
		if !atEOF && !utf8.FullRune(src[nSrc:]) {
			return nDst, nSrc, transform.ErrShortSrc
		}
		r, n := utf8.DecodeRune(src[nSrc:])
		if r == utf8.RuneError && n == 1 {
			r = charmap.Windows1252.DecodeByte(src[nSrc])
		}
		if nDst+utf8.RuneLen(r) > len(dst) {
			return nDst, nSrc, transform.ErrShortDst
		}
		nDst += utf8.EncodeRune(dst[nDst:], r)
		nSrc += n
	}
	return nDst, nSrc, nil
}
