package web

import (
	"slices"
	"strconv"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// lookView is one observation that would tell the tags apart, with a way to
// answer it where the answer is one of a few.
type lookView struct {
	Title, Where, Effort string
	Results              []resultView
	CannotSee            string // address of the page that does not ask it again
}

type resultView struct {
	Value   string
	Leaves  string // "leaves tag 1 and 3"
	Address string // "" where it cannot be picked
}

// unknown is a fact that splits the part type and is asked for without a look.
type unknown struct {
	Title   string
	Results []resultView
}

// open leaves out the looks that were taken already, whether something was seen
// or not.
func open(looks []fit.Look, q question) []fit.Look {
	return slices.DeleteFunc(slices.Clone(looks), func(l fit.Look) bool {
		return slices.Contains(q.Unseen, l.Attribute) || slices.ContainsFunc(q.Observed, func(o app.Observed) bool { return o.Attribute == l.Attribute })
	})
}

func lookViews(r app.FitResult, q question) []lookView {
	var out []lookView
	for _, l := range r.Looks {
		v := lookView{Title: upperFirst(lookTitle(l, r.Answer)), Where: l.Where, Effort: effortTitle(l.Effort), CannotSee: hide(r.Type, l, q).address()}
		for _, res := range l.TellsApart {
			v.Results = append(v.Results, newResult(r.Type, l, res, q))
		}
		out = append(out, v)
	}
	return out
}

func newResult(t part.Type, l fit.Look, res fit.Result, q question) resultView {
	v := resultView{Value: measureTitle(t, l.Attribute, res.Value), Leaves: leaves(res.Candidates)}
	if next, ok := q.answered(vehicle.Fact(l.Attribute), res.Value); ok {
		v.Address = next.address()
	} else if _, measured := t.Attribute(l.Attribute); measured {
		v.Address = q.saw(l.Attribute, res.Value).address()
	}
	return v
}

// hide gives the question that does not ask for a look again.
func hide(t part.Type, l fit.Look, q question) question {
	if _, measured := t.Attribute(l.Attribute); measured {
		return q.saw(l.Attribute, cannotSee)
	}
	return q.notSeen(l.Attribute)
}

// lookTitle names what is looked at: an attribute of the part by its title, a
// fact of the vehicle by its words.
func lookTitle(l fit.Look, a fit.Answer) string {
	if attribute, ok := a.Type.Attribute(l.Attribute); ok && attribute.Title != "" {
		return attribute.Title
	}
	return factTitle(vehicle.Fact(l.Attribute))
}

func leaves(candidates []int) string {
	if len(candidates) == 0 {
		return "leaves none of these"
	}
	places := make([]string, len(candidates))
	for i, c := range candidates {
		places[i] = strconv.Itoa(c + 1)
	}
	last := len(places) - 1
	if last == 0 {
		return "leaves tag " + places[0]
	}
	return "leaves tags " + strings.Join(places[:last], ", ") + " and " + places[last]
}

// unknowns lists the facts that are not known and that no look asks for.
func unknowns(r app.FitResult, q question) []unknown {
	var out []unknown
	for _, f := range r.Unknown {
		asked := slices.ContainsFunc(r.Looks, func(l fit.Look) bool { return l.Attribute == string(f) })
		if asked || slices.Contains(q.Unseen, string(f)) {
			continue
		}
		u := unknown{Title: upperFirst(factTitle(f))}
		values := closedFacts[f].values
		if _, isOption := f.Option(); isOption {
			values = []string{"yes", "no"}
		}
		for _, v := range values {
			if next, ok := q.answered(f, v); ok {
				u.Results = append(u.Results, resultView{Value: valueTitle(v), Address: next.address()})
			}
		}
		out = append(out, u)
	}
	return out
}
