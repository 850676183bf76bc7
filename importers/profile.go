package importers

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/vehicle"
)

// profile is what the cells of a column look like, as shares of those that hold
// something. It does not depend on the order of the rows.
type profile struct {
	n     int
	share map[string]float64
}

// Looks that a cell can have; one cell can have several.
const (
	lookNumber  = "part number"
	lookLong    = "long number"
	lookInteger = "small whole number"
	lookDecimal = "number"
	lookMoney   = "money"
	lookYear    = "year"
	lookType    = "part type"
	lookText    = "words"
	lookCode    = "code"
	lookFrame   = "frame number"
	lookSerial  = "serial"
	lookSize    = "size"
	lookCounter = "counter"
)

var (
	lookIntegerShape = regexp.MustCompile(`^\d{1,4}(\s*[+(].*)?$`)
	lookDecimalShape = regexp.MustCompile(`^[~≈]?\d+([.,]\d+)?\s*\p{L}{0,4}\??$`)
	lookMoneyShape   = regexp.MustCompile(`^[$€£¥]?\s*\d{1,3}([.,' ]?\d{3})*([.,]\d{2})?\s*([$€£¥]|円|EUR|USD)?$`)
	lookCodeShape    = regexp.MustCompile(`^([0-9A-Z]{1,3}-)?[0-9A-Z]{2,8}(-[A-Z]{1,5})?$`)
	lookFrameShape   = regexp.MustCompile(`^[0-9A-Z]{2,8}-\d{5,8}\b`)
	lookSerialShape  = regexp.MustCompile(`\b\d{5,8}\b`)
	lookSizeShape    = regexp.MustCompile(`(?i)^\d+([.,]\d+)?\s*[x×*]\s*\d+|^\d+([.,]\d+)?\s*mm$`)
)

// profileOf looks at the cells of one column.
func profileOf(cells []string, w Words, types app.PartTypes) profile {
	p := profile{share: map[string]float64{}}
	seen := map[int]bool{}
	highest := 0
	for _, text := range cells {
		if w.marks.is(text, markBlank) || strings.TrimSpace(text) == "" {
			continue
		}
		p.n++
		for _, look := range looksOf(text, w, types) {
			p.share[look]++
		}
		if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil && n > 0 {
			seen[n] = true
			highest = max(highest, n)
		}
	}
	for look := range p.share {
		p.share[look] /= float64(max(p.n, 1))
	}
	if p.n > 2 && len(seen) == p.n && highest == p.n {
		p.share[lookCounter] = 1
	}
	return p
}

func looksOf(text string, w Words, types app.PartTypes) []string {
	var out []string
	text = vehicle.Fold(text)
	add := func(look string, ok bool) {
		if ok {
			out = append(out, look)
		}
	}
	letters, digits := countLetters(text), countDigits(text)
	_, isType := types.ByWord(text)
	sized := lookSizeShape.MatchString(text)
	add(lookType, isType)
	add(lookNumber, looksLikeNumber(text) && !sized)
	add(lookLong, letters+digits >= 8 && digits >= 4)
	add(lookInteger, lookIntegerShape.MatchString(text))
	add(lookDecimal, lookDecimalShape.MatchString(text))
	add(lookMoney, lookMoneyShape.MatchString(text))
	add(lookText, letters >= 3 && digits <= letters/3)
	add(lookCode, lookCodeShape.MatchString(text) && letters > 0 && digits > 0 && letters+digits <= 11)
	add(lookFrame, lookFrameShape.MatchString(text) && letters > 0 || letters+digits == 17 && digits >= 5)
	add(lookSerial, lookSerialShape.MatchString(text) && letters == 0)
	add(lookSize, sized)
	add(lookYear, looksLikeYear(text))
	for fact, words := range w.facts {
		add(fact, len(words.of(text)) > 0)
	}
	add(string(Condition), len(w.conditions.of(text)) > 0)
	add(string(PartSide), len(w.positions.of(text)) > 0)
	return out
}

func looksLikeYear(text string) bool {
	if lookSerialShape.MatchString(text) && !strings.ContainsAny(text, "-~/.") {
		return false
	}
	iv, _, err := vehicle.ParseRange(text)
	return err == nil && iv.Known() || vehicle.CodeOf(err) == vehicle.CodeAmbiguous
}

func looksLikeNumber(text string) bool {
	letters, digits := countLetters(text), countDigits(text)
	return digits >= 3 && letters+digits >= 5 && letters <= digits+4 || letters > 0 && digits > 0 && letters+digits >= 4 && !strings.Contains(text, " ")
}

func countLetters(s string) int { return count(s, isLetter) }
func countDigits(s string) int  { return count(s, isDigit) }

func count(s string, is func(rune) bool) int {
	n := 0
	for _, r := range s {
		if is(r) {
			n++
		}
	}
	return n
}

// speaksFor says how far the content of a column speaks for a field, 0 to 1;
// NaN where content does not tell.
func (p profile) speaksFor(f Field) float64 {
	s := func(looks ...string) float64 {
		best := 0.0
		for _, l := range looks {
			best = max(best, p.share[l])
		}
		return best
	}
	switch f {
	case OwnNo, PartNo, MakerNo, Cross, SupersededBy, Replaces, OtherNo:
		return s(lookNumber) - s(lookCounter) - s(lookFrame)/2
	case UnitNo:
		return s(lookLong)
	case Customer:
		return s(lookNumber) - s(lookLong)
	case LineNo:
		return 1.1 * s(lookCounter)
	case Qty:
		return s(lookInteger) - 0.1*s(lookNumber)
	case PartTitle:
		return max(s(lookType), 0.8*s(lookText))
	case TypeName:
		return s(lookType)
	case ModelCode:
		return s(lookCode) - 0.2*s(lookLong)
	case EngineCode:
		return s(lookCode) - s(lookType)
	case FrameNo:
		return s(lookFrame)
	case SerialRange, SerialFrom, SerialTo:
		return s(lookSerial) - s(lookFrame)
	case YearRange, YearFrom, YearTo:
		return s(lookYear) - 0.1*s(lookSerial)
	case Transmission, Drive, Rotation:
		return s(string(f))
	case DriveSide:
		return s(string(vehicle.FactSide))
	case PartSide, Condition:
		return s(string(f))
	case CoreSize:
		return s(lookSize)
	case CoreCharge, Price:
		return s(lookMoney) - s(lookSize)
	case Amps, Volts, Power, Ribs:
		return s(lookDecimal)
	case Supplier:
		return 0.9 * s(lookText)
	}
	return math.NaN()
}

// name says in words what most of the cells look like.
func (p profile) name() string {
	best, share := "nothing known", 0.0
	for _, look := range []string{lookCounter, lookFrame, lookYear, lookSize, string(Condition), string(Transmission), string(Drive),
		string(vehicle.FactSide), string(PartSide), lookType, lookSerial, lookCode, lookNumber, lookInteger, lookMoney, lookText} {
		if p.share[look] > share {
			best, share = look, p.share[look]
		}
	}
	return best
}
