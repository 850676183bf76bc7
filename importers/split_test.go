package importers

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"crossbin/internal/part"
)

// What stands between two numbers keeps its meaning, and a slash inside one
// number does not divide it.
func TestSplitNumbers(t *testing.T) {
	names := map[joint]string{jointNone: "", jointAlternative: "|", jointArrow: ">", jointSet: "+", jointBlank: "_", jointShorthand: "~", jointAsk: "?"}
	for _, tt := range []struct{ text, want string }{
		{"98760-50090", "98760-50090"},
		{"98760-50090 / 98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090/98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090; 98760-50091, 98760-50092", "98760-50090 |98760-50091 |98760-50092"},
		{"98760-50090\n98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090 & 98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090 or 98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090 oder 98760-50091 o 98760-50092", "98760-50090 |98760-50091 |98760-50092"},
		{"98760-50090 または 98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090、98760-50091", "98760-50090 |98760-50091"},
		{"98760-50090 → 98760-50091", "98760-50090 >98760-50091"},
		{"98760-50090 => 98760-50091", "98760-50090 >98760-50091"},
		{"98760-50090->98760-50091", "98760-50090 >98760-50091"},
		{"98760-50090 + 98760-50091", "98760-50090 +98760-50091"},
		{"98760-50090 98760-50091", "98760-50090 _98760-50091"},
		{"98760-50090/91/100", "98760-50090 ~98760-50091 ~98760-50100"},
		{"98760-50090/50091", "98760-50090 ~98760-50091"},
		{"98760-50090 / 91", "98760-50090 ~98760-50091"},
		{"98760-50090/A", "98760-50090 ?98760-50090/A"},
		{"98760-5009A/91", "98760-5009A ?98760-5009A/91"},
		{"98760-50090/1234567/x", "98760-50090 ?98760-50090/1234567/x"},
		{"123456/7890", "123456/7890"},
		{"4T/1234", "4T/1234"},
		{"12345/67890", "12345/67890"},
		{"A 987 654 32 10", "A 987 654 32 10"},
		{"９８７６０－５００９０", "98760-50090"},
		{`"98760-50090"`, "98760-50090"},
		{"98760-50090 (old, small plug) / 98760-50091 [new]", "98760-50090{old, small plug} |98760-50091{new}"},
		{"(none here)", "{none here}"},
		{"", ""},
		{" ; , ", ""},
	} {
		var got []string
		for _, tok := range splitNumbers(tt.text) {
			remark := ""
			if tok.remark != "" {
				remark = "{" + tok.remark + "}"
			}
			got = append(got, names[tok.joint]+tok.text+remark)
		}
		if strings.Join(got, " ") != tt.want {
			t.Errorf("%q: got %s, want %s", tt.text, strings.Join(got, " "), tt.want)
		}
	}
}

// Quantity words are parsed by bucket; what is not certain says what was wanted.
func TestQuantity(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct {
		text, want string
		remark     bool
	}{
		{"2", "2", false}, {"2.0", "2", false}, {"2 pcs", "2", false}, {"3個", "3", false}, {"２", "2", false}, {"0", "0", false},
		{"2+1 core", "2 1=core", false}, {"2 + 1 Altteil", "2 1=core", false}, {"2+1 thing", "", true},
		{"2 (1 no pulley)", "1 1=incomplete", true}, {"1 (2 no pulley)", "", true}, {"2 (blue)", "2", true},
		{"1 bad", "1=quarantine", true}, {"1 core", "1=core", true}, {"1 thing", "", true},
		{"0*", "0", true}, {"~60", "60", true}, {"3?", "3", true},
		{"O", "", true}, {"o", "", true}, {"many", "", true}, {"多数", "", true}, {"-1", "", true}, {"2.5", "", true}, {"uno", "", true},
		{"9999999", "", true}, {"2+9999999 core", "", true}, {"99999999999999999999", "", true},
	} {
		buckets, remark := w.quantity(tt.text)
		var got []string
		for _, b := range buckets {
			text := fmt.Sprint(b.n)
			if b.condition != "" {
				text += "=" + string(b.condition)
			}
			got = append(got, text)
		}
		if strings.Join(got, " ") != tt.want || (remark != "") != tt.remark {
			t.Errorf("%q: got %v %q, want %q, remark %v", tt.text, got, remark, tt.want, tt.remark)
		}
	}
}

