package importers

import (
	"regexp"
	"strconv"
	"strings"

	"crossbin/internal/vehicle"
)

// serialText finds serials, each with a model code in front where one stands
// there. A serial has 3 to 9 digits; its width is kept for display.
var serialText = regexp.MustCompile(`(?:([0-9A-Z]*[A-Z][0-9A-Z]*)-)?([0-9]{3,9})`)

// frame reads a frame number or a range of them: KV31-0100001,
// KV31-0100001~0125000, KV31-0100001-. A VIN names one vehicle in a way that no
// fitment can.
func (w Words) frame(piece string, _ clause) clauses {
	text := vehicle.Fold(piece)
	if !strings.Contains(text, "-") && len(text) == 17 {
		return refuse("vin_in_fitment", "what the vehicles have in common, as model code and serial range; a VIN names one vehicle")
	}
	return w.serial(FrameNo, piece)
}

// serial reads a range of serials: "0100000-0124999", "up to 0124999", "from
// 0125000". A first or last one of its own column is open at the other end.
func (w Words) serial(f Field, text string) clauses {
	folded := vehicle.Fold(text)
	found := serialText.FindAllStringSubmatchIndex(folded, -1)
	if len(found) == 0 || len(found) > 2 {
		return refuse("clause_unread", "a serial or a range such as 0100000-0124999; %q is none", text)
	}
	first := found[0]
	before, after := folded[:first[0]], folded[first[1]:]
	c := clause{}
	var r vehicle.SerialRange
	ok := false
	if len(found) == 1 {
		r, ok = w.oneSerial(f, number64(folded[first[4]:first[5]]), before, after)
	} else {
		second := found[1]
		between := folded[first[1]:second[0]]
		r = vehicle.SerialRange{From: number64(folded[first[4]:first[5]]), To: number64(folded[second[4]:second[5]])}
		ok = f != SerialFrom && f != SerialTo && w.isBetween(between) && w.isNoise(before, serialFrom) && strings.TrimSpace(folded[second[1]:]) == "" && r.From <= r.To
		c.code(folded, second)
	}
	if !ok {
		return refuse("clause_unread", "a serial or a range such as 0100000-0124999, from 0125000, up to 0124999; %q is none", text)
	}
	for _, m := range found {
		r.Width = max(r.Width, m[5]-m[4])
	}
	c.code(folded, first)
	c.serial = &r
	if len(c.facts) == 2 && vehicle.FoldCode(c.facts[0].value) != vehicle.FoldCode(c.facts[1].value) {
		return refuse("clause_unread", "one model code in a range; %q names two", text)
	}
	return clauses{alts: []clause{c}}
}

// code adds the model code that stands in front of a serial.
func (c *clause) code(text string, m []int) {
	if m[2] >= 0 {
		c.facts = append(c.facts, factValue{vehicle.FactModelCode, text[m[2]:m[3]]})
	}
}

func number64(digits string) int64 {
	n, _ := strconv.ParseInt(digits, 10, 64) // at most 9 digits
	return n
}

// oneSerial reads a single serial by the sign or word beside it.
func (w Words) oneSerial(f Field, n int64, before, after string) (vehicle.SerialRange, bool) {
	at, ok := w.serialMark(strings.TrimSpace(before), strings.TrimSpace(after))
	if !ok {
		return vehicle.SerialRange{}, false
	}
	if at == "" && f == SerialFrom {
		at = serialFrom
	}
	if at == "" && f == SerialTo {
		at = serialTo
	}
	switch at {
	case serialFrom:
		return vehicle.SerialRange{From: n, To: vehicle.NoSerial}, true
	case serialAfter:
		return vehicle.SerialRange{From: n + 1, To: vehicle.NoSerial}, true
	case serialTo:
		return vehicle.SerialRange{From: vehicle.NoSerial, To: n}, true
	case serialBefore:
		return vehicle.SerialRange{From: vehicle.NoSerial, To: n - 1}, n > 0
	}
	return vehicle.SerialRange{From: n, To: n}, true
}

// serialMark says what stands beside a single serial: nothing, or one end.
func (w Words) serialMark(before, after string) (string, bool) {
	beside := map[string]string{"~": serialFrom, "-": serialFrom, "+": serialFrom, "→": serialFrom}
	behind := map[string]string{"~": serialTo, "-": serialTo, "→": serialTo, "<": serialBefore, ">": serialAfter, "≤": serialTo, "≥": serialFrom}
	switch {
	case before == "" && after == "":
		return "", true
	case before == "":
		if m, ok := beside[after]; ok {
			return m, true
		}
		return w.serialWord(after)
	case after == "":
		if m, ok := behind[before]; ok {
			return m, true
		}
		return w.serialWord(before)
	case w.isNoise(before, serialFrom) && (after == "~" || after == "-"):
		return serialFrom, true
	}
	return "", false
}

func (w Words) serialWord(text string) (string, bool) {
	m := w.facts[serialWords].of(text)
	if len(m) == 0 {
		return "", false
	}
	return m[0], true
}

// isNoise tells nothing, or a word that says what is known anyway.
func (w Words) isNoise(text, meaning string) bool {
	text = strings.TrimSpace(text)
	m, ok := w.serialWord(text)
	return text == "" || ok && m == meaning
}

// isBetween tells a sign or word that stands between two ends of a range.
func (w Words) isBetween(text string) bool {
	switch text = strings.TrimSpace(text); text {
	case "-", "~", "→", "...", "..":
		return true
	}
	m, ok := w.serialWord(text)
	return ok && m == serialTo
}
