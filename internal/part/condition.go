package part

import (
	"fmt"
	"strconv"
	"strings"
)

// Values of a condition with a meaning of their own.
const (
	ValueKnown  = "known"  // the fact or attribute is known of the vehicle
	ValueAgrees = "agrees" // the candidate's value of that attribute passes its comparison
)

// Clause is a condition of a case, read:
//
//	transmission=MT        a vehicle fact, or a wanted value of an attribute
//	main_fuse=known        somebody has looked
//	belt_line=agrees       the attribute compares well, whatever its cases say
//	main_fuse>=amps        the vehicle's number is at least the candidate's
//	core_room>=core_size.3 the same with the third number of a size
//	battery_count>=2       or with a fixed number, in the attribute's unit
type Clause struct {
	Name      string // vehicle fact or attribute, on the vehicle's side
	AtLeast   bool   // ">=" instead of "="
	Value     string // right-hand side: word, number or candidate's attribute
	Dimension int    // of the right-hand attribute, from 1
}

// ReadClause reads a condition. Errors say what was read.
func ReadClause(expr string) (Clause, error) {
	name, value, ok := strings.Cut(expr, ">=")
	atLeast := ok
	if !ok {
		name, value, ok = strings.Cut(expr, "=")
	}
	c := Clause{Name: strings.TrimSpace(name), AtLeast: atLeast, Value: strings.TrimSpace(value), Dimension: 1}
	if !ok || c.Name == "" || c.Value == "" {
		return Clause{}, fmt.Errorf("condition %q is not of the form name=value or name>=value", expr)
	}
	if !atLeast {
		return c, nil
	}
	if attribute, dimension, ok := strings.Cut(c.Value, "."); ok {
		if n, err := strconv.Atoi(dimension); err == nil && n > 0 && !c.Fixed() {
			c.Value, c.Dimension = attribute, n
		}
	}
	return c, nil
}

// Fixed reports whether the right-hand side is a number.
func (c Clause) Fixed() bool {
	_, err := strconv.ParseFloat(c.Value, 64)
	return err == nil
}

// Explain says a condition in words for people: "rating of the main fuse is at
// least the rated output". What cannot be read is given back as it is.
func (t Type) Explain(expr string) string {
	c, err := ReadClause(expr)
	if err != nil {
		return expr
	}
	left, unit := c.Name, ""
	if a, ok := t.Attribute(c.Name); ok {
		left, unit = a.Title, a.Unit
	}
	switch right, ok := t.Attribute(c.Value); {
	case c.AtLeast && ok && right.Kind == KindSize:
		return fmt.Sprintf("%s is at least number %d of the %s", left, c.Dimension, right.Title)
	case c.AtLeast && ok:
		return left + " is at least the " + right.Title
	case c.AtLeast:
		return strings.TrimSpace(left + " is at least " + c.Value + " " + unit)
	case c.Value == ValueKnown, c.Value == ValueAgrees:
		return left + map[string]string{ValueKnown: " is known", ValueAgrees: " agrees"}[c.Value]
	}
	return left + ": " + c.Value
}

// Ask is where a condition looks things up; every function reports false where
// nobody knows.
type Ask struct {
	Fact   func(name string) (value string, known bool)
	Wanted func(attribute string) (Value, bool) // the vehicle's side: what was seen there, else the part that came off
	Found  func(attribute string) (Value, bool) // the candidate's side
}

// Condition makes the condition that Compare asks, for one candidate. What
// cannot be read is unknown.
func (t Type) Condition(ask Ask) Condition {
	return func(expr string) (holds, known bool) {
		c, err := ReadClause(expr)
		if err != nil {
			return false, false
		}
		a, ok := t.Attribute(c.Name)
		if !ok {
			value, known := ask.Fact(c.Name)
			return c.Value == ValueKnown || strings.EqualFold(value, c.Value), known
		}
		return c.holds(a, ask)
	}
}

func (c Clause) holds(a Attribute, ask Ask) (holds, known bool) {
	wanted, known := ask.Wanted(a.Name)
	switch {
	case !known:
		return false, false
	case c.AtLeast:
		return c.reaches(wanted, ask)
	case c.Value == ValueKnown:
		return true, true
	case c.Value == ValueAgrees:
		found, known := ask.Found(a.Name)
		if !known {
			return false, false
		}
		return Agrees(a, wanted, found)
	}
	right, err := ReadValue(a, c.Value)
	return err == nil && wanted.Same(right), err == nil
}

// reaches holds the vehicle's number against the right-hand side.
func (c Clause) reaches(wanted Value, ask Ask) (holds, known bool) {
	if len(wanted.Numbers) == 0 {
		return false, false
	}
	if limit, err := strconv.ParseFloat(c.Value, 64); err == nil {
		return wanted.Numbers[0]+lost >= limit, true
	}
	found, known := ask.Found(c.Value)
	if !known || len(found.Numbers) < c.Dimension {
		return false, false
	}
	return wanted.Numbers[0]+lost >= found.Numbers[c.Dimension-1], true
}
