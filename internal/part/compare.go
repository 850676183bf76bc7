package part

// Outcome is what the comparison of one attribute says of a candidate.
type Outcome struct {
	Attribute  string
	Wanted     string
	Found      string
	Agrees     bool
	Difference Difference // where it does not agree
	Case       Case       // the case that matched
	Open       string     // the condition of a case that nobody knows yet: a look, not an answer
}

// Condition tells whether a condition of a case holds; known is false where
// nobody knows. Type.Condition makes one.
type Condition func(expr string) (holds, known bool)

// Compare holds a candidate's value against the wanted one. Cases are tried in
// their order; a case whose condition is unknown makes the outcome Open, and so
// does a value that is not there or only half given (a size without its depth,
// a thread without its pitch). A direction that agrees (more than at_least
// asks) still goes through the cases, because a part type may have something to
// say to it; a case "differs" does not speak of it.
func Compare(a Attribute, wanted, found Value, cond Condition) Outcome {
	out := Outcome{Attribute: a.Name, Wanted: wanted.String(), Found: found.String()}
	h := hold(a, wanted, found)
	for _, c := range a.Cases {
		if !h.matches(c) {
			continue
		}
		if c.If != "" {
			holds, known := cond(c.If)
			if !known {
				out.Open = c.If
				return out
			}
			if !holds {
				continue
			}
		}
		out.Difference, out.Case = c.Difference, c
		return out
	}
	if h.open {
		out.Open = a.Name + "=" + ValueKnown
		return out
	}
	out.Agrees = true // nothing fails, or no case speaks of it: information only
	return out
}

// Agrees reports whether a candidate's value passes the bare comparison,
// without a look at the cases; known is false where a value is missing or only
// half given.
func Agrees(a Attribute, wanted, found Value) (agrees, known bool) {
	h := hold(a, wanted, found)
	for _, f := range h.fails {
		if !f.agrees {
			return false, true
		}
	}
	return true, !h.open
}

// held is the result of a bare comparison: the ways in which it fails or could
// be spoken of, and whether something needed was not known.
type held struct {
	fails []fail
	open  bool
}

// fail is one way in which the found value is not the wanted one.
type fail struct {
	when          When
	by            float64 // in the attribute's unit; 0 for words
	dimension     int     // of a size, from 1
	wanted, found string  // the words in question
	agrees        bool    // differs in a direction that the comparison allows
}

func (h held) matches(c Case) bool {
	for _, f := range h.fails {
		if f.matches(c) {
			return true
		}
	}
	return false
}

func (f fail) matches(c Case) bool {
	if c.When != f.when && (c.When != Differs || f.agrees) {
		return false
	}
	if c.Wanted != "" && c.Wanted != f.wanted || c.Found != "" && c.Found != f.found {
		return false
	}
	if c.Dimension != 0 && c.Dimension != f.dimension {
		return false
	}
	return c.Over == 0 || f.by > c.Over+lost
}
