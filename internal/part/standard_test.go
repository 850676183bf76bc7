package part

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// said prints values in order: "ribs=6 section=pk".
func said(values map[string]string) string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(values)) {
		out = append(out, name+"="+values[name])
	}
	return strings.Join(out, " ")
}

// What a designation says must hold all of want, and none of the attributes of
// not.
func TestReadDesignation(t *testing.T) {
	for _, tt := range []struct {
		typ, text string
		std       string // "" where it must not be read
		want, not string // blank-separated
	}{
		// JIS D 5301: rank, letter, cm, side; the boxes of the Battery Association of
		// Japan (www.baj.or.jp/car_battery/car03.html).
		{"battery", "55B24L", StdBattery, "rank=55 box=B length_class=24 terminal_side=L size_code=55B24L volts=12 hybrid_auxiliary=no width=129 height=203 code_standard=JIS", "stop_start cca length= posts"},
		{"battery", "55B24R", StdBattery, "terminal_side=R", ""},
		{"battery", "５５Ｂ２４Ｌ", StdBattery, "rank=55 box=B", ""},
		{"battery", " 55 b 24-l ", StdBattery, "size_code=55B24L", ""},
		{"battery", "S46B24R", StdBattery, "hybrid_auxiliary=yes rank=46 size_code=S46B24R", "stop_start"},
		{"battery", "115D31L", StdBattery, "rank=115 box=D width=173 height=204 length_class=31", ""},
		{"battery", "26A17R", StdBattery, "width=127 height=162", ""},
		{"battery", "70E41R", StdBattery, "width=176 height=213", ""},
		{"battery", "55B24", StdBattery, "rank=55", "terminal_side"},            // not a type without a side: somebody left it out
		{"battery", "130F51", StdBattery, "width=182 terminal_side=either", ""}, // F, G and H bear no letter
		{"battery", "195G51", StdBattery, "width=222 height=213 either", ""},    //
		{"battery", "245H52", StdBattery, "width=278 height=220 either", ""},    //
		{"battery", "47B24L", "", "", ""},                                       // below 50 in steps of 2
		{"battery", "53B24L", "", "", ""},                                       // from 50 in steps of 5
		{"battery", "55J24L", "", "", ""},                                       // letters A to H
		{"battery", "55B24X", "", "", ""},                                       //
		{"battery", "24A10", "", "", ""},                                        // shorter than wide: amperes
		{"battery", "5OB24L", "", "", ""},                                       // letter O
		{"battery", "55B24L-98765", "", "", ""},                                 //
		{"battery", "55B24L/R", "", "", ""},                                     //
		{"battery", "6PK1270", "", "", ""},                                      //
		{"belt", "55B24L", "", "", ""},                                          //
		{"battery", "", "", "", ""},                                             //
		// JIS D 5306:2021, clause 4: outline, rank, side; the letters after the trade
		// press of Japan. Never the rank or the letter of JIS D 5301.
		{"battery", "M-42R", StdStopStart, "outline=M stop_start_rank=42 terminal_side=R stop_start=yes", " rank= box= width"},
		{"battery", "M–42R", StdStopStart, "outline=M", ""}, // another dash
		{"battery", "Ｑ－８５", StdStopStart, "outline=Q stop_start_rank=85 terminal_side=L size_code=Q-85", " rank= box="},
		{"battery", "M42R", "", "", ""},  // a thread is written so
		{"battery", "M-43R", "", "", ""}, //
		{"battery", "A-42", "", "", ""},  //

		// ISO 9981 and ISO 9982: ribs, profile, effective length; the pitches of the
		// profiles as a glossary of the trade prints them from ISO 9982.
		{"belt", "6PK1270", StdRibbedBelt, "section=pk ribs=6 length=1270 rib_pitch=3.56", "elastic double_sided"},
		{"belt", "６ＰＫ１２７０", StdRibbedBelt, "ribs=6 length=1270", ""},
		{"belt", "6 pk 1270", StdRibbedBelt, "ribs=6 length=1270", ""},
		{"belt", " 6 pk 1270", StdRibbedBelt, "ribs=6 length=1270", ""},
		{"belt", "6pk1270", StdRibbedBelt, "ribs=6 length=1270", ""},
		{"belt", "10PK850", StdRibbedBelt, "ribs=10 length=850", ""},
		{"belt", "4PJ610", StdOtherRibbed, "section=pj rib_pitch=2.34", ""},
		{"belt", "6PK", "", "", ""},          // no length
		{"belt", "PK1270", "", "", ""},       // no ribs
		{"belt", "0PK1270", "", "", ""},      // no rib at all
		{"belt", "6PK127O", "", "", ""},      // letter O
		{"belt", "6PK127", "", "", ""},       // two pulleys of 45 mm are not even touched
		{"belt", "6PK0127", "", "", ""},      //
		{"belt", "6PK12700", "", "", ""},     // no end to it
		{"belt", "6PK1270/1275", "", "", ""}, //
		{"belt", "500K6", "", "", ""},        // tenths of an inch: no standard says so
		// ISO 2790: nominal top width and effective length.
		{"belt", "AV10x925", StdVBelt, "section=v10 length=925", "ribs cogged"},
		{"belt", "10×925", StdVBelt, "section=v10 length=925", ""},
		{"belt", "ＡＶ１３ｘ１１０５", StdVBelt, "section=v13 length=1105", ""},
		{"belt", "AVX10X925", StdVBelt, "section=v10 cogged=yes", ""},
		{"belt", "10A", "", "", ""}, // a class without a length
		{"belt", "11x925", "", "", ""},
		{"belt", "10x0925", "", "", ""},

		// ISO 9981:2020, 5.5 and 5.2.
		{"alternator", "P6PK60", StdRibbedBelt, "ribs=6", "pulley_od"},
		{"compressor", "P 5 PK 110.5", StdRibbedBelt, "ribs=5", ""},
		{"water pump", "p6pk45", StdRibbedBelt, "ribs=6", ""},
		{"alternator", "P6PK44", "", "", ""}, // under the least diameter
		{"alternator", "P0PK60", "", "", ""},
		{"alternator", "6PK60", "", "", ""},
		{"belt", "P6PK60", "", "", ""},

		// ISO 15 dimension series 10, 02 and 03; bore numbers JIS B 1513.
		{"wheel bearing", "6203", StdBearing, "dimensions=17x40x12 generation=pressed designation=6203", "seal clearance"},
		{"wheel bearing", "6203ZZ", StdBearing, "dimensions=17x40x12 seal=shields", "clearance"},
		{"wheel bearing", "6303-2RS C3", StdBearing, "dimensions=17x47x14 seal=seals clearance=C3 designation=63032RSC3", ""},
		{"wheel bearing", "6004LLU", StdBearing, "dimensions=20x42x12 seal=seals", ""},
		{"wheel bearing", "6200Z", StdBearing, "dimensions=10x30x9 seal=one_shield", ""},
		{"wheel bearing", "6310/C4", StdBearing, "dimensions=50x110x27 clearance=C4", ""},
		{"wheel bearing", "62031", "", "", ""}, // no end to it
		{"wheel bearing", "6203-99999", "", "", ""},
		{"wheel bearing", "6299", "", "", ""}, // beyond the table
		{"wheel bearing", "6403", "", "", ""},
		{"wheel bearing", "DAC33660035", StdWheelBearing, "dimensions=33x66x35 generation=pressed", "33x660"},
		{"wheel bearing", "dac 33660035", "", "", ""},
		{"wheel bearing", "DAC336635", StdWheelBearing, "dimensions=33x66x35", ""},
		{"wheel bearing", "DAC33660237", StdWheelBearing, "dimensions=33x66", "x37"}, // rings of two widths
		{"wheel bearing", "DAC501000045", StdWheelBearing, "dimensions=50x100x45", ""},
		{"wheel bearing", "DAC66330035", "", "", ""}, // no wall
		{"wheel bearing", "DAC33660000", "", "", ""},
		{"wheel bearing", "DAC336600351", "", "", ""},
	} {
		t.Run(tt.typ+" "+tt.text, func(t *testing.T) {
			values, std, ok := ReadDesignation(tt.typ, tt.text)
			got := " " + said(values)
			if ok != (tt.std != "") || std != tt.std {
				t.Fatalf("got %q %v %q, want %q", std, ok, got, tt.std)
			}
			for _, w := range strings.Fields(tt.want) {
				if !strings.Contains(got, w) {
					t.Errorf("%q lacks %s", got, w)
				}
			}
			not := strings.Fields(tt.not)
			if strings.HasPrefix(tt.not, " ") { // whole names
				for i := range not {
					not[i] = " " + not[i]
				}
			}
			for _, w := range not {
				if strings.Contains(got, w) {
					t.Errorf("%q holds %s", got, w)
				}
			}
		})
	}
}

