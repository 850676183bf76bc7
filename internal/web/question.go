package web

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
	"crossbin/internal/vehicle"
)

// Limits of what is typed: the longest honest value is a full model designation
// of about 60 characters, and no vehicle has 32 options worth naming.
const (
	maxValue  = 200
	maxValues = 32
)

// Prefixes of fields that there can be many of: option_ac=yes, seen_ribs=5.
const (
	optionPrefix = "option_"
	seenPrefix   = "seen_"
)

// cannotSee is the value of an attribute that was looked for and cannot be seen.
const cannotSee = "?"

// question is what a person asked so far: the request, and the facts that they
// said cannot be seen, which are not asked again.
type question struct {
	app.FitRequest
	Unseen []string
}

// texts are the fields that hold one text, by their name in the address, in the
// order in which addresses are written.
func (q *question) texts() []struct {
	name string
	at   *string
} {
	return []struct {
		name string
		at   *string
	}{
		{"type", &q.Type}, {"frame", &q.Frame}, {"vin", &q.VIN}, {"maker", &q.Maker}, {"model", &q.Model}, {"model_code", &q.ModelCode},
		{"engine", &q.Engine}, {"engine_how", &q.EngineHow}, {"built", &q.Built}, {"built_how", &q.BuiltHow},
		{"transmission", &q.Transmission}, {"drive", &q.Drive}, {"side", &q.Side}, {"turbo", &q.Turbo}, {"market", &q.Market},
		{"part", &q.Part}, {"part_maker", &q.PartMaker},
	}
}

// readQuestion reads the address. Parameters that no field has are left alone.
func readQuestion(values url.Values) (question, error) {
	var q question
	for _, f := range q.texts() {
		v := strings.TrimSpace(values.Get(f.name))
		if err := checkValue(f.name, v); err != nil {
			return q, err
		}
		*f.at = v
	}
	for _, l := range []struct {
		name string
		to   *[]string
	}{{"with", &q.With}, {"without", &q.Without}, {"unseen", &q.Unseen}} {
		for _, v := range values[l.name] {
			*l.to = append(*l.to, strings.FieldsFunc(v, func(r rune) bool { return r == ',' || r == ' ' })...)
		}
	}
	for _, name := range sortedKeys(values) {
		if o, ok := strings.CutPrefix(name, optionPrefix); ok && o != "" {
			q.setOption(o, values.Get(name))
		}
		if a, ok := strings.CutPrefix(name, seenPrefix); ok && a != "" {
			q = q.saw(a, strings.TrimSpace(values.Get(name)))
		}
	}
	return q, q.checkLists()
}

func sortedKeys(values url.Values) []string {
	var out []string
	for k := range values {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (q *question) checkLists() error {
	for _, l := range []*[]string{&q.With, &q.Without, &q.Unseen} {
		slices.Sort(*l)
		*l = slices.Compact(*l)
		if len(*l) > maxValues {
			return &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("more than %d options at once", maxValues), Hint: "name only what matters to this part"}
		}
		for _, v := range *l {
			if err := checkValue("an option", v); err != nil {
				return err
			}
		}
	}
	if len(q.Observed) > maxValues {
		return &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("more than %d measurements at once", maxValues), Hint: "leave out what changes nothing"}
	}
	for _, o := range q.Observed {
		if err := errors.Join(checkValue("an attribute", o.Attribute), checkValue("what was seen", o.Value)); err != nil {
			return err
		}
	}
	return nil
}

// checkValue bounds one value from outside.
func checkValue(name, v string) error {
	switch {
	case !utf8.ValidString(v) || strings.ContainsFunc(v, unicode.IsControl):
		return &app.Error{Code: app.CodeInvalid, Message: strings.ReplaceAll(name, "_", " ") + " holds characters that cannot be typed", Hint: "type it again"}
	case utf8.RuneCountInString(v) > maxValue:
		return &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("%s is longer than %d characters", strings.ReplaceAll(name, "_", " "), maxValue), Hint: "type the value alone"}
	}
	return nil
}

func (q *question) setOption(o, answer string) {
	q.With = without(q.With, o)
	q.Without = without(q.Without, o)
	switch answer {
	case "yes":
		q.With = append(q.With, o)
	case "no":
		q.Without = append(q.Without, o)
	}
}

func without(list []string, s string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(x string) bool { return x == s })
}

// option tells what was said of an option: yes, no, or nothing.
func (q question) option(o string) string {
	switch {
	case slices.Contains(q.With, o):
		return "yes"
	case slices.Contains(q.Without, o):
		return "no"
	}
	return ""
}

// namesVehicle reports whether anything was said of the vehicle.
func (q question) namesVehicle() bool {
	return q.Frame+q.VIN+q.Maker+q.Model+q.ModelCode+q.Engine+q.Built+q.Transmission+q.Drive+q.Side+q.Turbo+q.Market != ""
}

// blank reports whether nothing was asked at all.
func (q question) blank() bool {
	return !q.namesVehicle() && q.Type == "" && q.Part == "" && len(q.With)+len(q.Without) == 0
}

// address gives the address of the question.
func (q question) address() string {
	values := url.Values{}
	for _, f := range q.texts() {
		if *f.at != "" {
			values.Set(f.name, *f.at)
		}
	}
	for _, o := range q.With {
		values.Set(optionPrefix+o, "yes")
	}
	for _, o := range q.Without {
		values.Set(optionPrefix+o, "no")
	}
	for _, o := range q.Observed {
		values.Set(seenPrefix+o.Attribute, o.Value)
	}
	if len(q.Unseen) > 0 {
		values.Set("unseen", strings.Join(q.Unseen, ","))
	}
	return "/?" + values.Encode()
}

// answered gives the question with one more fact known; ok is false for facts
// whose values cannot be picked from a few.
func (q question) answered(f vehicle.Fact, value string) (next question, ok bool) {
	next = q
	if o, isOption := f.Option(); isOption {
		answer := strings.ToLower(value)
		next.setOption(o, answer)
		return next, answer == "yes" || answer == "no"
	}
	c, known := closedFacts[f]
	if !known || !slices.Contains(c.values, value) {
		return q, false
	}
	*c.at(&next) = value
	return next, true
}

// saw gives the question with an attribute seen or measured on the vehicle, in
// the order of attributes; an empty value takes it back.
func (q question) saw(attribute, value string) question {
	q.Observed = slices.DeleteFunc(slices.Clone(q.Observed), func(o app.Observed) bool { return o.Attribute == attribute })
	if value != "" {
		q.Observed = append(q.Observed, app.Observed{Attribute: attribute, Value: value})
	}
	slices.SortFunc(q.Observed, func(a, b app.Observed) int { return strings.Compare(a.Attribute, b.Attribute) })
	return q
}

// closedFact is a fact with a few values.
type closedFact struct {
	values []string
	at     func(*question) *string
}

var closedFacts = map[vehicle.Fact]closedFact{
	vehicle.FactTransmission: {[]string{"AT", "MT", "CVT"}, func(q *question) *string { return &q.Transmission }},
	vehicle.FactDrive:        {[]string{"2WD", "4WD"}, func(q *question) *string { return &q.Drive }},
	vehicle.FactSide:         {[]string{"RHD", "LHD"}, func(q *question) *string { return &q.Side }},
	vehicle.FactTurbo:        {[]string{"yes", "no"}, func(q *question) *string { return &q.Turbo }},
}

// notSeen gives the question with a fact marked as one that cannot be seen.
func (q question) notSeen(name string) question {
	q.Unseen = append(without(q.Unseen, name), name)
	slices.Sort(q.Unseen)
	return q
}
