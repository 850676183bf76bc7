package vehicle

import (
	"fmt"
	"strings"
)

// VIN is a 17-character vehicle identification number. CheckFound is position
// 9, CheckComputed what it would be (0 to 9, X). That both agree proves good
// form only, not that the vehicle exists, and letters and digits of one value
// (2, B, K, S) hide each other's misreading.
type VIN struct {
	Raw           string // as given
	Text          string // folded, without dividers: 17 characters
	Maker         string // positions 1-3, for a small-volume maker with 12-14 appended
	SmallVolume   bool   // position 3 is 9: 49 CFR 565.15(a)
	Region        string // ISO 3780, "unknown" where the table has none
	Country       string // ISO 3780, "unknown" where the table has none
	YearCode      byte   // position 10
	CheckFound    byte
	CheckComputed byte
	NZAssigned    bool // 7AT: given in New Zealand to a used import that had none
}

// CheckOK reports whether position 9 is the computed check digit.
func (v VIN) CheckOK() bool { return v.CheckFound == v.CheckComputed && v.Text != "" }

// ParseVIN reads a VIN. Spaces and dividers are dropped with a warning. A wrong
// length or an illegal character is an error; for I, O and Q it carries a
// Suggestion with 1 and 0. A check digit that differs is a warning only: North
// American and Chinese vehicles must carry it, others may put any character there.
func ParseVIN(s string) (VIN, []Warning, error) {
	text, warnings := dropDividers(Fold(s))
	if err := checkVINText(text); err != nil {
		err.Text = s
		return VIN{}, nil, err
	}
	v := VIN{Raw: s, Text: text, Maker: text[:3], SmallVolume: text[2] == '9',
		Region: regionOf(text[0]), Country: countryOf(text[0], text[1]),
		YearCode: text[9], CheckFound: text[8], CheckComputed: checkDigit(text),
		NZAssigned: strings.HasPrefix(text, "7AT")}
	if v.SmallVolume {
		v.Maker += text[11:14]
	}
	if !v.CheckOK() {
		warnings = append(warnings, Warning{WarnCheckDigit, v.checkMessage()})
	}
	if v.NZAssigned {
		warnings = append(warnings, Warning{WarnNZAssigned,
			"7AT: given in New Zealand to a used import; it tells nothing about the maker, keep the frame number"})
	}
	return v, warnings, nil
}

func (v VIN) checkMessage() string {
	out := fmt.Sprintf("check digit: computed %c, found %c", v.CheckComputed, v.CheckFound)
	if v.Region == northAmerica || v.Country == "China" {
		return fmt.Sprintf("%s; a vehicle of %s must carry it: read the number again", out, v.Country)
	}
	return out + "; only vehicles for North America and China must carry it, so read the number again if it is for one of these"
}

// dropDividers removes what a plate carries around and between the characters.
func dropDividers(text string) (string, []Warning) {
	out := strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -*./·★☆", r) {
			return -1
		}
		return r
	}, text)
	if out == text {
		return text, nil
	}
	return out, []Warning{{WarnDividers, "spaces and dividers are not part of a VIN and were dropped"}}
}

// checkVINText refuses what cannot be a VIN: 49 CFR 565.13, 17 characters of
// A-Z without I, O, Q and of 0-9.
func checkVINText(text string) *ParseError {
	if text == "" {
		return refuse(CodeEmpty, "it is on the plate and behind the windscreen", "no VIN here")
	}
	runes := []rune(text)
	if len(runes) != vinLength {
		return refuse(CodeLength, "count again; a Japanese domestic vehicle has a frame number instead",
			"a VIN has 17 characters, this has %d", len(runes))
	}
	for i, r := range runes {
		if strings.ContainsRune("IOQ", r) {
			return illegalLetter(text, i, r)
		}
		if !isASCIIAlnum(r) {
			return refuse(CodeCharacter, "a VIN has letters A to Z and digits only", "%q at position %d is no character of a VIN", r, i+1)
		}
	}
	return nil
}

// illegalLetter refuses I, O and Q and suggests what they are mistaken for, and
// says whether the check digit agrees with the suggestion.
func illegalLetter(text string, at int, letter rune) *ParseError {
	err := refuse(CodeCharacter, "", "a VIN never holds the letter %c (position %d)", letter, at+1)
	fixed := strings.NewReplacer("I", "1", "O", "0", "Q", "0").Replace(text)
	if checkVINText(fixed) != nil {
		err.Hint = "read the number again"
		return err
	}
	err.Suggestion = fixed
	err.Hint = "is " + fixed + " meant? its check digit does not agree, read the number again"
	if fixed[8] == checkDigit(fixed) {
		err.Hint = "is " + fixed + " meant? its check digit agrees"
	}
	return err
}

// vinWeights are the weights of positions 1 to 17: 49 CFR 565.15(c) Table IV.
var vinWeights = [vinLength]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}

// vinValue is the value of a legal character: 49 CFR 565.15(c) Table III.
func vinValue(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c <= 'H':
		return int(c-'A') + 1
	case c <= 'R':
		return int(c-'J') + 1
	}
	return int(c-'S') + 2
}

func vinSum(vin string) int {
	sum := 0
	for i, weight := range vinWeights {
		sum += weight * vinValue(vin[i])
	}
	return sum
}

func checkDigit(vin string) byte { return "0123456789X"[vinSum(vin)%11] }

// CheckDigit computes the check digit, 0 to 9 or X, of a VIN in capitals
// without dividers; what stands at position 9 does not matter. It returns an
// error for text that is no VIN. Rule: 49 CFR 565.15(c), the whole remainder
// modulo 11, not a rounded decimal.
func CheckDigit(vin string) (byte, error) {
	if err := checkVINText(vin); err != nil {
		err.Text = vin
		return 0, err
	}
	if strings.ToUpper(vin) != vin {
		return 0, &ParseError{Code: CodeCharacter, Text: vin, Message: "a VIN is written in capitals", Hint: "write it in capitals"}
	}
	return checkDigit(vin), nil
}
