package data

import (
	"io"
	"unicode/utf8"
)

// Confusions reads the groups of characters that are taken for one another in
// part numbers. Groups share no character.
func Confusions() ([][]rune, error) {
	f, err := files.Open("confusions.csv")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readConfusions("confusions.csv", f)
}

func readConfusions(file string, r io.Reader) ([][]rune, error) {
	rows, err := readTable(file, r, "characters")
	if err != nil {
		return nil, err
	}
	var out [][]rune
	seen := map[rune]bool{}
	for _, row := range rows {
		group := row.cells["characters"]
		if utf8.RuneCountInString(group) < 2 {
			return nil, mistake(file, row.line, "a group needs two characters, not %q", group)
		}
		for _, c := range group {
			if seen[c] || (c < 'A' || c > 'Z') && (c < '0' || c > '9') {
				return nil, mistake(file, row.line, "%q is in two groups, or no character of a number's key", c)
			}
			seen[c] = true
		}
		out = append(out, []rune(group))
	}
	return out, nil
}
