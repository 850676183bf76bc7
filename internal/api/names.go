package api

import (
	"slices"
	"strings"

	"crossbin/internal/app"
)

// unknownName says that a parameter or key is not known, and which one was
// probably meant.
func unknownName(what, name string, known []string) error {
	hint := "known are " + strings.Join(known, ", ")
	if len(known) == 0 {
		hint = "leave it out"
	}
	if near := nearest(name, known); near != "" {
		hint = "did you mean " + near + "? " + hint
	}
	return &app.Error{Code: app.CodeInvalid, Message: "no " + what + " is called " + clip(name), Hint: hint}
}

// clip keeps a name from outside at a length that fits into a sentence.
func clip(name string) string {
	const most = 40
	if r := []rune(strings.ToValidUTF8(name, "?")); len(r) > most {
		return string(r[:most]) + "…"
	}
	return strings.ToValidUTF8(name, "?")
}

// nearest gives the known name that is at most two slips away, case and dashes
// aside; "" where there is none.
func nearest(name string, known []string) string {
	name = strings.ReplaceAll(strings.ToLower(clip(name)), "-", "_")
	best, at := "", 3
	for _, k := range known {
		if d := slips(name, k); d < at && d < len(k) {
			best, at = k, d
		}
	}
	return best
}

// slips counts the letters to insert, drop or change between two short words.
func slips(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = slices.Min([]int{change, row[j] + 1, row[j+1] + 1})
		}
	}
	return row[len(b)]
}
