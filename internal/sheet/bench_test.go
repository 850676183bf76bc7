package sheet

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// BenchmarkRows reads 20,000 rows of 20 columns with our scanner, proof and all,
// and with excelize in the same run. The metric x-excelize is our time as a part
// of excelize's.
func BenchmarkRows(b *testing.B) {
	const rows, cols = 20_000, 20
	for name, book := range map[string][]byte{"inline": streamedBook(b, rows, cols), "shared": sharedBook(b, rows, cols)} {
		b.Run(name, func(b *testing.B) {
			var ours, theirs time.Duration
			b.ReportAllocs()
			for b.Loop() {
				start := time.Now()
				if got := countOurs(b, book); got != rows*cols {
					b.Fatalf("got %d cells, want %d", got, rows*cols)
				}
				ours += time.Since(start)
				b.StopTimer()
				start = time.Now()
				if got := countTheirs(b, book); got != rows*cols {
					b.Fatalf("excelize gave %d cells, want %d", got, rows*cols)
				}
				theirs += time.Since(start)
				b.StartTimer()
			}
			b.ReportMetric(float64(ours)/float64(theirs), "x-excelize")
			b.ReportMetric(float64(rows*b.N)/ours.Seconds(), "rows/s")
		})
	}
}

// sharedBook is written as spreadsheet programs write: texts in their own part.
func sharedBook(t testing.TB, rows, cols int) []byte {
	return built(t, func(f *excelize.File) {
		line := make([]any, cols)
		for r := 1; r <= rows; r++ {
			for c := range line {
				if c%3 == 0 {
					line[c] = r*31 + c
				} else {
					line[c] = fmt.Sprintf("QRA%05d-%d", r, c%5)
				}
			}
			must(t, f.SetSheetRow("Sheet1", Address(1, r), &line))
		}
	})
}

func countOurs(b *testing.B, book []byte) int {
	f, err := openBytes("list.xlsx", book, Limits{})
	must(b, err)
	defer f.Close()
	cells := 0
	must(b, f.Rows(context.Background(), "Sheet1", func(r Row) error {
		cells += len(r.Cells)
		return nil
	}))
	return cells
}

func countTheirs(b *testing.B, book []byte) int {
	f, err := excelize.OpenReader(bytes.NewReader(book), excelize.Options{RawCellValue: true, UnzipSizeLimit: 512 << 20, UnzipXMLSizeLimit: 16 << 20, TmpDir: b.TempDir()})
	must(b, err)
	defer f.Close()
	rows, err := f.Rows("Sheet1")
	must(b, err)
	defer rows.Close()
	cells := 0
	for rows.Next() {
		row, err := rows.Columns()
		must(b, err)
		cells += len(row)
	}
	return cells
}

// BenchmarkCSV reads 100,000 lines of 20 cells.
func BenchmarkCSV(b *testing.B) {
	text := []byte(strings.Repeat(strings.Repeat("QRA02345;", 19)+"\"A-01\"\r\n", 100_000))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		must(b, drain("list.csv", text))
	}
}

// BenchmarkHostileFiles tells how long the slowest of the hostile files takes.
func BenchmarkHostileFiles(b *testing.B) {
	type made struct {
		name  string
		bytes []byte
	}
	var files []made
	for _, bomb := range bombs {
		name, file := bomb.make(b)
		files = append(files, made{name, file})
	}
	var worst time.Duration
	for b.Loop() {
		for _, f := range files {
			start := time.Now()
			_ = drain(f.name, f.bytes)
			worst = max(worst, time.Since(start))
		}
	}
	b.ReportMetric(worst.Seconds(), "s-slowest")
}
