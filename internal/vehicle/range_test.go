package vehicle

import (
	"errors"
	"strings"
	"testing"
)

// span writes an interval the way the tables below do.
func span(from, to string) Interval {
	return Interval{month(from), month(to)}
}

// month reads "1997-05" without the reader under test; "" is NoMonth.
func month(s string) Month {
	if s == "" {
		return NoMonth
	}
	n := func(s string) (out int) {
		for _, r := range s {
			out = out*10 + int(r-'0')
		}
		return out
	}
	return MonthOf(n(s[:4]), n(s[5:]))
}

func codes(warnings []Warning) string {
	var out []string
	for _, w := range warnings {
		out = append(out, w.Code)
	}
	return strings.Join(out, " ")
}

// Spellings of the year-range column in shops' sheets: common practice, no
// source; era arithmetic: Unicode CLDR 48.2.
func TestParseRangeSpellings(t *testing.T) {
	tests := []struct {
		text, from, to, warnings string
	}{
		{"'96-01", "1996-01", "2001-12", ""},
		{"’96-01", "1996-01", "2001-12", ""},
		{"'96-'01", "1996-01", "2001-12", ""},
		{"96-99", "1996-01", "1999-12", ""},
		{"96-00", "1996-01", "2000-12", ""},
		{"1996-98", "1996-01", "1998-12", ""},
		{"96~01", "1996-01", "2001-12", ""},
		{"96～01", "1996-01", "2001-12", ""},
		{"96〜01", "1996-01", "2001-12", ""},
		{"96→01", "1996-01", "2001-12", ""},
		{"96->01", "1996-01", "2001-12", ""},
		{"96 - 01", "1996-01", "2001-12", ""},
		{"96…01", "1996-01", "2001-12", ""},
		{"96..01", "1996-01", "2001-12", ""},
		{"1996-2001", "1996-01", "2001-12", ""},
		{"1996–2001", "1996-01", "2001-12", ""},
		{"1996ー2001", "1996-01", "2001-12", ""},
		{"1996/8-", "1996-08", "", ""},
		{"1996-", "1996-01", "", ""},
		{"-8/99", "", "1999-08", ""},
		{"8/96 on", "1996-08", "", ""},
		{"8/96 onwards", "1996-08", "", ""},
		{"to 7/99", "", "1999-07", ""},
		{"up to 99", "", "1999-12", ""},
		{"96->", "1996-01", "", ""},
		{"96=>", "1996-01", "", ""},
		{"96→", "1996-01", "", ""},
		{"→99", "", "1999-12", ""},
		{"96+", "1996-01", "", ""},
		{"96 up", "1996-01", "", ""},
		{"96 & up", "1996-01", "", ""},
		{"96 and later", "1996-01", "", ""},
		{"99 and earlier", "", "1999-12", ""},
		{"ab 08/96", "1996-08", "", ""},
		{"ab Bj. 96", "1996-01", "", ""},
		{"bis 12/01", "", "2001-12", WarnMonthFirst},
		{"von 08/96 bis 07/01", "1996-08", "2001-07", ""},
		{"8/9/96~20/10/99", "1996-09", "1999-10", ""}, // the second date shows that the day is first
		{"to 5/31/97", "", "1997-05", ""},
		{"von 02/01 bis 03/02", "2001-02", "2002-03", WarnMonthFirst + " " + WarnMonthFirst},
		{"from 1996 to 2001", "1996-01", "2001-12", ""},
		{"desde 8/96 hasta 7/99", "1996-08", "1999-07", ""},
		{"desde 1996", "1996-01", "", ""},
		{"hasta 1999", "", "1999-12", ""},
		{"de 1996 a 2001", "1996-01", "2001-12", ""},
		{"de 1996 à 2001", "1996-01", "2001-12", ""},
		{"à partir de 1996", "1996-01", "", ""},
		{"1996 en adelante", "1996-01", "", ""},
		{"96-present", "1996-01", "", ""},
		{"8/96 to present", "1996-08", "", ""},
		{"с 1996 по 2001", "1996-01", "2001-12", ""},
		{"1996年8月～", "1996-08", "", ""},
		{"1996年8月ー", "1996-08", "", ""},
		{"～1999年7月", "", "1999-07", ""},
		{"1996年8月以降", "1996-08", "", ""},
		{"1999年7月まで", "", "1999-07", ""},
		{"96.8から99.7まで", "1996-08", "1999-07", ""},
		{"1996年8月～10月", "1996-08", "1996-10", ""},
		{"96年8月～01年7月", "1996-08", "2001-07", ""},
		{"Aug-Oct 1996", "1996-08", "1996-10", ""},
		{"Aug 96 - Jul 99", "1996-08", "1999-07", ""},
		{"H8.9~H11.8", "1996-09", "1999-08", ""},
		{"H8.9～H11.8", "1996-09", "1999-08", ""},
		{"H8.9-H11.8", "1996-09", "1999-08", ""},
		{"H8.9~11.8", "1996-09", "1999-08", WarnEraCarried},
		{"平成8年9月～11年8月", "1996-09", "1999-08", WarnEraCarried},
		{"H8.9~99/7", "1996-09", "1999-07", ""},
		{"S60-63", "1985-01", "1988-12", WarnEraCarried},
		{"S63", "1988-01", "1988-12", ""},
		{"R2", "2020-01", "2020-12", ""},
		{"H8.9~", "1996-09", "", ""},
		{"1996/8-1999/7", "1996-08", "1999-07", ""},
		{"96/8-99/7", "1996-08", "1999-07", ""},
		{"8/96-7/99", "1996-08", "1999-07", ""},
		{"05/96-02/01", "1996-05", "2001-02", ""},
		{"1996-08-1999-07", "1996-08", "1999-07", ""},
		{"1996-08-01 - 1999-07-31", "1996-08", "1999-07", ""},
		{"8/96~01", "1996-08", "2001-12", ""},
		{"1996/8~99", "1996-08", "1999-12", ""},
		{"1996~8/99", "1996-01", "1999-08", ""},
		{"1996/8~9", "1996-08", "1996-09", ""},
		{"1997/98", "1997-01", "1998-12", ""},
		{"97/98", "1997-01", "1998-12", ""},
		{"1996, 1997, 1998", "1996-01", "1998-12", ""},
		{"96/97/98", "1996-01", "1998-12", ""},
		{"1996", "1996-01", "1996-12", ""},
		{"8/96", "1996-08", "1996-08", ""},
		{"8-96", "1996-08", "1996-08", ""},
		{"1996-8", "1996-08", "1996-08", WarnRangeOrMonth},
		{"96-8", "1996-08", "1996-08", WarnRangeOrMonth},
		{"2008-05", "2008-05", "2008-05", ""}, // as years it would end before it begins
		{"01-1996", "1996-01", "1996-01", ""},
		{"Aug-97", "1997-08", "1997-08", ""},
		{"9-Aug-97", "1997-08", "1997-08", ""},
		{"H8.9.1", "1996-09", "1996-09", ""},
		{">8/96", "1996-08", "", WarnEndCounted},
		{">=8/96", "1996-08", "", ""},
		{"<8/96", "", "1996-08", WarnEndCounted},
		{"before 8/96", "", "1996-08", WarnEndCounted},
		{"96>99", "1996-01", "1999-12", ""},
		{"1996～2001 (facelift)", "1996-01", "2001-12", WarnPhase},
		{"1997後期", "1997-01", "1997-12", WarnPhase},
		{"96-99?", "1996-01", "1999-12", WarnDoubtful},
		{"ca. 1996-1999", "1996-01", "1999-12", WarnApproximate},
		{"1990s", "1990-01", "1999-12", ""},
		{"all", "", "", ""},
		{"ALL YEARS", "", "", ""},
		{"全年式", "", "", ""},
		{"-", "", "", ""},
		{"–", "", "", ""},
		{"…", "", "", ""},
		{"?", "", "", WarnUnknown},
		{"不明", "", "", WarnUnknown},
		{"#N/A", "", "", WarnUnknown},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, warnings, err := ParseRange(tt.text)
			if want := span(tt.from, tt.to); err != nil || got != want {
				t.Fatalf("got %v, %v; want %v", got, err, want)
			}
			if got := codes(warnings); got != tt.warnings {
				t.Errorf("got warnings %q, want %q", got, tt.warnings)
			}
		})
	}
}

