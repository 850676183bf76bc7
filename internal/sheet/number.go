package sheet

import (
	"bytes"
	"strconv"
)

// maxDigits is how many digits of a number mean something; spreadsheet programs
// count with 64-bit floating point and show 15.
const maxDigits = 15

// number is a number as the file writes it, taken apart.
type number struct {
	negative bool
	digits   []byte // all digits, the point left out
	point    int    // where the point stands in digits
	exponent int
}

// readNumber takes a number apart; ok is false for what is none.
func readNumber(raw []byte) (n number, ok bool) {
	b := raw
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		n.negative = b[0] == '-'
		b = b[1:]
	}
	mantissa, exp := b, []byte(nil)
	if i := bytes.IndexAny(b, "eE"); i >= 0 {
		mantissa, exp = b[:i], b[i+1:]
		if n.exponent, ok = readExponent(exp); !ok {
			return n, false
		}
	}
	whole, fraction, _ := bytes.Cut(mantissa, []byte("."))
	if !allDigits(whole) || !allDigits(fraction) || len(whole)+len(fraction) == 0 {
		return n, false
	}
	n.point = len(whole)
	if n.digits = mantissa; len(whole) < len(mantissa) {
		n.digits = append(append(make([]byte, 0, len(mantissa)), whole...), fraction...)
	}
	return n, true
}

func readExponent(b []byte) (int, bool) {
	negative := len(b) > 0 && b[0] == '-'
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		b = b[1:]
	}
	if len(b) == 0 || len(b) > 3 || !allDigits(b) {
		return 0, false
	}
	n, _ := parseIndex(b)
	if n > 308 { // no 64-bit floating point number is larger
		return 0, false
	}
	if negative {
		n = -n
	}
	return n, true
}

func allDigits(b []byte) bool {
	for _, c := range b {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// appendNumber writes a number plainly: no exponent, no digits that are noise of
// floating point, no zeros behind the last decimal. A whole number keeps every
// digit that the file gives. ok is false, and nothing written, for what is no
// number.
func appendNumber(dst, raw []byte) (out []byte, ok bool) {
	if len(raw) > 0 && len(raw) <= maxDigits && allDigits(raw) {
		return append(dst, raw...), true // most numbers of a list
	}
	n, ok := readNumber(raw)
	if !ok {
		return dst, false
	}
	whole, fraction := n.split()
	if len(fraction) > 0 && significant(whole, fraction) > maxDigits {
		if rounded, ok := withoutNoise(raw); ok {
			if n, ok = readNumber(rounded); !ok {
				return dst, false
			}
			whole, fraction = n.split()
		}
	}
	if n.negative && (!isZero(whole) || !isZero(fraction)) {
		dst = append(dst, '-')
	}
	if len(whole) == 0 {
		dst = append(dst, '0')
	}
	dst = append(dst, whole...)
	if len(fraction) > 0 {
		dst = append(append(dst, '.'), fraction...)
	}
	return dst, true
}

// split gives the digits before and behind the point once the exponent is
// applied.
func (n number) split() (whole, fraction []byte) {
	point := n.point + n.exponent
	digits := n.digits
	if point < 0 {
		digits = append(bytes.Repeat([]byte("0"), -point), digits...)
		point = 0
	}
	if point > len(digits) {
		digits = append(bytes.Clone(digits), bytes.Repeat([]byte("0"), point-len(digits))...)
	}
	whole, fraction = digits[:point], bytes.TrimRight(digits[point:], "0")
	if n.exponent != 0 {
		whole = bytes.TrimLeft(whole, "0")
	}
	return whole, fraction
}

// significant counts the digits from the first that is not 0.
func significant(whole, fraction []byte) int {
	if w := bytes.TrimLeft(whole, "0"); len(w) > 0 {
		return len(w) + len(fraction)
	}
	return len(bytes.TrimLeft(fraction, "0"))
}

func isZero(digits []byte) bool { return len(bytes.Trim(digits, "0")) == 0 }

// withoutNoise rounds to 15 digits: 0.30000000000000004 is 0.3.
func withoutNoise(raw []byte) ([]byte, bool) {
	v, err := strconv.ParseFloat(string(raw), 64)
	if err != nil {
		return nil, false
	}
	return strconv.AppendFloat(nil, v, 'e', maxDigits-1, 64), true
}
