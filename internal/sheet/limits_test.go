package sheet

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"
)

// maxMemory is what a hostile file may make us allocate: all of it together, of
// which less is alive at any moment.
const maxMemory = 128 << 20

// packFlat makes a workbook whose sheet is produced piece by piece, so that the
// test needs no memory for it, with a picture of 3 MB behind it.
func packFlat(t testing.TB, write func(w *bytes.Buffer, flush func())) []byte {
	t.Helper()
	parts := pack(t, nil)
	zr, err := zip.NewReader(bytes.NewReader(parts), int64(len(parts)))
	must(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range zr.File {
		must(t, w.Copy(f))
	}
	p, err := w.Create(sheet1)
	must(t, err)
	var piece bytes.Buffer
	flush := func() {
		_, err := p.Write(piece.Bytes())
		must(t, err)
		piece.Reset()
	}
	write(&piece, flush)
	flush()
	other, err := w.CreateHeader(&zip.FileHeader{Name: "xl/media/image1.png", Method: zip.Store})
	must(t, err)
	_, err = other.Write(make([]byte, 3<<20))
	must(t, err)
	must(t, w.Close())
	return out.Bytes()
}

// bomb is a file that asks for too much, or for much but not too much.
type bomb struct {
	name string
	make func(t testing.TB) (file string, b []byte)
	want Code // "" where it is read
	says string
}

var bombs = []bomb{
	{"row number 2^31", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packSheet(t, worksheetXML(`<row r="2147483648"><c><v>1</v></c></row>`))
	}, TooLarge, "1,048,576 rows"},
	{"row number of 30 digits", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packSheet(t, worksheetXML(`<row r="`+strings.Repeat("9", 30)+`"><c><v>1</v></c></row>`))
	}, Damaged, "number"},
	{"one row far down", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packSheet(t, worksheetXML(`<row r="1048576"><c><v>1</v></c></row>`))
	}, "", ""},
	{"a million blank rows", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packFlat(t, func(w *bytes.Buffer, flush func()) {
			w.WriteString(strings.TrimSuffix(worksheetXML(``), `</sheetData></worksheet>`))
			for r := 1; r <= 1_000_000; r++ {
				fmt.Fprintf(w, `<row r="%d" spans="1:3" ht="12.8"/>`, r)
				if w.Len() > 1<<16 {
					flush()
				}
			}
			w.WriteString(`<row r="1000001"><c><v>1</v></c></row></sheetData></worksheet>`)
		})
	}, "", ""},
	{"bomb of rows", func(t testing.TB) (string, []byte) {
		return "list.xlsx", rowsBomb(t)
	}, TooLarge, "grows more than 100 times"},
	{"bomb of one cell", func(t testing.TB) (string, []byte) {
		as := bytes.Repeat([]byte("A"), 1<<20)
		return "list.xlsx", packFlat(t, func(w *bytes.Buffer, flush func()) {
			w.WriteString(strings.TrimSuffix(worksheetXML(`<row r="1"><c r="A1" t="inlineStr"><is><t>`), `</sheetData></worksheet>`))
			for range 200 {
				w.Write(as)
				flush()
			}
			w.WriteString(`</t></is></c></row></sheetData></worksheet>`)
		})
	}, TooLarge, "grows more than 100 times"},
	{"giant cell that does not shrink", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packFlat(t, func(w *bytes.Buffer, flush func()) {
			w.WriteString(strings.TrimSuffix(worksheetXML(`<row r="1"><c r="A1" t="inlineStr"><is><t>`), `</sheetData></worksheet>`))
			seed := uint32(1)
			for range 12 << 20 {
				seed = seed*1664525 + 1013904223
				w.WriteByte("0123456789ABCDEF"[seed>>28])
				if w.Len() > 1<<16 {
					flush()
				}
			}
			w.WriteString(`</t></is></c></row></sheetData></worksheet>`)
		})
	}, TooLarge, "cell A1: a cell holds more than 32,767 characters"},
	{"giant shared text", func(t testing.TB) (string, []byte) {
		return "list.xlsx", pack(t, map[string]string{
			sheet1:                 worksheetXML(`<row r="1"><c r="A1" t="s"><v>0</v></c></row>`),
			"xl/sharedStrings.xml": `<sst><si><t>` + strings.Repeat("12345678", 8_000) + `</t></si></sst>`,
		})
	}, TooLarge, "32,767 characters"},
	{"column beyond the limit", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packSheet(t, worksheetXML(`<row r="1">`+inlineCell("A1", "x")+`<c r="XFD1" s="1"/></row><row r="2"><c r="XFD2"><v>1</v></c></row>`))
	}, TooLarge, "cell XFD2: more than 256 columns are used"},
	{"one merged range over everything", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packFlat(t, func(w *bytes.Buffer, flush func()) {
			w.WriteString(strings.TrimSuffix(worksheetXML(`<row><c><v>1</v></c></row>`), `</sheetData></worksheet>`))
			for r := 1; r <= 200_000; r++ {
				fmt.Fprintf(w, `<row r="%d" ht="%d"/>`, r+1, r*7919%10007)
			}
			w.WriteString(`</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells></worksheet>`)
		})
	}, TooLarge, "merged ranges cover more than"},
	{"many merged ranges", func(t testing.TB) (string, []byte) {
		return "list.xlsx", packFlat(t, func(w *bytes.Buffer, flush func()) {
			w.WriteString(worksheetXML(`<row><c><v>1</v></c></row>`)[:len(worksheetXML(`<row><c><v>1</v></c></row>`))-len(`</worksheet>`)])
			w.WriteString(`<mergeCells>`)
			for r := range 100_000 {
				fmt.Fprintf(w, `<mergeCell ref="A%d:C%d"/>`, r+1, r*7919%1009+r+1)
			}
			w.WriteString(`</mergeCells></worksheet>`)
		})
	}, TooLarge, "65,536 merged ranges"},
	{"more inner files than allowed", func(t testing.TB) (string, []byte) {
		var out bytes.Buffer
		w := zip.NewWriter(&out)
		for i := range 200_000 {
			_, err := w.CreateRaw(&zip.FileHeader{Name: fmt.Sprintf("%06d", i)})
			must(t, err)
		}
		must(t, w.Close())
		return "list.xlsx", out.Bytes()
	}, TooLarge, "10,000 inner files"},
	{"part that claims to be small", func(t testing.TB) (string, []byte) {
		return "list.xlsx", relabel(t, rowsBomb(t), 1000, 0)
	}, Damaged, "damaged"},
	{"part that claims to have shrunk little", func(t testing.TB) (string, []byte) {
		return "list.xlsx", relabel(t, rowsBomb(t), 0, 2<<20)
	}, TooLarge, "grows more than 100 times"},
	{"sheet list of many sheets", func(t testing.TB) (string, []byte) {
		sheets := strings.Builder{}
		for i := range 200_000 {
			fmt.Fprintf(&sheets, `<sheet name="S%d" sheetId="%d" r:id="rId1"/>`, i, i)
		}
		return "list.xlsx", pack(t, map[string]string{sheet1: list,
			"xl/workbook.xml": `<workbook><sheets>` + sheets.String() + `</sheets></workbook>`})
	}, Damaged, "listed twice"},
	{"csv of one line", func(t testing.TB) (string, []byte) {
		return "list.csv", bytes.Repeat([]byte("A"), 40<<20)
	}, TooLarge, "the line is longer than"},
	{"csv of one cell", func(t testing.TB) (string, []byte) {
		return "list.csv", []byte("a,b\n1," + strings.Repeat("A", 40_000) + "\n")
	}, TooLarge, "cell B2"},
	{"csv of one giant quoted cell", func(t testing.TB) (string, []byte) {
		return "list.csv", []byte("a,b\n1,\"" + strings.Repeat("AB\n", 5<<20) + "\"\n")
	}, TooLarge, "1,048,576 rows"},
	{"csv of delimiters", func(t testing.TB) (string, []byte) {
		return "list.csv", append([]byte("a,b\n"), bytes.Repeat([]byte(","), 3<<20)...)
	}, "", ""},
	{"csv of columns", func(t testing.TB) (string, []byte) {
		return "list.csv", []byte("a,b\n" + strings.Repeat("1,", 300))
	}, TooLarge, "row 2: more than 256 columns are used"},
	{"csv of quotes", func(t testing.TB) (string, []byte) {
		return "list.csv", bytes.Repeat([]byte("a,\"b\n"), 200_000)
	}, "", ""},
	{"csv of broken quotes in one line", func(t testing.TB) (string, []byte) {
		return "list.csv", []byte("a,b\n" + strings.Repeat(`"a,`, 1<<20) + "\n")
	}, TooLarge, "256 columns"},
	{"csv of doubled quotes", func(t testing.TB) (string, []byte) {
		return "list.csv", append([]byte("a,b\n"), bytes.Repeat([]byte("\"\"\"\n"), 900_000)...)
	}, "", ""},
	{"csv of quoted line ends", func(t testing.TB) (string, []byte) {
		return "list.csv", append([]byte("a,b\n"), bytes.Repeat([]byte("\"\n\","), 1<<20)...)
	}, TooLarge, ""},
}