// A doubtful range hands on every reading and settles none.
func TestParseRangeAmbiguous(t *testing.T) {
	tests := []struct {
		text   string
		labels string
	}{
		{"96-01", "January 1996 | 1996 to 2001"},
		{"1997-05", "May 1997 | 1997 to 2005"},
		{"02-06", "February 2006 | June 2002 | 2002 to 2006"},
		{"06-02", "June 2002 | February 2006"},
		{"6-10", "June 2010 | 2006 to 2010"},
		{"05-2008", "May 2008 | 2005 to 2008"},
		{"H8-9", "September 1996 | 1996 to 1997"},
		{"8/9/96-", "from September 1996 | from August 1996"},
		{"from 8/9/96", "from September 1996 | from August 1996"},
		{"8/9/96", "September 1996 | August 1996"},
		{"1996/8~10", "August 1996 to October 1996 | August 1996 to December 2010"},
		{"02/03", "February 2003 | March 2002"},
		{"02/03~04/05", "February 2003 to April 2005 | March 2002 to May 2004"},
		{"10年8月～", "from August 2010 | from August 1998 | from August 2028"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, _, err := ParseRange(tt.text)
			var ambiguous *AmbiguousError
			if !errors.As(err, &ambiguous) {
				t.Fatalf("got %v, %v; want an AmbiguousError", got, err)
			}
			if got := strings.Join(ambiguous.Labels, " | "); got != tt.labels {
				t.Errorf("got %q, want %q", got, tt.labels)
			}
			if len(ambiguous.Readings) != len(ambiguous.Labels) || CodeOf(err) != CodeAmbiguous || ambiguous.Text != tt.text {
				t.Errorf("got %+v", ambiguous)
			}
		})
	}
}

