package part

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

func inUnit(unit string) Attribute {
	return Attribute{Name: "x", Title: "x", Kind: KindNumber, Unit: unit, Compare: Equal}
}

// Factors against NIST SP 811 Appendix B; vectors worked out from them.
func TestUnitsAreConverted(t *testing.T) {
	for _, tt := range []struct {
		unit, raw string
		want      float64
		places    int
	}{
		{"mm", `1 in`, 25.4, 9}, {"mm", `40.5"`, 1028.7, 9}, {"mm", "50 inch", 1270, 9}, {"mm", "84.5 in", 2146.3, 9},
		{"mm", "12 cm", 120, 9}, {"mm", "1.2 m", 1200, 9}, {"mm", "12,5 mm", 12.5, 9}, {"mm", "3/4 in", 19.05, 9},
		{"mm", `26 1/4"`, 666.75, 9}, {"mm", `1-1/4 in`, 31.75, 9}, {"mm", `½"`, 12.7, 9}, {"mm", `1½"`, 38.1, 9},
		{"in", "850 mm", 33.465, 3}, {"in", "925 mm", 36.417, 3}, {"in", `15"`, 15, 9},
		{"kPa", "1 psi", 6.894757293, 9}, {"kPa", "1 kgf/cm2", 98.0665, 9}, {"kPa", "1 bar", 100, 9}, {"kPa", "0.12 MPa", 120, 9},
		{"kW", "100 PS", 73.549875, 9}, {"kW", "280 PS", 205.93965, 9}, {"kW", "1 hp", 0.7456998716, 9}, {"kW", "1400 W", 1.4, 9},
		{"°C", "180 °F", 82.222, 3}, {"°C", "70 F", 21.111, 3}, {"°C", "0 °F", -17.778, 3}, {"°C", "82℃", 82, 9}, {"°C", "88", 88, 9},
		{"Ω", "2.2 kΩ", 2200, 9}, {"kΩ", "13 kΩ", 13, 9}, {"kΩ", "5200 Ω", 5.2, 9}, {"L/h", "2 l/min", 120, 9},
		{"cc", "0.15 L", 150, 9}, {"cc", "110㏄", 110, 9}, {"count", "6PK", 6, 9}, {"count", "6PK1270", 6, 9}, {"count", "５山", 5, 9},
		{"A", "80A", 80, 9}, {"A", "８０Ａ", 80, 9}, {"V", "24 volts", 24, 9}, {"A", "370 CCA", 370, 9},
	} {
		t.Run(tt.raw+" in "+tt.unit, func(t *testing.T) {
			got, err := ReadValue(inUnit(tt.unit), tt.raw)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Numbers[0]-tt.want) > 0.5000001*math.Pow10(-tt.places) {
				t.Errorf("got %v, want %v", got.Numbers[0], tt.want)
			}
		})
	}
}

// Marks of caps in kPa. Factors: NIST SP 811 (kgf/cm2 98.0665 kPa, psi
// 6.894757293 kPa).
func TestCapMarks(t *testing.T) {
	for raw, want := range map[string]string{
		"0.5 kgf/cm²": "49.03", "0.8 kgf/cm2": "78.45", "0.9 kgf/cm²": "88.26", "1.0 kgf/cm2": "98.07", "1.1 kgf/cm2": "107.87",
		"1.3kgf/cm2": "127.49", "0.9 bar": "90.00", "13 psi": "89.63", "15 psi": "103.42", "16 psi": "110.32", "88 kPa": "88.00",
	} {
		got, err := ReadValue(inUnit("kPa"), raw)
		if err != nil || fmt.Sprintf("%.2f", got.Numbers[0]) != want {
			t.Errorf("%s: got %v %v, want %s", raw, got.Numbers, err, want)
		}
	}
}

func TestCapMarksAreCloseNotEqual(t *testing.T) {
	bar, _ := ReadValue(inUnit("kPa"), "0.9 bar")
	kgf, _ := ReadValue(inUnit("kPa"), "0.9 kgf/cm2")
	never := func(string) (bool, bool) { return false, true }
	exact := Attribute{Name: "cap", Compare: Equal, Kind: KindNumber, Cases: []Case{{When: Differs, Difference: WorksWrong}}}
	if got := Compare(exact, bar, kgf, never); got.Agrees {
		t.Error("90.00 and 88.26 kPa are equal")
	}
	exact.Compare, exact.Tolerance = Within, 3
	if got := Compare(exact, bar, kgf, never); !got.Agrees {
		t.Error("90.00 and 88.26 kPa are not within 3 kPa")
	}
}

func TestAUnitOfAnotherKindIsRefused(t *testing.T) {
	for _, tt := range []struct{ unit, raw string }{{"V", "12 A"}, {"mm", "12 psi"}, {"count", "6 mm"}, {"count", "PK1270"}, {"A", "80 Ah"}} {
		_, err := ReadValue(inUnit(tt.unit), tt.raw)
		if err == nil || tt.raw != "PK1270" && !errors.Is(err, ErrUnit) {
			t.Errorf("%s in %s: got %v, want ErrUnit", tt.raw, tt.unit, err)
		}
	}
}

func TestEveryFactorCanBeRead(t *testing.T) {
	for unit, written := range unitFactors {
		if !KnownUnit(unit) {
			t.Errorf("%s is not known", unit)
		}
		for w := range written {
			if f, ok := factorTo(w, unit); !ok || f.Sign() <= 0 {
				t.Errorf("%s to %s: got %v", w, unit, f)
			}
		}
	}
	if !KnownUnit("") || KnownUnit("furlong") {
		t.Error("no unit is one, furlong is none")
	}
}