// rowsBomb is a sheet of 4 million rows that shrinks to nearly nothing, and a part
// that does not shrink behind it.
func rowsBomb(t testing.TB) []byte {
	row := []byte(strings.Repeat(`<row><c><v>1</v></c></row>`, 4000))
	return packFlat(t, func(w *bytes.Buffer, flush func()) {
		w.WriteString(strings.TrimSuffix(worksheetXML(``), `</sheetData></worksheet>`))
		for range 1000 {
			w.Write(row)
			flush()
		}
		w.WriteString(`</sheetData></worksheet>`)
	})
}

// relabel changes the sizes that the zip directory claims for the sheet; 0 leaves
// one as it is.
func relabel(t testing.TB, book []byte, unpacked, packed uint32) []byte {
	t.Helper()
	b := bytes.Clone(book)
	for i := 0; ; {
		n := bytes.Index(b[i:], []byte("PK\x01\x02"))
		if n < 0 {
			t.Fatal("the sheet is not in the directory")
		}
		i += n
		if bytes.HasPrefix(b[i+46:], []byte(sheet1)) {
			if unpacked > 0 {
				binary.LittleEndian.PutUint32(b[i+24:], unpacked)
			}
			if packed > 0 {
				binary.LittleEndian.PutUint32(b[i+20:], packed)
			}
			return b
		}
		i += 4
	}
}

