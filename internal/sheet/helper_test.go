package sheet

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// testdata is the folder with committed files.
const testdata = "../../testdata/sheet"

// bare holds the parts around the sheets of the smallest workbook.
var bare = map[string]string{
	"_rels/.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
	"[Content_Types].xml": `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
	"xl/workbook.xml": `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">
<sheets><sheet name="List" sheetId="1" r:id="rId1"/></sheets></workbook>`,
	"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>
<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/>
<Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
	"xl/styles.xml": `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts count="1"><numFmt numFmtId="164" formatCode="0000000"/></numFmts>
<cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
	"xl/sharedStrings.xml": `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>Part no</t></si><si><t>QRA02345</t></si></sst>`,
}

const sheet1 = "xl/worksheets/sheet1.xml"

// worksheetXML wraps rows, and what stands behind them, in a sheet.
func worksheetXML(rows string, behind ...string) string {
	return `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + rows + `</sheetData>` + strings.Join(behind, "") + `</worksheet>`
}

// inlineCell is a cell with its text in it.
func inlineCell(ref, text string) string {
	return fmt.Sprintf(`<c r="%s" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, ref, text)
}

// pack makes a workbook of the bare parts and the given ones; a part given as ""
// is left out.
func pack(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	all := map[string]string{}
	for name, body := range bare {
		all[name] = body
	}
	for name, body := range parts {
		all[name] = body
	}
	var names []string
	for name, body := range all {
		if body != "" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, name := range names {
		p, err := w.Create(name)
		if err == nil {
			_, err = io.WriteString(p, all[name])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// packSheet makes a workbook with one sheet, "List".
func packSheet(t testing.TB, xml string) []byte {
	t.Helper()
	return pack(t, map[string]string{sheet1: xml})
}

// edit replaces text in one part of a workbook.
func edit(t testing.TB, book []byte, part, old, new string) []byte {
	t.Helper()
	zr, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	edited := false
	for _, f := range zr.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == part {
			edited = strings.Contains(string(body), old)
			body = []byte(strings.Replace(string(body), old, new, 1))
		}
		p, err := w.Create(f.Name)
		if err == nil {
			_, err = p.Write(body)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if !edited {
		t.Fatalf("%s holds no %q", part, old)
	}
	return out.Bytes()
}

// built makes a workbook with excelize; the first sheet is "Sheet1".
func built(t testing.TB, fill func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fill(f)
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// openBytes opens bytes as a file of the given name.
func openBytes(name string, b []byte, limits Limits) (*File, error) {
	return OpenReader(name, bytes.NewReader(b), int64(len(b)), limits)
}

// readAll reads all rows of a sheet.
func readAll(f *File, sheet string) ([]Row, error) {
	var rows []Row
	err := f.Rows(context.Background(), sheet, func(r Row) error {
		rows = append(rows, r)
		return nil
	})
	return rows, err
}

// readBytes opens bytes and reads the first sheet.
func readBytes(name string, b []byte, limits Limits) ([]Row, error) {
	f, err := openBytes(name, b, limits)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readAll(f, f.Sheets()[0].Name)
}

// texts gives the shown text of every cell.
func texts(rows []Row) [][]string {
	var all [][]string
	for _, r := range rows {
		line := []string{}
		for _, c := range r.Cells {
			line = append(line, c.Text)
		}
		all = append(all, line)
	}
	return all
}

// codeOf gives the code of an error, "" for none.
func codeOf(t testing.TB, err error) Code {
	t.Helper()
	if err == nil {
		return ""
	}
	var u *UnreadableError
	if !errors.As(err, &u) {
		t.Fatalf("got error %v (%T), want an *UnreadableError", err, err)
	}
	if strings.Contains(err.Error(), "\n") || u.Hint == "" || u.File == "" {
		t.Errorf("got %+v, want one line with a file and a hint", u)
	}
	return u.Code
}

// saved writes bytes to a file of a temporary folder.
func saved(t testing.TB, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	must(t, os.WriteFile(path, b, 0o600))
	return path
}

func fileBytes(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	must(t, err)
	return b
}
