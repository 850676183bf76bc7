package part

import (
	"fmt"
	"strings"
)

const wheelBearing = "wheel bearing"

var bearingCodes = []designationForm{
	newDesignation(`(6[023])(\d{2})(?:_(ZZ|2Z|Z|2RS|RS|DDU|LLU))?(?:[ /-]?(C[2-5]))?`, readBallBearing, wheelBearing),
	newDesignation(`DAC(\d{2})(\d{2,3}?)(\d{2,4})`, readWheelBearing, wheelBearing),
}

// bearingBore is the bore in mm by the last two digits of a designation: JIS B
// 1513, ISO 15. From 04 on it is five times the number.
var bearingBore = []int{10, 12, 15, 17, 20, 25, 30, 35, 40, 45, 50}

// bearingSize is outside diameter and width in mm by series and bore number, of
// deep groove ball bearings with 10 to 50 mm bore: ISO 15, dimension series 10
// (60), 02 (62) and 03 (63).
var bearingSize = map[string][][2]int{
	"60": {{26, 8}, {28, 8}, {32, 9}, {35, 10}, {42, 12}, {47, 12}, {55, 13}, {62, 14}, {68, 15}, {75, 16}, {80, 16}},
	"62": {{30, 9}, {32, 10}, {35, 11}, {40, 12}, {47, 14}, {52, 15}, {62, 16}, {72, 17}, {80, 18}, {85, 19}, {90, 20}},
	"63": {{35, 11}, {37, 12}, {42, 13}, {47, 14}, {52, 15}, {62, 17}, {72, 19}, {80, 21}, {90, 23}, {100, 25}, {110, 27}},
}

// bearingSeal is what closes a bearing, by suffix (common practice, the letters
// differ by maker). Without one nothing is said: lists often leave it out.
var bearingSeal = map[string]string{
	"Z": "one_shield", "ZZ": "shields", "2Z": "shields", "RS": "one_seal", "2RS": "seals", "DDU": "seals", "LLU": "seals",
}

// readBallBearing reads 6203, 6203ZZ, 6203-2RS C3: type, dimension series, bore
// number, what closes it, internal clearance where it is not the normal one.
// Sizes beyond the table are not read.
func readBallBearing(m []string) (map[string]string, string, bool) {
	series, code, seal, clearance := m[0], atoi(m[1]), m[2], m[3]
	if code >= len(bearingBore) {
		return nil, "", false
	}
	size := bearingSize[series][code]
	v := map[string]string{
		"generation": "pressed", "dimensions": fmt.Sprintf("%dx%dx%d mm", bearingBore[code], size[0], size[1]),
		"designation": series + m[1] + seal + clearance,
	}
	if seal != "" {
		v["seal"] = bearingSeal[seal]
	}
	if clearance != "" {
		v["clearance"] = clearance
	}
	return v, StdBearing, true
}

// readWheelBearing reads DAC33660035: bore, outside diameter and width in mm of
// a pressed double-row bearing, 33 x 66 x 35. The middle group takes as few
// digits as it can. Where the two digits before the width are not zeros, the
// rings differ in width in a way that makers mark differently, and the width is
// left to the calliper.
func readWheelBearing(m []string) (map[string]string, string, bool) {
	bore, outside := atoi(m[0]), atoi(m[1])
	head, width := m[2][:len(m[2])-2], m[2][len(m[2])-2:]
	if outside <= bore || outside > 3*bore || atoi(width) == 0 || atoi(width) > outside { // no such ring
		return nil, "", false
	}
	size := fmt.Sprintf("%dx%d", bore, outside)
	if strings.Trim(head, "0") == "" {
		size += "x" + strings.TrimLeft(width, "0")
	}
	return map[string]string{"generation": "pressed", "dimensions": size + " mm", "designation": "DAC" + m[0] + m[1] + m[2]}, StdWheelBearing, true
}
