package vehicle

import (
	"errors"
	"fmt"
	"strings"
)

// Warning is a remark on a text that was read all the same. Code is short and
// stable, one of the Warn constants; Message is for a person.
type Warning struct{ Code, Message string }

// Codes of warnings.
const (
	WarnUnknown       = "unknown"            // the cell says that nobody knows
	WarnDoubtful      = "doubtful"           // a question mark stands beside the value
	WarnApproximate   = "approximate"        // about, early, mid, late
	WarnPhase         = "phase"              // names a version of the model, not a time
	WarnModelYear     = "model_year"         // a model year, not a calendar year
	WarnHalfYear      = "half_year"          // H1 beside a year is a half, not an era
	WarnDayOrMonth    = "day_or_month_first" // 8/9/96: both readings are covered
	WarnDayOrYear     = "day_or_year"        // Aug 05: a year, or a day without a year
	WarnMonthFirst    = "month_first"        // 12/01 beside a word: read as month/year
	WarnRangeOrMonth  = "range_or_month"     // 96-8: read as a month
	WarnEraEnded      = "era_ended"          // a date after the last day of its era
	WarnEraCarried    = "era_carried"        // the era of the first date was used for the second
	WarnEndCounted    = "end_counted"        // before, after: the month named is counted in
	WarnMissingHyphen = "missing_hyphen"
	WarnOddShape      = "odd_shape"
	WarnOddWidth      = "odd_width"
	WarnAuthority     = "authority_stamp"
	WarnLooksLikeVIN  = "looks_like_vin"
	WarnPrefix        = "prefix_in_frame"
	WarnDividers      = "dividers"
	WarnUnknownPrefix = "unknown_prefix"
	WarnModified      = "modified"
	WarnCheckDigit    = "check_digit"
	WarnNZAssigned    = "nz_assigned"
)

// Codes of a ParseError; CodeAmbiguous is that of an AmbiguousError.
const (
	CodeEmpty         = "empty"
	CodeNotADate      = "not_a_date"
	CodeInvalidDate   = "invalid_date"
	CodeReversed      = "reversed"
	CodeContradiction = "contradiction"
	CodeSeveral       = "several"
	CodeAmbiguous     = "ambiguous"
	CodeLength        = "wrong_length"
	CodeCharacter     = "illegal_character"
)

// ParseError says why a text was refused. Code is one of the Code constants,
// Text what was given, Hint what to do next, Suggestion a text that would be
// read instead, where there is an obvious one.
type ParseError struct{ Code, Text, Message, Hint, Suggestion string }

// Error returns text, message and hint in one line.
func (e *ParseError) Error() string {
	out := fmt.Sprintf("%q: %s", shortened(e.Text), e.Message)
	if e.Hint != "" {
		out += "; " + e.Hint
	}
	return out
}

// AmbiguousError refuses a text that can be read in several ways. Labels says
// each of the Readings in words, in the same order.
type AmbiguousError struct {
	Text     string
	Readings []Interval
	Labels   []string
}

// Error names the readings and asks for a spelling that has only one.
func (e *AmbiguousError) Error() string {
	return fmt.Sprintf("%q: can be read as %s; write months as words (Jan 1996) and ranges with ~ (1996~2001)",
		shortened(e.Text), strings.Join(e.Labels, " or as "))
}

// CodeOf returns the stable code of an error of this package, "" for others.
func CodeOf(err error) string {
	var parse *ParseError
	var ambiguous *AmbiguousError
	switch {
	case errors.As(err, &ambiguous):
		return CodeAmbiguous
	case errors.As(err, &parse):
		return parse.Code
	}
	return ""
}

// shortened keeps a message readable when a whole note was pasted into a cell.
func shortened(s string) string {
	const most = 60
	runes := []rune(s)
	if len(runes) <= most {
		return s
	}
	return string(runes[:most]) + "…"
}

// refuse makes a ParseError whose Text the exported reader fills in.
func refuse(code, hint, format string, args ...any) *ParseError {
	return &ParseError{Code: code, Message: fmt.Sprintf(format, args...), Hint: hint}
}

// withText puts the text as given into an error of this package.
func withText(err error, text string) error {
	var parse *ParseError
	if errors.As(err, &parse) {
		out := *parse
		out.Text = text
		return &out
	}
	return err
}
