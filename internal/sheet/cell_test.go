package sheet

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// oneCell reads a sheet of one cell, A1, with the given attributes and inside.
func oneCell(t *testing.T, attrs, inside string) (Cell, error) {
	t.Helper()
	rows, err := readBytes("list.xlsx", packSheet(t, worksheetXML(`<row r="1">`+inlineCell("B1", "x")+`</row><row r="2"><c r="A2" `+attrs+`>`+inside+`</c><c r="B2" t="b"><v>1</v></c></row>`)), Limits{})
	if err != nil {
		return Cell{}, err
	}
	return rows[1].Cells[0], nil
}

// What a cell of each type holds, and what is shown.
func TestCellTypes(t *testing.T) {
	for _, tt := range []struct {
		name, attrs, inside string
		want                Cell
	}{
		{"number", ``, `<v>12345</v>`, Cell{Text: "12345", Raw: "12345", Type: Number}},
		{"number by name", `t="n"`, `<v>-3.5</v>`, Cell{Text: "-3.5", Raw: "-3.5", Type: Number}},
		{"floating noise", ``, `<v>0.30000000000000004</v>`, Cell{Text: "0.3", Raw: "0.30000000000000004", Type: Number}},
		{"scientific", ``, `<v>9.876046120123E12</v>`, Cell{Text: "9876046120123", Raw: "9.876046120123E12", Type: Number}},
		{"leading zeros by format", `s="1"`, `<v>12345</v>`, Cell{Text: "0012345", Raw: "12345", Type: Number, Format: "0000000"}},
		{"no number after all", ``, `<v>12 or 13</v>`, Cell{Text: "12 or 13", Raw: "12 or 13", Type: Text}},
		{"shared text", `t="s"`, `<v>1</v>`, Cell{Text: "QRA02345", Raw: "QRA02345", Type: Text}},
		{"shared text in a number style", `t="s" s="1"`, `<v> 1 </v>`, Cell{Text: "QRA02345", Raw: "QRA02345", Type: Text, Format: "0000000"}},
		{"inline text", `t="inlineStr"`, `<is><t>0012345</t></is>`, Cell{Text: "0012345", Raw: "0012345", Type: Text}},
		{"inline without its type", ``, `<is><t>80A</t></is>`, Cell{Text: "80A", Raw: "80A", Type: Text}},
		{"runs are joined", `t="inlineStr"`, `<is><r><rPr><b/></rPr><t>98760</t></r><r><t>-46120</t></r></is>`, Cell{Text: "98760-46120", Raw: "98760-46120", Type: Text}},
		{"readings are left out", `t="inlineStr"`, `<is><t>発電機</t><rPh sb="0" eb="3"><t>ハツデンキ</t></rPh><phoneticPr fontId="1"/></is>`, Cell{Text: "発電機", Raw: "発電機", Type: Text}},
		{"blanks are kept", `t="inlineStr"`, `<is><t xml:space="preserve"> a  b </t></is>`, Cell{Text: " a  b ", Raw: " a  b ", Type: Text}},
		{"escaped line end", `t="inlineStr"`, `<is><t>a_x000D_&#10;b</t></is>`, Cell{Text: "a\r\nb", Raw: "a\r\nb", Type: Text}},
		{"escaped escape", `t="inlineStr"`, `<is><t>_x005F_x000D_</t></is>`, Cell{Text: "_x000D_", Raw: "_x000D_", Type: Text}},
		{"escaped pair", `t="inlineStr"`, `<is><t>_xD83D__xDE00_</t></is>`, Cell{Text: "😀", Raw: "😀", Type: Text}},
		{"half a pair stays", `t="inlineStr"`, `<is><t>_xD83D_a</t></is>`, Cell{Text: "_xD83D_a", Raw: "_xD83D_a", Type: Text}},
		{"no escape", `t="inlineStr"`, `<is><t>_x12_ _xyz</t></is>`, Cell{Text: "_x12_ _xyz", Raw: "_x12_ _xyz", Type: Text}},
		{"character data section", `t="inlineStr"`, `<is><t><![CDATA[a<b]]></t></is>`, Cell{Text: "a<b", Raw: "a<b", Type: Text}},
		{"true", `t="b"`, `<v>1</v>`, Cell{Text: "TRUE", Raw: "1", Type: Bool}},
		{"false", `t="b"`, `<v>0</v>`, Cell{Text: "FALSE", Raw: "0", Type: Bool}},
		{"error", `t="e"`, `<v>#N/A</v>`, Cell{Text: "#N/A", Raw: "#N/A", Type: ErrorValue}},
		{"formula with a number", ``, `<f>A1*2</f><v>7</v>`, Cell{Text: "7", Raw: "7", Type: Number, Formula: true}},
		{"formula with a text", `t="str"`, `<f>A1</f><v>a_x0041_</v>`, Cell{Text: "aA", Raw: "aA", Type: Text, Formula: true}},
		{"formula with an error", `t="e"`, `<f>1/0</f><v>#DIV/0!</v>`, Cell{Text: "#DIV/0!", Raw: "#DIV/0!", Type: ErrorValue, Formula: true}},
		{"formula without value", ``, `<f>A1*2</f>`, Cell{Type: FormulaNoValue, Formula: true}},
		{"formula with an empty value", ``, `<f>A1*2</f><v></v>`, Cell{Type: FormulaNoValue, Formula: true}},
		{"formula with an empty text", `t="str"`, `<f>IF(1,"")</f><v></v>`, Cell{Type: Blank, Formula: true}},
		{"blank", ``, ``, Cell{}},
		{"date by day", `t="d"`, `<v>2003-07-05</v>`, Cell{Text: "2003-07-05", Raw: "2003-07-05", Type: Date, Date: time.Date(2003, 7, 5, 0, 0, 0, 0, time.UTC)}},
		{"date by day and time", `t="d"`, `<v>2003-07-05T14:30:00</v>`, Cell{Text: "2003-07-05 14:30", Raw: "2003-07-05T14:30:00", Type: Date, Date: time.Date(2003, 7, 5, 14, 30, 0, 0, time.UTC)}},
		{"no date after all", `t="d"`, `<v>soon</v>`, Cell{Text: "soon", Raw: "soon", Type: Text}},
		{"serial date", `s="2"`, `<v>37807</v>`, Cell{Text: "2003-07-05", Raw: "37807", Type: Date, Date: time.Date(2003, 7, 5, 0, 0, 0, 0, time.UTC), Format: "m/d/yyyy"}},
		{"serial below zero", `s="2"`, `<v>-5</v>`, Cell{Text: "-5", Raw: "-5", Type: Number, Format: "m/d/yyyy"}},
		{"serial after the year 9999", `s="2"`, `<v>2958466</v>`, Cell{Text: "2958466", Raw: "2958466", Type: Number, Format: "m/d/yyyy"}},
		{"extension is passed over", ``, `<v>5</v><extLst><ext><v>6</v></ext></extLst>`, Cell{Text: "5", Raw: "5", Type: Number}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := oneCell(t, tt.attrs, tt.inside)
			must(t, err)
			if got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
		})
	}
}

