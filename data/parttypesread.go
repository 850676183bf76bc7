package data

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"

	"crossbin/internal/part"
)

// term is a short text of a file that knows its line.
type term struct {
	Text string
	Line int
}

// UnmarshalYAML takes one scalar.
func (t *term) UnmarshalYAML(node ast.Node) error {
	scalar, ok := node.(ast.ScalarNode)
	if !ok {
		return shapeError{node.GetToken().Position.Line}
	}
	token := scalar.GetToken()
	t.Text, t.Line = token.Value, token.Position.Line
	return nil
}

// shapeError is a list or a table where one word was wanted.
type shapeError struct{ line int }

func (e shapeError) Error() string { return fmt.Sprintf("line %d: one word wanted", e.line) }

// The shape of a part type file.
type typeDoc struct {
	Name       term            `yaml:"name"`
	Words      []term          `yaml:"words"`
	NotWith    []string        `yaml:"not_followed_by"`
	RidesOn    term            `yaml:"rides_on"`
	SplitBy    []term          `yaml:"split_by"`
	HighCare   bool            `yaml:"high_care"`
	AnsweredBy map[string]term `yaml:"answered_by"`
	GoesWith   []string        `yaml:"goes_with"`
	Cautions   []cautionDoc    `yaml:"cautions"`
	Attributes []attributeDoc  `yaml:"attributes"`
}

type cautionDoc struct {
	Text   term `yaml:"text"`
	Source term `yaml:"source"`
}

type attributeDoc struct {
	Name       term                `yaml:"name"`
	Title      string              `yaml:"title"`
	Kind       term                `yaml:"kind"`
	Unit       term                `yaml:"unit"`
	RidesOn    term                `yaml:"rides_on"`
	Needed     bool                `yaml:"needed"`
	OnVehicle  sightDoc            `yaml:"on_vehicle"`
	OffVehicle sightDoc            `yaml:"off_vehicle"`
	Typical    []float64           `yaml:"typical"`
	Words      map[string][]string `yaml:"words"`
	Compare    term                `yaml:"compare"`
	Tolerance  float64             `yaml:"tolerance"`
	Percent    float64             `yaml:"percent"`
	Cases      []caseDoc           `yaml:"cases"`
}

type sightDoc struct {
	How    string `yaml:"how"`
	Effort int    `yaml:"effort"`
}

type caseDoc struct {
	When       term     `yaml:"when"`
	Wanted     string   `yaml:"wanted"`
	Found      string   `yaml:"found"`
	Dimension  int      `yaml:"dimension"`
	Over       float64  `yaml:"over"`
	If         string   `yaml:"if"`
	Difference term     `yaml:"difference"`
	Effect     string   `yaml:"effect"`
	Change     string   `yaml:"change"`
	Minutes    int      `yaml:"minutes"`
	Pieces     []string `yaml:"pieces"`
	Note       string   `yaml:"note"`
}

// readType reads and checks one file.
func readType(file string, text []byte) (typeDoc, error) {
	var doc typeDoc
	err := yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(&doc)
	var where yaml.Error
	if errors.As(err, &where) && where.GetToken() != nil {
		return doc, mistake(file, where.GetToken().Position.Line, "%s", where.GetMessage())
	}
	var shape shapeError
	if errors.As(err, &shape) {
		return doc, mistake(file, shape.line, "one word wanted, not a list or a table")
	}
	if err != nil {
		return doc, fmt.Errorf("%s: %w", file, err)
	}
	return doc, checkType(file, doc)
}

func (d typeDoc) partType() part.Type {
	t := part.Type{
		Name: d.Name.Text, RidesOn: part.RidesOn(d.RidesOn.Text), HighCare: d.HighCare,
		AnsweredBy: map[string]string{}, GoesWith: d.GoesWith,
	}
	for _, w := range d.Words {
		t.Words = append(t.Words, w.Text)
	}
	for _, f := range d.SplitBy {
		t.SplitBy = append(t.SplitBy, f.Text)
	}
	for fact, attribute := range d.AnsweredBy {
		t.AnsweredBy[fact] = attribute.Text
	}
	for _, c := range d.Cautions {
		t.Cautions = append(t.Cautions, part.Caution{Text: c.Text.Text, Source: c.Source.Text})
	}
	for _, a := range d.Attributes {
		t.Attributes = append(t.Attributes, a.attribute(t.RidesOn))
	}
	return t
}

// attribute gives the typed form; without a rides_on of its own an attribute
// rides on what its type rides on.
func (d attributeDoc) attribute(ridesOn part.RidesOn) part.Attribute {
	if d.RidesOn.Text != "" {
		ridesOn = part.RidesOn(d.RidesOn.Text)
	}
	a := part.Attribute{
		Name: d.Name.Text, Title: d.Title, Kind: part.Kind(d.Kind.Text), Unit: d.Unit.Text,
		RidesOn: ridesOn, Needed: d.Needed, Compare: part.Comparison(d.Compare.Text),
		OnVehicle: part.Sight(d.OnVehicle), OffVehicle: part.Sight(d.OffVehicle),
		Tolerance: d.Tolerance, Percent: d.Percent, Typical: d.Typical,
		Words: slices.Sorted(maps.Keys(d.Words)), Synonyms: map[string]string{},
	}
	for own, others := range d.Words {
		for _, o := range others {
			a.Synonyms[part.FoldWord(o)] = own
		}
	}
	for _, c := range d.Cases {
		a.Cases = append(a.Cases, part.Case{
			When: part.When(c.When.Text), Wanted: c.Wanted, Found: c.Found, Dimension: c.Dimension, Over: c.Over, If: c.If,
			Difference: part.Difference(c.Difference.Text), Effect: c.Effect, Change: c.Change, Minutes: c.Minutes,
			Pieces: c.Pieces, Note: c.Note,
		})
	}
	return a
}
