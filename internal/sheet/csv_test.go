package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"
)

// Committed files of each encoding come out as they were meant, every time.
func TestCSVFiles(t *testing.T) {
	for _, tt := range []struct {
		file, encoding string
		delimiter      rune
		want           [][]string
	}{
		{"shift-jis.csv", "Shift_JIS", ',', [][]string{
			{"品番", "品名", "棚", "数量"}, {"98760-46120", "オルタネーター", "A-01", "2"},
			{"98760-46121", "ｽﾀｰﾀｰ", "A-02", "1"}, {"98760-46122", "ラジエーター\r\n（要確認）", "B-01", "0"}}},
		{"windows-1252.csv", "windows-1252", ',', [][]string{
			{"Teilenummer", "Bezeichnung", "Breite"}, {"QRA02345", "Kühler für Getriebe", "650 × 450"}, {"QRA02346", `Lüfter 12" groß`, "Ø 320 – 330"}}},
		{"utf16.csv", "UTF-16LE", '\t', [][]string{
			{"Part no", "Name", "Bin"}, {"0012345", "Radiator", "A-01"}, {"98760-46120", "Kühler 発電機", "A-02"}}},
		{"semicolon.csv", "UTF-8", ';', [][]string{
			{"Lager Nord, Stand 05/2026"}, {"Teil", "Preis", "Gewicht", "Fach"}, {"0012345", "12,50", "3,2", "A-01"},
			{"QRA02345", "9,00", "4,75", "A-02"}, {"QRA02346", "1.234,00", "0,5"}}},
	} {
		why := ""
		for range 3 {
			f, err := Open(filepath.Join(testdata, tt.file), Limits{})
			must(t, err)
			rows, err := readAll(f, "")
			must(t, err)
			if got := texts(rows); !slices.EqualFunc(got, tt.want, slices.Equal[[]string]) {
				t.Errorf("%s: got %q, want %q", tt.file, got, tt.want)
			}
			if f.Dialect.Encoding != tt.encoding || f.Dialect.Delimiter != tt.delimiter || f.Kind != CSV {
				t.Errorf("%s: got %+v, want %s and %q", tt.file, f.Dialect, tt.encoding, tt.delimiter)
			}
			if why != "" && why != f.Dialect.Why {
				t.Errorf("%s: got %q, then %q", tt.file, why, f.Dialect.Why)
			}
			why = f.Dialect.Why
			must(t, f.Close())
		}
	}
}

// splitRows reads csv text and gives the rows as their texts.
func splitRows(t testing.TB, text string) [][]string {
	t.Helper()
	rows, err := readBytes("list.csv", []byte(text), Limits{})
	must(t, err)
	for i, r := range rows {
		if r.Number != i+1 || r.Hidden {
			t.Errorf("got row %+v at place %d", r, i+1)
		}
		for _, c := range r.Cells {
			if c.Raw != c.Text || (c.Type != Text) != (c.Text == "") || c.Type != Text && c.Type != Blank {
				t.Errorf("got cell %+v, want text or blank", c)
			}
		}
	}
	return texts(rows)
}

