package api

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
)

// Limits of one value. The longest honest value is a full model designation of
// about 60 characters; a search may be a sentence.
const (
	maxValue   = 200 // characters
	maxOptions = 32  // options with or without, far above what a vehicle has
)

// params are the query parameters of a request, each known and within bounds.
type params struct{ values url.Values }

// readParams refuses parameters that the resource does not know: a misspelt
// fact that is dropped in silence would change the answer.
func readParams(r *http.Request, known []string) (params, error) {
	values, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return params{}, &app.Error{Code: app.CodeInvalid, Message: "the query in the address cannot be read", Cause: err,
			Hint: "write special characters as %XX, a plus as %2B"}
	}
	for _, name := range sortedKeys(values) {
		if !slices.Contains(known, name) {
			return params{}, unknownName("parameter", name, known)
		}
		for _, v := range values[name] {
			if err := checkText(name, v); err != nil {
				return params{}, err
			}
		}
	}
	return params{values}, nil
}

func sortedKeys[T any](m map[string]T) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// checkText bounds one value from outside.
func checkText(name, v string) error {
	switch {
	case !utf8.ValidString(v):
		return &app.Error{Code: app.CodeInvalid, Message: name + " is not UTF-8 text", Hint: "send UTF-8"}
	case utf8.RuneCountInString(v) > maxValue:
		return &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("%s is longer than %d characters", name, maxValue),
			Hint: "send the value alone"}
	case strings.ContainsFunc(v, unicode.IsControl):
		return &app.Error{Code: app.CodeInvalid, Message: name + " holds a control character", Hint: "send one line of text"}
	}
	return nil
}

// one gives a parameter that may stand once; "" where it is missing.
func (p params) one(name string) (string, error) {
	switch v := p.values[name]; len(v) {
	case 0:
		return "", nil
	case 1:
		return strings.TrimSpace(v[0]), nil
	}
	return "", &app.Error{Code: app.CodeInvalid, Message: name + " stands twice in the query", Hint: "send it once"}
}

// many gives a parameter that may be repeated or hold commas.
func (p params) many(name string) ([]string, error) {
	var out []string
	for _, v := range p.values[name] {
		for _, piece := range strings.Split(v, ",") {
			if s := strings.TrimSpace(piece); s != "" {
				out = append(out, s)
			}
		}
	}
	return out, checkCount(name, len(out))
}

func checkCount(name string, n int) error {
	if n > maxOptions {
		return &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("%s holds %d values, above the limit of %d", name, n, maxOptions),
			Hint: "name only what matters to this part"}
	}
	return nil
}

// yes gives a parameter that is on or off.
func (p params) yes(name string) (bool, error) {
	v, err := p.one(name)
	switch {
	case err != nil:
		return false, err
	case v == "1" || v == "true":
		return true, nil
	case v == "" || v == "0" || v == "false":
		return false, nil
	}
	return false, &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("%s is %q, which is neither on nor off", name, v), Hint: "send " + name + "=1 or leave it out"}
}

// number gives a whole number between two bounds, and a default where missing.
func (p params) number(name string, least, most, otherwise int) (int, error) {
	v, err := p.one(name)
	if err != nil || v == "" {
		return otherwise, err
	}
	n, err := strconv.Atoi(v)
	if err != nil || n < least || n > most {
		return 0, &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("%s is %q, which is no whole number from %d to %d", name, v, least, most), Cause: err}
	}
	return n, nil
}
