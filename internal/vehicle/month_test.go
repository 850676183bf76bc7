package vehicle

import "testing"

// A month is year*12 + month-1 and keeps both.
func TestMonth(t *testing.T) {
	tests := []struct {
		year, month int
		want        string
	}{
		{1997, 5, "1997-05"}, {1997, 1, "1997-01"}, {1997, 12, "1997-12"}, {1, 1, "0001-01"},
		{1997, 0, ""}, {1997, 13, ""}, {0, 1, ""}, {-1, 5, ""}, {10000, 1, ""},
	}
	for _, tt := range tests {
		m := MonthOf(tt.year, tt.month)
		if got := m.String(); got != tt.want {
			t.Errorf("MonthOf(%d, %d): got %q, want %q", tt.year, tt.month, got, tt.want)
		}
		if tt.want != "" && (m.Year() != tt.year || m.Month() != tt.month) {
			t.Errorf("got %d, %d, want %d, %d", m.Year(), m.Month(), tt.year, tt.month)
		}
	}
	if NoMonth.Year() != 0 || NoMonth.Month() != 0 || Month(-5).String() != "" || NoMonth.words() != "" {
		t.Error("NoMonth and what is below it are no month")
	}
	if got := MonthOf(1998, 1) - MonthOf(1997, 12); got != 1 {
		t.Errorf("got a distance of %d months, want 1", got)
	}
}

// NoMonth is an open end in all that intervals do.
func TestInterval(t *testing.T) {
	tests := []struct {
		iv           Interval
		text, words  string
		known, exact bool
		holds        string // a month inside
		misses       string // a month outside, "" where there is none
	}{
		{span("1997-05", "1997-05"), "1997-05", "May 1997", true, true, "1997-05", "1997-06"},
		{span("1997-01", "1997-12"), "1997-01…1997-12", "1997", true, false, "1997-12", "1998-01"},
		{span("1997-01", "1999-12"), "1997-01…1999-12", "1997 to 1999", true, false, "1997-01", "1996-12"},
		{span("1997-03", "1999-12"), "1997-03…1999-12", "March 1997 to December 1999", true, false, "1997-03", "1997-02"},
		{span("", "1997-05"), "…1997-05", "up to May 1997", true, false, "1900-01", "1997-06"},
		{span("1997-05", ""), "1997-05…", "from May 1997", true, false, "2030-01", "1997-04"},
		{Interval{}, "…", "any time", false, false, "1997-05", ""},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			if got := tt.iv.String(); got != tt.text {
				t.Errorf("got %q, want %q", got, tt.text)
			}
			if got := tt.iv.words(); got != tt.words {
				t.Errorf("got %q, want %q", got, tt.words)
			}
			if tt.iv.Known() != tt.known || tt.iv.Exact() != tt.exact || tt.iv.Reversed() {
				t.Errorf("got known %v, exact %v", tt.iv.Known(), tt.iv.Exact())
			}
			if !tt.iv.Contains(month(tt.holds)) || tt.iv.Contains(NoMonth) || tt.misses != "" && tt.iv.Contains(month(tt.misses)) {
				t.Errorf("holds %s and not %s", tt.holds, tt.misses)
			}
		})
	}
	if got := WholeYear(1997); got != span("1997-01", "1997-12") {
		t.Errorf("got %v", got)
	}
	if got := WholeYear(0); got != (Interval{}) {
		t.Errorf("got %v for a year that is none", got)
	}
}

func TestIntersectAndCover(t *testing.T) {
	tests := []struct {
		a, b, both, cover Interval
		meet              bool
	}{
		{span("1996-01", "1998-12"), span("1997-05", "1999-07"), span("1997-05", "1998-12"), span("1996-01", "1999-07"), true},
		{span("1996-01", ""), span("", "1999-07"), span("1996-01", "1999-07"), Interval{}, true},
		{span("1996-01", ""), span("1997-01", ""), span("1997-01", ""), span("1996-01", ""), true},
		{span("1996-01", "1996-12"), span("1997-01", "1997-12"), Interval{}, span("1996-01", "1997-12"), false},
		{Interval{}, span("1997-01", "1997-12"), span("1997-01", "1997-12"), Interval{}, true},
	}
	for _, tt := range tests {
		for _, pair := range [][2]Interval{{tt.a, tt.b}, {tt.b, tt.a}} {
			got, ok := pair[0].Intersect(pair[1])
			if got != tt.both || ok != tt.meet {
				t.Errorf("%v and %v: got %v, %v, want %v, %v", pair[0], pair[1], got, ok, tt.both, tt.meet)
			}
			if got := pair[0].Cover(pair[1]); got != tt.cover {
				t.Errorf("%v cover %v: got %v, want %v", pair[0], pair[1], got, tt.cover)
			}
		}
	}
}
