package app

import (
	"fmt"
	"strings"

	"crossbin/internal/fit"
	"crossbin/internal/part"
)

// Observed is one thing seen or measured on the vehicle, as typed.
type Observed struct {
	Attribute string `json:"attribute"`
	Value     string `json:"value"` // with its unit; "?" where it cannot be seen
	How       string `json:"how,omitempty"`
	By        string `json:"by,omitempty"`
	On        string `json:"on,omitempty"`
}

// ReadObserved reads "ribs=5" as it is typed on a command line.
func ReadObserved(text string) (Observed, error) {
	name, value, ok := strings.Cut(text, "=")
	if !ok || strings.TrimSpace(name) == "" || strings.TrimSpace(value) == "" {
		return Observed{}, &Error{Code: CodeInvalid, Message: fmt.Sprintf("%q is no measurement", text), Hint: "write it as ribs=5"}
	}
	return Observed{Attribute: strings.TrimSpace(name), Value: strings.TrimSpace(value)}, nil
}

// observed reads what was seen into values of the part type, and which
// attributes cannot be seen.
func observed(t part.Type, seen []Observed) (map[string]fit.Observation, map[string]bool, error) {
	out, hidden := map[string]fit.Observation{}, map[string]bool{}
	for _, o := range seen {
		a, ok := t.Attribute(part.FoldWord(o.Attribute))
		if !ok {
			return nil, nil, &Error{Code: CodeInvalid, Message: fmt.Sprintf("%s has no attribute %q", t.Name, o.Attribute), Hint: "known are " + attributeNames(t)}
		}
		if o.Value == "?" {
			hidden[a.Name] = true
			continue
		}
		v, err := part.ReadValue(a, o.Value)
		if err != nil {
			return nil, nil, &Error{Code: CodeInvalid, Message: fmt.Sprintf("%s %q cannot be read: %v", a.Name, o.Value, err), Cause: err}
		}
		out[a.Name] = fit.Observation{Value: v, By: o.By, How: o.How, On: o.On}
	}
	return out, hidden, nil
}

func attributeNames(t part.Type) string {
	names := make([]string, len(t.Attributes))
	for i, a := range t.Attributes {
		names[i] = a.Name
	}
	return strings.Join(names, ", ")
}
