package importers_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"crossbin/internal/app"
)

// book writes a workbook of one sheet and reads it. fill gets the file and the
// sheet's name.
func book(t *testing.T, fill func(f *excelize.File, sheet string)) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fill(f, "Sheet1")
	path := filepath.Join(t.TempDir(), "book.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return report(readFile(t, path))
}

func set(t *testing.T, f *excelize.File, cell string, value any) {
	t.Helper()
	if err := f.SetCellValue("Sheet1", cell, value); err != nil {
		t.Fatal(err)
	}
}

func style(t *testing.T, f *excelize.File, cell, format string) {
	t.Helper()
	id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err == nil {
		err = f.SetCellStyle("Sheet1", cell, cell, id)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// What a spreadsheet does to a part number is undone only where it can be
// proven, and flagged otherwise.
func TestNumbersTypedAsNumbers(t *testing.T) {
	for _, tt := range []struct {
		name, format string
		value        any
		column       string
		want, not    string
	}{
		{"text", "", "0999123001", "A", "part 0999123001", "!"},
		{"zeros may be lost", "", 999123001, "A", `! A2 number_typed: "999123001"`, "part 0999123001"},
		{"what is shown is kept", "", 999123001, "A", "part 999123001", "number_digits_lost"},
		{"zeros shown by the format", "0000000000", 999123001, "A", "part 0999123001", "!"},
		{"scientific display", "0.00E+00", 12345678901, "A", "part 12345678901", "E+"},
		{"more digits than are kept", "", "", "A", "number_digits_lost", "  A2 part"},
		{"a short number of the shop's own", "", 1001, "B", "part 1001", "!"},
		{"a long number of the shop's own", "", 12345678, "B", "! B2 number_typed", ""},
		{"decimals", "", 98760.5, "A", "! A2 number_typed", "\n  A2 part"},
		{"a date", "yyyy-mm-dd", time.Date(1996, 1, 1, 0, 0, 0, 0, time.UTC), "A", `! A2 year_as_date: "1996-01-01", wanted a part number; the spreadsheet has made a date of what was typed, perhaps 96-01 or 1-1`, "\n  A2 part"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := book(t, func(f *excelize.File, _ string) {
				set(t, f, "A1", "OE No")
				set(t, f, "B1", "Our No")
				set(t, f, "C1", "Description")
				set(t, f, tt.column+"2", tt.value)
				if tt.value == "" {
					if err := f.SetCellDefault("Sheet1", "A2", "1234567890123450000"); err != nil {
						t.Fatal(err)
					}
				}
				set(t, f, "C2", "Alternator")
				if tt.format != "" {
					style(t, f, tt.column+"2", tt.format)
				}
			})
			if !strings.Contains(got, tt.want) || tt.not != "" && strings.Contains(got, tt.not) {
				t.Errorf("want %s, not %s, in\n%s", tt.want, tt.not, got)
			}
		})
	}
}

// Case 11: a cell typed as a date in a column of years is flagged with both
// readings and nothing is guessed.
func TestYearTypedAsDate(t *testing.T) {
	got := book(t, func(f *excelize.File, _ string) {
		for i, h := range []string{"OE No", "Description", "Model code", "Years"} {
			set(t, f, string(rune('A'+i))+"1", h)
		}
		for i, v := range []any{"98760-50090", "Alternator", "KV31", time.Date(1996, 1, 1, 0, 0, 0, 0, time.UTC)} {
			set(t, f, string(rune('A'+i))+"2", v)
		}
		for i, v := range []any{"98760-50091", "Alternator", "KV31", time.Date(2010, 6, 10, 0, 0, 0, 0, time.UTC)} {
			set(t, f, string(rune('A'+i))+"3", v)
		}
		style(t, f, "D2", "yy-mm")
		style(t, f, "D3", "m-d")
	})
	for _, want := range []string{`! D2 year_as_date: "96-01"`, `"96-01?" or "Jan 1996"`, `"6-10?" or "10 Jun 2010"`, "part 9876050090"} {
		if !strings.Contains(got, want) {
			t.Errorf("want %s in\n%s", want, got)
		}
	}
	if strings.Contains(got, "  B2 fitment") || strings.Contains(got, " into ") {
		t.Errorf("a fitment was made without its years:\n%s", got)
	}
}

// Merged cells are filled down and marked; hidden rows, columns and sheets are
// read and marked; formulas without a value are blank and counted.
func TestLayoutDamage(t *testing.T) {
	got := book(t, func(f *excelize.File, name string) {
		for i, h := range []string{"OE No", "Description", "Make", "Model", "Qty", "Bin"} {
			set(t, f, string(rune('A'+i))+"1", h)
		}
		for row, v := range map[string][]any{"2": {"98760-50090", "Alternator", "Kestrel", "Arrow", 2, "A-1"}, "3": {"98760-50091", "Alternator", nil, "Bolt", 1.0, "A-2"}, "4": {"98760-50092", "Alternator", "Kestrel", "Bolt", nil, "A-3"}} {
			for i, x := range v {
				set(t, f, string(rune('A'+i))+row, x)
			}
		}
		err := f.MergeCell(name, "C2", "C3")
		if err == nil {
			err = f.SetRowVisible(name, 4, false)
		}
		if err == nil {
			err = f.SetColVisible(name, "D", false)
		}
		if err == nil {
			err = f.SetCellFormula(name, "E4", "A1/0")
		}
		if err != nil {
			t.Fatal(err)
		}
	})
	for _, want := range []string{
		`! C3 inferred: "Kestrel"`, "fitment KESTREL 9876050091 into maker=KESTREL model=BOLT", `!  hidden_row: "hidden"`, "! D1 hidden_column", "! E4 error_cell",
		"4 rows: 1 taken, 2 flagged, 0 refused, 1 skipped",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("want %s in\n%s", want, got)
		}
	}
}

// Each sheet is read by its own headings; a sheet's name can name the part type.
func TestSheets(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	path := filepath.Join(t.TempDir(), "book.xlsx")
	for _, name := range []string{"Radiators", "Kunden", "Hidden"} {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
	}
	cells := map[string]map[string]any{
		"Radiators": {"A1": "OE No", "B1": "Core size (cm)", "C1": "Model", "A2": "98760-50110", "B2": "37.5x66x2.6", "C2": "Arrow"},
		"Kunden":    {"A1": "Kunde", "B1": "Kennzeichen", "A2": "Mo", "B2": "X 1"},
		"Hidden":    {"A1": "OE No", "B1": "Part type", "A2": "98760-50090", "B2": "Alternator"},
	}
	for name, values := range cells {
		for cell, v := range values {
			if err := f.SetCellValue(name, cell, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := f.SetSheetVisible("Hidden", false); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	tables, rows := readFile(t, path)
	got := report(tables, rows)
	for _, want := range []string{
		`table "Radiators" fitments`, "value 9876050110 core_size=375 x 660 x 26 [radiator]", "! A1 hidden_sheet", "!  no_number_column", `table "Kunden" nothing of use`,
		"refused: the table has no column of part numbers", "part 9876050090",
	} {
		want = strings.Replace(want, "! A1 hidden_sheet", "!  hidden_sheet", 1)
		if !strings.Contains(got, want) {
			t.Errorf("want %s in\n%s", want, got)
		}
	}
	for _, r := range rows {
		if r.State == app.Refused && r.Why == "" && len(r.Problems) == 0 {
			t.Errorf("row %d is refused without a word", r.Place.Row)
		}
	}
}
