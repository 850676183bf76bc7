package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// list is a sheet of four rows, for breaking.
var list = worksheetXML(
	`<row r="1">`+inlineCell("A1", "Part no")+inlineCell("B1", "Output")+`</row>`+
		`<row r="2"><c r="A2" t="s"><v>1</v></c><c r="B2"><v>80</v></c></row>`+
		`<row r="3"><c r="A3" s="1"><v>12345</v></c><c r="B3"><v>90</v></c></row>`+
		`<row r="4"><c r="A4" t="s"><v>0</v></c></row>`,
	`<mergeCells count="1"><mergeCell ref="A3:A4"/></mergeCells>`)

// Damage that excelize passes over in silence, and other damage: each is refused,
// with the place where there is one.
func TestDamagedSheetsAreRefused(t *testing.T) {
	cut := func(at string) string { return list[:strings.Index(list, at)] }
	put := func(old, new string) string {
		if !strings.Contains(list, old) {
			t.Fatalf("the list holds no %q", old)
		}
		return strings.Replace(list, old, new, 1)
	}
	for _, tt := range []struct {
		name, xml string
		says      string // in the message
	}{
		{"cut between rows", cut(`<row r="3"`), "sheetData"},
		{"cut in a row", cut(`<c r="B3"`), "sheetData"},
		{"cut in a tag", cut(`="B3"`), "sheetData"},
		{"cut behind the rows", cut(`</worksheet>`), "worksheet"},
		{"cut and closed", cut(`<c r="B3"`) + `</sheetData></worksheet>`, "closes nothing"},
		{"malformed row", put(`<c r="B2">`, `<c r="B2>`), "damaged"},
		{"mixed up ends", put(`</c><c r="B2">`, `</row><c r="B2">`), "closes nothing"},
		{"cells out of order", put(`<c r="A2" t="s"><v>1</v></c><c r="B2"><v>80</v></c>`, `<c r="B2"><v>80</v></c><c r="A2" t="s"><v>1</v></c>`), "cell A2: the cell stands behind B2"},
		{"the same cell twice", put(`r="B3"`, `r="A3"`), "cell A3"},
		{"cell of another row", put(`r="B3"`, `r="B4"`), `row 3: a cell has the address "B4"`},
		{"cell without column", put(`r="B3"`, `r="3"`), "row 3"},
		{"cell beyond the last column", put(`r="B3"`, `r="XFE3"`), "row 3"},
		{"row number goes back", put(`<row r="3">`, `<row r="2">`), "row 2 stands behind row 2"},
		{"row number is no number", put(`<row r="3">`, `<row r="x">`), `the number "x"`},
		{"row zero", put(`<row r="1">`, `<row r="0">`), `the number "0"`},
		{"shared text beyond the list", put(`<v>0</v>`, `<v>2</v>`), `cell A4: the cell refers to text "2"`},
		{"shared text below zero", put(`<v>0</v>`, `<v>-1</v>`), "cell A4"},
		{"shared text not a number", put(`<v>0</v>`, `<v>x</v>`), "cell A4"},
		{"style beyond the list", put(`s="1"`, `s="7"`), "cell A3: the cell has style 7"},
		{"style not a number", put(`s="1"`, `s="-1"`), "cell A3"},
		{"two values", put(`<v>90</v>`, `<v>90</v><v>91</v>`), "cell B3: the cell holds two values"},
		{"two row parts", put(`</sheetData>`, `</sheetData><sheetData><row r="5"/></sheetData>`), "two rows parts"},
		{"no rows part", `<worksheet/>`, "no rows part"},
		{"not a sheet", `<chartsheet/>`, "<chartsheet>"},
		{"strange element among rows", put(`<row r="3">`, `<AlternateContent/><row r="3">`), "<AlternateContent> stands among the rows"},
		{"strange element among cells", put(`<c r="B3">`, `<cell/><c r="B3">`), "row 3: <cell> stands among the cells"},
		{"merged range unreadable", put(`A3:A4`, `A4:A3`), `"A4:A3"`},
		{"column numbers unreadable", put(`<sheetData>`, `<cols><col min="x" max="2" hidden="1"/></cols><sheetData>`), "column"},
		{"document type", `<!DOCTYPE worksheet>` + list, "document type"},
		{"rows closed inside a section", put(`<row r="3">`, `<!-- </sheetData> --><row r="3">`), "damaged"},
		{"no UTF-8", put(`Output`, "Output\xFF"), "damaged"},
		{"nothing at all", "", "is listed but not in the file"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := readBytes("list.xlsx", pack(t, map[string]string{sheet1: tt.xml}), Limits{})
			if codeOf(t, err) != Damaged {
				t.Fatalf("got %v, want %s", err, Damaged)
			}
			if !strings.Contains(err.Error(), tt.says) || !strings.Contains(err.Error(), `list.xlsx: sheet "List"`) {
				t.Errorf("got %q, want file, sheet and %q", err, tt.says)
			}
		})
	}
	if rows, err := readBytes("list.xlsx", packSheet(t, list), Limits{}); err != nil || len(rows) != 4 {
		t.Errorf("the list that is whole: got %v, %v", rows, err)
	}
}

