package data

import (
	"strings"
	"testing"

	"crossbin/internal/part"
)

// compared compares one attribute of a part type; facts and values are what
// else is known of the vehicle, beside what else is known of the candidate.
func compared(t *testing.T, types *Types, name, attribute, wanted, found string, vehicle, candidate map[string]string) part.Outcome {
	t.Helper()
	p, ok := types.ByName(name)
	if !ok {
		t.Fatalf("no part type %s", name)
	}
	a, ok := p.Attribute(attribute)
	if !ok {
		t.Fatalf("%s has no %s", name, attribute)
	}
	read := func(a part.Attribute, raw string) part.Value {
		v, err := part.ReadValue(a, raw)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	look := func(values map[string]string) func(string) (part.Value, bool) {
		return func(n string) (part.Value, bool) {
			raw, ok := values[n]
			if !ok {
				return part.Value{}, false
			}
			other, _ := p.Attribute(n)
			return read(other, raw), true
		}
	}
	cond := p.Condition(part.Ask{
		Fact:   func(n string) (string, bool) { v, ok := vehicle[n]; return v, ok },
		Wanted: look(vehicle), Found: look(candidate),
	})
	return part.Compare(a, read(a, wanted), read(a, found), cond)
}

type values = map[string]string

// The tricky cases of the trade, each as one comparison.
func TestTrickyCases(t *testing.T) {
	types := partTypes(t)
	for _, tt := range []struct {
		name, typ, attribute string
		wanted, found        string
		vehicle, candidate   values
		want                 part.Difference // "" where it agrees or is open
		says                 string          // part of effect, change, note or open condition
	}{
		{"radiator for the automatic on a manual car", "radiator", "at_cooler", "no", "yes", nil, nil, part.Minor, "plug the two ports"},
		{"radiator for the manual on an automatic car", "radiator", "at_cooler", "yes", "no", nil, nil, part.Adaptable, "separate transmission cooler"},
		{"five ribs on a belt of four, belt line holds", "alternator", "ribs", "4", "5", values{"belt_line": "30"}, values{"belt_line": "30.5"}, part.Minor, "more grooves"},
		{"five ribs on a belt of four, belt line not known", "alternator", "ribs", "4", "5", values{"belt_line": "30"}, nil, "", "belt_line=agrees"},
		{"five ribs on a belt of four, out of line", "alternator", "ribs", "4", "5", values{"belt_line": "30"}, values{"belt_line": "34"}, part.Adaptable, "pulley"},
		{"four ribs on a belt of five", "alternator", "ribs", "5", "4", nil, nil, part.Adaptable, "pulley"},
		{"radiator of a weaker class", "radiator", "heat", "28.4 kW", "20.3 kW", nil, nil, part.WorksWrong, "overheats on a hill"},
		{"no load report, and it is read", "alternator", "terminals", "lamp, sense, ignition, load_report", "lamp, sense, ignition", values{"load_report": "yes"}, nil, part.WorksWrong, "fault code, idle dips"},
		{"no load report, and nothing reads it", "alternator", "terminals", "lamp, sense, ignition, load_report", "lamp, sense, ignition", values{"load_report": "no"}, nil, part.Minor, "no load report"},
		{"no load report, nobody knows", "alternator", "terminals", "lamp, sense, ignition, load_report", "lamp, sense, ignition", nil, nil, "", "load_report=yes"},
		{"three pins for four", "alternator", "pins", "4", "3", nil, nil, part.Adaptable, "re-pin"},
		{"self-regulated on a commanded car", "alternator", "control", "ecu", "sense", nil, nil, part.WorksWrong, "fixed voltage and a fault code"},
		{"commanded on a self-regulated car", "alternator", "control", "lamp", "ecu", nil, nil, part.WorksWrong, "default or not at all"},
		{"solid pulley for a decoupler", "alternator", "pulley_kind", "decoupler", "solid", nil, nil, part.Adaptable, "swap the pulley"},
		{"bigger body than the room", "alternator", "body_od", "128", "140", nil, nil, part.WontMount, "bigger than the room"},
		{"cold-region unit, the fuse carries it", "alternator", "amps", "70", "90", values{"main_fuse": "100"}, values{"amps": "90"}, part.Minor, "more output"},
		{"cold-region unit, fuse too small", "alternator", "amps", "70", "90", values{"main_fuse": "80"}, values{"amps": "90"}, part.Adaptable, "fusible link"},
		{"cold-region unit, fuse not known", "alternator", "amps", "70", "90", nil, values{"amps": "90"}, "", "main_fuse>=amps"},
		{"standard unit in a cold-region car", "alternator", "amps", "90", "70", nil, nil, part.WorksWrong, "flat battery"},
		{"battery with mirrored terminals", "battery", "terminal_side", "L", "R", nil, nil, part.WontMount, "other way round"},
		{"battery with less cold-cranking current", "battery", "cca", "370", "300", nil, nil, part.WorksWrong, "cold"},
		{"cap marks of 0.9 bar and 0.9 kgf/cm2", "radiator", "cap_pressure", "0.9 bar", "0.9 kgf/cm2", nil, nil, "", ""},
		{"cap of the next class", "radiator", "cap_pressure", "88 kPa", "108 kPa", nil, nil, part.WorksWrong, "burst"},
		{"driver's motor where the passenger's was", "window regulator", "role", "driver", "passenger", nil, nil, part.WorksWrong, "jam protection"},
		{"window motor of the other side", "window regulator", "hand", "left", "right", nil, nil, part.WontMount, "mirror image"},
		{"deeper core, the fan clears it", "radiator", "core_size", "350x668x16", "350x668x26", values{"core_room": "30"}, values{"core_size": "350x668x26"}, part.Minor, "fan clears"},
		{"deeper core, the fan strikes", "radiator", "core_size", "350x668x16", "350x668x36", values{"core_room": "30"}, values{"core_size": "350x668x36"}, part.WontMount, "fan strikes"},
		{"thinner core, heat class not known", "radiator", "core_size", "350x668x26", "350x668x16", nil, nil, "", "heat=agrees"},
		{"no condenser brackets, no air conditioning", "radiator", "condenser_tabs", "yes", "no", values{"option:ac": "no"}, nil, part.Minor, "none is here"},
		{"belt line off by more than shims take", "alternator", "belt_line", "30", "34", nil, nil, part.WorksWrong, "strips"},
		{"belt line off by what shims take", "alternator", "belt_line", "30", "32", nil, nil, part.Adaptable, "shim"},
		{"vacuum pump that nothing feeds", "alternator", "vacuum_pump", "no", "yes", nil, nil, part.WorksWrong, "dry"},
		{"alternator marked by battery and by charging voltage", "alternator", "volts", "24", "28", nil, nil, "", ""},
		{"belt within the tensioner's range", "belt", "length", "1190-1215", "1200", nil, nil, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := compared(t, types, tt.typ, tt.attribute, tt.wanted, tt.found, tt.vehicle, tt.candidate)
			text := strings.Join([]string{got.Case.Effect, got.Case.Change, got.Case.Note, got.Open}, "; ")
			if got.Difference != tt.want || !strings.Contains(text, tt.says) || tt.says == "" && !got.Agrees {
				t.Errorf("got %q (%s) agrees %v, want %q (%s)", got.Difference, text, got.Agrees, tt.want, tt.says)
			}
		})
	}
}

func TestTheMissingCoolerTakesAnHourOrMore(t *testing.T) {
	got := compared(t, partTypes(t), "radiator", "at_cooler", "yes", "no", nil, nil)
	if got.Case.Minutes < 60 || got.Case.Minutes > 90 {
		t.Errorf("got %d minutes, want 60 to 90", got.Case.Minutes)
	}
}

// The gearbox of a radiator's scope is answered by its cooler.
func TestRadiatorIsAnsweredByItsCooler(t *testing.T) {
	p, _ := partTypes(t).ByName("radiator")
	if p.AnsweredBy["transmission"] != "at_cooler" || !p.Splits("transmission") {
		t.Errorf("got %v", p.AnsweredBy)
	}
}

func TestHighCare(t *testing.T) {
	want := map[string]bool{"brake caliper": true, "brake pads": true, "wheel bearing": true, "fuel pump": true, "water pump": true}
	for _, p := range partTypes(t).All() {
		if p.HighCare != want[p.Name] {
			t.Errorf("%s: got %v", p.Name, p.HighCare)
		}
	}
}
