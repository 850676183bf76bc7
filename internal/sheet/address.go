package sheet

import "strconv"

// maxColumn is the last column that the file format knows, XFD (ECMA-376 part 1,
// 18.3.1.13).
const maxColumn = 16_384

// ColumnName writes a column as a spreadsheet does: 1 is "A", 27 is "AA". It is
// "" for numbers below 1.
func ColumnName(col int) string {
	var letters [14]byte
	i := len(letters)
	for ; col > 0; col = (col - 1) / 26 {
		i--
		letters[i] = byte('A' + (col-1)%26)
	}
	return string(letters[i:])
}

// Address writes a cell's place, column and row counted from 1: (3, 6) is "C6".
func Address(col, row int) string { return ColumnName(col) + itoa(row) }

func itoa(n int) string { return strconv.Itoa(n) }

// parseAddress reads "C6" without allocating. ok is false for anything else,
// also for leading zeros, dollar signs, and what lies beyond any spreadsheet.
func parseAddress(ref []byte) (col, row int, ok bool) {
	i := 0
	for ; i < len(ref) && i < 4; i++ {
		c := ref[i] &^ 0x20 // upper case
		if c < 'A' || c > 'Z' {
			break
		}
		col = col*26 + int(c-'A') + 1
	}
	row, ok = parseCount(ref[i:])
	return col, row, ok && col >= 1 && col <= maxColumn
}

// parseRange reads "A1:C3", or "A1" as a range of one cell.
func parseRange(ref []byte) (c1, r1, c2, r2 int, ok bool) {
	for i, c := range ref {
		if c == ':' {
			var ok1, ok2 bool
			c1, r1, ok1 = parseAddress(ref[:i])
			c2, r2, ok2 = parseAddress(ref[i+1:])
			return c1, r1, c2, r2, ok1 && ok2 && c1 <= c2 && r1 <= r2
		}
	}
	c1, r1, ok = parseAddress(ref)
	return c1, r1, c1, r1, ok
}

// parseCount reads a positive decimal number of at most 10 digits that does not
// begin with 0.
func parseCount(digits []byte) (int, bool) {
	if len(digits) == 0 || len(digits) > 10 || digits[0] == '0' {
		return 0, false
	}
	return parseIndex(digits)
}

// parseIndex reads a decimal number of at most 10 digits, 0 included.
func parseIndex(digits []byte) (int, bool) {
	if len(digits) == 0 || len(digits) > 10 {
		return 0, false
	}
	n := 0
	for _, c := range digits {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}
