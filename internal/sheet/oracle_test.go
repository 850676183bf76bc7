package sheet

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// oracle reads a sheet with excelize: the raw values of all rows that are not
// blank, by row number.
func oracle(t testing.TB, book []byte, sheet string) map[int][]string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book), excelize.Options{RawCellValue: true})
	must(t, err)
	defer f.Close()
	rows, err := f.Rows(sheet)
	must(t, err)
	all := map[int][]string{}
	for n := 1; rows.Next(); n++ {
		cells, err := rows.Columns()
		must(t, err)
		if cells = trimmed(cells); len(cells) > 0 {
			all[n] = slices.Clone(cells)
		}
	}
	must(t, rows.Close())
	return all
}

func trimmed(cells []string) []string {
	for len(cells) > 0 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// scanned reads the same with our scanner. Cells filled from merged ranges are
// left out, because excelize's rows do not fill them.
func scanned(t testing.TB, book []byte, sheet string) map[int][]string {
	t.Helper()
	f, err := openBytes("list.xlsx", book, Limits{})
	must(t, err)
	defer f.Close()
	all := map[int][]string{}
	must(t, f.Rows(context.Background(), sheet, func(r Row) error {
		var cells []string
		for _, c := range r.Cells {
			if c.Merged {
				c.Raw = ""
			}
			cells = append(cells, c.Raw)
		}
		if cells = trimmed(cells); len(cells) > 0 {
			all[r.Number] = cells
		}
		return nil
	}))
	return all
}

func compare(t testing.TB, book []byte, sheet string) {
	t.Helper()
	want, got := oracle(t, book, sheet), scanned(t, book, sheet)
	if len(want) == 0 {
		t.Fatal("the workbook holds nothing to compare")
	}
	for n, w := range want {
		if !slices.Equal(got[n], w) {
			t.Fatalf("row %d: got %q, want %q", n, got[n], w)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("got %d rows, want %d", len(got), len(want))
	}
}

// The scanner gives what excelize gives, cell for cell.
func TestScannerAgreesWithExcelize(t *testing.T) {
	long := strings.Repeat("ab_x0041_ ", 3000)
	books := map[string][]byte{
		"types":    typesBook(t),
		"inline":   streamedBook(t, 300, 12),
		"sparse":   packSheet(t, worksheetXML(`<row r="3"><c r="C3"><v>1</v></c></row><row r="9"/><row r="20"><c r="A20"/><c r="D20"><v>2</v></c></row>`)),
		"no refs":  packSheet(t, worksheetXML(`<row><c><v>1</v></c><c t="s"><v>1</v></c></row><row><c/><c><v>2</v></c></row>`)),
		"prefixes": packSheet(t, strings.NewReplacer("</", "</x:", "<", "<x:", "xmlns=", "xmlns:x=").Replace(worksheetXML(`<row r="1"><c r="A1"><v>7</v></c></row>`))),
		"long":     packSheet(t, worksheetXML(`<row r="1">`+inlineCell("A1", long)+`</row>`)),
		"exotic":   packSheet(t, worksheetXML(`<row r="1"><c r="A1" t="n"><v>no number</v></c><c r="B1" t="zz"><v>5</v></c><c r="C1" t="d"><v>2003-07-05</v></c><c r="D1"><v>1.50</v></c></row>`)),
	}
	for name, book := range books {
		t.Run(name, func(t *testing.T) {
			f, err := openBytes("list.xlsx", book, Limits{})
			must(t, err)
			for _, s := range f.Sheets() {
				compare(t, book, s.Name)
			}
		})
	}
	for _, sheet := range []string{"Shelf", "Notes"} {
		compare(t, fileBytes(t, filepath.Join(testdata, "libreoffice.xlsx")), sheet)
	}
}

// typesBook has every type of cell that excelize writes.
func typesBook(t testing.TB) []byte {
	return built(t, func(f *excelize.File) {
		must(t, f.SetSheetName("Sheet1", "List"))
		style := func(code string) int {
			id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			must(t, err)
			return id
		}
		for ref, v := range map[string]any{
			"A1": "Part no", "B1": " padded\u00a0", "C1": "two\nlines", "D1": "a_x000D_b", "E1": "<&>\"'",
			"A2": 12345, "B2": 0.1 + 0.2, "C2": 987604612012345678, "D2": -3.5, "E2": 1e-7,
			"A3": true, "B3": false, "C3": time.Date(2003, 7, 5, 0, 0, 0, 0, time.UTC), "D3": 26*time.Hour + 30*time.Minute,
			"A4": "", "C4": "発電機", "F4": "😀", "A9": 9876046120,
		} {
			must(t, f.SetCellValue("List", ref, v))
		}
		must(t, f.SetCellFormula("List", "G2", "A2+1"))
		must(t, f.SetCellRichText("List", "G1", []excelize.RichTextRun{{Text: "red "}, {Text: "blue"}}))
		must(t, f.SetCellStyle("List", "A2", "A2", style("0000000")))
		must(t, f.SetCellStyle("List", "A9", "A9", style("00000-00000")))
		must(t, f.MergeCell("List", "B5", "D7"))
		must(t, f.SetCellValue("List", "B5", "merged"))
	})
}

// streamedBook is written as lists of some size are: texts stand in the cells.
func streamedBook(t testing.TB, rows, cols int) []byte {
	return built(t, func(f *excelize.File) {
		w, err := f.NewStreamWriter("Sheet1")
		must(t, err)
		for r := 1; r <= rows; r++ {
			line := make([]any, cols)
			for c := range line {
				if c%3 == 0 {
					line[c] = r*31 + c
				} else {
					line[c] = fmt.Sprintf("QRA%05d-%d", r, c)
				}
			}
			must(t, w.SetRow(Address(1, r), line))
		}
		must(t, w.Flush())
	})
}

// Any workbook: random types, gaps, styles and merged ranges.
func TestScannerAgreesWithExcelizeOnRandomBooks(t *testing.T) {
	text := rapid.StringOf(rapid.RuneFrom([]rune("aZ09 -_x/\n\t<&>'\"éßｱ発😀\u00a0")))
	cell := rapid.OneOf(
		rapid.Map(text, func(s string) any { return s }),
		rapid.Map(rapid.Int(), func(i int) any { return i }),
		rapid.Map(rapid.Float64Range(-1e12, 1e12), func(f float64) any { return f }),
		rapid.Map(rapid.Bool(), func(b bool) any { return b }),
		rapid.Map(rapid.Int64Range(0, 4e9), func(s int64) any { return time.Unix(s, 0).UTC() }),
		rapid.Just(any(nil)),
	)
	rapid.Check(t, func(r *rapid.T) {
		stream := rapid.Bool().Draw(r, "stream")
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 0, 8), 1, 12).Draw(r, "rows")
		book := built(t, func(f *excelize.File) {
			if stream {
				w, err := f.NewStreamWriter("Sheet1")
				must(t, err)
				for i, row := range rows {
					must(t, w.SetRow(Address(1, i*2+1), row))
				}
				must(t, w.Flush())
				return
			}
			for i, row := range rows {
				must(t, f.SetSheetRow("Sheet1", Address(1, i*2+1), &row))
			}
		})
		f, err := openBytes("list.xlsx", book, Limits{})
		want := oracle(t, book, "Sheet1")
		if err != nil {
			if codeOf(t, err) != Empty || len(want) > 0 {
				r.Fatalf("got %v, want %v", err, want)
			}
			return
		}
		defer f.Close()
		got := scanned(t, book, "Sheet1")
		for n := range want {
			if !slices.Equal(got[n], want[n]) {
				r.Fatalf("row %d: got %q, want %q", n, got[n], want[n])
			}
		}
		if len(got) != len(want) {
			r.Fatalf("got rows %v, want %v", got, want)
		}
	})
}

