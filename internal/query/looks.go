package query

import (
	"regexp"
	"strings"
)

// Look is what a term looks like. A shape is a hint and never proof: ten digits
// match many makers' shapes at once.
type Look string

// Looks.
const (
	LooksLikeNothing Look = ""
	LooksLikeNumber  Look = "part_number"
	LooksLikePattern Look = "partly_readable_number"
	LooksLikeFrame   Look = "frame_number"
	LooksLikeVIN     Look = "vin"
	LooksLikeEngine  Look = "engine_code"
)

// Shapes, on upper case. Frame: model code with a letter, dash, six or seven
// digits. VIN: 17 characters without I, O and Q (49 CFR 565.13). Engine: one to
// three letters, one or two digits, a tail with or without a dash (common
// practice, no source). Number: at least five characters.
var (
	frameShape  = regexp.MustCompile(`^[0-9]{0,3}[A-Z][0-9A-Z]{0,6}-[0-9]{6,7}$`)
	vinShape    = regexp.MustCompile(`^[A-HJ-NPR-Z0-9]{17}$`)
	engineShape = regexp.MustCompile(`^(?:[0-9]?[A-Z]{1,3}[0-9]{1,2}|[0-9][A-Z]{1,2})(?:-?[A-Z]{1,4})?$`)
	numberShape = regexp.MustCompile(`^[0-9A-Z](?:[-./]?[0-9A-Z]){4,}$`)
)

// Looks says what a term looks like, the most telling shape first.
func (t Term) Looks() Look {
	text := strings.ToUpper(clean(t.Text))
	switch {
	case t.Kind == Pattern:
		return LooksLikePattern
	case t.Kind != Number:
		return LooksLikeNothing
	case vinShape.MatchString(text) && strings.ContainsAny(text, "ABCDEFGHJKLMNPRSTUVWXYZ"):
		return LooksLikeVIN
	case frameShape.MatchString(text):
		return LooksLikeFrame
	case engineShape.MatchString(text):
		return LooksLikeEngine
	case numberShape.MatchString(text):
		return LooksLikeNumber
	}
	return LooksLikeNothing
}
