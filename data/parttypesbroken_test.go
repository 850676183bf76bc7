package data

import (
	"strings"
	"testing"
	"testing/fstest"
)

const soundType = `name: belt
words: [v belt, ベルト]
not_followed_by: [cover]
rides_on: engine
split_by: [engine, "option:ac"]
answered_by: {transmission: ribs}
cautions:
  - text: Keep hands away.
    source: common practice, no source
attributes:
  - name: ribs
    title: ribs
    kind: number
    unit: count
    on_vehicle: {how: count, effort: 1}
    compare: equal
    cases:
      - {when: more, over: 1, if: length=agrees, difference: adaptable, change: swap, minutes: 5}
      - {when: differs, difference: wont_mount, effect: too wide}
  - name: length
    title: length
    kind: range
    unit: mm
    off_vehicle: {how: print, effort: 1}
    typical: [400, 3500]
    compare: in_range
    tolerance: 3
    cases:
      - {when: differs, if: "length>=ribs", difference: minor, note: near}
      - {when: differs, difference: wont_mount, effect: wrong length}
  - name: section
    title: section
    kind: word
    rides_on: wiring
    words: {pk: [ribbed], v: []}
    off_vehicle: {how: print, effort: 1}
    compare: equal
    cases:
      - {when: differs, wanted: pk, found: v, difference: works_wrong, effect: slips}
      - {when: differs, difference: wont_mount, effect: does not fit}
`

func load(text string) (*Types, error) {
	return loadTypes(fstest.MapFS{"parttypes/belt.yaml": {Data: []byte(text)}})
}

func TestASoundFileLoads(t *testing.T) {
	types, err := load(soundType)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := types.ByName("belt")
	if a, _ := p.Attribute("section"); a.Synonyms["ribbed"] != "pk" || a.RidesOn != "wiring" || len(a.Words) != 2 {
		t.Errorf("got %+v", a)
	}
	if a, _ := p.Attribute("ribs"); a.RidesOn != "engine" || a.Cases[0].Over != 1 || a.Cases[0].Minutes != 5 {
		t.Errorf("got %+v", a)
	}
}

