package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Serial numbers of dates (ECMA-376 part 1, 18.17.4.1).
const (
	maxSerial  = 2_958_466 // 1 January 10000, the first day that is none
	leapSerial = 60        // 29 February 1900, a day that there was not
	shift1904  = 1_462     // days from 1 January 1900 to 1 January 1904, in serials
)

// serialTime turns a serial number into the day and time, in UTC because the
// file knows no time zone, rounded to milliseconds. ok is false for what is no
// date. In the 1900 system serials below 61 count from 31 December 1899, and the
// 29 February 1900 that never was comes out as the 28th; a time alone (a serial
// below 1) lies on 31 December 1899.
func serialTime(serial float64, date1904 bool) (t time.Time, ok bool) {
	if !(serial >= 0) || serial >= maxSerial {
		return t, false
	}
	days, part := math.Modf(serial)
	ms := time.Duration(math.Round(part*24*60*60*1000)) * time.Millisecond
	if date1904 {
		if serial >= maxSerial-shift1904 {
			return t, false
		}
		return time.Date(1904, 1, 1+int(days), 0, 0, 0, 0, time.UTC).Add(ms), true
	}
	base := 31
	if days >= leapSerial {
		base = 30
	}
	return time.Date(1899, 12, base+int(days), 0, 0, 0, 0, time.UTC).Add(ms), true
}

// isoDate reads the date of a cell of type d (ISO 8601).
func isoDate(s string) (time.Time, bool) {
	for _, layout := range []string{"2006-01-02", "2006-01-02T15:04:05", "2006-01-02T15:04:05Z07:00", "2006-01-02 15:04:05", "2006-01-02T15:04"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

// plainDate writes a date so that it cannot be misread: 1997-05-01, with the
// time where there is one, or the time alone.
func plainDate(t time.Time) string {
	day, clock := t.Format("2006-01-02"), ""
	switch {
	case t.Nanosecond() != 0:
		clock = t.Format("15:04:05.000")
	case t.Second() != 0:
		clock = t.Format("15:04:05")
	case t.Hour() != 0 || t.Minute() != 0:
		clock = t.Format("15:04")
	}
	switch {
	case clock == "":
		return day
	case t.Year() < 1900:
		return clock
	}
	return day + " " + clock
}

// isElapsed tells whether a bracket holds hours, minutes or seconds that are not
// bounded by a day.
func isElapsed(bracket string) bool {
	s := strings.ToLower(bracket)
	return s != "" && (strings.Trim(s, "h") == "" || strings.Trim(s, "m") == "" || strings.Trim(s, "s") == "")
}

// elapsed tells whether a code shows a duration.
func (tokens formatTokens) elapsed() bool {
	for _, t := range tokens {
		if t.kind == fmtBracket && isElapsed(t.text) {
			return true
		}
	}
	return false
}

// duration writes a serial number as hours and minutes: 1.5 is "36:00".
func duration(serial float64) string {
	seconds := int64(math.Round(serial * 24 * 60 * 60))
	text := fmt.Sprintf("%d:%02d", seconds/3600, seconds/60%60)
	if seconds%60 != 0 {
		text += fmt.Sprintf(":%02d", seconds%60)
	}
	return text
}

// datePart is one piece of a shown date: a layout of package time, or a literal.
type datePart struct {
	layout  string
	literal string
}

// dateLayouts are the pieces that can be shown without knowing the machine's
// language. Month and day names are English where the format names no language.
var dateLayouts = map[string]string{
	"yyyy": "2006", "yyy": "2006", "yy": "06", "y": "06",
	"mmmm": "January", "mmm": "Jan", "mm": "01", "m": "1",
	"dddd": "Monday", "ddd": "Mon", "dd": "02", "d": "2",
	"ss": "05", "s": "5",
}

// datePattern reads how a date is shown; nil where it depends on a language, an
// era or a condition, so that the plain form is the honest one.
func (tokens formatTokens) datePattern() []datePart {
	var parts []datePart
	twelve := tokens.twelveHours()
	for i, t := range tokens {
		switch {
		case t.kind == fmtLiteral:
			parts = append(parts, datePart{literal: t.text})
			continue
		case t.kind == fmtBlank:
			continue
		case t.kind == fmtBracket:
			if !plainBracket(t.text) {
				return nil
			}
			continue
		}
		code := strings.ToLower(t.text)
		layout := dateLayouts[code]
		switch {
		case code[0] == 'm' && len(code) <= 2 && tokens.isMinute(i):
			layout = map[int]string{1: "4", 2: "04"}[len(code)]
		case code[0] == 'h' && len(code) <= 2:
			layout = map[bool]string{true: "03", false: "15"}[twelve]
			if len(code) == 1 {
				layout = map[bool]string{true: "3", false: "H"}[twelve]
			}
		case code == "am/pm":
			layout = "PM"
		case strings.IndexByte(" -/.,:", code[0]) >= 0:
			parts = append(parts, datePart{literal: t.text})
			continue
		}
		if layout == "" {
			return nil
		}
		parts = append(parts, datePart{layout: layout})
	}
	return parts
}

func (tokens formatTokens) twelveHours() bool {
	for _, t := range tokens {
		if t.kind == fmtCode && isClock(t.text) {
			return true
		}
	}
	return false
}

// plainBracket tells whether a bracket changes nothing of the characters: a
// colour, or English as the language.
func plainBracket(text string) bool {
	s := strings.ToUpper(text)
	return s == "$-409" || s == "$-809" || s == "$-C09" || strings.HasPrefix(s, "COLOR") ||
		s != "" && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// isMinute tells whether the m at position i means minutes: an hour before it or
// a second behind it.
func (tokens formatTokens) isMinute(i int) bool {
	near := func(step int) byte {
		for j := i + step; j >= 0 && j < len(tokens); j += step {
			t := tokens[j]
			if t.kind == fmtBracket && isElapsed(t.text) || t.kind == fmtCode && strings.IndexByte("ymdhs", lower(t.text[0])) >= 0 {
				return lower(t.text[0])
			}
		}
		return 0
	}
	return near(-1) == 'h' || near(+1) == 's'
}

// showDate writes a date as the spreadsheet shows it, else plainly.
func showDate(t time.Time, serial float64, f *numberFormat) string {
	switch {
	case f.elapsed:
		return duration(serial)
	case len(f.pattern) == 0:
		return plainDate(t)
	}
	var out strings.Builder
	for _, p := range f.pattern {
		switch {
		case p.layout == "H":
			out.WriteString(strconv.Itoa(t.Hour()))
		case p.layout != "":
			out.WriteString(t.Format(p.layout))
		default:
			out.WriteString(p.literal)
		}
	}
	return out.String()
}
