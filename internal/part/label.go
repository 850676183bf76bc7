package part

import (
	"regexp"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// LineKind is what a line of a label holds.
type LineKind string

// Kinds of lines.
const (
	LineNumber   LineKind = "number"
	LineRating   LineKind = "rating"
	LineDate     LineKind = "date or lot"
	LineMaterial LineKind = "mould or material"
	LineCountry  LineKind = "country"
	LineCode     LineKind = "code" // a type, a size, a serial, a mark: never a part number
	LineUnknown  LineKind = "unknown"
)

// LineClass is what one line of a label looks like, with what it carries. It is
// a suggestion for the person who reads the label; the raw line is kept.
type LineClass struct {
	Raw    string
	Kind   LineKind
	Text   string // of a number the reading in its normal form, of others what the line says without its heading
	Key    string // of a number that was read in full, see Key
	Rating Rating // of a rating
	Doubt  string // why the kind is not certain, "" where it is
}

// fewestPlaces is the length of the shortest shape of part numbers that the
// program knows (four digits and two letters); what is shorter is never taken
// for one without a heading that says so.
const fewestPlaces = 6

// Headings of lines. What follows is set off, or begins with no Latin letter, so
// that a longer word is not cut in two.
var (
	numberHeading  = heading(`(?:OEM? |UNIT )?(?:PARTS?(?: ?(?:NO|NR|NUMBER))?|P/N|PN|NO|NR|REF|品番|部品番号)`)
	lotHeading     = heading(`(?:LOT|DATE|MFG|MFD|PROD|DOM|BATCH|製造年月日?|ロット)(?: ?(?:NO|NR|DATE|CODE))?`)
	codeHeading    = heading(`(?:S/N|SN|SERIAL|SER|TYPE|MODEL|型式)(?: ?(?:NO|NR|NUMBER))?`)
	mouldHeading   = heading(`(?:MOU?LD|CAV(?:ITY)?|TOOL)(?: ?(?:NO|NR))?`)
	countryHeading = regexp.MustCompile(`^(?:(?:MADE|ASSEMBLED|MANUFACTURED|PRODUCED) IN|PRODUCT OF|HECHO EN|FABRIQU[EÉ] EN|HERGESTELLT IN)[ .:]+(.+)$|^(\p{Han}+)製$`)
	countryAlone   = regexp.MustCompile(`^(?:JAPAN|CHINA|KOREA|TAIWAN|THAILAND|INDIA|INDONESIA|MALAYSIA|GERMANY|FRANCE|ITALY|SPAIN|HUNGARY|POLAND|MEXICO|BRAZIL|TURKEY|U\.?S\.?A\.?|P\.?R\.?C\.?|E\.?U\.?)$`)
)

func heading(words string) *regexp.Regexp {
	return regexp.MustCompile(`^` + words + `(?:[ .:#]+(.*)|([^A-Z].*))$`)
}

// Dates and lots as labels print them: common practice, no source.
var (
	lotAlone  = regexp.MustCompile(`^(?:\d{1,2}[A-Z]|\d{4})$`) // 9K, 24A, 0623
	datePairs = regexp.MustCompile(`^(?:(?:19|20)\d{2}[./-](?:0?[1-9]|1[0-2])|(?:0?[1-9]|1[0-2])[./-](?:19|20)?\d{2}|\d{2}[./-](?:0?[1-9]|1[0-2]))(?:[./-]\d{1,2})?$`)
	dateThree = regexp.MustCompile(`^\d{1,2}[./-]\d{1,2}[./-](?:19|20)?\d{2}$`)
	dateEra   = regexp.MustCompile(`^[SHR] ?\d{1,2}[./-]\d{1,2}(?:[./-]\d{1,2})?$|^\p{Han}{0,2}\d{1,4}年\d{1,2}月(?:\d{1,2}日)?$`)
	dateRunOn = regexp.MustCompile(`^(?:19|20)?\d{2}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])$`)
)

var (
	// Plastics are marked between > and < (ISO 11469) with their symbols and
	// fillers (ISO 1043-1 and -2).
	materialMark = regexp.MustCompile(`^>(.+)<$`)
	materialBare = regexp.MustCompile(`^(?:PA\d{0,3}|PP|PE|PBT|PET|POM|PPS|PPE|PC|ABS|ASA)(?:[+/](?:PA\d{0,3}|PP|PE|PBT|PET|PPE|PC|ABS|ASA))*[- ]?\(?(?:GF|CF|GB|MF|MD|TD|T|M)\d{1,2}\)?$`)

	// Designations that stand on parts and name no single part: refrigerants
	// (ISO 817), the type of a compressor, belts, ball and wheel bearings (common
	// practice, no source).
	designation = regexp.MustCompile(`^(?:R-?\d{2,4}[A-Z]{0,2}|\d{1,2}[A-Z]{1,4}\d{2}[A-Z]{0,2}|\d{1,2}PK ?\d{3,4}|6[0-3]\d{2}(?:[- ]?(?:ZZ|Z|2RS|RS|DDU|LLU))?|DAC\d{6,11})$`)

	grouped4  = regexp.MustCompile(`^[0-9A-Z?*]+(?:[ ./-]+[0-9A-Z?*]+){0,5}$`)
	someWord  = regexp.MustCompile(`[A-Z]{5,}`)
	threeRead = regexp.MustCompile(`\d.*\d.*\d`)
)

// ClassifyLine says what one line of a label looks like: a part number, volts
// and amperes, a date or lot, a mould or material, a country, or a code. A date
// or lot code (9K, 0623, 24A) is never a part number, whatever stands before it.
func ClassifyLine(text string) LineClass {
	line := strings.Join(strings.Fields(strings.ToUpper(norm.NFKC.String(width.Fold.String(text)))), " ")
	c := classifyHeaded(line)
	c.Raw = text
	return c
}

// classifyHeaded takes the heading of a line away, where it has one.
func classifyHeaded(line string) LineClass {
	if m := materialMark.FindStringSubmatch(line); m != nil {
		return LineClass{Kind: LineMaterial, Text: m[1]}
	}
	for _, h := range []struct {
		heading *regexp.Regexp
		kind    LineKind
	}{
		{lotHeading, LineDate}, {mouldHeading, LineMaterial}, {codeHeading, LineCode}, {countryHeading, LineCountry},
	} {
		if m := h.heading.FindStringSubmatch(line); m != nil {
			return LineClass{Kind: h.kind, Text: strings.Join(m[1:], "")}
		}
	}
	if m := numberHeading.FindStringSubmatch(line); m != nil {
		return classifyBare(m[1]+m[2], true)
	}
	return classifyBare(line, false)
}

// classifyBare looks at a line without a heading; named says that the heading
// spoke of a number.
func classifyBare(line string, named bool) LineClass {
	if r, doubt, ok := ReadRating(line); ok {
		return LineClass{Kind: LineRating, Text: line, Rating: r, Doubt: doubt}
	}
	switch {
	case designation.MatchString(line) && !named:
		return LineClass{Kind: LineCode, Text: line}
	case lotAlone.MatchString(line):
		return LineClass{Kind: LineDate, Text: line, Doubt: lotDoubt(line)}
	case datePairs.MatchString(line), dateThree.MatchString(line), dateEra.MatchString(line):
		return LineClass{Kind: LineDate, Text: line}
	case materialBare.MatchString(line):
		return LineClass{Kind: LineMaterial, Text: line}
	case countryAlone.MatchString(line):
		return LineClass{Kind: LineCountry, Text: line}
	}
	return classifyNumber(line, named)
}

// lotDoubt names the other thing that a lot code can be.
func lotDoubt(line string) string {
	if strings.HasSuffix(line, "A") {
		return "could be amperes"
	}
	return ""
}

// classifyNumber settles what is left: a number, a short code or unknown.
func classifyNumber(line string, named bool) LineClass {
	r, err := ParseReading(line)
	if err != nil || !grouped4.MatchString(line) || someWord.MatchString(line) {
		return LineClass{Kind: LineUnknown, Text: line}
	}
	number := r.Places() >= fewestPlaces && threeRead.MatchString(line) || named && r.Places() == fewestPlaces-1
	switch {
	case !number && strings.Contains(line, " "):
		return LineClass{Kind: LineUnknown, Text: line}
	case !number:
		return LineClass{Kind: LineCode, Text: line}
	}
	c := LineClass{Kind: LineNumber, Text: r.String()}
	if !r.Pattern() {
		c.Key = r.String()
	}
	if dateRunOn.MatchString(line) && !named {
		c.Doubt = "could be a date"
	}
	return c
}