// Damage in the parts around the sheets.
func TestDamagedPartsAreRefused(t *testing.T) {
	for _, tt := range []struct {
		name, part, old, new string
		want                 Code
	}{
		{"list of sheets cut", "xl/workbook.xml", "</sheets></workbook>", "", Damaged},
		{"relations cut", "xl/_rels/workbook.xml.rels", "</Relationships>", "", Damaged},
		{"relations of another kind", "xl/_rels/workbook.xml.rels", "<Relationships", "<Relations", Damaged},
		{"sheet leads nowhere", "xl/_rels/workbook.xml.rels", "sheet1.xml", "sheet9.xml", Damaged},
		{"sheet without relation", "xl/workbook.xml", `r:id="rId1"`, ``, Damaged},
		{"sheet listed twice", "xl/workbook.xml", `<sheet `, `<sheet name="Other" sheetId="2" r:id="rId1"/><sheet `, Damaged},
		{"two sheets of one name", "xl/workbook.xml", `<sheet `, `<sheet name="LIST" sheetId="2" r:id="rId1"/><sheet `, Damaged},
		{"styles cut", "xl/styles.xml", "</cellXfs></styleSheet>", "", Damaged},
		{"style of no number", "xl/styles.xml", `numFmtId="14"`, `numFmtId="x"`, Damaged},
		{"format of no number", "xl/styles.xml", `<numFmt numFmtId="164"`, `<numFmt numFmtId=""`, Damaged},
		{"shared texts cut", "xl/sharedStrings.xml", "</si></sst>", "", Damaged},
		{"shared texts of another kind", "xl/sharedStrings.xml", "<sst", "<list", Damaged},
		{"no root relation, workbook at its usual place", "_rels/.rels", "officeDocument\"", "other\"", ""},
		{"backslashes and capitals in names", "xl/_rels/workbook.xml.rels", "worksheets/sheet1.xml", `/XL/Worksheets\sheet1.xml`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := readBytes("list.xlsx", edit(t, packSheet(t, list), tt.part, tt.old, tt.new), Limits{})
			if got := codeOf(t, err); got != tt.want {
				t.Errorf("got %q (%v), want %q", got, err, tt.want)
			}
		})
	}
	without := pack(t, map[string]string{sheet1: worksheetXML(`<row><c><v>1</v></c></row>`), "xl/styles.xml": "", "xl/sharedStrings.xml": ""})
	if rows, err := readBytes("list.xlsx", without, Limits{}); err != nil || sketch(rows) != "1[1]" {
		t.Errorf("without styles and shared texts: got %v, %v", rows, err)
	}
	charts := edit(t, packSheet(t, list), "xl/workbook.xml", "<sheets>", `<sheets><sheet name="Chart" sheetId="3" r:id="rId3"/>`)
	charts = edit(t, charts, "xl/_rels/workbook.xml.rels", "relationships/sharedStrings", "relationships/chartsheet")
	f, err := openBytes("list.xlsx", charts, Limits{})
	must(t, err)
	if got := f.Sheets(); len(got) != 1 || got[0].Name != "List" {
		t.Errorf("got sheets %+v, want the chart left out", got)
	}
}

// A workbook that is cut anywhere, or in which any byte of a sheet is changed,
// is refused; no row is lost in silence.
func TestCutAndChangedBytes(t *testing.T) {
	whole := fileBytes(t, filepath.Join(testdata, "libreoffice.xlsx"))
	for n := 1; n < len(whole); n += 97 {
		if _, err := readBytes("list.xlsx", whole[:n], Limits{}); codeOf(t, err) == "" {
			t.Fatalf("cut to %d bytes: got no error", n)
		}
	}
	zr, err := zip.NewReader(bytes.NewReader(whole), int64(len(whole)))
	must(t, err)
	for _, f := range zr.File {
		if !strings.HasSuffix(f.Name, "sheet1.xml") {
			continue
		}
		from, err := f.DataOffset()
		must(t, err)
		for i := from; i < from+int64(f.CompressedSize64); i += 13 {
			changed := bytes.Clone(whole)
			changed[i] ^= 0x55
			if _, err := readBytes("list.xlsx", changed, Limits{}); codeOf(t, err) != Damaged {
				t.Fatalf("byte %d changed: got %v, want %s", i, err, Damaged)
			}
		}
	}
}

