package web

import (
	"slices"
	"strings"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// askForm is the form that asks: the part type as big buttons, the vehicle
// below, what is needed less often folded away.
type askForm struct {
	Types    field
	Frame    field
	Main     []field
	Seen     []field // what was seen or measured, to be changed or taken back
	More     []field
	MoreOpen bool
	Unseen   string // kept, so that it is not asked again
	First    bool   // nothing asked yet: a scanner types into the frame number at once
	Prompt   string // what is still missing, where something is
}

// field is one input with its label. Choices make it a row of buttons, or with
// Select a list to pick from.
type field struct {
	Name, Label, Help, Value string
	Code                     bool // a number or code: capitals, no spelling
	Select                   bool
	Choices                  []choice
}

type choice struct {
	Value, Label string
	Chosen       bool
}

func (w *Web) askForm(q question) askForm {
	f := askForm{Types: w.typeField(q), Unseen: strings.Join(q.Unseen, ","), First: q.blank(),
		Frame: code("frame", "Frame number", "stamped on the body; a VIN goes here too", q.Frame),
		Main: []field{
			code("engine", "Engine", "stamped on the block", q.Engine),
			text("built", "Built", "1997-05, 1997, H9.5", q.Built),
			closed("transmission", "Gearbox", vehicle.FactTransmission, q),
			option("ac", q),
		},
		More: []field{
			how("engine_how", "Engine is known from", q.EngineHow),
			how("built_how", "Date is known from", q.BuiltHow),
			closed("drive", "Driven wheels", vehicle.FactDrive, q),
			closed("side", "Steering wheel", vehicle.FactSide, q),
			closed("turbo", "Turbo", vehicle.FactTurbo, q),
		}}
	for _, o := range w.options() {
		if o != "ac" {
			f.More = append(f.More, option(o, q))
		}
	}
	f.More = append(f.More, code("model_code", "Model code", "from the plate, with its prefix", q.ModelCode),
		text("maker", "Vehicle maker", "", q.Maker), text("model", "Model", "", q.Model), code("vin", "VIN", "17 characters", q.VIN),
		text("market", "Made for", "market or country", q.Market),
		code("part", "Part in your hand", "its number, to ask of this one only", q.Part), text("part_maker", "Maker of that part", "", q.PartMaker))
	f.Seen = w.seenFields(q)
	f.MoreOpen = slices.ContainsFunc(f.More, func(m field) bool { return m.said() })
	return f
}

// said reports whether a field holds anything.
func (f field) said() bool {
	return f.Value != "" || slices.ContainsFunc(f.Choices, func(c choice) bool { return c.Chosen && c.Value != "" })
}

func text(name, label, help, value string) field {
	return field{Name: name, Label: label, Help: help, Value: value}
}

func code(name, label, help, value string) field {
	return field{Name: name, Label: label, Help: help, Value: value, Code: true}
}

// typeField offers every part type; a type that was asked by another word is
// offered under that word too, so that the page shows what was asked.
func (w *Web) typeField(q question) field {
	f := field{Name: "type", Label: "Part"}
	asked := w.partType(q.Type)
	for _, t := range w.types {
		f.Choices = append(f.Choices, choice{t.Name, upperFirst(t.Name), t.Name == asked.Name})
	}
	if q.Type != "" && asked.Name == "" {
		f.Choices = append(f.Choices, choice{q.Type, q.Type, true})
	}
	return f
}

// closed offers the values of a fact and "not known", which is never "no".
func closed(name, label string, fact vehicle.Fact, q question) field {
	c := closedFacts[fact]
	return choices(name, label, c.values, *c.at(&q))
}

func option(o string, q question) field {
	return choices(optionPrefix+o, upperFirst(optionTitle(o)), []string{"yes", "no"}, q.option(o))
}

func choices(name, label string, values []string, chosen string) field {
	f := field{Name: name, Label: label}
	found := false
	for _, v := range values {
		is := strings.EqualFold(v, chosen)
		found = found || is
		f.Choices = append(f.Choices, choice{v, valueTitle(v), is})
	}
	if chosen != "" && !found { // typed into the address: shown as it is
		f.Choices = append(f.Choices, choice{chosen, chosen, true})
	}
	f.Choices = append(f.Choices, choice{"", "not known", chosen == ""})
	return f
}

func how(name, label, chosen string) field {
	f := field{Name: name, Label: label, Select: true, Choices: []choice{{"", "not said", chosen == ""}}}
	for _, h := range []vehicle.How{vehicle.Stamped, vehicle.Plate, vehicle.Paper, vehicle.Seen, vehicle.Told} {
		f.Choices = append(f.Choices, choice{string(h), howWords[h], chosen == string(h)})
	}
	return f
}

// options lists the options that some part type depends on, sorted.
func (w *Web) options() []string {
	var out []string
	for _, t := range w.types {
		for _, s := range t.SplitBy {
			if o, ok := vehicle.Fact(s).Option(); ok {
				out = append(out, o)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// seenFields offers what was seen on the vehicle for a change; emptied, it is
// taken back.
func (w *Web) seenFields(q question) []field {
	var out []field
	t := w.partType(q.Type)
	for _, o := range q.Observed {
		help := "empty it to take it back"
		if o.Value == cannotSee {
			help = "cannot be seen; empty it to be asked again"
		}
		out = append(out, text(seenPrefix+o.Attribute, upperFirst(attributeTitle(t, o.Attribute)), help, o.Value))
	}
	return out
}

// partType finds a part type by its name or another word for it; the zero type
// where there is none.
func (w *Web) partType(name string) part.Type {
	for _, t := range w.types {
		if t.Name == name || slices.ContainsFunc(t.Words, func(word string) bool { return strings.EqualFold(word, name) }) {
			return t
		}
	}
	return part.Type{}
}
