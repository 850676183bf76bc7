package fit

import (
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// reason writes the words that stand behind the verdict, in one line.
func (w *world) reason(c Candidate, found weighed) string {
	switch c.Verdict {
	case RuledOut:
		return w.ruledOutWords(*c.RuledOut)
	case FitsWithChange:
		return w.whySo(c) + "; " + changeWords(c.Changes)
	case CheckFirst:
		return w.checkWords(c, found)
	}
	return w.whySo(c)
}

// ruledOutWords gives the reason of a ruling in plain words.
func (w *world) ruledOutWords(r Ruling) string {
	switch r.Kind {
	case BlockedLook:
		text := "looks the same as " + r.Wanted + " and is not"
		if r.Effect != "" {
			text += ": " + r.Effect
		}
		if len(r.By) > 0 {
			text += " (" + placeText(r.By[0]) + ")"
		}
		return text
	case DidNotGo:
		return "tried, and it did not go: " + orElse(r.Effect, "no reason written down")
	case WorksWrong:
		return fmt.Sprintf("bolts on, but never: %s (%s %s, wanted %s)", orElse(r.Effect, "works wrongly"), w.title(r.Attribute), r.Found, r.Wanted)
	default:
		text := fmt.Sprintf("does not mount: %s %s, wanted %s", w.title(r.Attribute), r.Found, r.Wanted)
		if r.Effect != "" {
			text += ", " + r.Effect
		}
		return text
	}
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// whySo says who carries the answer, from the strongest trail.
func (w *world) whySo(c Candidate) string {
	if len(c.Trails) == 0 {
		return "nobody says why"
	}
	t := c.Trails[0]
	who := says(t.Steps[0].Source)
	if c.Basis == Proven {
		return "went in here and stayed"
	}
	if t.Basis != ByNumber {
		return who + ", not tried here"
	}
	numbers, _ := w.numbersOf(w.nodes(t.Steps[0].Statement.A)[0])
	return fmt.Sprintf("%s for %s, and %s", strings.TrimSuffix(who, " so"), numbers[0].Number, linkWords(t.Steps[1:]))
}

// says names a source and what it does in the words of its standing.
func says(s statement.Source) string {
	switch s.Standing {
	case statement.OwnList:
		return "your list says so"
	case statement.MakersBook:
		return "the maker's book says so"
	case statement.OwnFitting:
		return "your own fitting says so"
	case statement.RebuildersList:
		return "a rebuilder's list says so"
	case statement.UnitLabel:
		return "the label on a unit says so"
	case statement.OwnReading:
		return "your own reading says so"
	}
	return s.Title() + " says so"
}

func linkWords(steps []Step) string {
	words := make([]string, len(steps))
	for i, s := range steps {
		l := s.Statement.Link
		switch {
		case l.Relation == statement.Same:
			words[i] = "this is the same part"
		case l.Relation == statement.ReplacedBy && s.Direction == Forward:
			words[i] = "this replaces it"
		case l.Relation == statement.ReplacedBy:
			words[i] = "the old one still goes"
		case l.Word():
			words[i] = "this is said to do the job"
		default:
			words[i] = "this goes in its place"
		}
	}
	return strings.Join(words, ", then ")
}

func changeWords(changes []statement.Change) string {
	words := make([]string, len(changes))
	for i, c := range changes {
		words[i] = c.Task
		if c.Minutes > 0 {
			words[i] += fmt.Sprintf(" (%d min, our guess)", c.Minutes)
		}
		if len(c.Pieces) > 0 {
			words[i] += " with " + strings.Join(c.Pieces, ", ")
		}
	}
	return strings.Join(words, "; ")
}

// checkWords says what keeps an answer at check first, the nearest cause first.
func (w *world) checkWords(c Candidate, found weighed) string {
	var why []string
	if len(c.Against) > 0 {
		why = append(why, c.Against[0])
	}
	if len(c.DependsOn) > 0 {
		why = append(why, "depends on "+w.dependWords(c))
	}
	if text := w.doubtWords(found); text != "" {
		why = append(why, text)
	}
	if len(c.Changes) > 0 {
		why = append(why, "with a change: "+changeWords(c.Changes))
	}
	if len(why) == 0 {
		why = append(why, w.whySo(c))
	}
	return strings.Join(why, "; ")
}

func (w *world) doubtWords(found weighed) string {
	switch found.why {
	case doubtKin:
		return w.kinWords(found.counted)
	case doubtBar:
		return fmt.Sprintf("the sources carry %s, %s is wanted", perMille(found.confidence), perMille(w.bar()))
	case doubtStarred:
		return "by a chain of numbers that only suggests: compare the two"
	case doubtWeak:
		return "no source that is good enough by itself"
	case doubtMaker:
		return "which maker? several bear this number"
	case doubtOpen:
		return "only if: " + strings.Join(found.counted[0].open, ", ")
	case doubtListOnly:
		return "a list alone is not enough for this part"
	}
	return ""
}

func perMille(n int) string { return fmt.Sprintf("%d.%03d", n/1000, n%1000) }

// kinWords says what kin a part is listed for.
func (w *world) kinWords(counted []*trail) string {
	if len(counted) > 0 {
		s := counted[0].Steps[0].Statement.Scope
		if s.Clause(vehicle.FactEngine, w.q.Facts, w.k.Engines) != vehicle.Yes {
			return "another engine of the family, " + s.Text[vehicle.FactEngine] + ", in " + w.otherVehicleWords(counted)
		}
	}
	return "same engine in " + w.otherVehicleWords(counted)
}

func (w *world) otherVehicleWords(counted []*trail) string {
	for _, t := range counted {
		s := t.Steps[0].Statement.Scope
		if name := strings.TrimSpace(s.Text[vehicle.FactMaker] + " " + s.Text[vehicle.FactModel] + " " + s.Text[vehicle.FactModelCode]); name != "" {
			return "another vehicle: " + name
		}
	}
	return "another vehicle"
}

func (w *world) dependWords(c Candidate) string {
	words := make([]string, len(c.DependsOn))
	for i, f := range c.DependsOn {
		words[i] = factWords(f)
		if v := c.GoesInWhen[f]; len(v) > 0 {
			words[i] += " (goes in " + withWords(v) + ")"
		}
	}
	return strings.Join(words, ", ")
}

// withWords says under which values a part goes in: "with AT", "from 1995-09 to
// 1999-12 or from 2001-01".
func withWords(values []string) string {
	text := strings.Join(values, " or ")
	for _, span := range []string{"from ", "to ", "up to "} {
		if strings.HasPrefix(values[0], span) {
			return text
		}
	}
	return "with " + text
}

// factWords names a vehicle fact for people.
func factWords(f vehicle.Fact) string {
	if o, ok := f.Option(); ok {
		return map[string]string{"ac": "air conditioning", "cold": "the cold-region package"}[o] + map[bool]string{true: o}[o != "ac" && o != "cold"]
	}
	if words, ok := factNames[f]; ok {
		return words
	}
	return string(f)
}

var factNames = map[vehicle.Fact]string{
	vehicle.FactMaker: "the vehicle maker", vehicle.FactModel: "the model", vehicle.FactModelCode: "the model code",
	vehicle.FactPrefix: "the emission prefix", vehicle.FactEngine: "the engine", vehicle.FactSerial: "the serial",
	vehicle.FactBuilt: "the build date", vehicle.FactSide: "the drive side", vehicle.FactTransmission: "the gearbox",
	vehicle.FactDrive: "the driven wheels", vehicle.FactTurbo: "the turbo", vehicle.FactMarket: "the market",
}

// whyNot says why nothing speaks for a part that was asked for by number.
func (w *world) whyNot(n part.Ref) (string, []Trail) {
	if w.foreign[n.Key] {
		return "this number is listed as another kind of part, not as " + w.q.Type.Name, nil
	}
	for _, r := range w.rows {
		if r.none || r.tri != vehicle.No || !slices.Contains(r.nodes, n) {
			continue
		}
		f := r.failing[0]
		text := fmt.Sprintf("listed for %s %s, this one is %s", factWords(f), r.step.Statement.Scope.Value(f), w.have(f))
		return text, []Trail{{Steps: []Step{r.step}, Reliability: r.step.Reliability, Basis: Stated}}
	}
	for from, edges := range w.edges {
		for _, e := range edges {
			if e.to == n && e.class.kit {
				return "a kit that holds " + w.printed(from) + "; a kit is not the part", nil
			}
		}
	}
	for _, e := range w.sortedEdges(n) {
		if e.class.replaced && e.step.Direction == Forward {
			return "the old number of " + w.printed(e.to) + "; nobody says that it still goes in its place", nil
		}
	}
	return "nothing in the book speaks for it", nil
}

func (w *world) have(f vehicle.Fact) string {
	switch f {
	case vehicle.FactSerial:
		return fmt.Sprint(w.q.Facts.Serial)
	case vehicle.FactBuilt:
		return w.q.Facts.Built.String()
	}
	v, _ := w.q.Facts.Get(f)
	return v
}