// The letter O for a zero is suggested, and nothing else is.
func TestSuggestDesignation(t *testing.T) {
	for _, tt := range []struct{ typ, text, want string }{
		{"belt", "6PK127O", "6PK1270"}, {"battery", "5ob24l", "50B24L"}, {"wheel bearing", "62O3zz", "6203ZZ"}, {"alternator", "P6PK6O", "P6PK60"},
		{"belt", "6PK1270", ""}, {"belt", "6PK", ""}, {"belt", "OPK1270", ""}, {"belt", "6PKI270", ""}, {"battery", "S5B24L", ""}, {"radiator", "6PK127O", ""},
	} {
		if got, ok := SuggestDesignation(tt.typ, tt.text); ok != (tt.want != "") || ok && got != tt.want {
			t.Errorf("%s %s: got %q %v, want %q", tt.typ, tt.text, got, ok, tt.want)
		}
	}
}

// What stands in a cell among words is read; a piece of something longer, and
// two that contradict one another, are not.
func TestDesignationsInCells(t *testing.T) {
	word := func(name string) Attribute { return Attribute{Name: name, Title: name, Kind: KindWord} }
	number := func(name, unit string) Attribute {
		return Attribute{Name: name, Title: name, Kind: KindNumber, Unit: unit}
	}
	types := map[string]Type{
		"battery": {Name: "battery", Attributes: []Attribute{number("rank", "count"), number("stop_start_rank", "count"), word("box"),
			{Name: "terminal_side", Title: "side", Kind: KindWord, Words: []string{"left", "right", "either"}, Synonyms: map[string]string{"l": "left", "r": "right"}},
			{Name: "code_standard", Title: "standard", Kind: KindSet}}},
		"belt":          {Name: "belt", Attributes: []Attribute{number("ribs", "count"), {Name: "length", Title: "length", Kind: KindRange, Unit: "mm"}}},
		"wheel bearing": {Name: "wheel bearing", Attributes: []Attribute{{Name: "dimensions", Title: "size", Kind: KindSize, Unit: "mm"}, {Name: "seal", Title: "seal", Kind: KindWord, Words: []string{"open"}}}},
		"radiator":      {Name: "radiator", Attributes: []Attribute{word("box")}},
	}
	for _, tt := range []struct{ typ, text, want string }{
		{"battery", "Battery 55B24L, new", "rank=55 box=b terminal_side=left code_standard=jis d 5301"},
		{"battery", "バッテリー55B24L（新品）", "rank=55 box=b terminal_side=left code_standard=jis d 5301"},
		{"battery", "65D23R.", ""}, // a dot may be a piece of a number
		{"battery", "M-42/55B20L", "rank=55 stop_start_rank=42 box=b terminal_side=left code_standard=jis d 5301, jis d 5306"},
		{"battery", "M-42R / 55B20R", "rank=55 stop_start_rank=42 box=b terminal_side=right code_standard=jis d 5301, jis d 5306"},
		{"battery", "M-42R/55B20L", ""},     // two sides
		{"battery", "55B24L or 65B24L", ""}, // which of them?
		{"battery", "55B24L (55B24L)", "rank=55 box=b terminal_side=left code_standard=jis d 5301"},
		{"battery", "55B24L/R", ""},             // which side?
		{"battery", "98765-55B24L", ""},         // a piece of a number
		{"battery", "X55B24L", ""},              //
		{"battery", "holder for M10 posts", ""}, //
		{"belt", "Fan belt 6 PK 1270", "ribs=6 length=1270"},
		{"belt", "6PK1270/1275", ""}, //
		{"belt", "1265/6PK1270", ""}, //
		{"belt", "6PK1270/6PK1270", "ribs=6 length=1270"},
		{"wheel bearing", "6203ZZ", "dimensions=17 x 40 x 12"}, // the type has no such word
		{"radiator", "55B24L", ""},
	} {
		t.Run(tt.text, func(t *testing.T) {
			var got []string
			for _, d := range Designations(types[tt.typ], tt.text) {
				got = append(got, d.Attribute+"="+d.Value.String())
				if d.Standard == "" || d.Value.Doubt != "" {
					t.Errorf("%+v", d)
				}
			}
			if strings.Join(got, " ") != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestDesignatedTypes(t *testing.T) {
	want := []string{"alternator", "battery", "belt", "compressor", "water pump", "wheel bearing"}
	if got := DesignatedTypes(); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// JIS D 5301:2006: the root of CCA x RC over 2.8; the worked value is that of the
// Battery Association of Japan. Pages that call the rank a capacity of five hours
// and divide it by five are wrong.
func TestBatteryRank(t *testing.T) {
	for _, tt := range []struct {
		cca, reserve float64
		exact        string
		printed      int
	}{
		{370, 64, "54.96", 55}, {280, 48, "41.40", 42}, {490, 99, "78.66", 80}, {-1, 64, "0.00", 0},
		{310, 62, "49.51", 50}, {315, 63, "50.31", 50},
	} {
		exact, printed := BatteryRank(tt.cca, tt.reserve)
		if got := fmt.Sprintf("%.2f", exact); got != tt.exact || printed != tt.printed {
			t.Errorf("%g A, %g min: got %s %d, want %s %d", tt.cca, tt.reserve, got, printed, tt.exact, tt.printed)
		}
	}
}

// A printed rank always stands on a step, and so makes a code that is read back.
func TestBatteryRankIsAStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exact, printed := BatteryRank(rapid.Float64Range(150, 1400).Draw(t, "cca"), rapid.Float64Range(20, 600).Draw(t, "reserve"))
		values, _, ok := ReadDesignation("battery", fmt.Sprintf("%dB24L", printed))
		if !ok || values["rank"] != fmt.Sprint(printed) {
			t.Fatalf("rank %d is not read", printed)
		}
		if d := exact - float64(printed); d > 2.5 || d < -2.5 {
			t.Fatalf("%g is printed as %d", exact, printed)
		}
	})
}

// A code is made of what was read from it.
func TestDesignationsAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ribs, length := rapid.IntRange(1, 12).Draw(t, "ribs"), rapid.IntRange(400, 3500).Draw(t, "length")
		values, _, ok := ReadDesignation("belt", fmt.Sprintf("%dPK%d", ribs, length))
		if !ok || values["ribs"] != fmt.Sprint(ribs) || values["length"] != fmt.Sprintf("%d mm", length) {
			t.Fatalf("%d ribs, %d mm: got %v", ribs, length, values)
		}
		bore, wall, width := rapid.IntRange(25, 49).Draw(t, "bore"), rapid.IntRange(15, 45).Draw(t, "wall"), rapid.IntRange(20, 40).Draw(t, "width")
		values, _, ok = ReadDesignation("wheel bearing", fmt.Sprintf("DAC%d%d00%d", bore, bore+wall, width))
		if !ok || values["dimensions"] != fmt.Sprintf("%dx%dx%d mm", bore, bore+wall, width) {
			t.Fatalf("%d x %d x %d: got %v", bore, bore+wall, width, values)
		}
	})
}

