package web

import (
	"fmt"
	"strings"

	"crossbin/internal/fit"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// tag is one candidate as a paper tag; Shape is its verdict and decides how the
// paper is cut.
type tag struct {
	Place   int // from 1, as the looks name it
	Shape   string
	Verdict string
	Reason  string
	Number  string
	Maker   string
	Role    string
	Others  []numberView
	Name    string
	Count   string // "2 on this vehicle, front left"
	Changes []changeView
	Window  []string // what is looked at through the window
	Back    []string // what is written on the back
	Against []string
	Notes   []string
	Shelf   shelfView
	Why     why
}

type numberView struct{ Number, Maker, Role string }

type changeView struct {
	Task, Minutes string
	Pieces        []string
}

func newTag(place int, c fit.Candidate, a fit.Answer) tag {
	t := tag{Place: place, Shape: string(c.Verdict), Name: c.Name, Count: countWords(c), Against: c.Against, Notes: c.Notes,
		Shelf: newShelf(nil), Why: newWhy(c)}
	if strings.EqualFold(t.Name, a.Type.Name) { // the heading of the page says it already
		t.Name = ""
	}
	verdict, reason := verdictLine(c)
	t.Verdict, t.Reason = upperFirst(verdict), reason
	for i, n := range c.Numbers {
		if i == 0 {
			t.Number, t.Maker, t.Role = n.Number, n.Maker, roleWords[n.Role]
			continue
		}
		t.Others = append(t.Others, numberView{n.Number, n.Maker, roleWords[n.Role]})
	}
	for _, ch := range c.Changes {
		t.Changes = append(t.Changes, newChange(ch))
	}
	switch c.Verdict {
	case fit.CheckFirst:
		t.Window = windowLines(place-1, c, a)
	case fit.RuledOut:
		t.Back = backLines(c, a)
	}
	return t
}

func newChange(c statement.Change) changeView {
	v := changeView{Task: c.Task, Pieces: c.Pieces}
	if c.Minutes > 0 {
		v.Minutes = fmt.Sprintf("%d min, our guess", c.Minutes)
	}
	return v
}

// countWords says how many go in and where, if that is worth saying.
func countWords(c fit.Candidate) string {
	switch {
	case c.Quantity > 1 && c.Position != "":
		return fmt.Sprintf("%d on this vehicle, %s", c.Quantity, c.Position)
	case c.Quantity > 1:
		return fmt.Sprintf("%d on this vehicle", c.Quantity)
	}
	return c.Position
}

// windowLines says what to look at before this one goes in: the facts that it
// depends on, else the looks that speak of it, else the two parts themselves.
func windowLines(at int, c fit.Candidate, a fit.Answer) []string {
	var out []string
	for _, f := range c.DependsOn {
		line := upperFirst(factTitle(f)) + "?"
		if v := c.GoesInWhen[f]; len(v) > 0 {
			if f == vehicle.FactBuilt || f == vehicle.FactSerial { // spans say from and to by themselves
				line += " Goes in " + strings.Join(v, " or ")
			} else {
				line += " Goes in with: " + strings.Join(titles(v), " or ")
			}
		}
		out = append(out, line)
	}
	if len(out) > 0 {
		return out
	}
	for _, l := range a.Looks {
		if len(out) < 2 && tells(l, at) { // two lines fill the window
			out = append(out, upperFirst(lookTitle(l, a))+": "+l.Where)
		}
	}
	if len(out) == 0 {
		out = append(out, "Hold it against the one that comes off, before anything else does.")
	}
	return out
}

func titles(values []string) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = valueTitle(v)
	}
	return out
}

// tells reports whether a look says anything about a candidate: some of its
// results leave the candidate, some do not.
func tells(l fit.Look, at int) bool {
	with, without := false, false
	for _, r := range l.TellsApart {
		has := false
		for _, c := range r.Candidates {
			has = has || c == at
		}
		with, without = with || has, without || !has
	}
	return with && without
}

// backLines holds the two values that differ against one another.
func backLines(c fit.Candidate, a fit.Answer) []string {
	r := c.RuledOut
	if r == nil || r.Attribute == "" || r.Wanted == "" && r.Found == "" {
		return nil
	}
	return []string{upperFirst(attributeTitle(a.Type, r.Attribute)), "wanted: " + measureTitle(a.Type, r.Attribute, r.Wanted),
		"this one: " + measureTitle(a.Type, r.Attribute, r.Found)}
}