// Files that ask for too much are refused with the limit named, or read, in
// little memory. How long each takes is told by BenchmarkHostileFiles.
func TestHostileFiles(t *testing.T) {
	for _, b := range bombs {
		t.Run(b.name, func(t *testing.T) {
			name, file := b.make(t)
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			start := time.Now()
			err := drain(name, file)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			if got := codeOf(t, err); got != b.want {
				t.Errorf("got %q (%v), want %q", got, err, b.want)
			}
			if err != nil && !strings.Contains(err.Error(), b.says) {
				t.Errorf("got %q, want it to say %q", err, b.says)
			}
			used := after.TotalAlloc - before.TotalAlloc
			if used > maxMemory && !underRace {
				t.Errorf("allocated %s, want at most %s", inWords(int64(used)), inWords(maxMemory))
			}
			t.Logf("%s of file, %v, allocated %s", inWords(int64(len(file))), took.Round(time.Millisecond), inWords(int64(used)))
		})
	}
}

// drain opens a file and reads all sheets.
func drain(name string, b []byte) error {
	f, err := openBytes(name, b, Limits{})
	if err != nil {
		return err
	}
	defer f.Close()
	for _, s := range f.Sheets() {
		if err := f.Rows(context.Background(), s.Name, func(Row) error { return nil }); err != nil {
			return err
		}
	}
	return nil
}

