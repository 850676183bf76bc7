package vehicle

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Worked examples with a correct check digit; sums recomputed.
func TestVINWorkedExamples(t *testing.T) {
	tests := []struct {
		vin    string
		sum    int
		digit  byte
		source string
	}{
		{"1G4AH59H45G118341", 411, '4', "49 CFR 565.6(c)(5), Table V, October 2000 edition"},
		{"1J9RP1A36A1644345", 314, '6', "NHTSA, Outline for New Manufacturer Information, p. 18"},
		{"1M8GDM9AXKP042788", 351, 'X', "encyclopaedia, worked example"},
		{"JH2RC3605MM101581", 280, '5', "owners' page on the VIN calculation"},
		{"1FAPP64R7LH123456", 403, '7', "owners' register page on the check digit"},
		{"1G1BL52P7TR115520", 337, '7', "owners' page on VIN coding"},
		{"1FACP45EXLF192944", 373, 'X', "wiki of an open library, vehicle extension"},
		{"1G1BN53E6NW128495", 369, '6', "page of collected texts"},
		{"11111111111111111", 89, '1', "well-known self-check string"},
	}
	for _, tt := range tests {
		t.Run(tt.vin, func(t *testing.T) {
			if got := vinSum(tt.vin); got != tt.sum {
				t.Errorf("got sum %d, want %d (%s)", got, tt.sum, tt.source)
			}
			if got, err := CheckDigit(tt.vin); err != nil || got != tt.digit {
				t.Errorf("got %c, %v, want %c (%s)", got, err, tt.digit, tt.source)
			}
			v, warnings, err := ParseVIN(tt.vin)
			if err != nil || !v.CheckOK() || len(warnings) > 0 || v.Text != tt.vin {
				t.Errorf("got %+v, %v, %v", v, warnings, err)
			}
		})
	}
}

// The products position by position, as the regulation's Table V (first row),
// the NHTSA outline and the encyclopaedia print them.
func TestVINProducts(t *testing.T) {
	tests := []struct {
		vin  string
		want []int
	}{
		{"1G4AH59H45G118341", []int{8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2}},
		{"1J9RP1A36A1644345", []int{8, 7, 54, 45, 28, 3, 2, 30, 0, 9, 8, 42, 24, 20, 12, 12, 10}},
		{"1M8GDM9AXKP042788", []int{8, 28, 48, 35, 16, 12, 18, 10, 0, 18, 56, 0, 24, 10, 28, 24, 16}},
	}
	for _, tt := range tests {
		var got []int
		for i, weight := range vinWeights {
			got = append(got, weight*vinValue(tt.vin[i]))
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: got %v, want %v", tt.vin, got, tt.want)
		}
	}
	// One published table prints 1 under position 8; its own calculation uses 10.
	if vinWeights[7] != 10 {
		t.Errorf("got weight %d at position 8, want 10 (49 CFR 565.15(c) Table IV)", vinWeights[7])
	}
	// The NHTSA outline prints 7/11 as .634; with the whole remainder a 7 is a 7.
	if got := checkDigit("1FAPP64R7LH123456"); got != '7' {
		t.Errorf("got %c, want 7", got)
	}
}

// A wrong check digit is a warning that says computed and found, never a refusal.
func TestVINCheckDigitWarns(t *testing.T) {
	tests := []struct {
		vin      string
		sum      int
		computed byte
		source   string
	}{
		{"WP0ZZZ99ZTS392124", 459, '8', "test data of an open VIN library; a legal European VIN"},
		{"WVWZZZ3CZEE140287", 425, '7', "test data of an open VIN library; a legal European VIN"},
		{"1M8GDM9A1KP042788", 351, 'X', "wrong digit, recomputed"},
		{"1M8GDM9AXKP042787", 349, '8', "last digit misread, recomputed"},
		{"1M8GDM9AXPK042788", 356, '4', "K and P swapped, recomputed"},
		{"1G4AH59H45G118314", 408, '1', "last digits swapped, recomputed"},
		{"1G4AH59H45G181341", 418, '0', "digits swapped, recomputed"},
		{"1G4AH59H4SG118341", 384, 'X', "5 read as S, recomputed"},
		{"1G4AHS9H45G118341", 402, '6', "5 read as S, recomputed"},
		{"1M8GDM9AXKP04278B", 339, '9', "8 read as B, recomputed"},
	}
	for _, tt := range tests {
		t.Run(tt.vin, func(t *testing.T) {
			v, warnings, err := ParseVIN(tt.vin)
			if err != nil || codes(warnings) != WarnCheckDigit || v.CheckOK() || v.CheckComputed != tt.computed {
				t.Fatalf("got %+v, %v, %v (%s)", v, warnings, err, tt.source)
			}
			if got := vinSum(tt.vin); got != tt.sum {
				t.Errorf("got sum %d, want %d", got, tt.sum)
			}
			want := "computed " + string(tt.computed) + ", found " + string(tt.vin[8])
			if !strings.Contains(warnings[0].Message, want) {
				t.Errorf("got %q, want %q in it", warnings[0].Message, want)
			}
			mustCarry := tt.vin[0] == '1'
			if got := strings.Contains(warnings[0].Message, "must carry it: read"); got != mustCarry {
				t.Errorf("got %q", warnings[0].Message)
			}
		})
	}
}

