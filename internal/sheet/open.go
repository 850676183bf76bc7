package sheet

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

const hintBring = "bring a workbook saved as .xlsx, or a .csv file"

// Open opens a spreadsheet file and looks at all of it but the rows. Fields of
// limits that are zero have their defaults. Every failure is an
// *[UnreadableError]. The caller closes the File.
func Open(path string, limits Limits) (*File, error) {
	name := filepath.Base(path)
	file, size, err := openRegular(path)
	if err != nil {
		return nil, named(err, name, "")
	}
	f, err := OpenReader(name, file, size, limits)
	if err != nil {
		file.Close()
		return nil, err
	}
	f.close = file.Close
	return f, nil
}

// openRegular opens a file that has a size and can be read at any place. What
// is none is not opened: a pipe would wait for a writer.
func openRegular(path string) (*os.File, int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, 0, systemError(err)
	}
	switch {
	case info.IsDir():
		return nil, 0, refusal(NotASpreadsheet, "name a file in it", "it is a folder, not a file")
	case !info.Mode().IsRegular():
		return nil, 0, refusal(NotASpreadsheet, hintBring, "it is a device or a pipe, not a file")
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, 0, systemError(err)
	}
	return file, info.Size(), nil
}

// systemError turns what the system says into an error for a person.
func systemError(err error) error {
	var e *UnreadableError
	var at *fs.PathError
	switch {
	case errors.As(err, &e):
		return err
	case errors.Is(err, fs.ErrNotExist):
		e = refusal(NotFound, "check the name and the folder", "there is no such file")
	case errors.Is(err, fs.ErrPermission):
		e = refusal(Unreadable, "ask for the right to read it, or copy it to a folder of your own", "it may not be read")
	case errors.As(err, &at):
		e = refusal(Unreadable, hintCopyAgain, "it cannot be read: %v", at.Err)
	default:
		e = refusal(Unreadable, hintCopyAgain, "it cannot be read: %v", err)
	}
	e.Err = err
	return e
}

// OpenReader is [Open] for bytes that are at hand. The name is for messages, and
// its ending tells text that is meant as csv from other text.
func OpenReader(name string, r io.ReaderAt, size int64, limits Limits) (*File, error) {
	limits = limits.withDefaults()
	f := &File{Name: name, limits: limits, close: func() error { return nil }}
	if size > limits.FileBytes {
		return nil, named(overLimit(hintSplit, "it is larger than %s", inWords(limits.FileBytes)), name, "")
	}
	err := f.recognise(io.NewSectionReader(r, 0, size))
	if err != nil {
		var known *UnreadableError
		if !errors.As(err, &known) {
			err = systemError(err)
		}
		return nil, named(err, name, "")
	}
	return f, nil
}

// recognise tells by the first bytes what the file is, and opens it as that.
func (f *File) recognise(r *io.SectionReader) error {
	ctx := context.Background() // opening is bounded by the limits
	hash := sha256.New()
	in := bufio.NewReaderSize(io.TeeReader(r, hash), 64<<10)
	head, err := in.Peek(512)
	if err != nil && err != io.EOF {
		return err
	}
	head = slices.Clone(head)
	if _, err := io.Copy(io.Discard, in); err != nil {
		return err
	}
	f.Hash = hex.EncodeToString(hash.Sum(nil))
	whole := io.NewSectionReader(r, 0, r.Size())
	switch {
	case r.Size() == 0:
		return refusal(ZeroBytes, hintCopyAgain, "the file has no bytes at all")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("PK\x05\x06")):
		f.Kind = XLSX
		f.book, err = openWorkbook(ctx, r, r.Size(), f.limits)
		return err
	case bytes.HasPrefix(head, []byte(oleMagic)):
		return refuseOLE(whole)
	case oldWorkbook(head):
		return refusal(OldXLS, hintSaveAgain, "it is an old binary workbook (.xls)")
	}
	if err := refuseOther(f.Name, head); err != nil {
		return err
	}
	f.Kind = CSV
	f.text, err = openText(ctx, whole, f.limits)
	if err != nil {
		return err
	}
	f.text.hash = f.Hash
	f.Dialect = f.text.dialect.public()
	return nil
}

// oldWorkbook knows the record that begins a workbook of before 1993, without a
// container ([MS-XLS] 2.4.21, and its predecessors).
func oldWorkbook(head []byte) bool {
	return len(head) >= 4 && head[0] == 0x09 && slices.Contains([]byte{0x00, 0x02, 0x04, 0x08}, head[1]) &&
		(head[2] == 4 || head[2] == 6 || head[2] == 8 || head[2] == 16) && head[3] == 0
}

// refuseOther knows files that are no spreadsheet by their first bytes or, for
// text, by their name.
func refuseOther(name string, head []byte) error {
	known := []struct{ magic, what string }{
		{"%PDF", "it is a PDF"},
		{"\x89PNG", "it is a picture"}, {"\xFF\xD8\xFF", "it is a picture"}, {"GIF8", "it is a picture"},
		{"{\\rtf", "it is a text document (RTF)"},
		{"\x1F\x8B", "it is a packed file (gzip)"}, {"7z\xBC\xAF", "it is a packed file (7z)"}, {"Rar!", "it is a packed file (RAR)"},
	}
	for _, k := range known {
		if bytes.HasPrefix(head, []byte(k.magic)) {
			return refusal(NotASpreadsheet, hintBring, "%s, not a spreadsheet", k.what)
		}
	}
	text := strings.ToLower(strings.TrimLeft(strings.TrimPrefix(string(head), "\xEF\xBB\xBF"), " \t\r\n"))
	for _, begin := range []string{"<!doctype html", "<html", "<?xml", "<table", "<head", "<meta"} {
		if strings.HasPrefix(text, begin) {
			return refusal(NotASpreadsheet, hintSaveAgain, "it is a web page or XML, not a workbook")
		}
	}
	if ext := strings.ToLower(filepath.Ext(name)); strings.HasPrefix(ext, ".xl") || ext == ".ods" {
		return refusal(NotASpreadsheet, "if it is a list as text, give it a name that ends in .csv",
			"it is named %s but is no workbook inside", ext)
	}
	return nil
}
