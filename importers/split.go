package importers

import (
	"regexp"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

// joint is what stands between two numbers of one cell, and so what they have
// to do with one another.
type joint int

const (
	jointNone        joint = iota // the first number
	jointAlternative              // "/", ",", ";", a new line, "&", "or"
	jointArrow                    // the number before it was replaced by this one
	jointSet                      // "+": only together
	jointBlank                    // whole numbers divided by blanks: what they are to one another is not said
	jointShorthand                // "/91": made from the tail of the number before
	jointAsk                      // a tail that does not fit: not used
)

// token is one number of a cell as written, with a remark in brackets.
type token struct {
	text   string
	remark string
	joint  joint
}

var (
	orWords  = regexp.MustCompile(`\s+(?:(?i:or|oder|ou|and|und)|o|または|又は|若しくは|もしくは)\s+`)
	arrows   = strings.NewReplacer("=>", "→", "->", "→", "⇒", "→", "➔", "→", "➡", "→", "⟶", "→", ">", "→")
	divider  = map[rune]joint{'\n': jointAlternative, '\r': jointAlternative, ';': jointAlternative, ',': jointAlternative, '&': jointAlternative, '|': jointAlternative, '、': jointAlternative, '，': jointAlternative, '→': jointArrow, '+': jointSet}
	blankRun = regexp.MustCompile(`\s+`)
)

// splitNumbers takes the text of a number cell apart. The separators say what
// the numbers are to one another; a slash divides numbers only where both sides
// look like whole numbers or the tail of one, because numbers hold slashes
// themselves.
func splitNumbers(text string) []token {
	if isPlainNumber(text) {
		return []token{{text: text}}
	}
	text = arrows.Replace(norm.NFKC.String(width.Fold.String(text)))
	text = orWords.ReplaceAllString(text, ";")
	var out []token
	var piece strings.Builder
	depth, next := 0, jointNone
	flush := func(after joint) {
		for _, t := range splitPiece(piece.String()) {
			if t.joint == jointNone && len(out) > 0 {
				t.joint = next
			}
			out = append(out, t)
		}
		piece.Reset()
		next = after
	}
	for _, c := range text {
		switch {
		case c == '(' || c == '[':
			depth++
		case (c == ')' || c == ']') && depth > 0:
			depth--
		}
		if j, ok := divider[c]; ok && depth == 0 {
			flush(j)
			continue
		}
		piece.WriteRune(c)
	}
	flush(jointNone)
	return out
}

// isPlainNumber tells the commonest cell: one number of letters, digits and
// dashes.
func isPlainNumber(text string) bool {
	for i := 0; i < len(text); i++ {
		c := text[i]
		if (c < '0' || c > '9') && (c < 'A' || c > 'Z') && c != '-' {
			return false
		}
	}
	return text != ""
}

// splitPiece settles slashes and blanks in what stands between two separators.
func splitPiece(piece string) []token {
	text, remark := takeRemark(piece)
	if text == "" {
		if remark == "" {
			return nil
		}
		return []token{{remark: remark}}
	}
	if strings.Contains(text, "/") {
		if out := splitSlashes(text, outsideBrackets(piece)); out != nil {
			return out
		}
	}
	out := []token{{text: text}}
	if parts := blankRun.Split(text, -1); len(parts) > 1 && !strings.Contains(text, "/") && allWhole(parts, 9) {
		out = nil
		for _, p := range parts {
			out = append(out, token{text: p, joint: jointBlank})
		}
		out[0].joint = jointNone
	}
	for i := range out {
		out[i].remark = remark
	}
	return out
}

// outsideBrackets divides a piece at the slashes that stand outside brackets.
func outsideBrackets(piece string) []string {
	hidden := bracketed.ReplaceAllStringFunc(piece, func(b string) string { return strings.ReplaceAll(b, "/", "\x01") })
	parts := strings.Split(hidden, "/")
	for i := range parts {
		parts[i] = strings.ReplaceAll(parts[i], "\x01", "/")
	}
	return parts
}

// takeRemark takes what stands in brackets out of a piece.
func takeRemark(piece string) (text, remark string) {
	piece = strings.TrimSpace(piece)
	var remarks []string
	for _, m := range bracketed.FindAllStringSubmatch(piece, -1) {
		if m[1] = strings.TrimSpace(m[1]); m[1] != "" {
			remarks = append(remarks, m[1])
		}
	}
	text = strings.TrimSpace(bracketed.ReplaceAllString(piece, " "))
	return strings.Trim(text, `"'“”‘’ `), strings.Join(remarks, "; ")
}

// Shapes that decide what a slash means.
const (
	wholeNumber = 6 // letters and digits that make a number beside a slash
	fullNumber  = 8 // letters and digits that a number has whose tail is cut short
)

// splitSlashes reads "A/B"; each part may have its remark. All sides whole
// numbers: alternatives. A full number with short tails: the tails stand for its
// last characters. Else the slashes belong to one number, and nil is given.
func splitSlashes(text string, parts []string) []token {
	out := make([]token, len(parts))
	sides := make([]string, len(parts))
	for i, p := range parts {
		out[i].text, out[i].remark = takeRemark(p)
		out[i].joint, sides[i] = jointAlternative, out[i].text
	}
	out[0].joint = jointNone
	if allWhole(sides, wholeNumber) {
		return out
	}
	if countLetters(sides[0])+countDigits(sides[0]) < fullNumber {
		return nil
	}
	for i, tail := range sides[1:] {
		if allWhole([]string{tail}, wholeNumber) {
			continue
		}
		full, ok := withTail(sides[0], tail)
		if !ok {
			return []token{out[0], {text: text, joint: jointAsk}}
		}
		out[i+1].text, out[i+1].joint = full, jointShorthand
	}
	return out
}

func allWhole(parts []string, least int) bool {
	for _, p := range parts {
		if countLetters(p)+countDigits(p) < least || countDigits(p) < 3 {
			return false
		}
	}
	return true
}

// withTail puts a tail of digits in place of the last digits of a number; the
// tail must not be longer than the number's last group.
func withTail(number, tail string) (string, bool) {
	group := number[strings.LastIndexAny(number, "- .")+1:]
	if tail == "" || len(tail) > len(group) || asciiDigits(tail) != len(tail) {
		return "", false
	}
	if end := number[len(number)-len(tail):]; asciiDigits(end) != len(end) {
		return "", false
	}
	return number[:len(number)-len(tail)] + tail, true
}