// Each mistake is told with the line that it stands on.
func TestMistakesAreToldByLine(t *testing.T) {
	for _, tt := range []struct {
		name, old, new string
		line, says     string
	}{
		{"unknown key", "    title: ribs", "    titel: ribs", ":12:", "titel"},
		{"wrong shape", "    unit: count", "    unit: [count]", ":14:", "one word"},
		{"unreadable", "  - name: length", "\t- name: length", ":20:", ""},
		{"another file's name", "name: belt", "name: strap", ":1:", "strap"},
		{"unknown rides-on", "rides_on: engine", "rides_on: motor", ":4:", `"motor"`},
		{"unknown rides-on of an attribute", "    rides_on: wiring", "    rides_on: harness", ":34:", `"harness"`},
		{"unknown fact", "split_by: [engine", "split_by: [motor", ":5:", `"motor"`},
		{"option without a name", `"option:ac"`, `"option:"`, ":5:", `"option:"`},
		{"model code", "split_by: [engine", "split_by: [model_code", ":5:", "model_code"},
		{"answer of an unknown fact", "{transmission: ribs}", "{gears: ribs}", ":6:", `"gears"`},
		{"answer by an unknown attribute", "{transmission: ribs}", "{transmission: pleats}", ":6:", `"pleats"`},
		{"caution without a source", "    source: common practice, no source", `    source: ""`, ":8:", "source"},
		{"unknown kind", "    kind: number", "    kind: figure", ":13:", `"figure"`},
		{"unknown unit", "    unit: count", "    unit: furlong", ":14:", `"furlong"`},
		{"no unit", "    unit: count\n", "", ":11:", "needs a unit"},
		{"unit of a word", "    kind: word\n", "    kind: word\n    unit: mm\n", ":34:", "has no unit"},
		{"vocabulary of a number", "    kind: number\n", "    kind: number\n    words: {five: []}\n", ":11:", "vocabulary"},
		{"effort", "effort: 1}\n    compare: equal\n    cases:\n      - {when: more", "effort: 6}\n    compare: equal\n    cases:\n      - {when: more", ":11:", "effort"},
		{"effort without how", "{how: count, effort: 1}", "{effort: 1}", ":11:", "how"},
		{"seen nowhere", "    on_vehicle: {how: count, effort: 1}\n", "", ":11:", "nowhere"},
		{"typical upside down", "[400, 3500]", "[3500, 400]", ":20:", "typical"},
		{"unknown comparison", "    compare: in_range", "    compare: between", ":26:", `"between"`},
		{"comparison of another kind", "    compare: in_range", "    compare: within", ":26:", "not range"},
		{"within without tolerance", "    compare: equal\n    cases:\n      - {when: more", "    compare: within\n    cases:\n      - {when: more", ":16:", "tolerance"},
		{"unknown when", "{when: more,", "{when: bigger,", ":18:", `"bigger"`},
		{"unknown difference", "difference: adaptable", "difference: fixable", ":18:", `"fixable"`},
		{"adaptable without change", "change: swap, minutes: 5", "minutes: 5", ":18:", "change"},
		{"adaptable without minutes", "change: swap, minutes: 5", "change: swap", ":18:", "minutes"},
		{"deciding without effect", ", effect: too wide", "", ":19:", "effect"},
		{"minor without note", ", note: near", "", ":29:", "note"},
		{"unreadable condition", "if: length=agrees", "if: length", ":18:", "name=value"},
		{"condition on nothing known", "if: length=agrees", "if: pleats=agrees", ":18:", `"pleats"`},
		{"condition against nothing known", `"length>=ribs"`, `"length>=pleats"`, ":29:", `"pleats"`},
		{"fact with nothing to agree with", "if: length=agrees", "if: engine=agrees", ":18:", "agree"},
		{"a fact is no number", `"length>=ribs"`, `"engine>=3"`, ":29:", `"engine"`},
		{"word outside the vocabulary", "wanted: pk", "wanted: flat", ":39:", `"flat"`},
		{"dimension of a number", "{when: more, over: 1", "{when: more, dimension: 2, over: 1", ":18:", "dimensions"},
		{"a difference that nobody speaks of", "      - {when: differs, difference: wont_mount, effect: too wide}\n", "", ":16:", "would pass"},
		{"name of a fact", "  - name: section", "  - name: drive", ":31:", "vehicle fact"},
		{"twice", "  - name: section", "  - name: ribs", ":31:", "twice"},
		{"no title", "    title: section\n", "", ":31:", "title"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(soundType, tt.old) {
				t.Fatalf("nothing to break: %q", tt.old)
			}
			_, err := load(strings.Replace(soundType, tt.old, tt.new, 1))
			if err == nil || !strings.Contains(err.Error(), "parttypes/belt.yaml"+tt.line) || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want line %s %s", err, tt.line, tt.says)
			}
		})
	}
}

func TestEveryMistakeIsTold(t *testing.T) {
	broken := strings.Replace(strings.Replace(soundType, "kind: word", "kind: term", 1), "unit: count", "unit: pleats", 1)
	_, err := load(broken)
	if err == nil || !strings.Contains(err.Error(), `"term"`) || !strings.Contains(err.Error(), `"pleats"`) {
		t.Errorf("got %v", err)
	}
}

func TestTypesThatQuarrel(t *testing.T) {
	if _, err := loadTypes(fstest.MapFS{}); err == nil {
		t.Error("no files, no mistake")
	}
	other := strings.Replace(soundType, "name: belt", "name: strap", 1)
	_, err := loadTypes(fstest.MapFS{"parttypes/belt.yaml": {Data: []byte(soundType)}, "parttypes/strap.yaml": {Data: []byte(other)}})
	if err == nil || !strings.Contains(err.Error(), "parttypes/strap.yaml:2:") {
		t.Errorf("two types with one word: got %v", err)
	}
	noAttributes := soundType[:strings.Index(soundType, "attributes:")]
	if _, err := load(strings.Replace(noAttributes, "answered_by: {transmission: ribs}\n", "", 1)); err == nil || !strings.Contains(err.Error(), "no attributes") {
		t.Errorf("got %v", err)
	}
}