// Every limit is asked and names itself; one less than what the file holds
// refuses it, just enough lets it through.
func TestEachLimit(t *testing.T) {
	book := pack(t, map[string]string{
		sheet1: worksheetXML(`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="1"><v>5</v></c></row><row r="2"><c r="A2" t="s"><v>1</v></c></row>`),
		"xl/workbook.xml": strings.Replace(bare["xl/workbook.xml"], "<sheets>",
			`<sheets><sheet name="Second" sheetId="2" r:id="rId9"/>`, 1),
		"xl/_rels/workbook.xml.rels": strings.Replace(bare["xl/_rels/workbook.xml.rels"], `<Relationship Id="rId1"`,
			`<Relationship Id="rId9" Type="x/worksheet" Target="worksheets/sheet2.xml"/><Relationship Id="rId1"`, 1),
		"xl/worksheets/sheet2.xml": worksheetXML(``),
	})
	csv := []byte("no,name\n1,pulley\n")
	longest := 0 // bytes of the largest part around the sheets
	for _, name := range []string{"_rels/.rels", "xl/styles.xml"} {
		longest = max(longest, len(bare[name]))
	}
	for _, tt := range []struct {
		name      string
		file      string
		b         []byte
		low, high Limits
		says      string
	}{
		{"file bytes", "x.csv", csv, Limits{FileBytes: 16}, Limits{FileBytes: 17}, "larger than 16 bytes"},
		{"rows of csv", "x.csv", csv, Limits{Rows: 1}, Limits{Rows: 2}, "more than 1 rows"},
		{"columns of csv", "x.csv", csv, Limits{Columns: 1}, Limits{Columns: 2}, "more than 1 columns"},
		{"cell of csv", "x.csv", csv, Limits{CellChars: 5}, Limits{CellChars: 6}, "cell B2: a cell holds more than 5 characters"},
		{"line of csv", "x.csv", append(bytes.Clone(csv), strings.Repeat("x", 200<<10)...), Limits{LineBytes: 100 << 10, CellChars: 300 << 10}, Limits{CellChars: 300 << 10}, "row 3: the line is longer than 100 KB"},
		{"rows", "x.xlsx", book, Limits{Rows: 1}, Limits{Rows: 2}, "row 2 lies beyond the 1 rows"},
		{"columns", "x.xlsx", book, Limits{Columns: 1}, Limits{Columns: 2}, "cell B1: more than 1 columns"},
		{"cells", "x.xlsx", book, Limits{Cells: 2}, Limits{Cells: 3}, "cell A2: the sheet has more than 2 cells"},
		{"cell", "x.xlsx", book, Limits{CellChars: 7}, Limits{CellChars: 8}, "more than 7 characters"},
		{"inner files", "x.xlsx", book, Limits{Entries: 7}, Limits{Entries: 8}, "more than 7 inner files"},
		{"sheets", "x.xlsx", book, Limits{Sheets: 1}, Limits{Sheets: 2}, "more than 1 sheets"},
		{"shared texts", "x.xlsx", book, Limits{Strings: 1}, Limits{Strings: 2}, "more than 1 different texts"},
		{"bytes of shared texts", "x.xlsx", book, Limits{StringBytes: 14}, Limits{StringBytes: 15}, "take more than 14 bytes"},
		{"styles", "x.xlsx", book, Limits{Styles: 2}, Limits{Styles: 3}, "more than 2 cell styles"},
		{"bytes of a sheet", "x.xlsx", book, Limits{PartBytes: 200}, Limits{PartBytes: 1000}, "unpacks to more than 200 bytes"},
		{"bytes of another part", "x.xlsx", book, Limits{SmallBytes: int64(longest) - 1}, Limits{SmallBytes: 4000}, "unpacks to more than"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			read := func(l Limits) error {
				f, err := openBytes(tt.file, tt.b, l)
				if err != nil {
					return err
				}
				for _, s := range f.Sheets() {
					if _, err := readAll(f, s.Name); err != nil {
						return err
					}
				}
				return nil
			}
			if err := read(tt.low); codeOf(t, err) != TooLarge || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want %s that says %q", err, TooLarge, tt.says)
			}
			if err := read(tt.high); err != nil {
				t.Errorf("with just enough: got %v", err)
			}
		})
	}
}

// The directory can claim less than comes out; what really comes out counts.
func TestPartLimitCountsWhatComesOut(t *testing.T) {
	book := packSheet(t, worksheetXML(strings.Repeat(`<row><c><v>1</v></c></row>`, 1000)))
	a, err := openArchive(bytes.NewReader(book), int64(len(book)), DefaultLimits())
	must(t, err)
	part, err := a.open(context.Background(), sheet1, 100_000)
	must(t, err)
	part.limit = 10_000
	_, err = io.ReadAll(part)
	if err = named(err, "list.xlsx", ""); codeOf(t, err) != TooLarge {
		t.Errorf("got %v, want %s", err, TooLarge)
	}
}
