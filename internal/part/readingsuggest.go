package part

import "regexp"

// Digits of a number that a spreadsheet may have shortened.
const (
	// fewestDigits: shorter numbers are a shop's own, which have no zeros to lose.
	fewestDigits = 6
	// mostDigits: a spreadsheet keeps 15 digits of a number (IEEE 754 double).
	mostDigits = 15
)

// LostZeros suggests the numbers that a key of digits may have been before a
// spreadsheet took it for a number: one or two zeros in front. They are
// suggestions to look up beside the number as it stands, never one key with it.
// A key with a letter, or with a zero still in front, has lost none.
func LostZeros(key string) []string {
	if len(key) < fewestDigits || len(key) > mostDigits || key[0] == '0' {
		return nil
	}
	for i := range len(key) {
		if key[i] < '0' || key[i] > '9' {
			return nil
		}
	}
	return []string{"0" + key, "00" + key}
}

// padded is the one family of alternator numbers that is known to be printed
// with and without zeros: A, a digit, T (common practice, no source).
var padded = regexp.MustCompile(`^A(0{0,2})(\dT[A-Z]\d{4,5}[A-Z]{0,2})$`)

// PaddingTwins suggests the other forms of a number of the zero-padded family:
// A9TX0001 for A009TX0001 and the reverse. They are suggestions, never one key
// with it; a number of any other family has none.
func PaddingTwins(key string) []string {
	m := padded.FindStringSubmatch(key)
	if m == nil {
		return nil
	}
	var out []string
	for _, twin := range []string{"A" + m[2], "A00" + m[2]} {
		if twin != key {
			out = append(out, twin)
		}
	}
	return out
}