// Serial ranges are read in four languages; what is not one is refused.
func TestSerialRanges(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct {
		field      Field
		text, want string
	}{
		{SerialRange, "0100000-0124999", "100000…124999 w7"}, {SerialRange, "0100000~0124999", "100000…124999 w7"},
		{SerialRange, "0100000 to 0124999", "100000…124999 w7"}, {SerialRange, "from 0100000 to 0124999", "100000…124999 w7"},
		{SerialRange, "0100000 bis 0124999", "100000…124999 w7"}, {SerialRange, "desde 0100000 hasta 0124999", "100000…124999 w7"},
		{SerialRange, "up to 0124999", "-1…124999 w7"}, {SerialRange, "bis 0124999", "-1…124999 w7"}, {SerialRange, "hasta 0124999", "-1…124999 w7"},
		{SerialRange, "0124999まで", "-1…124999 w7"}, {SerialRange, "-0124999", "-1…124999 w7"}, {SerialRange, "～0124999", "-1…124999 w7"},
		{SerialRange, "from 0125000", "125000…-1 w7"}, {SerialRange, "ab 0125000", "125000…-1 w7"}, {SerialRange, "desde 0125000", "125000…-1 w7"},
		{SerialRange, "0125000から", "125000…-1 w7"}, {SerialRange, "0125000以降", "125000…-1 w7"}, {SerialRange, "0125000-", "125000…-1 w7"},
		{SerialRange, "0125000 on", "125000…-1 w7"}, {SerialRange, "0125000+", "125000…-1 w7"}, {SerialRange, "from 0125000-", "125000…-1 w7"},
		{SerialRange, "before 0125000", "-1…124999 w7"}, {SerialRange, "0125000未満", "-1…124999 w7"}, {SerialRange, "after 0125000", "125001…-1 w7"},
		{SerialRange, "<0125000", "-1…124999 w7"}, {SerialRange, ">0125000", "125001…-1 w7"}, {SerialRange, "0125000", "125000…125000 w7"},
		{SerialFrom, "0125000", "125000…-1 w7"}, {SerialTo, "0125000", "-1…125000 w7"}, {SerialFrom, "KV31-0125000", "125000…-1 w7 model_code=KV31"},
		{FrameNo, "KV31-0125000", "125000…125000 w7 model_code=KV31"}, {FrameNo, "KV31-0100000~0125000", "100000…125000 w7 model_code=KV31"},
		{FrameNo, "KV31-0100000~KV31-0125000", "100000…125000 w7 model_code=KV31 model_code=KV31"}, {FrameNo, "KV31-0125000-", "125000…-1 w7 model_code=KV31"},
		{SerialRange, "0125000-0100000", "refused"}, {SerialRange, "KV31-0100000~KV41-0125000", "refused"}, {SerialRange, "about 0125000", "refused"},
		{SerialRange, "0100000-0124999 blue", "refused"}, {SerialRange, "1 2 3", "refused"}, {SerialRange, "none", "refused"}, {SerialFrom, "0100000-0124999", "refused"},
		{SerialRange, "0100000, 0110000, 0120000", "refused"}, {SerialRange, "before 000", "refused"}, {FrameNo, "1M8GDM9AXKP042788", "refused"}, // VIN: 49 CFR 565.15
	} {
		c := w.clause(tt.field, tt.text)
		got := "refused"
		if c.failed == nil {
			a := c.alts[0]
			got = fmt.Sprintf("%d…%d w%d", a.serial.From, a.serial.To, a.serial.Width)
			for _, f := range a.facts {
				got += fmt.Sprintf(" %s=%s", f.fact, f.value)
			}
		}
		if got != tt.want {
			t.Errorf("%s %q: got %s, want %s", tt.field, tt.text, got, tt.want)
		}
	}
}