// How records are cut, also where quotes are broken: no line is ever swallowed.
func TestCSVRecords(t *testing.T) {
	plain := "no,name,bin\n1,x,A\n2,y,B\n3,z,C\n" // enough to know that rows have 3 cells
	rows := [][]string{{"no", "name", "bin"}, {"1", "x", "A"}, {"2", "y", "B"}, {"3", "z", "C"}}
	for _, tt := range []struct {
		name, text string
		want       [][]string
	}{
		{"LF", "a,b\n1,2\n", [][]string{{"a", "b"}, {"1", "2"}}},
		{"CR LF", "a,b\r\n1,2\r\n", [][]string{{"a", "b"}, {"1", "2"}}},
		{"CR", "a,b\r1,2\r", [][]string{{"a", "b"}, {"1", "2"}}},
		{"CR CR LF", "a,b\r\r\n1,2\r\r\n", [][]string{{"a", "b"}, {"1", "2"}}},
		{"no line end at the end", "a,b\n1,2", [][]string{{"a", "b"}, {"1", "2"}}},
		{"byte order mark", "\xEF\xBB\xBFa,b\n1,2\n", [][]string{{"a", "b"}, {"1", "2"}}},
		{"blank lines are rows", "a,b\n\n1,2\n,\n", [][]string{{"a", "b"}, {}, {"1", "2"}, {}}},
		{"blank cells at the end", "a,b,c\n1,,\n,2,\n", [][]string{{"a", "b", "c"}, {"1"}, {"", "2"}}},
		{"end mark of the eighties", "a,b\r\n1,2\r\n\x1A", [][]string{{"a", "b"}, {"1", "2"}}},
		{"first line names the separator", "sep=;\na,b;c\n1,5;2\n", [][]string{{"a,b", "c"}, {"1,5", "2"}}},
		{"first line names a tab", "\"SEP=\t\"\r\na\tb\r\n", [][]string{{"a", "b"}}},
		{"quotes", `a,"b,c","d ""e"""` + "\n", [][]string{{"a", "b,c", `d "e"`}}},
		{"quoted and blank", `a,"",b,""` + "\n", [][]string{{"a", "", "b"}}},
		{"quoted over lines", "a,b\n1,\"one\ntwo, three\nfour\"\n5,6\n", [][]string{{"a", "b"}, {"1", "one\ntwo, three\nfour"}, {"5", "6"}}},
		{"quoted over CR LF lines", "a,b\r\n1,\"one\r\n\r\ntwo\"\r\n", [][]string{{"a", "b"}, {"1", "one\r\n\r\ntwo"}}},
		{"blanks behind quotes", "a,\"b\"  ,c\n", [][]string{{"a", "b", "c"}}},
		{"blanks before quotes", "a, \"b\",c\n", [][]string{{"a", ` "b"`, "c"}}},
		{"inch marks", "a,12\" hose,5\"\n", [][]string{{"a", `12" hose`, `5"`}}},
		{"inch mark in quotes", `a,"12" hose",b` + "\n", [][]string{{"a", `12" hose`, "b"}}},
		{"inch mark at the end in quotes", `"hose 12"",b` + "\nc,d\n", [][]string{{`"hose 12""`, "b"}, {"c", "d"}}},
		{"opened and never closed", plain + "4,\"half,D\n5,w,E\n", append(slices.Clone(rows), []string{"4", `"half`, "D"}, []string{"5", "w", "E"})},
		{"opened, and another some lines down", plain + "4,\"half,D\n5,w,E\n6,\"q\",F\n", append(slices.Clone(rows), []string{"4", `"half`, "D"}, []string{"5", "w", "E"}, []string{"6", "q", "F"})},
		{"opened, and an inch mark some lines down", plain + "4,\"half,D\n5,w,12\"\n6,v,F\n", append(slices.Clone(rows), []string{"4", `"half`, "D"}, []string{"5", "w", `12"`}, []string{"6", "v", "F"})},
		{"opened in the last line", plain + "4,\"half,D", append(slices.Clone(rows), []string{"4", `"half`, "D"})},
		{"opened before a quoted cell", plain + "4,\"half,\"D\"\n", append(slices.Clone(rows), []string{"4", `"half`, "D"})},
		{"quoted lines that look like rows in part", plain + "4,\"one,two\nthree\",D\n", append(slices.Clone(rows), []string{"4", "one,two\nthree", "D"})},
		{"carriage return inside", "a,b\n1,x\ry\n", [][]string{{"a", "b"}, {"1", "x\ry"}}},
		{"one column", "part no\nQRA02345\n98760-46120\n", [][]string{{"part no"}, {"QRA02345"}, {"98760-46120"}}},
		{"one column of quotes", "\"part no\nQRA02345\n", [][]string{{"\"part no"}, {"QRA02345"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := splitRows(t, tt.text); !slices.EqualFunc(got, tt.want, slices.Equal[[]string]) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// The separator is the one that cuts the rows alike, not the commonest sign.
func TestCSVSeparators(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       rune
	}{
		{"comma", "no,bin\n1,A\n", ','},
		{"semicolon", "no;bin\n1;A\n", ';'},
		{"tab", "no\tbin\n1\tA\n", '\t'},
		{"bar", "no|bin\n1|A\n", '|'},
		{"decimal commas", "no;price\n1;2,5\n2;3,5\n3;4,5\n", ';'},
		{"more decimal commas than semicolons", "a;b;c\n1,5;2,5;3,5\n1,5;2,5;3,5\n", ';'},
		{"lists within cells", "no,oe,bin\n1,98760-46120;98760-46121,A\n2,98760-46122;98760-46123,B\n", ','},
		{"titles above", "Shelf of the north hall, all bins, 2026\n\nno;bin\n1;A\n2;B\n3;C\n", ';'},
		{"commas in words", "no\tname\n1\tpulley, wide\n2\tpulley, narrow\n3\tfan, plastic, grey\n", '\t'},
		{"commas in quotes", "no;name\n1;\"a, b, c, d\"\n2;\"e, f, g, h\"\n", ';'},
		{"one column with commas now and then", "number\nQRA02345\nQRA02346\nQRA02347, spare\nQRA02348\n", 0},
		{"one column", "number\nQRA02345\n", 0},
		{"rows of different length", "a,b,c,d\n1\n1,2\n1,2,3\n1,2,3,4\n1,2\n", ','},
	} {
		f, err := openBytes("list.csv", []byte(tt.text), Limits{})
		must(t, err)
		if f.Dialect.Delimiter != tt.want {
			t.Errorf("%s: got %q (%s), want %q", tt.name, f.Dialect.Delimiter, f.Dialect.Why, tt.want)
		}
	}
}

// The encoding is found by the bytes alone.
func TestCSVEncodings(t *testing.T) {
	encode := func(name, s string) []byte {
		var b []byte
		var err error
		switch name {
		case "sjis":
			b, err = japanese.ShiftJIS.NewEncoder().Bytes([]byte(s))
		case "le":
			b, err = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM).NewEncoder().Bytes([]byte(s))
		case "be":
			b, err = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder().Bytes([]byte(s))
		}
		must(t, err)
		return b
	}
	japaneseText := "品番,品名\r\n98760-46120,オルタネーター\r\n"
	for _, tt := range []struct {
		name  string
		bytes []byte
		want  string
		cell  string // the last cell
	}{
		{"ASCII", []byte("a,b\n"), "UTF-8", "b"},
		{"UTF-8", []byte("a,Kühler 発電機 😀\n"), "UTF-8", "Kühler 発電機 😀"},
		{"UTF-8 with mark", []byte("\xEF\xBB\xBFa,ü\n"), "UTF-8", "ü"},
		{"UTF-16 low byte first, mark", append([]byte("\xFF\xFE"), encode("le", japaneseText)...), "UTF-16LE", "オルタネーター"},
		{"UTF-16 high byte first, mark", append([]byte("\xFE\xFF"), encode("be", japaneseText)...), "UTF-16BE", "オルタネーター"},
		{"UTF-16 low byte first", encode("le", japaneseText), "UTF-16LE", "オルタネーター"},
		{"UTF-16 high byte first", encode("be", japaneseText), "UTF-16BE", "オルタネーター"},
		{"UTF-16 high byte first, Latin", encode("be", "no,Kühler\n"), "UTF-16BE", "Kühler"},
		{"Shift_JIS", encode("sjis", japaneseText), "Shift_JIS", "オルタネーター"},
		{"Shift_JIS, half width", encode("sjis", "no,ｵﾙﾀﾈｰﾀｰ\n"), "Shift_JIS", "ｵﾙﾀﾈｰﾀｰ"},
		{"Shift_JIS, one word", encode("sjis", "no,name\n1,計\n"), "Shift_JIS", "計"},
		{"Shift_JIS with characters of code page 932", encode("sjis", "no,髙橋①～\n"), "Shift_JIS", "髙橋①～"},
		{"windows-1252", []byte("no,K\xFChler\n"), "windows-1252", "Kühler"},
		{"windows-1252, degrees", []byte("no,82\xB0C\n"), "windows-1252", "82°C"},
		{"windows-1252, accents that could be pairs", []byte("r\xE9f\xE9rence,d\xE9signation,ann\xE9e\n1,r\xE9gulateur,mod\xE8le\n"), "windows-1252", "modèle"},
		{"windows-1252, euro and dash", []byte("no,\x80 12 \x96 13\n"), "windows-1252", "€ 12 – 13"},
		{"windows-1252, diameter", []byte("no,\xD865\n"), "windows-1252", "Ø65"},
		{"UTF-8 with one stray byte", []byte("a,b\n" + strings.Repeat("1,Kühler für Größe\n", 10) + "2,K\xFChler\n"), "UTF-8", "Kühler"},
	} {
		f, err := openBytes("list.csv", tt.bytes, Limits{})
		must(t, err)
		rows, err := readAll(f, "")
		must(t, err)
		last := rows[len(rows)-1].Cells
		if f.Dialect.Encoding != tt.want || last[len(last)-1].Text != tt.cell {
			t.Errorf("%s: got %s, %q, want %s, %q", tt.name, f.Dialect.Why, last[len(last)-1].Text, tt.want, tt.cell)
		}
	}
}

// Whatever a careful program writes is read back: encoding/csv is the writer.
func TestCSVRoundTrip(t *testing.T) {
	cell := rapid.StringOf(rapid.RuneFrom([]rune("ab12 ,;|\t\n\"'ü発-/")))
	rapid.Check(t, func(r *rapid.T) {
		width := rapid.IntRange(2, 6).Draw(r, "width")
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, width, width), 1, 8).Draw(r, "rows")
		delimiter := rapid.SampledFrom([]rune{',', ';', '\t', '|'}).Draw(r, "delimiter")
		var out bytes.Buffer
		fmt.Fprintf(&out, "sep=%c\n", delimiter)
		w := csv.NewWriter(&out)
		w.Comma = delimiter
		must(t, w.WriteAll(rows))
		limits := DefaultLimits()
		d := findDialect(out.Bytes(), true, limits)
		if d.delimiter != byte(delimiter) {
			r.Fatalf("got separator %q, want %q", d.delimiter, delimiter)
		}
		d.columns = 0 // what follows the rules needs no guess
		s := newSplitter(iotest.HalfReader(&out), d, limits)
		must(t, s.next())
		for i, row := range rows {
			must(t, s.next())
			var got []string
			for _, f := range s.fields {
				got = append(got, string(s.text[f.from:f.to]))
			}
			if !slices.Equal(got, row) {
				r.Fatalf("row %d: got %q, want %q", i, got, row)
			}
		}
		if err := s.next(); err == nil {
			r.Fatalf("got a further row %q", s.text)
		}
	})
}

// However quotes are broken, no character other than quotes, delimiters and line
// ends is lost, and the same bytes give the same rows.
func TestCSVLosesNothing(t *testing.T) {
	text := rapid.StringOfN(rapid.RuneFrom([]rune("abc12,;\"\"\"\n\n ")), 1, 300, -1)
	rapid.Check(t, func(r *rapid.T) {
		b := []byte(text.Draw(r, "text"))
		rows, err := readBytes("list.csv", b, Limits{})
		if err != nil {
			if codeOf(t, err) != Empty {
				r.Fatal(err)
			}
			return
		}
		again, err := readBytes("list.csv", b, Limits{})
		must(t, err)
		if sketch(rows) != sketch(again) {
			r.Fatalf("got %s, then %s", sketch(rows), sketch(again))
		}
		if got, want := letters(sketch2(rows)), letters(string(b)); got != want {
			r.Fatalf("got letters %q, want %q", got, want)
		}
	})
}

func sketch2(rows []Row) string {
	var out strings.Builder
	for _, r := range rows {
		for _, c := range r.Cells {
			out.WriteString(c.Text)
		}
	}
	return out.String()
}

func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune("abc12", r) {
			return r
		}
		return -1
	}, s)
}

