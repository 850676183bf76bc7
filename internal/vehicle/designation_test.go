package vehicle

import (
	"strings"
	"testing"
)

// Shapes of the model designation: Japanese encyclopaedia, vehicle inspection
// certificate; model codes invented.
func TestParseDesignation(t *testing.T) {
	tests := []struct {
		text, prefix, code, tail, trim string
		modified                       bool
		warnings                       string
	}{
		{"E-QX86", "E", "QX86", "", "", false, ""},
		{"GF-K15", "GF", "K15", "", "", false, ""},
		{"DBA-ZZ6", "DBA", "ZZ6", "", "", false, ""},
		{"ＤＢＡ－ＺＺ６", "DBA", "ZZ6", "", "", false, ""},
		{"DAA-ZQX30-ABCDE-T", "DAA", "ZQX30", "ABCDE", "T", false, ""},
		{"ZQX30-ABCDE-T", "", "ZQX30", "ABCDE", "T", false, ""},
		{"SV30-ABCDE", "", "SV30", "ABCDE", "", false, ""},
		{"K15-ABC", "", "K15", "ABC", "", false, ""}, // K15 is no symbol of the table
		{"K15", "", "K15", "", "", false, ""},
		{"E", "", "E", "", "", false, WarnOddShape},
		{"GF-K15改", "GF", "K15", "", "", true, WarnModified},
		{"GF-K15(改)", "GF", "K15", "", "", true, WarnModified},
		{"GF-K15 改", "GF", "K15", "", "", true, WarnModified},
		{"gf - k15", "GF", "K15", "", "", false, ""},
		{"QQ-ZZ6", "QQ", "ZZ6", "", "", false, WarnUnknownPrefix},
		{"9QQ-ZZ6", "9QQ", "ZZ6", "", "", false, WarnUnknownPrefix},
		{"QQQQ-ZZ6", "", "QQQQ", "ZZ6", "", false, ""},
		{"QQ-ZZ", "", "QQ", "ZZ", "", false, ""},
		{"GF-K15-A-B-C", "GF", "K15", "A", "B-C", false, WarnOddShape},
		{"GF--K15", "GF", "K15", "", "", false, ""},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, warnings, err := ParseDesignation(tt.text)
			want := Designation{tt.text, tt.prefix, tt.code, tt.tail, tt.trim, tt.modified}
			if err != nil || got != want {
				t.Errorf("got %+v, %v", got, err)
			}
			if codes(warnings) != tt.warnings {
				t.Errorf("got warnings %v, want %q", warnings, tt.warnings)
			}
		})
	}
	for _, text := range []string{"", "-", "改", " - "} {
		if _, _, err := ParseDesignation(text); CodeOf(err) != CodeEmpty {
			t.Errorf("%q: got %v, want it refused as empty", text, err)
		}
	}
}

func TestDesignationString(t *testing.T) {
	for _, text := range []string{"DAA-ZQX30-ABCDE-T", "GF-K15改", "K15"} {
		d, _, err := ParseDesignation(text)
		if err != nil || d.String() != text {
			t.Errorf("got %q, %v, want %q", d, err, text)
		}
	}
}

// GF and GH on one model code are not the same car: webcartop.jp/2021/10/787491,
// a change of July 2002 that came with another exhaust layout.
func TestSameModelNeedsThePrefix(t *testing.T) {
	read := func(s string) Designation { d, _, _ := ParseDesignation(s); return d }
	if read("GF-K15").SameModel(read("GH-K15")) {
		t.Error("GF-K15 must not be the same as GH-K15")
	}
	if !read("GF-K15-ABC").SameModel(read("ＧＦ－Ｋ１５")) {
		t.Error("the tail does not make another model")
	}
}

// Letter symbols: Japanese encyclopaedia, exhaust rules; webcartop.jp;
// kotoba.ne.jp. Three characters: kurukura.jp 20200419-01_2 and _3.
func TestDecodePrefix(t *testing.T) {
	tests := []struct {
		text      string
		year      int
		reduction int
		holds     string
	}{
		{"A", 1975, 0, "passenger"}, {"H", 1975, 0, "other than"}, {"B", 1976, 0, "1 t"}, {"C", 1976, 0, ""},
		{"E", 1978, 0, "petrol"}, {"J", 1979, 0, "goods"}, {"K", 1979, 0, "diesel"}, {"M", 1982, 0, "goods"}, {"N", 1982, 0, "indirect"},
		{"GF", 1998, 0, "passenger"}, {"GH", 2000, 0, "no reduction"},
		{"TA", 2000, 25, ""}, {"LA", 2000, 50, ""}, {"UA", 2000, 75, ""},
		{"ABA", 2005, 0, "no hybrid"}, {"CBA", 2005, 50, "no hybrid"}, {"DBA", 2005, 75, "passenger"}, {"DAA", 2005, 75, ", hybrid"},
		{"3BA", 2018, 0, ""}, {"4BA", 2018, 25, "no hybrid"}, {"5BA", 2018, 50, "passenger"}, {"6AA", 2018, 75, ", hybrid"}, {"7BA", 2018, 0, "import"},
		{"3DA", 2018, 0, "passenger"}, {"DBE", 2005, 75, "petrol"},
		{"ZAA", 0, 0, "electric"}, {"ZBA", 0, 0, "hydrogen"}, {"ZAC", 0, 0, "bus"},
	}
	for _, tt := range tests {
		got, ok := DecodePrefix(tt.text)
		if !ok || got.Text != tt.text || got.RuleYear != tt.year || got.Reduction != tt.reduction || !strings.Contains(got.String(), tt.holds) {
			t.Errorf("%s: got %v, %v", tt.text, got, ok)
		}
	}
	// The page lists 0 1 8 9 I O V as unused first characters (2020).
	for _, text := range []string{"K15", "", "X", "QQ", "0BA", "1BA", "8BA", "9BA", "IBA", "OBA", "VBA", "DZA", "DB1", "ZZA", "ZAZ", "DBAA"} {
		if got, ok := DecodePrefix(text); ok {
			t.Errorf("%q: got %v, want it unknown", text, got)
		}
	}
	// A says passenger car, but not for the diesels of the 2005 rule.
	if got, _ := DecodePrefix("ADA"); got.Class != "" {
		t.Errorf("ADA: got class %q, want none", got.Class)
	}
}