// The habit of a file, asked once, settles what the cell leaves open.
func TestOrderSettlesRanges(t *testing.T) {
	tests := []struct {
		text     string
		order    Order
		from, to string
	}{
		{"8/9/96-", DayFirst, "1996-09", ""},
		{"8/9/96-", MonthFirst, "1996-08", ""},
		{"02/03", DayFirst, "2003-02", "2003-02"},
		{"02/03", MonthFirst, "2003-02", "2003-02"},
		{"02/03", YearFirst, "2002-03", "2002-03"},
		{"02/03~04/05", YearFirst, "2002-03", "2004-05"},
		{"8/96", YearFirst, "1996-08", "1996-08"}, // only one reading: the habit takes nothing away
	}
	for _, tt := range tests {
		got, _, err := tt.order.ParseRange(tt.text)
		if want := span(tt.from, tt.to); err != nil || got != want {
			t.Errorf("%s in order %d: got %v, %v; want %v", tt.text, tt.order, got, err, want)
		}
	}
}

// What is no range is refused with a stable code, and nothing is invented.
func TestParseRangeRefuses(t *testing.T) {
	tests := []struct{ text, code string }{
		{"", CodeEmpty},
		{" \u00a0　", CodeEmpty},
		{"前期", CodeNotADate},
		{"後期", CodeNotADate},
		{"前期/後期", CodeNotADate},
		{"facelift", CodeNotADate},
		{"Mk3", CodeNotADate},
		{"see foreman", CodeNotADate},
		{"4WD only", CodeNotADate},
		{"35065", CodeNotADate},
		{"6-9", CodeNotADate},
		{"8~", CodeNotADate},
		{"to 96 on", CodeNotADate},
		{"96~98~01", CodeNotADate},
		{"to 96~98", CodeNotADate},
		{"~98 on", CodeNotADate},
		{"8/96~H11.8.x", CodeNotADate},
		{"from", CodeNotADate},
		{"01-96", CodeReversed},
		{"99-96", CodeReversed},
		{"2001-1996", CodeReversed},
		{"2001/1996", CodeReversed},
		{"7/99-8/96", CodeReversed},
		{"H11.8~H8.9", CodeReversed},
		{"13/1996-", CodeInvalidDate},
		{"1996/13-1999/7", CodeInvalidDate},
		{"昭和64年1月8日～", CodeInvalidDate},
		{"1996, 1998", CodeSeveral},
		{strings.Repeat("96~", 500), CodeNotADate},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, _, err := ParseRange(tt.text)
			if CodeOf(err) != tt.code {
				t.Fatalf("got %v, %v (code %q); want code %q", got, err, CodeOf(err), tt.code)
			}
			if got != (Interval{}) {
				t.Errorf("got %v beside an error", got)
			}
			var parse *ParseError
			if errors.As(err, &parse) && parse.Text != tt.text {
				t.Errorf("got text %q, want it as given", parse.Text)
			}
		})
	}
}

// FuzzParseRange: no panic, no reversed answer, and a refusal without a value.
func FuzzParseRange(f *testing.F) {
	for _, seed := range []string{"'96-01", "96~01", "1996/8-", "-8/99", "8/96 on", "to 7/99", "up to 99", "96->", "ab 08/96",
		"bis 12/01", "1996年8月～", "H8.9~H11.8", "S63", "前期/後期", "Mk3", "all", "?", "1997年(平成9年)", "1990's", "Q3 1997", "H1 97", "昭和元年"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, order := range []Order{AnyOrder, DayFirst, MonthFirst, YearFirst} {
			for _, parse := range []func(string) (Interval, []Warning, error){order.ParseRange, order.ParseDate} {
				got, warnings, err := parse(s)
				if err != nil && (got != (Interval{}) || CodeOf(err) == "" || err.Error() == "") {
					t.Fatalf("%q: got %v beside %v", s, got, err)
				}
				var ambiguous *AmbiguousError
				if errors.As(err, &ambiguous) && len(ambiguous.Readings) < 2 {
					t.Fatalf("%q: got %d readings, want a choice", s, len(ambiguous.Readings))
				}
				if got.Reversed() {
					t.Fatalf("%q: got %v", s, got)
				}
				for _, w := range warnings {
					if w.Code == "" || w.Message == "" {
						t.Fatalf("%q: got warning %+v", s, w)
					}
				}
			}
		}
	})
}

// What Interval.String writes is read back, or offered among the readings.
func TestRangeReadsItsOwnSpelling(t *testing.T) {
	for _, want := range []Interval{span("1997-05", "1999-07"), span("", "1997-05"), span("1997-05", ""), span("2008-05", "2008-05"), {}} {
		got, _, err := ParseRange(want.String())
		if err != nil || got != want {
			t.Errorf("%s: got %v, %v", want, got, err)
		}
	}
}
