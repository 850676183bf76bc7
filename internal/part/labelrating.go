package part

import (
	"regexp"
	"strconv"
	"strings"
)

// NotStated is the low speed of an alternator whose label prints two currents
// and no speed. It matters: the current at 1500 1/min is not the one at 1800, and
// handbooks mean either (ISO 8854 and SAE J56 print the form I_L/I_R A V_T V).
const NotStated = "not stated"

// Rating is what a rating line prints; 0 and "" where it prints nothing.
// Nothing is worked out from another value: a label with one current
// ("12V 80A") says nothing of the idle current.
type Rating struct {
	Volts     float64
	Amps      float64 // the rated current, or the only one
	IdleAmps  float64 // the lower of two printed currents
	LowSpeed  string  // of the lower current: NotStated where two currents are printed
	Kilowatts float64
	Speed     float64 // 1/min, where the line prints the speed of its current
	Rotation  string  // R or L as printed in brackets
}

var (
	// ratingFrame is a line of frame size, rotation, volts, amperes and speed in
	// hundreds: "Q1 (R) 14V 35A 20" (common practice, no source).
	ratingFrame = regexp.MustCompile(`^[A-Z]{1,2}\d? ?\(([RL-]{1,2})\) ?(\d{1,2})V ?(\d{2,3})A ?(\d{2})$`)

	ratingVolts   = regexp.MustCompile(`\b(\d{1,2}(?:[.,]\d)?) ?V(?:OLTS?|DC)?\b`)
	ratingPair    = regexp.MustCompile(`\b(\d{1,3}) ?A? ?/ ?(\d{1,3}) ?A(?:MPS?)?\b`)
	ratingAmps    = regexp.MustCompile(`\b(\d{1,3}(?:[.,]\d)?) ?A(?:MPS?)?\b`)
	ratingPower   = regexp.MustCompile(`\b(\d{1,2}(?:[.,]\d{1,2})?) ?KW\b`)
	ratingWatts   = regexp.MustCompile(`\b(\d{3,4}) ?W\b`)
	ratingBetween = regexp.MustCompile(`^(?:DC|RATED|OUTPUT|[ ,;:/|=~⎓-])*$`)
)

// classVolts are the voltage classes that a bare "12V" may name; any other
// figure with a V alone is a lot code.
var classVolts = map[float64]bool{6: true, 12: true, 14: true, 24: true, 28: true}

// ReadRating reads a line of volts, amperes and kilowatts, such as "12V 80A",
// "14V 70/120A", "50/120A 13.5V" or "12V 1.4kW"; ok is false for any other line.
// A doubt says what is odd about it. The line is in upper case, width folded.
func ReadRating(line string) (r Rating, doubt string, ok bool) {
	if m := ratingFrame.FindStringSubmatch(line); m != nil {
		return Rating{Volts: figure(m[2]), Amps: figure(m[3]), Speed: 100 * figure(m[4]), Rotation: strings.Trim(m[1], "-")}, "", true
	}
	rest := line
	if m := take(&rest, ratingPair); m != nil {
		r.IdleAmps, r.Amps, r.LowSpeed = figure(m[1]), figure(m[2]), NotStated
		if r.IdleAmps > r.Amps {
			r.IdleAmps, r.Amps, doubt = r.Amps, r.IdleAmps, "the larger current is printed first"
		}
	} else if m := take(&rest, ratingAmps); m != nil {
		r.Amps = figure(m[1])
	}
	if m := take(&rest, ratingVolts); m != nil {
		r.Volts = figure(m[1])
	}
	if m := take(&rest, ratingPower); m != nil {
		r.Kilowatts = figure(m[1])
	} else if m := take(&rest, ratingWatts); m != nil {
		r.Kilowatts = figure(m[1]) / 1000
	}
	if rest == line || !ratingBetween.MatchString(rest) || looksLikeLot(line, r) {
		return Rating{}, "", false
	}
	return r, doubt, true
}

// take cuts the first match out of a text.
func take(text *string, pattern *regexp.Regexp) []string {
	at := pattern.FindStringIndex(*text)
	if at == nil {
		return nil
	}
	m := pattern.FindStringSubmatch(*text)
	*text = (*text)[:at[0]] + " " + (*text)[at[1]:]
	return m
}

// looksLikeLot tells a lot code such as 24A or 13V from a rating.
func looksLikeLot(line string, r Rating) bool {
	return lotAlone.MatchString(line) && !classVolts[r.Volts]
}

func figure(text string) float64 {
	f, _ := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	return f
}
