package vehicle

import (
	"errors"
	"testing"
)

// Dates as shops, plates and papers write them: common practice, no source.
func TestParseDateSpellings(t *testing.T) {
	tests := []struct {
		text, from, to, warnings string
	}{
		{"1997-05", "1997-05", "1997-05", ""},
		{"1997/5", "1997-05", "1997-05", ""},
		{"1997.05", "1997-05", "1997-05", ""},
		{"5/97", "1997-05", "1997-05", ""},
		{"05.1997", "1997-05", "1997-05", ""},
		{"08/93", "1993-08", "1993-08", ""},
		{"96/8", "1996-08", "1996-08", ""},
		{"'08/05", "2008-05", "2008-05", ""},
		{"05/'08", "2008-05", "2008-05", ""},
		{"05/05", "2005-05", "2005-05", ""},
		{"08/5", "2008-05", "2008-05", ""},
		{"1997", "1997-01", "1997-12", ""},
		{"'97", "1997-01", "1997-12", ""},
		{"´97", "1997-01", "1997-12", ""},
		{"97", "1997-01", "1997-12", ""},
		{"39", "2039-01", "2039-12", ""}, // the pivot: 00 to 39 are 2000 to 2039
		{"40", "1940-01", "1940-12", ""},
		{"00", "2000-01", "2000-12", ""},
		{"１９９７／５", "1997-05", "1997-05", ""},
		{"1996年8月", "1996-08", "1996-08", ""},
		{"1996年", "1996-01", "1996-12", ""},
		{"1996年式", "1996-01", "1996-12", ""},
		{"96年8月", "1996-08", "1996-08", ""},
		{"1996年8月9日", "1996-08", "1996-08", ""},
		{"1996년 8월", "1996-08", "1996-08", ""},
		{"1997年(平成9年)", "1997-01", "1997-12", ""},
		{"H1(1989)", "1989-01", "1989-12", ""},
		{"9年(1997)", "1997-01", "1997-12", ""}, // the bracket settles the bare era year
		{"Aug 1997", "1997-08", "1997-08", ""},
		{"Aug. 1997", "1997-08", "1997-08", ""},
		{"AUG'97", "1997-08", "1997-08", ""},
		{"Aug-97", "1997-08", "1997-08", ""},
		{"1997 August", "1997-08", "1997-08", ""},
		{"9 Aug 1997", "1997-08", "1997-08", ""},
		{"9. August 1997", "1997-08", "1997-08", ""},
		{"Aug 9, 1997", "1997-08", "1997-08", ""},
		{"97-Aug-09", "1997-08", "1997-08", ""},
		{"9 de agosto de 1997", "1997-08", "1997-08", ""},
		{"août 1997", "1997-08", "1997-08", ""},
		{"März 1997", "1997-03", "1997-03", ""},
		{"Aug 05", "2005-08", "2005-08", WarnDayOrYear},
		{"05-Aug", "2005-08", "2005-08", WarnDayOrYear},
		{"1997-05-31", "1997-05", "1997-05", ""},
		{"1997-05-31 00:00:00", "1997-05", "1997-05", ""},
		{"1997-05-31T00:00:00Z", "1997-05", "1997-05", ""},
		{"31/5/97", "1997-05", "1997-05", ""},
		{"5/31/97", "1997-05", "1997-05", ""},
		{"8.9.1996", "1996-09", "1996-09", ""}, // dots put the day first
		{"5.31.1996", "1996-05", "1996-05", ""},
		{"8/8/96", "1996-08", "1996-08", ""},
		{"199705", "1997-05", "1997-05", ""},
		{"19970531", "1997-05", "1997-05", ""},
		{"970531", "1997-05", "1997-05", ""},
		{"8/9/96", "1996-08", "1996-09", WarnDayOrMonth},
		{"1/12/96", "1996-01", "1996-12", WarnDayOrMonth},
		{"early 1997", "1997-01", "1997-06", WarnApproximate},
		{"mid 97", "1997-04", "1997-09", WarnApproximate},
		{"late 1997", "1997-07", "1997-12", WarnApproximate},
		{"late Aug 1997", "1997-08", "1997-08", WarnApproximate},
		{"about 1997", "1997-01", "1997-12", WarnApproximate},
		{"1997年頃", "1997-01", "1997-12", WarnApproximate},
		{"1997?", "1997-01", "1997-12", WarnDoubtful},
		{"1997前期", "1997-01", "1997-12", WarnPhase}, // the version before the facelift, no half
		{"1997後期", "1997-01", "1997-12", WarnPhase},
		{"Mk3 1997", "1997-01", "1997-12", WarnPhase},
		{"1997 (facelift)", "1997-01", "1997-12", WarnPhase},
		{"1997年上半期", "1997-01", "1997-06", ""},
		{"1997年後半", "1997-07", "1997-12", ""},
		{"H1 1997", "1997-01", "1997-06", WarnHalfYear},
		{"1997 H2", "1997-07", "1997-12", WarnHalfYear},
		{"1997H2", "1997-07", "1997-12", WarnHalfYear},
		{"1H 1997", "1997-01", "1997-06", WarnHalfYear},
		{"1997 1H", "1997-01", "1997-06", WarnHalfYear},
		{"1H97", "1997-01", "1997-06", WarnHalfYear},
		{"Q3 1997", "1997-07", "1997-09", ""},
		{"1997 Q4", "1997-10", "1997-12", ""},
		{"MY1997", "1997-01", "1997-12", WarnModelYear},
		{"1980's", "1980-01", "1989-12", ""},
		{"90s", "1990-01", "1999-12", ""},
		{"Bj. 96", "1996-01", "1996-12", ""},
		{"1997.", "1997-01", "1997-12", ""},
		{"1997г.", "1997-01", "1997-12", ""},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, warnings, err := ParseDate(tt.text)
			if want := span(tt.from, tt.to); err != nil || got != want {
				t.Fatalf("got %v, %v; want %v", got, err, want)
			}
			if got := codes(warnings); got != tt.warnings {
				t.Errorf("got warnings %q, want %q", got, tt.warnings)
			}
		})
	}
}

