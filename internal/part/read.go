package part

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"
)

const (
	boolYes = "yes"
	boolNo  = "no"

	doubtMarked = "marked as not certain"
	doubtBound  = "a bound, not a value"
)

// ReadValue reads a cell or a typed text as a value of the attribute. Units are
// converted to the attribute's own; a number without a unit is taken in the
// attribute's unit. A "?", "~" or "about" leaves a doubt, and so does a bound
// ("> 80"). Errors name what was read and what was wanted.
func ReadValue(a Attribute, raw string) (Value, error) {
	text := foldText(raw)
	if FoldWord(text) == "" { // a bare question mark says nothing either
		return Value{}, fmt.Errorf("no value for %s", a.Title)
	}
	switch a.Kind {
	case KindNumber:
		return readNumber(a, raw, text)
	case KindSize:
		return readSize(a, raw, text)
	case KindRange:
		return readRange(a, raw, text)
	case KindThread:
		return readThread(raw, text), nil
	case KindBool:
		return readBool(a, raw, text)
	case KindSet:
		return readSet(a, raw, text)
	}
	word, err := a.word(FoldWord(text))
	if err != nil {
		return Value{}, err
	}
	return Value{Raw: raw, Words: []string{word}, Doubt: doubtOf(text)}, nil
}

// foldText folds widths and compatibility forms. A fraction sign is set apart
// from the digit before it, since NFKC makes 1½ into 11⁄2 (UAX #15).
func foldText(raw string) string {
	var b strings.Builder
	for _, r := range width.Fold.String(raw) {
		s := norm.NFKC.String(string(r))
		if strings.ContainsRune(s, '⁄') && len(s) > len("⁄") {
			b.WriteByte(' ')
		}
		b.WriteString(s)
	}
	return strings.TrimSpace(strings.ReplaceAll(norm.NFKC.String(b.String()), "⁄", "/"))
}

// FoldWord gives the form in which words of values are compared.
func FoldWord(text string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.Trim(text, "?≈~ "))), " ")
}

// word gives the attribute's own word for a folded word of a sheet.
func (a Attribute) word(folded string) (string, error) {
	if own, ok := a.Synonyms[folded]; ok {
		return own, nil
	}
	if len(a.Words) == 0 || slices.Contains(a.Words, folded) {
		return folded, nil
	}
	return "", fmt.Errorf("%w: %q for %s, which takes %s", ErrWord, folded, a.Title, strings.Join(a.Words, ", "))
}

func readSet(a Attribute, raw, text string) (Value, error) {
	v := Value{Raw: raw, Doubt: doubtOf(text)}
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",;/+、・", r) }) {
		folded := FoldWord(w)
		if folded == "" {
			continue
		}
		word, err := a.word(folded)
		if isNone(folded) {
			word, err = noneWord, nil
		}
		if err != nil {
			return Value{}, err
		}
		v.Words = append(v.Words, word)
	}
	if v.IsZero() {
		return Value{}, fmt.Errorf("%q names nothing for %s", raw, a.Title)
	}
	slices.Sort(v.Words)
	v.Words = slices.Compact(v.Words)
	return v, nil
}

func isNone(folded string) bool {
	return slices.Contains([]string{"none", "no", "-", "無", "無し", "なし", "keine", "ninguno"}, folded)
}

func doubtOf(text string) string {
	if strings.ContainsAny(text, "?≈~") {
		return doubtMarked
	}
	return ""
}

func readBool(a Attribute, raw, text string) (Value, error) {
	v := Value{Raw: raw, Doubt: doubtOf(text)}
	switch FoldWord(text) {
	case "y", "yes", "true", "1", "○", "◯", "o", "有", "有り", "あり", "付", "付き", "ja", "si", "sí", "x", "with", "✓", "✔":
		v.Words = []string{boolYes}
	case "n", "no", "false", "0", "×", "無", "無し", "なし", "nein", "without", "-", "none":
		v.Words = []string{boolNo}
	default:
		return Value{}, fmt.Errorf("%q is neither yes nor no for %s", raw, a.Title)
	}
	return v, nil
}