// Characters of one value hide each other; these misreadings pass, and a VIN
// that passes is of good form only. Recomputed.
func TestVINCheckDigitIsBlind(t *testing.T) {
	for _, vin := range []string{"1M8GDM9JXKP042788", "1M8GDM91XKP042788", "1U8GDM9AXKP042788", "148GDM9AXKP042788"} {
		v, warnings, err := ParseVIN(vin)
		if err != nil || !v.CheckOK() || len(warnings) > 0 || vinSum(vin) != 351 {
			t.Errorf("%s: got %+v, %v, %v; the rule cannot see this", vin, v, warnings, err)
		}
	}
	for _, pair := range []string{"2S", "2B", "2K", "5V", "5E", "8H", "9R", "9Z", "4U", "1J", "1A"} {
		if vinValue(pair[0]) != vinValue(pair[1]) {
			t.Errorf("%s: must have one value", pair)
		}
	}
	for _, pair := range []string{"8B", "5S", "2Z", "6G", "1L"} {
		if vinValue(pair[0]) == vinValue(pair[1]) {
			t.Errorf("%s: must have two values", pair)
		}
	}
}

// vinClasses are the characters by value: 49 CFR 565.15(c) Table III.
var vinClasses = [...]string{"0", "1AJ", "2BKS", "3CLT", "4DMU", "5ENV", "6FW", "7GPX", "8HY", "9RZ"}

func TestVINValues(t *testing.T) {
	for want, class := range vinClasses {
		for i := 0; i < len(class); i++ {
			if got := vinValue(class[i]); got != want {
				t.Errorf("%c: got %d, want %d", class[i], got, want)
			}
		}
	}
}

// Any one character changed to one of another value is noticed when the check
// digit was right: the weights are no multiples of 11, which is prime.
func TestVINOneChangeIsSeen(t *testing.T) {
	legal := []rune("ABCDEFGHJKLMNPRSTUVWXYZ0123456789")
	rapid.Check(t, func(t *rapid.T) {
		vin := []byte(rapid.StringOfN(rapid.RuneFrom(legal), vinLength, vinLength, -1).Draw(t, "vin"))
		vin[8] = checkDigit(string(vin))
		at := rapid.IntRange(0, vinLength-1).Draw(t, "position")
		with := byte(rapid.RuneFrom(legal).Draw(t, "character"))
		before := vin[at]
		if at == 8 && with == before || at != 8 && vinValue(with) == vinValue(before) {
			return
		}
		vin[at] = with
		v, _, err := ParseVIN(string(vin))
		if err != nil || v.CheckOK() {
			t.Fatalf("%c at %d: %s passes, %v", before, at+1, vin, err)
		}
	})
}

// 49 CFR 565.13: 17 characters, no I, O, Q. The suggestion is made before any
// arithmetic, and both published examples pass after it.
func TestParseVINRefuses(t *testing.T) {
	tests := []struct{ text, code, suggestion, holds string }{
		{"1M8GDM9AXKPO42788", CodeCharacter, "1M8GDM9AXKP042788", "agrees"},
		{"IG4AH59H45G118341", CodeCharacter, "1G4AH59H45G118341", "agrees"},
		{"1M8GDM9AXKPQ42788", CodeCharacter, "1M8GDM9AXKP042788", "agrees"},
		{"1M8GDM9AXKPO42787", CodeCharacter, "1M8GDM9AXKP042787", "does not agree"},
		{"1M8GDM9AXKPO4278#", CodeCharacter, "", "read the number again"},
		{"1M8GDM9AXKP04278#", CodeCharacter, "", "position 17"},
		{"1M8GDM9AXKP04278", CodeLength, "", "16"},
		{"1M8GDM9AXKP0427888", CodeLength, "", "18"},
		{"SV30-0169266", CodeLength, "", "frame number"},
		{"", CodeEmpty, "", "no VIN"},
		{" - ", CodeEmpty, "", "no VIN"},
		{"ラジエータラジエータラジエータラジ", CodeCharacter, "", "position 1"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			_, _, err := ParseVIN(tt.text)
			var parse *ParseError
			if !errors.As(err, &parse) || parse.Code != tt.code || parse.Suggestion != tt.suggestion || parse.Text != tt.text {
				t.Fatalf("got %+v", err)
			}
			if !strings.Contains(err.Error(), tt.holds) {
				t.Errorf("got %q, want %q in it", err, tt.holds)
			}
		})
	}
	for _, text := range []string{"", "1m8gdm9axkp042788", "1M8GDM9AXKPO42788"} {
		if got, err := CheckDigit(text); err == nil {
			t.Errorf("CheckDigit(%q): got %c, want an error", text, got)
		}
	}
}