// A vehicle cell is one clause or several alternatives; what cannot be judged
// refuses the cell, because without it the fitment would be wider.
func TestClauses(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct {
		field      Field
		text, want string
	}{
		{Transmission, "AT", "transmission=AT"}, {Transmission, "Automatik", "transmission=AT"}, {Transmission, "マニュアル", "transmission=MT"}, {Transmission, "estándar", "transmission=MT"},
		{Transmission, "AT/MT", ""}, {Transmission, "both", ""}, {Transmission, "all", ""}, {Transmission, "AT / CVT", "transmission=AT | transmission=CVT"},
		{Transmission, "semi", "refused"}, {Transmission, "AT / semi", "refused"}, {Transmission, "both / CVT", ""}, {Transmission, "?", "refused"},
		{Drive, "4x4", "drive=4WD"}, {Drive, "Allrad", "drive=4WD"}, {DriveSide, "右ハンドル", "side=RHD"}, {DriveSide, "Linkslenker", "side=LHD"},
		{Turbo, "yes", "turbo=yes"}, {Turbo, "○", "turbo=yes"}, {Turbo, "NA", "turbo=no"}, {Turbo, "×", "turbo=no"}, {Turbo, "perhaps", "refused"},
		{AirCon, "with", "option:ac=yes"}, {AirCon, "no A/C", "option:ac=no"}, {AirCon, "ohne", "option:ac=no"}, {ColdRegion, "有", "option:cold=yes"},
		{OptionWords, "with A/C, cold region", "option:ac=yes option:cold=yes"}, {OptionWords, "AT/MT", ""}, {OptionWords, "both", ""}, {OptionWords, "sunroof", "refused"},
		{Make, "Kestrel", "maker=Kestrel"}, {Make, "Kestrel / Ostara", "maker=Kestrel | maker=Ostara"}, {Make, "Kest?", "refused"},
		{Model, "Arrow (KV31)", "model=Arrow model_code=KV31"}, {Model, "Arrow (turbo)", "model=Arrow turbo=yes"}, {Model, "Arrow (van)", "refused"}, {Model, "(van)", "refused"},
		{Model, "Arrow / Arrow", "model=Arrow"}, {Model, "Arr*", "refused"}, {Model, "alle", ""}, {Model, "/", "refused"}, {Market, "Gulf", "market=Gulf"},
		{ModelCode, "GF-KV31", "model_code=KV31 emission_prefix=GF"}, {ModelCode, "KV31/32", "remark shorthand_expanded model_code=KV31 | model_code=KV32"},
		{ModelCode, "GF-KV31/32", "remark shorthand_expanded model_code=KV31 emission_prefix=GF | model_code=KV32 emission_prefix=GF"},
		{ModelCode, "KV31/321", "refused"}, {ModelCode, "KV3#", "refused"}, {ModelCode, "KV31-ABC", "refused"}, {ModelCode, "KV31 (AT)", "model_code=KV31 transmission=AT"},
		{ModelCode, "改", "refused"}, {ModelCode, "KV31改", "remark modified model_code=KV31"}, {ModelCode, "KV31 (van)", "refused"},
		{EngineCode, "ZZ6, ZZ7", "engine=ZZ6 | engine=ZZ7"}, {EngineCode, "ZZ6 (turbo)", "engine=ZZ6 turbo=yes"}, {EngineCode, "ZZ6 (late)", "refused"}, {EngineCode, "ZZ6-0123456", "refused"}, {EngineCode, "9QX-FE", "engine=9QX-FE"}, {EngineCode, "ZZ?", "refused"}, {EngineCode, "()", "refused"},
		{YearRange, "1996/8-1999/7", "built=1996-08…1999-07"}, {YearFrom, "8/1996", "built=1996-08…"}, {YearTo, "1999", "built=…1999-12"}, {YearRange, "all", ""}, {YearRange, "-", ""},
		{YearRange, "?", "refused"}, {YearRange, "1996-08", "built=1996-08"}, {YearRange, "after 2000", "refused"}, {YearRange, "before 8/2000", "refused"}, {YearRange, "01-Aug", "refused"},
		{ModelCode, "except NR55", "refused"}, {ModelCode, "NR51 NR52", "refused"}, {YearRange, "96-01", "refused"}, {YearRange, "facelift", "refused"}, {YearRange, "H8.9~H11.8", "built=1996-09…1999-08"}, {YearRange, "1996?", "remark year_doubtful built=1996-01…1996-12"},
	} {
		if got := clauseText(w.clause(tt.field, tt.text)); got != tt.want {
			t.Errorf("%s %q: got %q, want %q", tt.field, tt.text, got, tt.want)
		}
	}
}

func clauseText(c clauses) string {
	if c.failed != nil {
		return "refused"
	}
	var texts []string
	for _, a := range c.alts {
		text := ""
		for _, f := range a.facts {
			text += fmt.Sprintf(" %s=%s", f.fact, f.value)
		}
		if a.built != nil {
			text += " built=" + a.built.String()
		}
		texts = append(texts, strings.TrimSpace(text))
	}
	out := strings.Join(texts, " | ")
	for _, m := range c.remarks {
		out = "remark " + m.rule + " " + out
	}
	return strings.TrimSpace(out)
}