// Sheets, their order and visibility, hidden rows and columns, merged values and
// the date system agree with excelize too.
func TestWorkbookAgreesWithExcelize(t *testing.T) {
	book := built(t, func(f *excelize.File) {
		for _, name := range []string{"Starters", "Old & sold", "Very hidden"} {
			_, err := f.NewSheet(name)
			must(t, err)
		}
		must(t, f.SetSheetVisible("Old & sold", false))
		must(t, f.SetSheetVisible("Very hidden", false, true))
		for i := range 6 {
			must(t, f.SetCellValue("Starters", Address(i+1, i+1), i+1))
		}
		must(t, f.SetRowVisible("Starters", 2, false))
		must(t, f.SetColVisible("Starters", "B:C", false))
		must(t, f.SetColVisible("Starters", "F", false))
		must(t, f.MergeCell("Starters", "B2", "D5"))
		yes := true
		must(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
		must(t, f.SetCellValue("Sheet1", "A1", 36341))
		style, err := f.NewStyle(&excelize.Style{NumFmt: 14})
		must(t, err)
		must(t, f.SetCellStyle("Sheet1", "A1", "A1", style))
	})
	f, err := openBytes("list.xlsx", book, Limits{})
	must(t, err)
	e, err := excelize.OpenReader(bytes.NewReader(book))
	must(t, err)
	defer e.Close()
	for i, name := range e.GetSheetList() {
		visible, err := e.GetSheetVisible(name)
		must(t, err)
		if got := f.Sheets()[i]; got.Name != name || got.Index != i+1 || got.Hidden == visible {
			t.Errorf("got %+v, want sheet %d %q, visible %v", got, i+1, name, visible)
		}
	}
	var hidden []int
	for col := 1; col <= 10; col++ {
		visible, err := e.GetColVisible("Starters", ColumnName(col))
		must(t, err)
		if !visible {
			hidden = append(hidden, col)
		}
	}
	if got := f.Sheets()[1].HiddenColumns; !slices.Equal(got, hidden) || len(hidden) != 3 {
		t.Errorf("got hidden columns %v, want %v", got, hidden)
	}
	rows, err := readAll(f, "Starters")
	must(t, err)
	for _, r := range rows {
		visible, err := e.GetRowVisible("Starters", r.Number)
		must(t, err)
		if r.Hidden == visible {
			t.Errorf("row %d: got hidden %v, want %v", r.Number, r.Hidden, !visible)
		}
		for i, c := range r.Cells {
			want, err := e.GetCellValue("Starters", Address(i+1, r.Number))
			must(t, err)
			own := i+1 == r.Number // values under a merged range are kept, see mergeFiller.fill
			if c.Text != want && !own {
				t.Errorf("%s: got %q, want %q", Address(i+1, r.Number), c.Text, want)
			}
			inside := r.Number >= 2 && r.Number <= 5 && i+1 >= 2 && i+1 <= 4
			if c.Merged != (inside && !own) {
				t.Errorf("%s: got merged %v", Address(i+1, r.Number), c.Merged)
			}
		}
	}
	first, err := readAll(f, "Sheet1")
	must(t, err)
	want, err := excelize.ExcelDateToTime(36341, true)
	must(t, err)
	if got := first[0].Cells[0]; !got.Date.Equal(want) || got.Text != "2003-07-01" {
		t.Errorf("got %+v, want the date %v of the 1904 system", got, want)
	}
}

// Serial numbers become the same days and times as with excelize.
func TestDatesAgreeWithExcelize(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		seconds := rapid.Int64Range(0, 86_399).Draw(r, "seconds")
		days := rapid.IntRange(1, 80_000).Filter(func(d int) bool { return d < 60 || d > 62 }).Draw(r, "days")
		date1904 := rapid.Bool().Draw(r, "1904")
		if date1904 || days < 62 {
			seconds = 0 // excelize is a microsecond short there
		}
		if date1904 && days < 62 {
			days += 62
		}
		serial := float64(days) + float64(seconds)/86_400
		want, err := excelize.ExcelDateToTime(serial, date1904)
		if err != nil {
			r.Fatal(err)
		}
		if got, ok := serialTime(serial, date1904); !ok || !got.Equal(want) {
			r.Fatalf("%v (1904 %v): got %v, want %v", serial, date1904, got, want)
		}
	})
}