// Spaces and dividers are not part of a VIN: NZTA VIRM 1-1, NHTSA aiam2885.
func TestParseVINDividers(t *testing.T) {
	for _, text := range []string{"*1M8GDM9AXKP042788*", "1M8 GDM9AX KP042788", "1M8-GDM9AX-KP042788", "１Ｍ８ＧＤＭ９ＡＸＫＰ０４２７８８ *"} {
		v, warnings, err := ParseVIN(text)
		if err != nil || v.Text != "1M8GDM9AXKP042788" || v.Raw != text || codes(warnings) != WarnDividers {
			t.Errorf("%s: got %+v, %v, %v", text, v, warnings, err)
		}
	}
	v, warnings, err := ParseVIN("1m8gdm9axkp042788")
	if err != nil || len(warnings) > 0 || v.Text != "1M8GDM9AXKP042788" {
		t.Errorf("got %+v, %v, %v", v, warnings, err)
	}
}

// A 9 at position 3 is a small-volume maker, told by positions 12 to 14 too: 49
// CFR 565.15(a).
func TestVINSmallMaker(t *testing.T) {
	v, _, _ := ParseVIN("1J9RP1A36A1644345")
	if !v.SmallVolume || v.Maker != "1J9644" {
		t.Errorf("got %+v", v)
	}
	v, _, _ = ParseVIN("1M8GDM9AXKP042788")
	if v.SmallVolume || v.Maker != "1M8" {
		t.Errorf("got %+v", v)
	}
}

// 7AT is given in New Zealand to used imports: NZTA VIRM 3-1.
func TestVINNewZealand(t *testing.T) {
	vin := []byte("7AT0A12B0X1234567")
	vin[8] = checkDigit(string(vin))
	v, warnings, err := ParseVIN(string(vin))
	if err != nil || !v.NZAssigned || v.Country != "New Zealand" || v.Region != "Oceania" || codes(warnings) != WarnNZAssigned {
		t.Errorf("got %+v, %v, %v", v, warnings, err)
	}
	if !strings.Contains(warnings[0].Message, "keep the frame number") {
		t.Errorf("got %q", warnings[0].Message)
	}
}

// Wikibooks, World Manufacturer Identifier; what is not listed is unknown.
func TestVINPlaces(t *testing.T) {
	tests := []struct{ prefix, region, country string }{
		{"AA", "Africa", "South Africa"}, {"AH", "Africa", "South Africa"}, {"AJ", "Africa", "unknown"}, {"H1", "Africa", "unknown"},
		{"JA", "Asia", "Japan"}, {"J0", "Asia", "Japan"}, {"J9", "Asia", "Japan"}, {"KL", "Asia", "South Korea"}, {"KR", "Asia", "South Korea"}, {"KS", "Asia", "unknown"},
		{"LZ", "Asia", "China"}, {"MA", "Asia", "India"}, {"MK", "Asia", "Indonesia"}, {"ML", "Asia", "Thailand"}, {"PA", "Asia", "Philippines"}, {"PR", "Asia", "Malaysia"}, {"RF", "Asia", "Taiwan"},
		{"SA", "Europe", "United Kingdom"}, {"SN", "Europe", "Germany"}, {"SU", "Europe", "Poland"}, {"TJ", "Europe", "Czech Republic"}, {"TR", "Europe", "Hungary"},
		{"VE", "Europe", "Austria"}, {"VF", "Europe", "France"}, {"VS", "Europe", "Spain"}, {"WP", "Europe", "Germany"}, {"XL", "Europe", "Netherlands"}, {"YE", "Europe", "Belgium"}, {"YF", "Europe", "Finland"}, {"YS", "Europe", "Sweden"}, {"ZA", "Europe", "Italy"}, {"ZS", "Europe", "unknown"},
		{"1A", "North America", "United States"}, {"4A", "North America", "United States"}, {"50", "North America", "United States"}, {"2A", "North America", "Canada"}, {"3A", "North America", "Mexico"},
		{"6W", "Oceania", "Australia"}, {"6X", "Oceania", "unknown"}, {"7A", "Oceania", "New Zealand"}, {"7F", "Oceania", "unknown"},
		{"8A", "South America", "Argentina"}, {"8F", "South America", "Chile"}, {"9A", "South America", "Brazil"}, {"93", "South America", "Brazil"}, {"99", "South America", "Brazil"}, {"91", "South America", "unknown"}, {"0A", "South America", "unknown"},
	}
	for _, tt := range tests {
		if got := regionOf(tt.prefix[0]); got != tt.region {
			t.Errorf("%s: got region %s, want %s", tt.prefix, got, tt.region)
		}
		if got := countryOf(tt.prefix[0], tt.prefix[1]); got != tt.country {
			t.Errorf("%s: got country %s, want %s", tt.prefix, got, tt.country)
		}
	}
	if got := regionOf('?'); got != "unknown" {
		t.Errorf("got %s", got)
	}
}

