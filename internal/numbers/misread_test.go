package numbers

import "strings"

// The errors that the tests make are drawn by a generator of its own, not by the
// error model: other look-alikes, by three published lists, other rates and
// other shares.

// list is what one source has taken for one another: groups or pairs.
type list struct {
	name   string
	groups string
}

var lists = []list{
	// The documentation of a plate reader's software; all of it is known to the
	// error model.
	{"plate reader", "0ODQ 1I 2Z 5S 8B 6G"},
	// The wiki of a parking system.
	{"parking wiki", "1I 2Z 38B 5S 0DOQ EFP HKMR TYV"},
	// A review of research on reading plates, quoted at
	// https://staging.scite.ai/reports/smart-car-plate-recognition-system-NM89pdY.
	{"research review", "O0 PB Z2 S5 38 B8 PR DO 1I QO CG A4 KX FE VW XY VU 68 53 58 08 39 49"},
}

// alike gives, for each character, what it is taken for; a character that two
// groups name comes up twice.
func (l list) alike() map[byte]string {
	out := map[byte]string{}
	for _, group := range strings.Fields(l.groups) {
		for i := range len(group) {
			for j := range len(group) {
				if i != j {
					out[group[i]] += string(group[j])
				}
			}
		}
	}
	return out
}

// slipRate is how often a character goes wrong: half as often again as in the
// error model, where it is 5 of a hundred for those with look-alikes and 2 for
// the others.
const slipRate = 0.06

// Shares of a hundred errors; swaps have the rest. The error model has 60, 20,
// 8, 6 and 6 of a hundred.
const (
	shareLookAlike = 50
	shareOther     = 12
	shareDropped   = 16
	shareDoubled   = 10
)

// howMany draws the number of errors in a number of this length, from one to
// most.
func (m maker) howMany(length, most int) int {
	for {
		n := 0
		for range length {
			n += count(m.Float64() < slipRate)
		}
		if n >= 1 && n <= most {
			return n
		}
	}
}

// misread makes a reading with n errors.
func (m maker) misread(key string, n int, alike map[byte]string) string {
	text := []byte(key)
	for range n {
		text = m.slip(text, alike)
	}
	return string(text)
}

func (m maker) slip(text []byte, alike map[byte]string) []byte {
	i := m.IntN(len(text))
	switch kind := m.IntN(100); {
	case kind < shareLookAlike:
		for tries := 0; alike[text[i]] == "" && tries < 20; tries++ {
			i = m.IntN(len(text))
		}
		if others := alike[text[i]]; others != "" {
			text[i] = others[m.IntN(len(others))]
			return text
		}
		fallthrough
	case kind < shareLookAlike+shareOther:
		for was := text[i]; text[i] == was; {
			text[i] = (digits + letters)[m.IntN(36)]
		}
	case kind < shareLookAlike+shareOther+shareDropped && len(text) > 4:
		text = append(text[:i], text[i+1:]...)
	case kind < shareLookAlike+shareOther+shareDropped+shareDoubled:
		text = append(text[:i+1], text[i:]...)
	default:
		if i+1 < len(text) {
			text[i], text[i+1] = text[i+1], text[i]
		}
	}
	return text
}

// obscure makes places of a reading unread, and perhaps cuts an end off.
func (m maker) obscure(text string, unread int, cut bool) string {
	out := []byte(text)
	for range unread {
		out[m.IntN(len(out))] = '?'
	}
	text = string(out)
	if !cut {
		return text
	}
	from, to := m.IntN(len(text)/2), len(text)-m.IntN(len(text)/2)
	return "*" + text[from:to] + "*"
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