// Every number comes out plainly: without exponent and noise, and a whole number
// with all its digits.
func TestNumberText(t *testing.T) {
	for raw, want := range map[string]string{
		"0": "0", "12345": "12345", "0012345": "0012345", "-7": "-7", "+7": "7", "-0": "0", "-0.0": "0",
		"12345.0": "12345", "1.50": "1.5", ".5": "0.5", "5.": "5",
		"9876046120123456789":   "9876046120123456789",
		"9.8760461201234562E16": "98760461201234562",
		"1.23457E+10":           "12345700000",
		"22E1":                  "220",
		"1E-7":                  "0.0000001",
		"1.5e-3":                "0.0015",
		"0E0":                   "0",
		"0.1":                   "0.1",
		"3.3000000000000003":    "3.3",
		"2.9999999999999996":    "3",
		"-12.300000000000001":   "-12.3",
		"123456789012.345":      "123456789012.345",
		"1E21":                  "1000000000000000000000",
	} {
		if got, ok := appendNumber(nil, []byte(raw)); !ok || string(got) != want {
			t.Errorf("%s: got %q, %v, want %q", raw, got, ok, want)
		}
	}
	for _, raw := range []string{"", "-", ".", "1e", "1e+", "e5", "1,5", "0x10", "NaN", "Inf", "1_000", "1e309", "1e9999999999", " 1", "1 "} {
		if got, ok := appendNumber(nil, []byte(raw)); ok {
			t.Errorf("%q: got %q, want no number", raw, got)
		}
	}
}

