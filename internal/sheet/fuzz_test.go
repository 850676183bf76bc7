package sheet

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// small limits keep a fuzzed file from taking long; they bound the same code.
var small = Limits{FileBytes: 1 << 20, Rows: 5000, Columns: 50, CellChars: 500, LineBytes: 64 << 10, PartBytes: 1 << 20, SmallBytes: 1 << 18, Strings: 1000, MergedFilled: 5000}

// exhaust opens a file and reads all that there is; every failure must be for a
// person, and rows must rise and be within the limits.
func exhaust(t *testing.T, name string, b []byte) {
	f, err := openBytes(name, b, small)
	if codeOf(t, err) != "" {
		return
	}
	defer f.Close()
	for _, s := range f.Sheets() {
		last := 0
		err := f.Rows(context.Background(), s.Name, func(r Row) error {
			if r.Number <= last || r.Number > small.Rows || len(r.Cells) > small.Columns {
				t.Fatalf("row %d behind %d with %d cells", r.Number, last, len(r.Cells))
			}
			if n := len(r.Cells); n > 0 && r.Cells[n-1].Type == Blank {
				t.Fatalf("row %d ends with a blank cell", r.Number)
			}
			last = r.Number
			return nil
		})
		codeOf(t, err)
	}
}

// FuzzCSV: no bytes make the csv reader panic, hang or lose its count.
func FuzzCSV(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(testdata, "*.csv"))
	if err != nil || len(files) == 0 {
		f.Fatal("no csv files to begin with", err)
	}
	for _, path := range files {
		f.Add(fileBytes(f, path))
	}
	for _, text := range []string{"a,\"b\nc\",d\n", "sep=;\n1;2", "\"\"\"\n", "a\rb", strings.Repeat("\"a,", 50)} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, b []byte) { exhaust(t, "list.csv", b) })
}

// FuzzXLSXBytes: no bytes make the workbook reader panic or hang.
func FuzzXLSXBytes(f *testing.F) {
	entries, err := os.ReadDir(testdata)
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".xlsx") || strings.HasSuffix(e.Name(), ".xls") {
			f.Add(fileBytes(f, filepath.Join(testdata, e.Name())))
		}
	}
	f.Add(packSheet(f, list))
	f.Fuzz(func(t *testing.T, b []byte) { exhaust(t, "list.xlsx", b) })
}

// FuzzSheetXML: no sheet makes the scanner panic, hang or break its promises.
// Packing the sheet here lets the fuzzer reach further than whole files do.
func FuzzSheetXML(f *testing.F) {
	f.Add(list)
	f.Add(worksheetXML(`<row r="3" hidden="1"><c r="C3" t="d"><v>2003-07-05</v></c><c t="str"><f>A1</f><v/></c></row>`, `<mergeCells><mergeCell ref="A3:B9"/></mergeCells>`))
	f.Add(worksheetXML(`<row><c s="2"><v>37807.5</v></c><c t="b"><v>1</v></c><c t="e"><v>#REF!</v></c></row>`))
	f.Fuzz(func(t *testing.T, xml string) { exhaust(t, "list.xlsx", packSheet(t, xml)) })
}

// FuzzNumberFormat: no format code makes reading or showing panic.
func FuzzNumberFormat(f *testing.F) {
	for _, code := range []string{"0000000", `00000\-00000`, `[$-411]ge.m.d;@`, `"a`, `\`, "_", "[h]:mm:ss.000", "[", "yyyy-mm-dd", "AM/PM"} {
		f.Add(code, "35065.5")
	}
	f.Fuzz(func(t *testing.T, code, raw string) {
		s := &rowScan{w: &workbook{formats: []numberFormat{readFormat(200, code, true)}, limits: DefaultLimits()}}
		d, err := s.convert(&xmlCell{value: []byte(raw)})
		if err == nil && d.Type == Number && d.text.from == d.text.to {
			t.Errorf("%q of %q: a number is shown as nothing", code, raw)
		}
	})
}