// No range of the table overlaps another, and each runs forwards.
func TestVINPlacesTable(t *testing.T) {
	for i, r := range wmiRanges {
		from, to := strings.IndexByte(wmiOrder, r.from[1]), strings.IndexByte(wmiOrder, r.to[1])
		if r.from[0] != r.to[0] || from < 0 || from > to {
			t.Errorf("%s-%s is no range", r.from, r.to)
		}
		for _, other := range wmiRanges[:i] {
			if other.from[0] == r.from[0] && strings.IndexByte(wmiOrder, other.to[1]) >= from && strings.IndexByte(wmiOrder, other.from[1]) <= to {
				t.Errorf("%s-%s and %s-%s overlap", other.from, other.to, r.from, r.to)
			}
		}
	}
}

// Table VII of 49 CFR 565.15: 30 symbols from 1980 and again from 2010.
func TestVINYearCandidates(t *testing.T) {
	tests := []struct {
		code          byte
		first, second int
	}{
		{'A', 1980, 2010}, {'H', 1987, 2017}, {'J', 1988, 2018}, {'K', 1989, 2019}, {'L', 1990, 2020}, {'N', 1992, 2022}, {'P', 1993, 2023},
		{'R', 1994, 2024}, {'T', 1996, 2026}, {'V', 1997, 2027}, {'X', 1999, 2029}, {'Y', 2000, 2030}, {'1', 2001, 2031}, {'9', 2009, 2039},
	}
	for _, tt := range tests {
		if got := (VIN{YearCode: tt.code}).YearCandidates(); !slices.Equal(got, []int{tt.first, tt.second}) {
			t.Errorf("%c: got %v, want %d and %d", tt.code, got, tt.first, tt.second)
		}
	}
	for _, code := range []byte("UZ0IOQ\x00") {
		if got := (VIN{YearCode: code}).YearCandidates(); got != nil {
			t.Errorf("%c: got %v, want none", code, got)
		}
	}
}

// Position 7 tells the 30 years apart for North American light vehicles only:
// 49 CFR 565.15(b), 73 FR 23367.
func TestVINLightVehicleYear(t *testing.T) {
	tests := []struct {
		vin  string
		year int
		note string
	}{
		{"1G4AH59H45G118341", 2005, "else 2005 or 2035"},
		{"1G4AH5AH45G118341", 2035, "light vehicle"},
		{"1M8GDM9AXKP042788", 1989, "4,536 kg"},
		{"WP0ZZZ99ZTS392124", 0, "1996 or 2026"},
		{"1G4AH59H4ZG118341", 0, "no year code"},
	}
	for _, tt := range tests {
		v, _, err := ParseVIN(tt.vin)
		if err != nil {
			t.Fatal(err)
		}
		if got, note := v.LightVehicleYear(); got != tt.year || !strings.Contains(note, tt.note) {
			t.Errorf("%s: got %d, %q; want %d, %q", tt.vin, got, note, tt.year, tt.note)
		}
	}
	if got, _ := (VIN{}).LightVehicleYear(); got != 0 || (VIN{}).CheckOK() {
		t.Errorf("got %d for no VIN", got)
	}
}

// FuzzParseVIN: no panic, and what is accepted is 17 legal characters.
func FuzzParseVIN(f *testing.F) {
	for _, seed := range []string{"1M8GDM9AXKP042788", "1M8GDM9AXKPO42788", "*1M8 GDM9AX KP042788*", "WP0ZZZ99ZTS392124", "7AT0A12B0X1234567", "", "品"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, _, err := ParseVIN(s)
		if err != nil {
			if CodeOf(err) == "" || v != (VIN{}) {
				t.Fatalf("%q: got %+v, %v", s, v, err)
			}
			return
		}
		if len(v.Text) != vinLength || strings.ContainsAny(v.Text, "IOQ") || v.Raw != s {
			t.Fatalf("%q: got %+v", s, v)
		}
		if digit, err := CheckDigit(v.Text); err != nil || digit != v.CheckComputed {
			t.Fatalf("%q: got %c, %v", s, digit, err)
		}
		v.LightVehicleYear()
	})
}