// Padded and grouped numbers are shown as the spreadsheet shows them; excelize's
// formatted value is the witness where it agrees with the format's meaning.
func TestPaddedNumbers(t *testing.T) {
	for _, tt := range []struct {
		code, raw, want string
		witness         bool
	}{
		{"0000000", "12345", "0012345", true},
		{"0000000", "123456789", "123456789", true},
		{"00000-00000", "9876046120", "98760-46120", true},
		{`00000\-00000`, "9876046120", "98760-46120", true},
		{"00000-00000", "46120", "00000-46120", true},
		{"00000-00000", "129876046120", "1298760-46120", false},
		{`"QX-"0000`, "12", "QX-0012", true},
		{"000 000 00 00", "9871540802", "987 154 08 02", false},
		{"#####-#####", "9876046120", "98760-46120", false},
		{"[Red]0000", "7", "0007", false},
		{"0000;-0000", "7", "0007", false},
		{"0000000", "0", "0000000", true},
		// these are no padding, so the bare number is the honest text
		{"#,##0", "1234567", "1234567", false},
		{"0.00", "80", "80", false},
		{`0" A"`, "80", "80", false},
		{"0", "12.5", "12.5", false},
		{"0000", "12.5", "12.5", false},
		{"0000", "-12", "-12", false},
		{"0%", "0.5", "0.5", false},
		{"[<100]000;0-000", "5", "5", false},
		{"General", "5", "5", false},
		{"@", "12345", "12345", false},
	} {
		book := built(t, func(f *excelize.File) {
			id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &tt.code})
			must(t, err)
			must(t, f.SetCellDefault("Sheet1", "A1", tt.raw))
			must(t, f.SetCellStyle("Sheet1", "A1", "A1", id))
			if shown, err := f.GetCellValue("Sheet1", "A1"); tt.witness && (err != nil || shown != tt.want) {
				t.Errorf("%s of %s: excelize shows %q, %v, want %q", tt.code, tt.raw, shown, err, tt.want)
			}
		})
		rows, err := readBytes("list.xlsx", book, Limits{})
		must(t, err)
		if got := rows[0].Cells[0]; got.Text != tt.want || got.Raw != tt.raw || got.Type != Number {
			t.Errorf("%s of %s: got %+v, want %q", tt.code, tt.raw, got, tt.want)
		}
	}
}

// Which formats are dates, and how they are shown.
func TestDateFormats(t *testing.T) {
	for _, tt := range []struct {
		code, raw, want string
		date            bool
	}{
		{"yyyy-mm-dd", "35065", "1996-01-01", true},
		{`yyyy\-mm\-dd`, "35065", "1996-01-01", true},
		{"mmm-yy", "35065", "Jan-96", true},
		{"[$-409]mmm-yy", "35065", "Jan-96", true},
		{"d/m/yy", "36373", "1/8/99", true},
		{"dd.mm.yyyy;@", "36373", "01.08.1999", true},
		{"d mmmm yyyy", "36373", "1 August 1999", true},
		{"dddd, d", "36373", "Sunday, 1", true},
		{`yyyy"年"m"月"`, "35065", "1996年1月", true},
		{"yyyy年m月", "35065", "1996年1月", true},
		{"h:mm", "0.6041666666666666", "14:30", true},
		{"hh:mm:ss", "35065.25", "06:00:00", true},
		{"h:mm AM/PM", "0.6041666666666666", "2:30 PM", true},
		{"mm:ss", "0.0104166666666667", "15:00", true},
		{"[h]:mm", "1.5", "36:00", true},
		{"[h]:mm:ss", "1.50001157407407", "36:00:01", true},
		// shown plainly: the machine's language, an era or a lost part decides
		{"[$-411]ge.m.d", "35065", "1996-01-01", true},
		{"[$-407]d. mmmm yyyy", "36373", "1999-08-01", true},
		{"mmmmm", "36373", "1999-08-01", true},
		{"[$-F400]h:mm:ss AM/PM", "0.6041666666666666", "14:30", true},
		{"yyyy-mm-dd hh:mm:ss.000", "35065.25", "1996-01-01 06:00", true},
		// no dates
		{"0.00E+00", "35065", "35065", false},
		{`0" days"`, "35065", "35065", false},
		{`0\d`, "35065", "35065", false},
		{"[Red]0", "35065", "35065", false},
		{`"yyyy"0`, "35065", "35065", false},
		{"General", "35065", "35065", false},
	} {
		f := readFormat(200, tt.code, true)
		if f.date != tt.date {
			t.Errorf("%s: got date %v, want %v", tt.code, f.date, tt.date)
		}
		s := &rowScan{w: &workbook{formats: []numberFormat{f}, limits: DefaultLimits()}}
		d, err := s.convert(&xmlCell{value: []byte(tt.raw)})
		must(t, err)
		got := string(s.row.text[d.text.from:d.text.to])
		if got != tt.want || (d.Type == Date) != tt.date {
			t.Errorf("%s of %s: got %q %v, want %q", tt.code, tt.raw, got, d.Type, tt.want)
		}
	}
}

