package importers_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
)

// BenchmarkFlatList reads a flat list of 20 columns: 4 numbers, 1 vehicle, 6
// values and 1 count a row.
func BenchmarkFlatList(b *testing.B) {
	const rows = 10_000
	path := filepath.Join(b.TempDir(), "flat.csv")
	if err := os.WriteFile(path, []byte(flatList(rows)), 0o600); err != nil {
		b.Fatal(err)
	}
	opt := options(b)
	for b.Loop() {
		f, err := sheet.Open(path, sheet.Limits{})
		if err != nil {
			b.Fatal(err)
		}
		reading, err := importers.Read(context.Background(), f, opt)
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		if err := reading.Each(context.Background(), func(r app.Row) error { n += len(r.Statements); return nil }); err != nil {
			b.Fatal(err)
		}
		if n < rows*10 {
			b.Fatalf("%d statements", n)
		}
		f.Close()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/row")
}

// BenchmarkSheetAlone is the floor: the same file through package sheet only.
func BenchmarkSheetAlone(b *testing.B) {
	const rows = 10_000
	path := filepath.Join(b.TempDir(), "flat.csv")
	if err := os.WriteFile(path, []byte(flatList(rows)), 0o600); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f, err := sheet.Open(path, sheet.Limits{})
		if err != nil {
			b.Fatal(err)
		}
		if err := f.Rows(context.Background(), "", func(sheet.Row) error { return nil }); err != nil {
			b.Fatal(err)
		}
		f.Close()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/row")
}

func flatList(rows int) string {
	var b strings.Builder
	b.WriteString("OE No,Unit No,Our No,X-ref,Description,Make,Model,Model code,Engine,Years,Gearbox,Volts,Amps,Ribs,Pins,Rotation,kW,Bin,Qty,Notes\n")
	for i := range rows {
		fmt.Fprintf(&b, "98760-%05d,100211-%04d,A%06d,98761-%05d,Alternator,Kestrel,Arrow,KV%d,ZZ%d,1996/8-1999/%d,AT,12,%d,5,3,CW,1.2,A-%d,%d,\n",
			i, i%10000, i, i, i%90, i%30, i%12+1, 60+i%40, i%500, i%5)
	}
	return b.String()
}
