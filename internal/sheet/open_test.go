package sheet

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Every kind of file that cannot be read has its own code and says so in words
// of its own.
func TestOpenTellsKindsApart(t *testing.T) {
	zipOf := func(name, body string) []byte {
		var out bytes.Buffer
		w := zip.NewWriter(&out)
		p, err := w.Create(name)
		must(t, err)
		_, err = p.Write([]byte(body))
		must(t, err)
		must(t, w.Close())
		return out.Bytes()
	}
	good := packSheet(t, worksheetXML(`<row r="1">`+inlineCell("A1", "Part no")+`</row>`))
	ole := func(stream string) []byte {
		b := append([]byte(oleMagic), make([]byte, 1016)...)
		for i, c := range stream {
			b[512+2*i] = byte(c)
		}
		b[512+64], b[512+66] = byte(2*len(stream)+2), 2
		return b
	}
	for _, tt := range []struct {
		name string
		file string // in testdata, or the name for body
		body []byte
		want Code
		says string
	}{
		{name: "made by LibreOffice", file: "libreoffice.xlsx"},
		{name: "good", file: "list.xlsx", body: good},
		{name: "workbook named csv", file: "list.csv", body: good},
		{name: "empty workbook", file: "empty.xlsx", want: Empty, says: "is empty"},
		{name: "password", file: "password.xlsx", want: Password, says: "password"},
		{name: "encrypted stream", file: "x.xlsx", body: ole("EncryptedPackage"), want: Password, says: "password"},
		{name: "old xls", file: "old.xls", want: OldXLS, says: ".xls"},
		{name: "old xls with stream Book", file: "x.xls", body: ole("Book"), want: OldXLS, says: ".xls"},
		{name: "older xls without container", file: "x.xls", body: []byte("\x09\x04\x06\x00\x00\x00\x10\x00"), want: OldXLS, says: ".xls"},
		{name: "other old office file", file: "x.doc", body: ole("WordDocument"), want: NotASpreadsheet, says: "another kind"},
		{name: "truncated", file: "truncated.xlsx", want: Damaged, says: "cut short"},
		{name: "zero bytes", file: "zero.xlsx", want: ZeroBytes, says: "no bytes"},
		{name: "text named xlsx", file: "not-a-workbook.xlsx", want: NotASpreadsheet, says: "no workbook inside"},
		{name: "missing", file: "missing.xlsx", want: NotFound, says: "no such file"},
		{name: "folder", file: ".", want: NotASpreadsheet, says: "folder"},
		{name: "zip of something else", file: "x.zip", body: zipOf("notes.txt", "x"), want: NotASpreadsheet, says: "zip archive"},
		{name: "word processor file", file: "x.docx", body: pack(t, map[string]string{"xl/workbook.xml": `<document/>`}), want: NotASpreadsheet, says: "another kind"},
		{name: "binary workbook", file: "x.xlsb", want: NotASpreadsheet, says: ".xlsb",
			body: pack(t, map[string]string{"_rels/.rels": strings.Replace(bare["_rels/.rels"], "workbook.xml", "workbook.bin", 1)})},
		{name: "OpenDocument", file: "libreoffice.fods", want: NotASpreadsheet, says: "XML"},
		{name: "OpenDocument packed", file: "x.ods", want: NotASpreadsheet, says: "OpenDocument",
			body: pack(t, map[string]string{"mimetype": "x", "content.xml": "<x/>", "_rels/.rels": "", "xl/workbook.xml": ""})},
		{name: "web page named xls", file: "x.xls", body: []byte("<html><table><tr><td>1"), want: NotASpreadsheet, says: "web page"},
		{name: "PDF", file: "x.csv", body: []byte("%PDF-1.4\n"), want: NotASpreadsheet, says: "PDF"},
		{name: "picture", file: "x.csv", body: []byte("\x89PNG\r\n"), want: NotASpreadsheet, says: "picture"},
		{name: "csv with NUL bytes", file: "x.csv", body: []byte("a,b\n1,\x00\x00\x002\n"), want: NotASpreadsheet, says: "NUL"},
		{name: "binary named csv", file: "x.csv", body: bytes.Repeat([]byte("\x01\x02ab"), 50), want: NotASpreadsheet, says: "control characters"},
		{name: "blank csv", file: "x.csv", body: []byte("\r\n ,,\r\n"), want: Empty, says: "is empty"},
		{name: "csv of a byte order mark", file: "x.csv", body: []byte("\xEF\xBB\xBF"), want: Empty, says: "is empty"},
		{name: "too large", file: "x.csv", body: bytes.Repeat([]byte("a,b\n"), 3000), want: TooLarge, says: "10 KB"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(testdata, tt.file)
			if tt.body != nil {
				path = saved(t, tt.file, tt.body)
			}
			limits := Limits{}
			if tt.want == TooLarge {
				limits.FileBytes = 10 << 10
			}
			f, err := Open(path, limits)
			if got := codeOf(t, err); got != tt.want {
				t.Fatalf("got %q (%v), want %q", got, err, tt.want)
			}
			if tt.want == "" {
				must(t, f.Close())
			} else if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %q, want it to say %q", err, tt.says)
			}
		})
	}
}

