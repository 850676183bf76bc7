package vehicle

import (
	"fmt"
	"strings"
)

// Designation is a model designation (katashiki) taken apart, as in
// DAA-ZQX30-ABCDE-T: exhaust-rule prefix, model code, tail (body, grade,
// gearbox and engine letters), trim. Parts not written are empty; vehicles from
// before the 1975 rules have no prefix. Modified tells the suffix 改: the
// structure was changed and the change registered.
type Designation struct {
	Raw, Prefix, Code, Tail, Trim string
	Modified                      bool
}

// String writes the designation with one spelling.
func (d Designation) String() string {
	parts := make([]string, 0, 4)
	for _, part := range [...]string{d.Prefix, d.Code, d.Tail, d.Trim} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	out := strings.Join(parts, "-")
	if d.Modified {
		out += "改"
	}
	return out
}

// SameModel reports whether both have the same model code and the same prefix.
// A different prefix with the same code is not the same: a change from GF to GH
// in mid-run came with a changed exhaust layout.
func (d Designation) SameModel(other Designation) bool {
	return d.Code == other.Code && d.Prefix == other.Prefix
}

// ParseDesignation reads a model designation. A part is a prefix if DecodePrefix
// knows it (so K15-ABC is code K15 with tail ABC); a part that only looks like a
// prefix is taken as one with a warning, because as a model code it would find
// nothing. A modified vehicle is a warning too: its attributes may differ from
// those of the model. Text without any letter or digit is an error.
func ParseDesignation(s string) (Designation, []Warning, error) {
	d := Designation{Raw: s}
	var warnings []Warning
	text := Fold(s)
	if trimmed := strings.NewReplacer("(改)", "", "改", "").Replace(text); trimmed != text {
		text, d.Modified = strings.TrimSpace(trimmed), true
		warnings = append(warnings, Warning{WarnModified, "改: registered as modified, look at the vehicle before trusting the model"})
	}
	if !strings.ContainsFunc(text, isLetterOrDigit) {
		return Designation{}, nil, &ParseError{Code: CodeEmpty, Text: s, Message: "no model designation here",
			Hint: "it is on the plate beside MODEL, as in DBA-ABC12"}
	}
	return d, append(warnings, d.takeParts(splitDashed(text))...), nil
}

// splitDashed splits at hyphens and drops empty parts and spaces around them.
func splitDashed(text string) []string {
	var parts []string
	for _, part := range strings.Split(text, "-") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	return parts
}

func (d *Designation) takeParts(parts []string) []Warning {
	var warnings []Warning
	if len(parts) > 1 {
		_, known := DecodePrefix(parts[0])
		if !known && looksLikePrefix(parts[0], parts[1]) {
			known = true
			warnings = append(warnings, Warning{WarnUnknownPrefix,
				fmt.Sprintf("%s looks like an exhaust-rule symbol that the table does not hold", parts[0])})
		}
		if known {
			d.Prefix, parts = parts[0], parts[1:]
		}
	}
	d.Code = parts[0]
	if len(parts) > 1 {
		d.Tail = parts[1]
	}
	if len(parts) > 2 {
		d.Trim = strings.Join(parts[2:], "-")
	}
	if len(parts) > 3 || !usualModelCode(d.Code) {
		warnings = append(warnings, Warning{WarnOddShape, "prefix, model code, tail and trim with hyphens between are usual: read it again"})
	}
	return warnings
}

// looksLikePrefix tells up to three letters, or a digit and two letters, before
// a part that holds a digit as model codes do.
func looksLikePrefix(first, second string) bool {
	if len(first) > 3 || !strings.ContainsAny(second, "0123456789") {
		return false
	}
	letters := first
	if len(first) == 3 && first[0] >= '0' && first[0] <= '9' {
		letters = first[1:]
	}
	return !strings.ContainsFunc(letters, func(r rune) bool { return r < 'A' || r > 'Z' })
}
