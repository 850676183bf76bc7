package numbers

// The errors that the tests make are drawn by a generator of its own, not by the
// error model: other look-alikes, from two published lists, and other rates.

// Look-alikes by two sources: the groups that a wiki of parking software gives
// for plate readers, and the pairs of a research review on reading plates,
// quoted at https://staging.scite.ai/reports/smart-car-plate-recognition-system-NM89pdY.
// Of their pairs, more than half are no look-alikes to the program.
var (
	parkingGroups = []string{"1I", "2Z", "38B", "5S", "0DOQ", "EFP", "HKMR", "TYV"}
	reviewPairs   = []string{"O0", "PB", "Z2", "S5", "38", "B8", "PR", "DO", "1I", "QO", "CG", "A4", "KX", "FE", "VW", "XY", "VU", "68", "53", "58", "08", "39", "49"}
)

// lookAlikes gives, for each character, what the two sources have it taken for.
func lookAlikes() map[byte]string {
	out := map[byte]string{}
	for _, group := range append(append([]string{}, parkingGroups...), reviewPairs...) {
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

// Shares of a hundred errors. The error model has 60, 20, 8, 6 and 6 of a
// hundred, and thinks 50 of its errors among the look-alikes that it knows.
const (
	shareLookAlike = 50
	shareOther     = 12
	shareDropped   = 16
	shareDoubled   = 10
)

// misread makes a reading with n errors, each at a place of its own; a key too
// short for that gets fewer.
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
		was := text[i]
		for text[i] == was {
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
