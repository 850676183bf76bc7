package part

import (
	"math"
	"strconv"
)

// Attributes of the code itself; a battery can bear the codes of both standards.
const (
	codeStandard = "code_standard"
	sizeCode     = "size_code"
)

const battery = "battery"

var batteryCodes = []designationForm{
	newDesignation(`(?:(S)_)?(\d{2,3})_([A-H])_(\d{2})(?:_([LR]))?`, readBattery, battery),
	newDesignation(`([JKMNPQSTUVWX])-(\d{2,3})(R)?`, readStopStart, battery),
}

// batteryBox is width and box height without the posts in mm, by the letter of
// the code: Battery Association of Japan, "How to read a battery type", after JIS
// D 5301. The row C, of older types, is from a second-hand table.
var batteryBox = map[string][2]int{
	"A": {127, 162}, "B": {129, 203}, "C": {135, 207}, "D": {173, 204},
	"E": {176, 213}, "F": {182, 213}, "G": {222, 213}, "H": {278, 220},
}

// readBattery reads a JIS D 5301 size code: an S for an auxiliary battery of a
// hybrid, rank, letter of the box, length in cm (about), side of the terminals.
// The code gives no current, no size of posts and no exact length, so none is
// made up. It is a 12 V battery: the rank counts the discharge down to 10.5 V.
func readBattery(m []string) (map[string]string, string, bool) {
	sealed, rank, box, length, side := m[0], m[1], m[2], m[3], m[4]
	if !isRank(rank) || atoi(length)*10 <= batteryBox[box][0] {
		return nil, "", false // off the steps, or shorter than its short side
	}
	v := map[string]string{
		"volts": "12", "rank": rank, "box": box, "length_class": length, "hybrid_auxiliary": boolNo, codeStandard: StdBattery,
		sizeCode: sealed + rank + box + length + side,
		"width":  strconv.Itoa(batteryBox[box][0]) + " mm", "height": strconv.Itoa(batteryBox[box][1]) + " mm",
	}
	if sealed != "" {
		v["hybrid_auxiliary"] = boolYes
	}
	switch {
	case side != "":
		v["terminal_side"] = side
	case box >= "F":
		v["terminal_side"] = eitherWord // the large boxes are symmetrical and bear no letter
	}
	return v, StdBattery, true
}

// readStopStart reads a JIS D 5306 type: outline letter, dash, rank, R or
// nothing. Without a letter the minus post is on the left, as in the trade press
// of Japan; in JIS D 5301 it means something else, so the dash must be there.
// Letter and rank are attributes of their own: those of JIS D 5301 say nothing of
// them.
func readStopStart(m []string) (map[string]string, string, bool) {
	outline, rank, side := m[0], m[1], "L"
	if !isRank(rank) {
		return nil, "", false
	}
	if m[2] != "" {
		side = m[2]
	}
	return map[string]string{
		"volts": "12", "stop_start": boolYes, "outline": outline, "stop_start_rank": rank, "terminal_side": side,
		sizeCode: outline + "-" + rank + m[2], codeStandard: StdStopStart,
	}, StdStopStart, true
}

// BatteryRank works out the performance rank from the cold-cranking current (A,
// -18 °C, 30 s to 7.2 V) and the reserve capacity (minutes at 25 A to 10.5 V), and
// the step that is printed. JIS D 5301:2006: the root of their product over 2.8;
// below 50 in steps of 2, from 50 on in steps of 5. It has no unit and is no
// capacity, which older pages on battery codes still say.
func BatteryRank(cca, reserve float64) (exact float64, printed int) {
	const divisor, wide, narrow, from = 2.8, 5, 2, 50
	exact = math.Sqrt(max(cca, 0)*max(reserve, 0)) / divisor
	step := float64(wide)
	if exact < from {
		step = narrow
	}
	return exact, int(math.Round(exact/step) * step)
}

// isRank reports whether a number stands on one of the steps of the standard.
func isRank(text string) bool {
	n := atoi(text)
	return n >= 50 && n%5 == 0 || n > 0 && n < 50 && n%2 == 0
}

// atoi reads digits that a pattern has checked.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