func TestOpenWithoutTheRight(t *testing.T) {
	path := saved(t, "list.csv", []byte("a,b\n"))
	must(t, os.Chmod(path, 0))
	if os.Geteuid() == 0 {
		t.Log("root may read everything: only the words are checked")
		err := named(systemError(&os.PathError{Op: "open", Path: path, Err: os.ErrPermission}), "list.csv", "")
		if codeOf(t, err) != Unreadable {
			t.Errorf("got %v, want %s", err, Unreadable)
		}
		return
	}
	if _, err := Open(path, Limits{}); codeOf(t, err) != Unreadable {
		t.Errorf("got %v, want %s", err, Unreadable)
	}
}

// The hash is that of the bytes, whatever is read of them.
func TestHash(t *testing.T) {
	f, err := openBytes("list.csv", []byte("a,b\n"), Limits{})
	must(t, err)
	// printf 'a,b\n' | sha256sum
	if want := "5be08c9684a1d25efcee09318204824278b08bbfb4aef973ffefd0b9d7478313"; f.Hash != want {
		t.Errorf("got %s, want %s", f.Hash, want)
	}
	again, err := openBytes("other name.csv", []byte("a,b\n"), Limits{})
	must(t, err)
	other, err := openBytes("list.csv", []byte("a,c\n"), Limits{})
	must(t, err)
	if f.Hash != again.Hash || f.Hash == other.Hash {
		t.Errorf("got %s, %s, %s, want the first two equal", f.Hash, again.Hash, other.Hash)
	}
}

