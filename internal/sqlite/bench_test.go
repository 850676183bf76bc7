package sqlite

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// flatRow is one row of a flat list: four numbers, three links, one fitment,
// six values and one count.
func flatRow(random *rand.Rand, number *statement.Numberer, i int) app.StagedRow {
	place := statement.Place{File: "flat.csv", Row: i + 2}
	refs := make([]part.Ref, 4)
	for j := range refs {
		refs[j] = part.Ref{Key: fmt.Sprintf("%c%09d", 'A'+j, random.IntN(1<<29))}
		place.Text += refs[j].Key + "\t"
	}
	place.Text += "alternator\tORVANE\tLORRIN\tKV31\tQX15\t12\t80\t5\t210\t64\t30\tA-12-3\tused, tested\t2"
	row := app.StagedRow{Place: place, Hash: statement.Hash(place.Text)}
	add := func(s statement.Statement) {
		s.Source, s.Type, s.Place = madeSource("flat").ID, "alternator", place
		s.Place.Cell = fmt.Sprintf("C%d", place.Row)
		s.ID = number.ID(s)
		row.Statements = append(row.Statements, s)
	}
	for j, r := range refs {
		add(statement.Statement{Kind: statement.KindPart, A: r, Part: statement.PartName{Printed: r.Key, Role: statement.Own}})
		if j > 0 {
			add(statement.Statement{Kind: statement.KindLink, A: refs[0], Link: statement.Link{Relation: statement.Same, B: r, PrintedA: refs[0].Key, PrintedB: r.Key}})
		}
	}
	scope := vehicle.NewScope()
	scope.Want(vehicle.FactModelCode, fmt.Sprintf("KV%04d", random.IntN(5000)))
	scope.Want(vehicle.FactEngine, fmt.Sprintf("QX%03d", random.IntN(800)))
	scope.Want(vehicle.FactModel, fmt.Sprintf("LORRIN %d", random.IntN(300)))
	add(statement.Statement{Kind: statement.KindFitment, A: refs[0], Scope: scope})
	for j := range 6 {
		n := float64(random.IntN(100))
		add(statement.Statement{Kind: statement.KindValue, A: refs[0], Value: statement.Value{Attribute: fmt.Sprintf("attribute %d", j),
			Value: part.Value{Raw: fmt.Sprint(n), Numbers: []float64{n}}}})
	}
	row.Postings = []shelf.Posting{{Part: refs[0], Printed: refs[0].Key, Bin: fmt.Sprintf("A-%d", i%99), Condition: shelf.UsedTested, Quantity: 2, Counted: true}}
	return row
}

func flatSheet(rows int) []app.StagedRow {
	random, number := rand.New(rand.NewPCG(3, 4)), statement.NewNumberer("main", "flat")
	out := make([]app.StagedRow, rows)
	for i := range out {
		out[i] = flatRow(random, number, i)
	}
	return out
}

// BenchmarkImport brings a flat list into an empty book, the same again, and
// the same sorted the other way round.
func BenchmarkImport(b *testing.B) {
	const rows = 20_000
	sheet := flatSheet(rows)
	back := make([]app.StagedRow, rows)
	for i, r := range sheet {
		r.Place.Row = rows + 1 - i
		back[rows-1-i] = r
	}
	for _, step := range []string{"empty", "again", "sorted"} {
		b.Run(step, func(b *testing.B) {
			for range b.N {
				b.StopTimer()
				book, err := Open(bg, b.TempDir(), Options{})
				if err != nil {
					b.Fatal(err)
				}
				next := sheet
				if step != "empty" {
					if _, err := bring(bg, book, "1", "flat", sheet, 1000); err != nil {
						b.Fatal(err)
					}
				}
				if step == "sorted" {
					next = back
				}
				b.StartTimer()
				if _, err := bring(bg, book, "2", "flat", next, 1000); err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				book.Close()
				b.StartTimer()
			}
			b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

// BenchmarkRead asks the short questions of a fit answer.
func BenchmarkRead(b *testing.B) {
	book, err := Open(bg, b.TempDir(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer book.Close()
	sheet := flatSheet(20_000)
	if _, err := bring(bg, book, "1", "flat", sheet, 1000); err != nil {
		b.Fatal(err)
	}
	key := func(i int) []string { return []string{sheet[i*7919%len(sheet)].Statements[0].A.Key} }
	tests := []struct {
		name string
		ask  func(r app.Reader, i int) (int, error)
	}{
		{"nothing", func(app.Reader, int) (int, error) { return 0, nil }},
		{"parts", func(r app.Reader, i int) (int, error) { s, err := r.Parts(bg, key(i)); return len(s), err }},
		{"values", func(r app.Reader, i int) (int, error) { s, err := r.Values(bg, key(i)); return len(s), err }},
		{"links", func(r app.Reader, i int) (int, error) { s, err := r.Links(bg, key(i)); return len(s), err }},
		{"stock", func(r app.Reader, i int) (int, error) { s, err := r.Stock(bg, key(i)); return len(s), err }},
		{"fitments", func(r app.Reader, i int) (int, error) {
			s, err := r.Fitments(bg, app.FitmentQuery{Type: "alternator", ModelCodes: []string{fmt.Sprintf("KV%04d", i%5000)}})
			return len(s), err
		}},
	}
	for _, tt := range tests {
		b.Run(tt.name, func(b *testing.B) {
			b.ReportAllocs()
			found := 0
			for i := range b.N {
				err := book.Read(bg, func(r app.Reader) error {
					n, err := tt.ask(r, i)
					found += n
					return err
				})
				if err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(found)/float64(b.N), "statements/op")
		})
	}
}