// No text makes the reading fall over, and what is read is read again.
func FuzzReadDesignation(f *testing.F) {
	for _, seed := range []string{"55B24L", "M-42/55B20L", "6PK1270", "10×925", "6203ZZ C3", "DAC33660035", "P6PK60", "½", "/"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, typ := range DesignatedTypes() {
			first, _, ok := ReadDesignation(typ, text)
			again, _, ok2 := ReadDesignation(typ, strings.ToLower(" "+text+" "))
			if ok && (!ok2 || !maps.Equal(first, again)) {
				t.Errorf("%s %q: %v, then %v", typ, text, first, again)
			}
			Designations(Type{Name: typ}, text)
		}
	})
}

// Ratios by the pitch diameter, not the effective one: ISO 9981:2020, 5.4. At
// 700 revolutions the effective diameters would promise 1750 at the alternator,
// the belt makes 1684.
func TestPulleyRatio(t *testing.T) {
	crank, ok := ReadPulley("P6PK150")
	driven, ok2 := ReadPulley("P 6 PK 60,0")
	if !ok || !ok2 || crank.Pitch() != 154 || driven.Pitch() != 64 {
		t.Fatalf("got %+v %v, %+v %v", crank, ok, driven, ok2)
	}
	if got := fmt.Sprintf("%.3f %.0f", crank.Ratio(driven), 700*crank.Ratio(driven)); got != "2.406 1684" {
		t.Errorf("got %s", got)
	}
	for _, bad := range []string{"P6PK", "PPK60", "6PK60x", "", "P6PJ60", "P6PK44.9", "P-6PK60x"} {
		if p, ok := ReadPulley(bad); ok {
			t.Errorf("%q gives %+v", bad, p)
		}
	}
}
