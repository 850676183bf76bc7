package vehicle

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"
)

// First days: Unicode CLDR 48.2, supplemental/calendarData, Japanese eras 232 to
// 236. The day before each belongs to the era before.
func TestEraBoundaries(t *testing.T) {
	tests := []struct{ kanji, first, before string }{
		{"明治", "1868-10-23", ""},
		{"大正", "1912-07-30", "明治45年7月29日"},
		{"昭和", "1926-12-25", "大正15年12月24日"},
		{"平成", "1989-01-08", "昭和64年1月7日"},
		{"令和", "2019-05-01", "平成31年4月30日"},
	}
	for _, tt := range tests {
		first, err := time.Parse(time.DateOnly, tt.first)
		if err != nil {
			t.Fatal(err)
		}
		text := fmt.Sprintf("%s元年%d月%d日", tt.kanji, first.Month(), first.Day())
		if got, w, err := ParseDate(text); err != nil || len(w) > 0 || got.String() != tt.first[:7] {
			t.Errorf("%s: got %v, %v, %v, want %s", text, got, w, err, tt.first[:7])
		}
		eve := first.AddDate(0, 0, -1)
		text = fmt.Sprintf("%s元年%d月%d日", tt.kanji, eve.Month(), eve.Day())
		if _, _, err := ParseDate(text); CodeOf(err) != CodeInvalidDate {
			t.Errorf("%s: got %v, want it refused: the era had not begun", text, err)
		}
		if tt.before == "" {
			continue
		}
		if got, w, err := ParseDate(tt.before); err != nil || len(w) > 0 || got.String() != eve.Format("2006-01") {
			t.Errorf("%s: got %v, %v, %v, want %s", tt.before, got, w, err, eve.Format("2006-01"))
		}
	}
}

// Era years as papers and shops write them. Offsets: utilrepo.com, Japanese era
// dates; R8.5.17 is the shorthand it shows from official papers.
func TestParseDateEras(t *testing.T) {
	tests := []struct{ text, from, to, warnings string }{
		{"昭和63年11月", "1988-11", "1988-11", ""},
		{"S63.11", "1988-11", "1988-11", ""},
		{"昭和64年1月7日", "1989-01", "1989-01", ""},
		{"平成元年1月8日", "1989-01", "1989-01", ""},
		{"平成1年1月8日", "1989-01", "1989-01", ""},
		{"㍻元年", "1989-01", "1989-12", ""},
		{"平成10年8月", "1998-08", "1998-08", ""},
		{"H10.8", "1998-08", "1998-08", ""},
		{"Ｈ１０．８", "1998-08", "1998-08", ""},
		{"H.10.8", "1998-08", "1998-08", ""},
		{"h10/8", "1998-08", "1998-08", ""},
		{"H 10-8", "1998-08", "1998-08", ""},
		{"Heisei 10", "1998-01", "1998-12", ""},
		{"平成31年4月", "2019-04", "2019-04", ""},
		{"令和元年5月", "2019-05", "2019-05", ""},
		{"㋿元年5月", "2019-05", "2019-05", ""},
		{"平成31年5月1日", "2019-05", "2019-05", WarnEraEnded}, // printed before the change
		{"平成32年", "2020-01", "2020-12", WarnEraEnded},
		{"令和6年4月1日", "2024-04", "2024-04", ""},
		{"R06.04.01", "2024-04", "2024-04", ""},
		{"R8.5.17", "2026-05", "2026-05", ""},
		{"H8.9", "1996-09", "1996-09", ""},
		{"S63", "1988-01", "1988-12", ""},
		{"R2", "2020-01", "2020-12", ""},
		{"H1", "1989-01", "1989-12", ""},
		{"S64", "1989-01", "1989-01", ""}, // seven days long
		{"R1", "2019-05", "2019-12", ""},
		{"H31", "2019-01", "2019-04", ""},
		{"S1", "1926-12", "1926-12", ""},
		{"大正15年", "1926-01", "1926-12", ""},
		{"M45.7", "1912-07", "1912-07", ""},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, warnings, err := ParseDate(tt.text)
			if want := span(tt.from, tt.to); err != nil || got != want || codes(warnings) != tt.warnings {
				t.Errorf("got %v, %q, %v; want %v, %q", got, codes(warnings), err, want, tt.warnings)
			}
		})
	}
}

