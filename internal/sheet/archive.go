package sheet

import (
	"archive/zip"
	"bufio"
	"compress/flate"
	"context"
	"errors"
	"io"
	"io/fs"
	"path"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// archive is the zip file that a workbook is. Its parts are unpacked one at a
// time and only when they are asked for.
type archive struct {
	parts  map[string]*zip.File // by partKey
	limits Limits
}

// partKey makes part names comparable: they differ in case only between writers
// (ECMA-376 part 2, 6.2.2.3), and some write backslashes.
func partKey(name string) string {
	return strings.ToLower(strings.TrimPrefix(path.Clean(strings.ReplaceAll(name, `\`, "/")), "/"))
}

var errDirectory = errors.New("too many entries in the zip directory")

// directoryReader stops the reading of a zip directory that is longer than any
// honest one: each entry costs memory before it can be counted.
type directoryReader struct {
	io.ReaderAt
	left int64
}

func (d *directoryReader) ReadAt(p []byte, off int64) (int, error) {
	if d.left -= int64(len(p)); d.left < 0 {
		return 0, errDirectory
	}
	return d.ReaderAt.ReadAt(p, off)
}

// openArchive reads the directory of a zip file and nothing else.
func openArchive(r io.ReaderAt, size int64, limits Limits) (*archive, error) {
	const room = 512 // bytes of one directory entry with a long name and extras
	directory := &directoryReader{r, int64(limits.Entries)*room + 1<<20}
	zr, err := zip.NewReader(directory, size)
	if errors.Is(err, errDirectory) || err == nil && len(zr.File) > limits.Entries {
		return nil, overLimit(hintSaveAgain, "the workbook holds more than %s inner files", decimal(limits.Entries))
	}
	if err != nil {
		e := damage("the workbook is cut short or damaged")
		e.Hint, e.Err = hintCopyAgain, err
		return nil, e
	}
	directory.left = 1 << 62 // the parts are bounded one by one
	zr.RegisterDecompressor(zip.Deflate, func(in io.Reader) io.ReadCloser { return newInflater(in, limits) })
	a := &archive{parts: make(map[string]*zip.File, len(zr.File)), limits: limits}
	for _, f := range zr.File {
		key := partKey(f.Name)
		if a.parts[key] != nil && !strings.HasSuffix(f.Name, "/") {
			return nil, damage("the workbook holds two inner files named %.60q", f.Name)
		}
		a.parts[key] = f
	}
	return a, nil
}

// has tells whether a part is there.
func (a *archive) has(name string) bool { return a.parts[partKey(name)] != nil }

// open begins to unpack a part of at most limit bytes. A byte order mark of
// UTF-16 makes it come out as UTF-8.
func (a *archive) open(ctx context.Context, name string, limit int64) (*part, error) {
	f := a.parts[partKey(name)]
	if f == nil {
		return nil, damage("the inner file %.60q is missing", name)
	}
	if f.Flags&1 != 0 {
		return nil, refusal(Password, hintPassword, "the workbook is protected with a password")
	}
	if size := f.UncompressedSize64; size > uint64(limit) {
		return nil, tooLong(name, limit)
	} else if size > uint64(a.limits.RatioFrom) && size/uint64(a.limits.Ratio) > f.CompressedSize64 {
		return nil, swollen(a.limits)
	}
	rc, err := f.Open()
	if err != nil {
		return nil, unpackError(name, err)
	}
	p := &part{ctx: ctx, name: name, rc: rc, limit: limit}
	p.text = bufio.NewReader(counted{p})
	if mark, _ := p.text.Peek(2); string(mark) == "\xFF\xFE" || string(mark) == "\xFE\xFF" {
		utf16 := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
		p.text = bufio.NewReader(transform.NewReader(p.text, utf16.NewDecoder()))
	}
	return p, nil
}

// part is one inner file while it is unpacked. Reading gives UTF-8.
type part struct {
	ctx   context.Context // of the call that opened it, which also closes it
	name  string
	rc    io.ReadCloser
	text  *bufio.Reader
	read  int64
	limit int64
}

func (p *part) Read(b []byte) (int, error) { return p.text.Read(b) }

// Close ends the unpacking.
func (p *part) Close() error { return p.rc.Close() }

// counted is the raw side of a part: it stops at the limit and when the caller
// has given up.
type counted struct{ *part }

func (p counted) Read(b []byte) (int, error) {
	if err := p.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := p.rc.Read(b)
	if p.read += int64(n); p.read > p.limit {
		return 0, tooLong(p.name, p.limit)
	}
	if err != nil && err != io.EOF {
		err = unpackError(p.name, err)
	}
	return n, err
}

func tooLong(name string, limit int64) error {
	return overLimit(hintSplit, "the inner file %.60q unpacks to more than %s", name, inWords(limit))
}

func swollen(l Limits) error {
	return overLimit(hintSaveAgain, "a part of the workbook grows more than %d times when it is unpacked", l.Ratio)
}

// unpackError turns what the zip reader says into an error for a person.
func unpackError(name string, err error) error {
	var known *UnreadableError
	var disk *fs.PathError
	switch {
	case errors.As(err, &known):
		return err
	case errors.As(err, &disk):
		e := refusal(Unreadable, hintCopyAgain, "reading stopped: %v", disk.Err)
		e.Err = err
		return e
	}
	e := damage("the inner file %.60q is damaged (%v)", name, err)
	e.Hint, e.Err = hintCopyAgain, err
	return e
}

// inflater unpacks and compares what comes out with what really went in; the
// sizes that the directory claims can lie.
type inflater struct {
	in     *countingReader
	out    io.ReadCloser
	given  int64
	limits Limits
}

func newInflater(in io.Reader, limits Limits) *inflater {
	c := &countingReader{r: in}
	return &inflater{in: c, out: flate.NewReader(c), limits: limits}
}

func (f *inflater) Read(b []byte) (int, error) {
	n, err := f.out.Read(b)
	f.given += int64(n)
	if f.given > f.limits.RatioFrom && f.given/f.limits.Ratio > f.in.n {
		return 0, swollen(f.limits)
	}
	return n, err
}

func (f *inflater) Close() error { return f.out.Close() }

// countingReader counts the bytes that pass.
type countingReader struct {
	r io.Reader
	n int64
}

func (c *countingReader) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.n += int64(n)
	return n, err
}