// Built-in formats are known by number alone (ECMA-376 part 1, 18.8.30).
func TestBuiltInDateFormats(t *testing.T) {
	for id := range 164 {
		want := id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
		if got := readFormat(id, builtInFormat(id), false).date; got != want {
			t.Errorf("format %d: got date %v, want %v", id, got, want)
		}
	}
}

// Serials around the day that never was, and at the ends of the calendar.
func TestSerialTime(t *testing.T) {
	for _, tt := range []struct {
		serial   float64
		date1904 bool
		want     string // "" for no date
	}{
		{0.5, false, "1899-12-31 12:00:00"}, {1, false, "1900-01-01 00:00:00"}, {59, false, "1900-02-28 00:00:00"},
		{60, false, "1900-02-28 00:00:00"}, {61, false, "1900-03-01 00:00:00"}, {35065, false, "1996-01-01 00:00:00"},
		{2958465, false, "9999-12-31 00:00:00"}, {2958466, false, ""}, {-1, false, ""},
		{0, true, "1904-01-01 00:00:00"}, {36341, true, "2003-07-01 00:00:00"}, {2957003, true, "9999-12-31 00:00:00"}, {2957004, true, ""},
		{35065.9999999999, false, "1996-01-02 00:00:00"},
	} {
		got, ok := serialTime(tt.serial, tt.date1904)
		if ok != (tt.want != "") || ok && got.Format("2006-01-02 15:04:05") != tt.want {
			t.Errorf("%v (1904 %v): got %v, %v, want %q", tt.serial, tt.date1904, got, ok, tt.want)
		}
	}
}

// Merged values fill their range in the rows that stand in the file; own values
// under them stay; overlapping ranges do not fight.
func TestMergedRanges(t *testing.T) {
	rows := `<row r="1">` + inlineCell("A1", "head") + `</row>` +
		`<row r="2">` + inlineCell("A2", "left") + inlineCell("C2", "x") + `</row>` +
		`<row r="3">` + inlineCell("B3", "own") + `</row>` +
		`<row r="5"/><row r="6"/>`
	merges := `<mergeCells><mergeCell ref="A1:C1"/><mergeCell ref="A2:B5"/><mergeCell ref="B2:D3"/><mergeCell ref="B3:D3"/><mergeCell ref="D4:E9"/><mergeCell ref="C2"/></mergeCells>`
	book := packSheet(t, worksheetXML(rows, merges))
	got, err := readBytes("list.xlsx", book, Limits{})
	must(t, err)
	want := "1[head head* head*] 2[left left* x] 3[left* own] 5[left* left*] 6[]"
	if shown := sketch(got); shown != want {
		t.Errorf("got %s, want %s", shown, want)
	}
	if _, err := readBytes("list.xlsx", book, Limits{MergedFilled: 4}); codeOf(t, err) != TooLarge {
		t.Errorf("got %v, want %s for more filled cells than allowed", err, TooLarge)
	}
	if _, err := readBytes("list.xlsx", book, Limits{Merges: 3}); codeOf(t, err) != TooLarge {
		t.Errorf("got %v, want %s for more ranges than allowed", err, TooLarge)
	}
}

// sketch writes rows in short; a star marks a merged value.
func sketch(rows []Row) string {
	var lines []string
	for _, r := range rows {
		var cells []string
		for _, c := range r.Cells {
			if c.Merged {
				c.Text += "*"
			}
			cells = append(cells, c.Text)
		}
		lines = append(lines, fmt.Sprintf("%d%v", r.Number, cells))
	}
	return strings.Join(lines, " ")
}

func TestCellTypeNames(t *testing.T) {
	for typ, want := range map[CellType]string{Blank: "blank", Text: "text", Date: "date", FormulaNoValue: "formula without value", 99: "unknown", -1: "unknown"} {
		if got := typ.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
