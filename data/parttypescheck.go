package data

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

var (
	ridesOnWords = []part.RidesOn{part.OnEngine, part.OnBody, part.OnGearbox, part.OnAxle, part.OnWiring}
	factNames    = []vehicle.Fact{
		vehicle.FactMaker, vehicle.FactModel, vehicle.FactModelCode, vehicle.FactPrefix, vehicle.FactEngine,
		vehicle.FactSerial, vehicle.FactBuilt, vehicle.FactSide, vehicle.FactTransmission, vehicle.FactDrive,
		vehicle.FactTurbo, vehicle.FactMarket,
	}
)

// checker collects what is wrong with one file.
type checker struct {
	file string
	doc  typeDoc
	errs []error
}

func (c *checker) wrong(line int, format string, args ...any) {
	c.errs = append(c.errs, mistake(c.file, max(line, 1), format, args...))
}

// oneOf checks a word of a fixed vocabulary.
func oneOf[T ~string](c *checker, t term, what string, words []T) {
	if !slices.Contains(words, T(t.Text)) {
		c.wrong(t.Line, "unknown %s %q: one of %q", what, t.Text, words)
	}
}

func knownFact(name string) bool {
	if option, ok := vehicle.Fact(name).Option(); ok {
		return option != ""
	}
	return slices.Contains(factNames, vehicle.Fact(name))
}

// checkType checks all that the decoder cannot.
func checkType(file string, doc typeDoc) error {
	c := &checker{file: file, doc: doc}
	if doc.Name.Text == "" || fileName(doc.Name.Text) != file {
		c.wrong(doc.Name.Line, "name %q does not belong in this file, which would be %s", doc.Name.Text, fileName(doc.Name.Text))
	}
	oneOf(c, doc.RidesOn, "rides_on", ridesOnWords)
	c.facts()
	for _, caution := range doc.Cautions {
		if caution.Text.Text == "" || caution.Source.Text == "" {
			c.wrong(caution.Text.Line, "a caution needs text and source")
		}
	}
	if len(doc.Attributes) == 0 {
		c.wrong(doc.Name.Line, "no attributes")
	}
	seen := map[string]bool{}
	for _, a := range doc.Attributes {
		if seen[a.Name.Text] {
			c.wrong(a.Name.Line, "attribute %q stands here twice", a.Name.Text)
		}
		seen[a.Name.Text] = true
		c.attribute(a)
	}
	return errors.Join(c.errs...)
}

func (c *checker) facts() {
	for _, f := range c.doc.SplitBy {
		if !knownFact(f.Text) {
			c.wrong(f.Line, "unknown fact %q", f.Text)
		}
		if vehicle.Fact(f.Text) == vehicle.FactModelCode {
			c.wrong(f.Line, "model_code splits every part type: name the fact behind it")
		}
	}
	for _, fact := range slices.Sorted(maps.Keys(c.doc.AnsweredBy)) {
		attribute := c.doc.AnsweredBy[fact]
		if !knownFact(fact) {
			c.wrong(attribute.Line, "unknown fact %q", fact)
		}
		if !c.hasAttribute(attribute.Text) {
			c.wrong(attribute.Line, "no attribute %q to answer %s", attribute.Text, fact)
		}
	}
}

func (c *checker) hasAttribute(name string) bool {
	return slices.ContainsFunc(c.doc.Attributes, func(a attributeDoc) bool { return a.Name.Text == name })
}

// condition checks the condition of a case.
func (c *checker) condition(line int, expr string) {
	if expr == "" {
		return
	}
	clause, err := part.ReadClause(expr)
	switch {
	case err != nil:
		c.wrong(line, "%s", err)
	case !c.hasAttribute(clause.Name) && (clause.AtLeast || !knownFact(clause.Name)):
		c.wrong(line, "condition %q: no attribute or fact %q", expr, clause.Name)
	case clause.AtLeast && !clause.Fixed() && !c.hasAttribute(clause.Value):
		c.wrong(line, "condition %q: no attribute %q", expr, clause.Value)
	case clause.Value == part.ValueAgrees && !c.hasAttribute(clause.Name):
		c.wrong(line, "condition %q: a vehicle fact has nothing to agree with", expr)
	}
}

func quoted[T ~string](words []T) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = string(w)
	}
	return strings.Join(texts, ", ")
}