// A date that its era did not have is refused, and the hint names the right era.
func TestParseDateErasRefused(t *testing.T) {
	tests := []struct{ text, hint string }{
		{"昭和64年1月8日", "Heisei 1"},
		{"昭和64年2月", "Heisei 1"},
		{"昭和65年", "Heisei 2"},
		{"令和元年4月30日", "Heisei 31"},
		{"平成元年1月7日", "Showa 64"},
		{"明治元年10月22日", "four digits"},
		{"平成42年", "Reiwa 12"},
		{"昭和0年", "元年"},
		{"令和-1年", "元年"},
		{"H8.13", "1997-05"},
		{"H8.0", "H8.9"},
		{"H9.2.29", "paper"},
		{"R99", "four digits"},
		{"H1997.5", "H8.9"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, _, err := ParseDate(tt.text)
			if CodeOf(err) != CodeInvalidDate || !strings.Contains(err.Error(), tt.hint) {
				t.Errorf("got %v, %v; want invalid_date with a hint of %q", got, err, tt.hint)
			}
		})
	}
	for _, text := range []string{"昭和8月", "H", "平成"} {
		if got, _, err := ParseDate(text); CodeOf(err) != CodeNotADate {
			t.Errorf("%s: got %v, %v, want not_a_date", text, got, err)
		}
	}
}

// A Western year can be two era years: 1989 and 2019, and others before.
func TestEraYears(t *testing.T) {
	tests := []struct {
		iv   Interval
		want string
	}{
		{WholeYear(1989), "S64 H1"},
		{WholeYear(2019), "H31 R1"},
		{WholeYear(1912), "M45 T1"},
		{WholeYear(1926), "T15 S1"},
		{WholeYear(1997), "H9"},
		{span("1989-02", "1989-02"), "H1"},
		{span("1989-01", "1989-01"), "S64 H1"},
		{span("1988-12", "1989-02"), "S63 S64 H1"},
		{span("1997-05", ""), "H9"},
		{span("", "2020-05"), "R2"},
		{Interval{}, ""},
		{WholeYear(1850), ""},
	}
	for _, tt := range tests {
		if got := strings.Join(EraYears(tt.iv), " "); got != tt.want {
			t.Errorf("%v: got %q, want %q", tt.iv, got, tt.want)
		}
	}
}

// eraDays are every day around a change of era and one day a month between.
func eraDays() []time.Time {
	var out []time.Time
	for _, e := range eras {
		first := time.Date(e.first/10000, time.Month(e.first/100%100), e.first%100, 0, 0, 0, 0, time.UTC)
		for day := -40; day <= 40; day++ {
			out = append(out, first.AddDate(0, 0, day))
		}
	}
	for day := time.Date(1873, 1, 17, 0, 0, 0, 0, time.UTC); day.Year() < 2060; day = day.AddDate(0, 1, 0) {
		out = append(out, day)
	}
	first := time.Date(1868, 10, 23, 0, 0, 0, 0, time.UTC)
	return slices.DeleteFunc(out, func(d time.Time) bool { return d.Before(first) })
}

// The calendar of Node.js (Intl, from Unicode's data) names era, year, month and
// day of each day; read back, they must give that day's month.
func TestErasAgainstIntl(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: its Intl calendar is a second opinion beside the CLDR table above")
	}
	days := eraDays()
	const script = `const f = new Intl.DateTimeFormat("en-u-ca-japanese", {era: "narrow", year: "numeric", month: "numeric", day: "numeric", timeZone: "UTC"});
const out = JSON.parse(require("fs").readFileSync(0, "utf8")).map(d => {
  const p = Object.fromEntries(f.formatToParts(new Date(d + "T00:00:00Z")).map(x => [x.type, x.value]));
  return [p.era, p.year, p.month, p.day].join(".");
});
console.log(JSON.stringify(out));`
	var in []string
	for _, d := range days {
		in = append(in, d.Format(time.DateOnly))
	}
	body, _ := json.Marshal(in)
	cmd := exec.Command(node, "-e", script)
	cmd.Stdin = strings.NewReader(string(body))
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var texts []string
	if err := json.Unmarshal(answer, &texts); err != nil || len(texts) != len(days) {
		t.Fatalf("got %d answers for %d days, %v", len(texts), len(days), err)
	}
	for i, text := range texts {
		got, warnings, err := ParseDate(text)
		if want := days[i].Format("2006-01"); err != nil || len(warnings) > 0 || got.String() != want {
			t.Errorf("%s (%s): got %v, %v, %v", text, in[i], got, warnings, err)
		}
	}
}
