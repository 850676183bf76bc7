package importers

import (
	"slices"
	"strings"

	"crossbin/internal/vehicle"
)

// factWords reads a column of plain words for one fact: AT, 4WD, RHD, with.
func (w Words) factWords(fact vehicle.Fact, text string) clauses {
	values := w.facts[string(fact)]
	if m := values.of(text); len(m) > 0 {
		return factValues(fact, m[0])
	}
	tri := fact == vehicle.FactTurbo || strings.HasPrefix(string(fact), "option:")
	if tri && w.marks.is(text, markYes) {
		return only(factValue{fact, "yes"})
	}
	if tri && w.marks.is(text, markNo) {
		return only(factValue{fact, "no"})
	}
	var out clauses
	pieces := splitAlternatives(text)
	for _, p := range pieces {
		m := values.of(p)
		if len(m) == 0 || len(pieces) == 1 {
			return refuse("clause_unread", "a word for %s that is known, such as %s; %q is none", fact, strings.Join(w.known(fact), ", "), text)
		}
		if m[0] == factEither {
			return clauses{}
		}
		out.alts = append(out.alts, clause{facts: []factValue{{fact, m[0]}}})
	}
	return out
}

// known lists the values of a fact, for messages.
func (w Words) known(fact vehicle.Fact) []string {
	var out []string
	for _, m := range w.facts[string(fact)].whole {
		if m[0] != factEither {
			out = append(out, m[0])
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func factValues(fact vehicle.Fact, value string) clauses {
	if value == factEither {
		return clauses{}
	}
	return only(factValue{fact, value})
}

// optionFacts are the facts that a cell of options may name, in this order.
var optionFacts = []vehicle.Fact{vehicle.OptionFact("ac"), vehicle.OptionFact("cold"), vehicle.FactTurbo, vehicle.FactTransmission, vehicle.FactDrive, vehicle.FactSide}

// options reads a list of options, all of which the vehicle must have: "with
// A/C, cold region".
func (w Words) options(text string) clauses {
	if c, ok := w.option(text); ok {
		return c
	}
	out := clause{}
	for _, piece := range splitAll(text) {
		c, ok := w.option(piece)
		if !ok {
			return refuse("clause_unread", "options that are known (air conditioning, cold region, turbo, gearbox, driven wheels, drive side); %q is none", piece)
		}
		for _, a := range c.alts {
			out.facts = append(out.facts, a.facts...)
		}
	}
	if len(out.facts) == 0 {
		return clauses{}
	}
	return clauses{alts: []clause{out}}
}

func (w Words) option(text string) (clauses, bool) {
	for _, fact := range optionFacts {
		if m := w.facts[string(fact)].of(text); len(m) > 0 {
			return factValues(fact, m[0]), true
		}
	}
	return clauses{}, false
}

// splitAll divides a list whose members all hold.
func splitAll(text string) []string {
	var out []string
	for _, p := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",;+&\n、，；", r) }) {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}