// What is no single date is refused with its stable code.
func TestParseDateRefuses(t *testing.T) {
	tests := []struct{ text, code string }{
		{"", CodeEmpty},
		{"see foreman", CodeNotADate},
		{"5", CodeNotADate},
		{"8/9", CodeNotADate},
		{"9 Aug", CodeNotADate},
		{"Aug", CodeNotADate},
		{"Aug Sep 97", CodeNotADate},
		{"8月", CodeNotADate},
		{"99年の車", CodeNotADate},
		{"065年", CodeInvalidDate},
		{"010s", CodeNotADate},
		{"H元a", CodeNotADate},
		{"後期", CodeNotADate},
		{"facelift", CodeNotADate},
		{"35065", CodeNotADate},
		{"999999", CodeNotADate},
		{"123456789012", CodeNotADate},
		{"12:30", CodeNotADate},
		{"1996-2001", CodeInvalidDate},
		{"97/98", CodeInvalidDate},
		{"1997/13", CodeInvalidDate},
		{"1997-00", CodeInvalidDate},
		{"1997年0月", CodeInvalidDate},
		{"1997年13月", CodeInvalidDate},
		{"1997-02-29", CodeInvalidDate},
		{"1997-04-31", CodeInvalidDate},
		{"19970231", CodeInvalidDate},
		{"31 Jun 1997", CodeInvalidDate},
		{"32 Jun 97", CodeInvalidDate},
		{"1234", CodeInvalidDate},
		{"9999", CodeInvalidDate},
		{"Aug 1234", CodeInvalidDate},
		{"H1 1234", CodeInvalidDate},
		{"1800s", CodeInvalidDate},
		{"5s", CodeNotADate},
		{"Q5 1997", CodeNotADate},
		{"Q1", CodeNotADate},
		{"1997(H12)", CodeContradiction},
		{"1997(13月)", CodeNotADate},
		{"x(1997)", CodeNotADate},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, _, err := ParseDate(tt.text)
			if CodeOf(err) != tt.code {
				t.Fatalf("got %v, %v (code %q); want code %q", got, err, CodeOf(err), tt.code)
			}
		})
	}
}

// Doubt about more than the order of day and month is never settled.
func TestParseDateAmbiguous(t *testing.T) {
	tests := []struct {
		text  string
		order Order
		want  []Interval
	}{
		{"08/05", AnyOrder, []Interval{span("2005-08", "2005-08"), span("2008-05", "2008-05")}},
		{"08/09/10", AnyOrder, []Interval{span("2008-09", "2008-09"), span("2010-09", "2010-09"), span("2010-08", "2010-08")}},
		{"08/09/10", YearFirst, []Interval{span("2008-09", "2008-09")}},
		{"8/9/96", DayFirst, []Interval{span("1996-09", "1996-09")}},
		{"200105", AnyOrder, []Interval{span("2001-05", "2001-05"), span("2020-01", "2020-01")}},
		{"63年", AnyOrder, []Interval{span("1963-01", "1963-12"), span("1988-01", "1988-12")}},
		{"10年8月", AnyOrder, []Interval{span("2010-08", "2010-08"), span("1998-08", "1998-08"), span("2028-08", "2028-08")}},
		{"9年", AnyOrder, []Interval{span("1997-01", "1997-12"), span("2027-01", "2027-12")}},
	}
	for _, tt := range tests {
		got, _, err := tt.order.ParseDate(tt.text)
		var ambiguous *AmbiguousError
		readings := []Interval{got}
		if errors.As(err, &ambiguous) {
			readings = ambiguous.Readings
		} else if err != nil {
			t.Errorf("%s: %v", tt.text, err)
		}
		if !equalIntervals(readings, tt.want) {
			t.Errorf("%s: got %v, want %v", tt.text, readings, tt.want)
		}
	}
}

func equalIntervals(a, b []Interval) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
