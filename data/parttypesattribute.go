package data

import (
	"slices"

	"crossbin/internal/part"
)

var (
	numeric = []part.Kind{part.KindNumber, part.KindSize, part.KindRange}
	wordy   = []part.Kind{part.KindWord, part.KindThread, part.KindSet, part.KindBool}

	// kindsOf says which kinds of values a comparison can hold together.
	kindsOf = map[part.Comparison][]part.Kind{
		part.Equal:    {part.KindNumber, part.KindSize, part.KindWord, part.KindThread, part.KindSet, part.KindBool},
		part.Within:   {part.KindNumber, part.KindSize},
		part.AtLeast:  {part.KindNumber, part.KindSize},
		part.AtMost:   {part.KindNumber, part.KindSize},
		part.InRange:  {part.KindRange},
		part.Includes: {part.KindNumber, part.KindSet, part.KindBool},
		part.Handed:   {part.KindWord},
		part.Any:      append(slices.Clone(numeric), wordy...),
	}

	whens       = []part.When{part.More, part.Less, part.Differs, part.Missing, part.Extra}
	differences = []part.Difference{part.WontMount, part.WorksWrong, part.Adaptable, part.Minor}
)

const highestEffort = 5

func (c *checker) attribute(a attributeDoc) {
	line := a.Name.Line
	if a.Name.Text == "" || a.Title == "" {
		c.wrong(line, "an attribute needs name and title")
	}
	if knownFact(a.Name.Text) {
		c.wrong(line, "attribute %q has the name of a vehicle fact", a.Name.Text)
	}
	oneOf(c, a.Kind, "kind", append(slices.Clone(numeric), wordy...))
	if a.RidesOn.Text != "" {
		oneOf(c, a.RidesOn, "rides_on", ridesOnWords)
	}
	c.unit(a)
	for _, s := range []sightDoc{a.OnVehicle, a.OffVehicle} {
		if s.Effort < 0 || s.Effort > highestEffort || (s.Effort == 0) != (s.How == "") {
			c.wrong(line, "%s: a sight is how and an effort of 1 to %d, or nothing at all", a.Name.Text, highestEffort)
		}
	}
	if a.OnVehicle.Effort == 0 && a.OffVehicle.Effort == 0 {
		c.wrong(line, "%s can be seen nowhere", a.Name.Text)
	}
	if n := len(a.Typical); n != 0 && (n != 2 || a.Typical[0] > a.Typical[1]) {
		c.wrong(line, "%s: typical is the lowest and the highest usual value", a.Name.Text)
	}
	c.comparison(a)
}

func (c *checker) unit(a attributeDoc) {
	measured := slices.Contains(numeric, part.Kind(a.Kind.Text))
	switch {
	case !part.KnownUnit(a.Unit.Text):
		c.wrong(a.Unit.Line, "unknown unit %q", a.Unit.Text)
	case measured && a.Unit.Text == "":
		c.wrong(a.Name.Line, "%s: a %s needs a unit", a.Name.Text, a.Kind.Text)
	case !measured && a.Unit.Text != "":
		c.wrong(a.Unit.Line, "%s: a %s has no unit", a.Name.Text, a.Kind.Text)
	}
	if len(a.Words) > 0 && !slices.Contains([]string{string(part.KindWord), string(part.KindSet)}, a.Kind.Text) {
		c.wrong(a.Name.Line, "%s: a %s has no vocabulary", a.Name.Text, a.Kind.Text)
	}
}

func (c *checker) comparison(a attributeDoc) {
	compare := part.Comparison(a.Compare.Text)
	kinds, ok := kindsOf[compare]
	if !ok {
		c.wrong(a.Compare.Line, "unknown comparison %q for %s", a.Compare.Text, a.Name.Text)
		return
	}
	if !slices.Contains(kinds, part.Kind(a.Kind.Text)) {
		c.wrong(a.Compare.Line, "%s: %s compares %s, not %s", a.Name.Text, compare, quoted(kinds), a.Kind.Text)
	}
	if compare == part.Within && a.Tolerance <= 0 && a.Percent <= 0 {
		c.wrong(a.Compare.Line, "%s: within needs a tolerance or per cent", a.Name.Text)
	}
	for _, cs := range a.Cases {
		c.oneCase(a, cs)
	}
	for _, when := range mustSpeak(a) {
		if !slices.ContainsFunc(a.Cases, func(cs caseDoc) bool { return cs.catches(when) }) {
			c.wrong(a.Compare.Line, "%s: no case without a condition speaks of %q, so that difference would pass", a.Name.Text, when)
		}
	}
}

// mustSpeak lists the ways to fail that an attribute must have a word for.
func mustSpeak(a attributeDoc) []part.When {
	number := slices.Contains(numeric, part.Kind(a.Kind.Text))
	isBool := a.Kind.Text == string(part.KindBool)
	switch part.Comparison(a.Compare.Text) {
	case part.Any:
		return nil
	case part.AtLeast:
		return []part.When{part.Less}
	case part.AtMost:
		return []part.When{part.More}
	case part.Includes:
		if number {
			return []part.When{part.Less}
		}
		return []part.When{part.Missing}
	}
	if number {
		return []part.When{part.More, part.Less}
	}
	if isBool {
		return []part.When{part.Missing, part.Extra}
	}
	return []part.When{part.Differs}
}

// catches reports whether a case takes every difference of a kind.
func (cs caseDoc) catches(when part.When) bool {
	plain := cs.If == "" && cs.Over == 0 && cs.Wanted == "" && cs.Found == "" && cs.Dimension == 0
	return plain && (cs.When.Text == string(when) || cs.When.Text == string(part.Differs))
}

func (c *checker) oneCase(a attributeDoc, cs caseDoc) {
	line := cs.When.Line
	oneOf(c, cs.When, "when", whens)
	oneOf(c, cs.Difference, "difference", differences)
	switch part.Difference(cs.Difference.Text) {
	case part.WontMount, part.WorksWrong:
		if cs.Effect == "" {
			c.wrong(line, "%s: %s needs the effect", a.Name.Text, cs.Difference.Text)
		}
	case part.Adaptable:
		if cs.Change == "" || cs.Minutes <= 0 {
			c.wrong(line, "%s: adaptable needs the change and its minutes", a.Name.Text)
		}
	case part.Minor:
		if cs.Note == "" {
			c.wrong(line, "%s: minor needs a note", a.Name.Text)
		}
	}
	for _, word := range []string{cs.Wanted, cs.Found} {
		if _, ok := a.Words[word]; word != "" && len(a.Words) > 0 && !ok {
			c.wrong(line, "%s: %q is not in its vocabulary", a.Name.Text, word)
		}
	}
	if cs.Dimension != 0 && a.Kind.Text != string(part.KindSize) {
		c.wrong(line, "%s: only a size has dimensions", a.Name.Text)
	}
	c.condition(line, cs.If)
}