// The side of the part, the role of a seat and the side of the wheel are three
// things.
func TestPositions(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct{ text, want string }{
		{"left", "left"}, {"L", "left"}, {"LH", "left"}, {"Front left", "front left"}, {"left front", "front left"}, {"vorne rechts", "front right"},
		{"右", "right"}, {"運転席側", "driver side"}, {"N/S", "nearside"}, {"Offside", "offside"}, {"L/R", "left or right"}, {"Front/Rear", "front or rear"},
		{"delantero izquierdo", "front left"}, {"Beside  The Tank", "beside the tank"}, {"front of tank", "front of tank"},
	} {
		if got := w.position(tt.text); got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
		}
	}
}

// A relation word is known or it is not; a denial never reads as its opposite.
func TestRelations(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct{ text, want string }{
		{"superseded by", relReplacedBy}, {"Superseded-by:", relReplacedBy}, {"was superseded by", relReplacedBy}, {"replaces", relReplaces}, {"ersetzt", relReplaces}, {"ersetzt durch", relReplacedBy},
		{"same as", relSame}, {"not the same", relLookAlike}, {"is not the same as", ""}, {"never interchangeable", ""}, {"互換", relStandsIn}, {"互換不可", relLookAlike}, {"互換ではない", ""},
		{"no intercambiable", relLookAlike}, {"sustituye a", relReplaces}, {"kit contains", relContains}, {"left/right pair", relPair}, {"goes well with", ""}, {"same as or replaces", ""}, {"", ""},
	} {
		if got, _ := w.relation(tt.text); got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
		}
	}
}

// Headings are matched whole, with a unit, as several fields, by their longest
// phrase, or as a maker's name in front of "No".
func TestHeadings(t *testing.T) {
	w := testWords(t)
	types := []part.Type{{Name: "alternator", Attributes: []part.Attribute{{Name: "belt_line", Title: "offset of the belt"}}}}
	for _, tt := range []struct{ text, want string }{
		{"OE No", "[[maker_no]] 1"}, {"Core size (mm)", "[[core_size]] 1 unit mm"}, {"Volts [V]", "[[volts]] 1 unit V"}, {"メーカー（部品）", "[[brand]] 1"},
		{"Make/Model/Year", "[[make brand] [model] [year_range]] 1"}, {"AT/MT", "[[transmission]] 1"}, {"L/R", "[[side]] 1"}, {"Make/Colour", "[] 0"},
		{"Bin location here", "[[bin]] 0.5"}, {"Make Model", "[] 0"}, {"Hartwell No", "[[unit_no]] 0.4 maker Hartwell"}, {"Hartwell part number", "[[unit_no]] 0.4 maker Hartwell"},
		{"Hartwell品番", "[[unit_no]] 0.4 maker Hartwell"}, {"Invoice No", "[[not_ours]] 1"}, {"Invoice number", "[] 0"}, {"belt line", "[[attribute]] 1 attribute belt_line"},
		{"Offset of the belt", "[[attribute]] 1 attribute belt_line"}, {"Colour", "[] 0"}, {"", "[] 0"}, {"--", "[] 0"}, {"Type", "[[part_type model_code condition]] 1"},
	} {
		m := w.heading(tt.text, types)
		if m.pieces == nil {
			m.pieces = [][]Field{}
		}
		got := fmt.Sprintf("%v %g", m.pieces, m.score)
		for _, p := range [][2]string{{" unit ", m.unit}, {" maker ", m.maker}, {" attribute ", m.attribute}} {
			if p[1] != "" {
				got += p[0] + p[1]
			}
		}
		if got != tt.want {
			t.Errorf("%q: got %s, want %s", tt.text, got, tt.want)
		}
	}
}

func TestFieldsAreSortedAndDistinct(t *testing.T) {
	all := Fields()
	for i := 1; i < len(all); i++ {
		if all[i-1] >= all[i] {
			t.Errorf("%s before %s", all[i-1], all[i])
		}
	}
}

// The quick way to a key gives what part.Key gives.
func TestQuickKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[-A-Z0-9/. ]{0,14}`).Draw(t, "number")
		got, _, err := newMemory().key(text)
		want, _, wantErr := part.Key(text)
		if got != want || (err == nil) != (wantErr == nil) {
			t.Fatalf("%q: got %q %v, want %q %v", text, got, err, want, wantErr)
		}
	})
}
