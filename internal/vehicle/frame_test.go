package vehicle

import (
	"strings"
	"testing"
)

// SV30-0169266 is the worked example of liquisearch.com, Japanese domestic
// market VIN; the rest is invented in the shapes that papers and plates carry.
func TestParseFrame(t *testing.T) {
	tests := []struct {
		name, text, code, serial string
		number                   int64
		width                    int
		warnings                 string
	}{
		{"usual", "SV30-0169266", "SV30", "0169266", 169266, 7, ""},
		{"full width", "ＳＶ３０－０１６９２６６", "SV30", "0169266", 169266, 7, ""},
		{"six digits, lower case", "k15-012345", "K15", "012345", 12345, 6, ""},
		{"long vowel as hyphen", "ZQX30ー1234567", "ZQX30", "1234567", 1234567, 7, ""},
		{"spaces at the hyphen", "ZQX30 - 1234567", "ZQX30", "1234567", 1234567, 7, ""},
		{"stars at the ends", "*ZQX30-1234567*", "ZQX30", "1234567", 1234567, 7, WarnDividers},
		{"space for hyphen", "ZQX30 1234567", "ZQX30", "1234567", 1234567, 7, WarnMissingHyphen},
		{"no hyphen", "ZQX301234567", "", "", -1, 0, WarnMissingHyphen},
		{"short serial", "ZQX30-1234", "ZQX30", "1234", 1234, 4, WarnOddWidth},
		{"long serial", "ZQX30-123456789", "ZQX30", "123456789", 123456789, 9, WarnOddWidth},
		{"too long for a number", "ZQX30-" + strings.Repeat("9", 30), "ZQX30", strings.Repeat("9", 30), -1, 0, WarnOddShape},
		{"letter in the serial", "ZQX30-O123456", "ZQX30", "O123456", -1, 0, WarnOddShape},
		{"letters in the serial", "ZQX30-12AB567", "ZQX30", "12AB567", -1, 0, WarnOddShape},
		{"one-character code", "Z-1234567", "Z", "1234567", 1234567, 7, WarnOddShape},
		{"nothing after the hyphen", "ZQX30-", "ZQX30", "", -1, 0, WarnOddShape},
		{"prefix in front", "GF-ZQX30-1234567", "ZQX30", "1234567", 1234567, 7, WarnPrefix},
		{"second hyphen", "ZQX30-AB-1234567", "ZQX30-AB", "1234567", 1234567, 7, WarnOddShape},
		{"stamped by the authority", "品[41]1234品", "", "", -1, 0, WarnAuthority},
		{"a VIN", "1M8GDM9AXKP042788", "", "", -1, 0, WarnLooksLikeVIN},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, warnings, err := ParseFrame(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got.ModelCode != tt.code || got.Serial != tt.serial || got.SerialNumber != tt.number || got.Width != tt.width || got.Raw != tt.text {
				t.Errorf("got %+v", got)
			}
			if codes(warnings) != tt.warnings {
				t.Errorf("got warnings %v, want %q", warnings, tt.warnings)
			}
			if got.Usual() != (tt.code != "" && tt.width >= 5 && tt.width <= 8 && !strings.Contains(tt.warnings, WarnOddShape)) {
				t.Errorf("got usual %v", got.Usual())
			}
		})
	}
	for _, text := range []string{"", "  ", "-", "***"} {
		if _, _, err := ParseFrame(text); CodeOf(err) != CodeEmpty {
			t.Errorf("%q: got %v, want it refused as empty", text, err)
		}
	}
}

// The hyphen and the leading zeros are part of the number as it is written.
func TestFrameString(t *testing.T) {
	for text, want := range map[string]string{"sv30 - 0169266": "SV30-0169266", "zqx301234567": "ZQX301234567"} {
		f, _, err := ParseFrame(text)
		if err != nil || f.String() != want {
			t.Errorf("%s: got %q, %v, want %q", text, f, err, want)
		}
	}
}

// A misread letter is pointed out with the digit that was probably meant.
func TestFrameSuggestsDigits(t *testing.T) {
	_, warnings, _ := ParseFrame("ZQX30-O12345I")
	if len(warnings) != 1 || !strings.Contains(warnings[0].Message, "0123451") {
		t.Errorf("got %v", warnings)
	}
}

// Without the hyphen every split is offered, the commonest serial width first;
// a model code of digits alone is none.
func TestSplitFrame(t *testing.T) {
	tests := []struct{ text, want string }{
		{"ZQX301234567", "ZQX30-1234567 ZQX301-234567 ZQX3-01234567 ZQX3012-34567"},
		{"ZQX30 1234567", "ZQX30-1234567 ZQX301-234567 ZQX3-01234567 ZQX3012-34567"},
		{"K15012345", "K1-5012345 K15-012345 K150-12345"},
		{"12345678901", ""},
		{"ZQX30-1234567", ""},
		{"", ""},
	}
	for _, tt := range tests {
		var got []string
		for _, f := range SplitFrame(tt.text) {
			got = append(got, f.String())
		}
		if got := strings.Join(got, " "); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.text, got, tt.want)
		}
	}
}

// FuzzParseFrame: no panic, the text is kept, and the number is that of the serial.
func FuzzParseFrame(f *testing.F) {
	for _, seed := range []string{"SV30-0169266", "ZQX30 1234567", "ZQX301234567", "GF-K15-012345", "品[41]1234品", "*K15-012345*", "1M8GDM9AXKP042788", "-"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, _, err := ParseFrame(s)
		if err != nil {
			if CodeOf(err) != CodeEmpty {
				t.Fatalf("%q: got %v", s, err)
			}
			return
		}
		if got.Raw != s || (got.Width > 0) != (got.SerialNumber >= 0) || got.Width > 0 && got.Width != len(got.Serial) {
			t.Fatalf("%q: got %+v", s, got)
		}
		for _, split := range SplitFrame(s) {
			if !split.Usual() {
				t.Fatalf("%q: offers %+v", s, split)
			}
		}
		_, _, _ = ParseDesignation(s)
	})
}