// Parts that are not read are never unpacked, whatever they hold; those that are
// read may not stand there twice or be encrypted.
func TestOtherPartsAreLeftAlone(t *testing.T) {
	book := packSheet(t, list)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	zr, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	must(t, err)
	for _, f := range zr.File {
		must(t, w.Copy(f))
	}
	p, err := w.CreateRaw(&zip.FileHeader{Name: "xl/media/image1.png", Method: zip.Deflate, CompressedSize64: 4, UncompressedSize64: 1 << 40})
	must(t, err)
	_, err = p.Write([]byte("junk"))
	must(t, err)
	must(t, w.Close())
	rows, err := readBytes("list.xlsx", out.Bytes(), Limits{})
	must(t, err)
	if len(rows) != 4 {
		t.Errorf("got %d rows, want 4", len(rows))
	}

	out.Reset()
	w = zip.NewWriter(&out)
	for _, f := range zr.File {
		must(t, w.Copy(f))
	}
	_, err = w.Create("XL\\worksheets\\SHEET1.xml")
	must(t, err)
	must(t, w.Close())
	if _, err := readBytes("list.xlsx", out.Bytes(), Limits{}); codeOf(t, err) != Damaged || !strings.Contains(err.Error(), "two inner files") {
		t.Errorf("got %v, want the part that stands there twice refused", err)
	}

	locked := bytes.Clone(book)
	for i := 0; ; {
		n := bytes.Index(locked[i:], []byte("PK\x01\x02"))
		if n < 0 {
			break
		}
		i += n + 8
		binary.LittleEndian.PutUint16(locked[i:], binary.LittleEndian.Uint16(locked[i:])|1)
	}
	if _, err := readBytes("list.xlsx", locked, Limits{}); codeOf(t, err) != Password {
		t.Errorf("got %v, want %s", err, Password)
	}
}

// A part may be written in UTF-16, as the packaging standard allows.
func TestPartInUTF16(t *testing.T) {
	for mark, order := range map[string]binary.AppendByteOrder{"\xFF\xFE": binary.LittleEndian, "\xFE\xFF": binary.BigEndian} {
		b := []byte(mark)
		for _, c := range []byte(`<?xml version="1.0" encoding="UTF-16"?>` + list) {
			b = order.AppendUint16(b, uint16(c))
		}
		rows, err := readBytes("list.xlsx", packSheet(t, string(b)), Limits{})
		must(t, err)
		if len(rows) != 4 || rows[0].Cells[1].Text != "Output" {
			t.Errorf("got %s, want the list", sketch(rows))
		}
	}
}

// faultyReader fails at every read beyond a place.
type faultyReader struct {
	*bytes.Reader
	from int64
}

func (f faultyReader) ReadAt(p []byte, off int64) (int, error) {
	if off+int64(len(p)) > f.from {
		return 0, &os.PathError{Op: "read", Path: "list", Err: errors.New("input/output error")}
	}
	return f.Reader.ReadAt(p, off)
}

// A disk that fails is not taken for a short file.
func TestFailingDisk(t *testing.T) {
	text := bytes.Repeat([]byte("QRA02345;80\r\n"), 20_000)
	for _, from := range []int64{0, 100, 50_000} {
		_, err := OpenReader("list.csv", faultyReader{bytes.NewReader(text), from}, int64(len(text)), Limits{})
		if codeOf(t, err) != Unreadable || !strings.Contains(err.Error(), "input/output error") {
			t.Errorf("csv failing from %d: got %v, want %s", from, err, Unreadable)
		}
	}
	book := streamedBook(t, 2000, 10)
	f, err := openBytes("list.xlsx", book, Limits{})
	must(t, err)
	failing := faultyReader{bytes.NewReader(book), int64(len(book))}
	f.book.zip, err = openArchive(&failing, int64(len(book)), f.limits)
	must(t, err)
	failing.from = 20_000
	if _, err := readAll(f, "Sheet1"); codeOf(t, err) != Unreadable {
		t.Errorf("workbook: got %v, want %s", err, Unreadable)
	}
}

// A csv file that grows or changes between opening and reading is noticed.
func TestChangedWhileRead(t *testing.T) {
	path := saved(t, "list.csv", []byte("a,b\n1,2\n"))
	f, err := Open(path, Limits{})
	must(t, err)
	defer f.Close()
	must(t, os.WriteFile(path, []byte("a,b\n1,3\n"), 0o600))
	if _, err := readAll(f, ""); codeOf(t, err) != Damaged || !strings.Contains(err.Error(), "changed while") {
		t.Errorf("got %v, want the change noticed", err)
	}
}

func ExampleUnreadableError() {
	err := &UnreadableError{
		Code: Damaged, File: "shelf.xlsx", Sheet: "List", Row: 6, Cell: "C6",
		Message: "the cell stands behind D6", Hint: hintSaveAgain,
	}
	fmt.Println(err)
	// Output: shelf.xlsx: sheet "List": cell C6: the cell stands behind D6; open it in the spreadsheet program, save it as .xlsx and bring the new file
}