// Characters that stand across the edge of a read are counted and decoded whole,
// and a stray byte becomes one character wherever it stands.
func TestCSVAcrossReads(t *testing.T) {
	for shift := range 4 {
		text := "a,b\n" + strings.Repeat("x", shift) + strings.Repeat("1,発電機\n", 20_000)
		rows := splitRows(t, text)
		if len(rows) != 20_001 || rows[20_000][1] != "発電機" {
			t.Errorf("shift %d: got %d rows, the last %q", shift, len(rows), rows[len(rows)-1])
		}
		stray := strings.Replace(text, "1,発電機\n", "1,K\xFChler\n", 1)
		if rows := splitRows(t, stray); rows[1][1] != "Kühler" || rows[20_000][1] != "発電機" {
			t.Errorf("shift %d, stray byte: got %q and %q", shift, rows[1], rows[20_000])
		}
	}
}

// A first line that only looks as if it named a separator is a row.
func TestCSVNoSepLine(t *testing.T) {
	for _, text := range []string{"sep=;", "sep=;;\n1;2\n", "sep=\"\n1;2\n", "sep=\x02\n1;2\n"} {
		if d := findDialect([]byte(text), true, DefaultLimits()); d.sepLine {
			t.Errorf("%q: got a line that names %q", text, d.delimiter)
		}
	}
}