// What LibreOffice wrote is read as it was meant.
func TestLibreOfficeWorkbook(t *testing.T) {
	f, err := Open(filepath.Join(testdata, "libreoffice.xlsx"), Limits{})
	must(t, err)
	defer f.Close()
	if got := f.Sheets(); len(got) != 2 || got[0].Name != "Shelf" || !slices.Equal(got[0].HiddenColumns, []int{4}) || got[1].Index != 2 {
		t.Errorf("got sheets %+v, want Shelf with hidden column D, and Notes", got)
	}
	rows, err := readAll(f, "Shelf")
	must(t, err)
	want := [][]string{
		{"Alternators on the shelf", "Alternators on the shelf", "Alternators on the shelf"},
		{"Part no", "OE no", "Output", "Cost", "Seen", "Years", "Sum", "New"},
		{"0012345", "98760-46120", "80", "12.5", "2003-07-05", "Jan-96", "92.5", "TRUE"},
		{"QRA02345", "98760-46121", "80A ?\none pulley"},
		{"９８７６０－４６１２２", "発電機", "#DIV/0!"},
	}
	if got := texts(rows); !slices.EqualFunc(got, want, slices.Equal[[]string]) {
		t.Errorf("got %q, want %q", got, want)
	}
	third := rows[2].Cells
	if third[0].Raw != "12345" || third[0].Format != "0000000" || third[0].Type != Number {
		t.Errorf("got %+v, want the number 12345 shown as 0000000", third[0])
	}
	if third[5].Type != Date || third[5].Date.Format("2006-01-02") != "1996-01-01" || third[5].Raw != "35065" {
		t.Errorf("got %+v, want 1 January 1996", third[5])
	}
	if !third[6].Formula || third[7].Type != Bool || rows[4].Cells[2].Type != ErrorValue {
		t.Errorf("got %+v and %+v, want a formula, a bool and an error", third, rows[4].Cells)
	}
	if rows[2].Hidden || !rows[3].Hidden || rows[3].Number != 4 {
		t.Errorf("got %+v, want row 4 hidden and no other", rows)
	}
	if first := rows[0].Cells; first[0].Merged || !first[1].Merged || !first[2].Merged {
		t.Errorf("got %+v, want B1 and C1 filled from A1", first)
	}
}

func TestRowsStopsWhenAsked(t *testing.T) {
	f, err := Open(filepath.Join(testdata, "libreoffice.xlsx"), Limits{})
	must(t, err)
	defer f.Close()
	if err := f.Rows(context.Background(), "Shelf", func(Row) error { return os.ErrClosed }); err != os.ErrClosed {
		t.Errorf("got %v, want the error of yield as it is", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := f.Rows(ctx, "Shelf", func(Row) error { return nil }); err != context.Canceled {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
	if _, err := readAll(f, "Cellar"); codeOf(t, err) != NotFound {
		t.Errorf("got %v, want %s", err, NotFound)
	}
	text, err := openBytes("x.csv", bytes.Repeat([]byte("a,b\n"), 1000), Limits{})
	must(t, err)
	if _, err := readAll(text, "Cellar"); codeOf(t, err) != NotFound {
		t.Errorf("got %v, want %s", err, NotFound)
	}
	if err := text.Rows(ctx, "", func(Row) error { return nil }); err != context.Canceled {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
}

func TestAddress(t *testing.T) {
	for _, tt := range []struct {
		col, row int
		want     string
	}{{1, 1, "A1"}, {3, 6, "C6"}, {26, 2, "Z2"}, {27, 2, "AA2"}, {702, 9, "ZZ9"}, {703, 9, "AAA9"}, {16384, 1048576, "XFD1048576"}} {
		got := Address(tt.col, tt.row)
		if got != tt.want {
			t.Errorf("Address(%d, %d): got %s, want %s", tt.col, tt.row, got, tt.want)
		}
		if col, row, ok := parseAddress([]byte(got)); !ok || col != tt.col || row != tt.row {
			t.Errorf("parseAddress(%s): got %d, %d, %v", got, col, row, ok)
		}
	}
	for _, bad := range []string{"", "A", "1", "A0", "A01", "$A$1", "XFE1", "AAAA1", "A1B", "A99999999999", "Ä1", "A-1"} {
		if col, row, ok := parseAddress([]byte(bad)); ok {
			t.Errorf("parseAddress(%q): got %d, %d, want none", bad, col, row)
		}
	}
}

func TestNumbersInMessages(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 1048576: "1,048,576", 50005: "50,005", -1234: "-1,234"} {
		if got := decimal(n); got != want {
			t.Errorf("decimal(%d): got %s, want %s", n, got, want)
		}
	}
	for n, want := range map[int64]string{100: "100 bytes", 100 << 10: "100 KB", 50 << 20: "50 MB"} {
		if got := inWords(n); got != want {
			t.Errorf("inWords(%d): got %s, want %s", n, got, want)
		}
	}
}
