package part

import "testing"

func TestClassifyLine(t *testing.T) {
	for _, c := range []struct {
		name, line string
		kind       LineKind
		text, key  string
	}{
		// Lot codes that look like numbers are never part numbers.
		{"lot: digit and letter", "9K", LineDate, "9K", ""},
		{"lot: four digits", "0623", LineDate, "0623", ""},
		{"lot: could be amperes", "24A", LineDate, "24A", ""},
		{"lot code run on", "LOT9876A", LineDate, "9876A", ""},
		{"lot under a number's heading", "NO. 24A", LineDate, "24A", ""},
		{"lot with a heading", "LOT NO. 98765432", LineDate, "98765432", ""},
		{"date with a heading", "Date: 06/23", LineDate, "06/23", ""},
		{"date, year first", "1997-05", LineDate, "1997-05", ""},
		{"date, month first", "05/97", LineDate, "05/97", ""},
		{"date with a day", "97.05.12", LineDate, "97.05.12", ""},
		{"date, day first", "31.12.1997", LineDate, "31.12.1997", ""},
		{"date of an era", "H9.5", LineDate, "H9.5", ""},
		{"date in Japanese", "平成９年５月", LineDate, "平成9年5月", ""},

		{"number, five and five", "98760-50090", LineNumber, "9876050090", "9876050090"},
		{"number, full width", "９８７６０－５００９０", LineNumber, "9876050090", "9876050090"},
		{"number in groups", "0 999 123 001", LineNumber, "0999123001", "0999123001"},
		{"number with letters", "Q9XZ-98765-A", LineNumber, "Q9XZ98765A", "Q9XZ98765A"},
		{"number of six places", "9876Q5", LineNumber, "9876Q5", "9876Q5"},
		{"number of six places that begins like a date", "987654", LineNumber, "987654", "987654"},
		{"number with a heading", "Part No.: M9T98765", LineNumber, "M9T98765", "M9T98765"},
		{"number with a Japanese heading", "品番 98760-50090", LineNumber, "9876050090", "9876050090"},
		{"short number with a heading", "P/N 12345", LineNumber, "12345", "12345"},
		{"number, half legible: no key", "9?760-5009*", LineNumber, "9?7605009*", ""},
		{"number with a month-like end", "9876-54", LineNumber, "987654", "987654"},

		{"material", ">PA66-GF30<", LineMaterial, "PA66-GF30", ""},
		{"material, full width", "＞ＰＰ－Ｔ２０＜", LineMaterial, "PP-T20", ""},
		{"material without its angles", "PA66-GF30", LineMaterial, "PA66-GF30", ""},
		{"mould", "MOULD NO. 123456", LineMaterial, "123456", ""},
		{"cavity", "CAV 2", LineMaterial, "2", ""},

		{"country", "Made in Japan", LineCountry, "JAPAN", ""},
		{"country, Japanese", "日本製", LineCountry, "日本", ""},
		{"country of a product", "Product of Italy", LineCountry, "ITALY", ""},
		{"country alone", "THAILAND", LineCountry, "THAILAND", ""},

		{"serial", "S/N 98765432", LineCode, "98765432", ""},
		{"compressor type", "12QX34C", LineCode, "12QX34C", ""},
		{"refrigerant", "R134a", LineCode, "R134A", ""},
		{"belt", "6PK1270", LineCode, "6PK1270", ""},
		{"ball bearing", "6203", LineCode, "6203", ""},
		{"wheel bearing", "DAC33660035", LineCode, "DAC33660035", ""},
		{"bore size of a caliper", "54", LineCode, "54", ""},
		{"side", "R", LineCode, "R", ""},

		{"a word that begins like a heading", "PARTNER", LineUnknown, "PARTNER", ""},
		{"words", "REMANUFACTURED UNIT", LineUnknown, "REMANUFACTURED UNIT", ""},
		{"words with a number", "ALTERNATOR 98760-50090", LineUnknown, "ALTERNATOR 98760-50090", ""},
		{"short words", "KEEP DRY", LineUnknown, "KEEP DRY", ""},
		{"empty", "  ", LineUnknown, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ClassifyLine(c.line)
			if got.Kind != c.kind || got.Text != c.text || got.Key != c.key {
				t.Errorf("%q: got %s %q key %q, want %s %q key %q", c.line, got.Kind, got.Text, got.Key, c.kind, c.text, c.key)
			}
			if got.Raw != c.line {
				t.Errorf("raw: got %q, want the line as it stands", got.Raw)
			}
		})
	}
}

// A rating gives the currents that are printed, and no other.
func TestClassifyRating(t *testing.T) {
	for _, c := range []struct {
		line string
		want Rating
	}{
		{"12V 80A", Rating{Volts: 12, Amps: 80}},
		{"１２Ｖ－８０Ａ", Rating{Volts: 12, Amps: 80}},
		{"DC 12 V, 80 A", Rating{Volts: 12, Amps: 80}},
		{"14V 70/120A", Rating{Volts: 14, Amps: 120, IdleAmps: 70, LowSpeed: NotStated}},
		{"14V 50/100A", Rating{Volts: 14, Amps: 100, IdleAmps: 50, LowSpeed: NotStated}},
		{"50/120A 13.5V", Rating{Volts: 13.5, Amps: 120, IdleAmps: 50, LowSpeed: NotStated}}, // the form of SAE J56
		{"50A/120A 13,5V", Rating{Volts: 13.5, Amps: 120, IdleAmps: 50, LowSpeed: NotStated}},
		{"12V 1.4kW", Rating{Volts: 12, Kilowatts: 1.4}},
		{"12V 1400W", Rating{Volts: 12, Kilowatts: 1.4}},
		{"12V", Rating{Volts: 12}},
		{"120A", Rating{Amps: 120}},
		{"Q1 (R) 14V 35A 20", Rating{Volts: 14, Amps: 35, Speed: 2000, Rotation: "R"}},
		{"Q1(RL)14V35A20", Rating{Volts: 14, Amps: 35, Speed: 2000, Rotation: "RL"}},
	} {
		got := ClassifyLine(c.line)
		if got.Kind != LineRating || got.Rating != c.want || got.Doubt != "" {
			t.Errorf("%q: got %s %+v (%s), want %+v", c.line, got.Kind, got.Rating, got.Doubt, c.want)
		}
	}
}

// What can be read two ways says so.
func TestClassifyLineDoubts(t *testing.T) {
	for _, c := range []struct {
		line string
		kind LineKind
		want string
	}{
		{"24A", LineDate, "could be amperes"},
		{"20230615", LineNumber, "could be a date"},
		{"230615", LineNumber, "could be a date"},
		{"P/N 230615", LineNumber, ""},
		{"9K", LineDate, ""},
		{"14V 120/70A", LineRating, "the larger current is printed first"},
	} {
		if got := ClassifyLine(c.line); got.Kind != c.kind || got.Doubt != c.want {
			t.Errorf("%q: got %s, doubt %q, want %s, %q", c.line, got.Kind, got.Doubt, c.kind, c.want)
		}
	}
}

// Lines that only begin like a rating are none.
func TestReadRatingRefuses(t *testing.T) {
	for _, line := range []string{"24A", "13V", "98760-50090", "12V RELAY", "LR190-987", ""} {
		if r, _, ok := ReadRating(line); ok {
			t.Errorf("%q read as %+v", line, r)
		}
	}
}
