package data

import (
	"slices"
	"strings"
	"testing"

	"crossbin/internal/app"
	"crossbin/internal/part"
)

var _ app.PartTypes = (*Types)(nil)

func partTypes(t *testing.T) *Types {
	t.Helper()
	types, err := PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	return types
}

func TestPartTypesAreThere(t *testing.T) {
	var got []string
	for _, p := range partTypes(t).All() {
		got = append(got, p.Name)
	}
	want := []string{
		"alternator", "battery", "belt", "brake caliper", "brake pads", "compressor", "fuel pump", "ignition coil", "radiator",
		"sensor", "starter", "thermostat", "water pump", "wheel bearing", "window regulator",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestByName(t *testing.T) {
	types := partTypes(t)
	if p, ok := types.ByName("water pump"); !ok || p.RidesOn != part.OnEngine || !p.HighCare {
		t.Errorf("got %q %q %v %v", p.Name, p.RidesOn, p.HighCare, ok)
	}
	if _, ok := types.ByName("Water Pump"); ok {
		t.Error("a name is exact; words are folded")
	}
}

// Columns of flat lists rely on these names.
func TestAttributesOfFlatLists(t *testing.T) {
	types := partTypes(t)
	for name, attributes := range map[string][]string{
		"alternator": {"volts", "amps", "ribs", "plug", "pins", "rotation", "vacuum_pump"},
		"radiator":   {"core_size", "at_cooler", "cap_pressure"},
		"starter":    {"volts", "power", "teeth", "rotation"},
		"water pump": {"rotation", "hub_height"},
		"battery":    {"volts", "length", "width", "height", "terminal_side", "cca"},
	} {
		p, _ := types.ByName(name)
		for _, a := range attributes {
			if _, ok := p.Attribute(a); !ok {
				t.Errorf("%s has no %s", name, a)
			}
		}
	}
}

func TestEveryCaseSaysWhatAPersonNeeds(t *testing.T) {
	for _, p := range partTypes(t).All() {
		if len(p.Cautions) == 0 || len(p.SplitBy) == 0 || len(p.GoesWith) == 0 || !slices.ContainsFunc(p.Attributes, needed) {
			t.Errorf("%s lacks cautions, facts that split it, what goes with it or a needed attribute", p.Name)
		}
		for _, a := range p.Attributes {
			for _, s := range []part.Sight{a.OnVehicle, a.OffVehicle} {
				if s.Effort < 0 || s.Effort > 5 {
					t.Errorf("%s %s: effort %d", p.Name, a.Name, s.Effort)
				}
			}
			for _, c := range a.Cases {
				if c.Difference.Deciding() && c.Effect == "" || c.Difference == part.Adaptable && (c.Change == "" || c.Minutes <= 0) {
					t.Errorf("%s %s: %q says too little", p.Name, a.Name, c.When)
				}
			}
		}
	}
}

func needed(a part.Attribute) bool { return a.Needed }

func TestEveryTypeDefersToLocalCodes(t *testing.T) {
	for _, p := range partTypes(t).All() {
		if !slices.ContainsFunc(p.Cautions, func(c part.Caution) bool {
			return strings.HasSuffix(c.Text, "Local codes and licensed practice come first.")
		}) {
			t.Errorf("%s does not", p.Name)
		}
	}
}

// What bolts on and is wrong is works_wrong with its effect, never wont_mount:
// the hand does not notice these.
func TestWhatBoltsOnAndIsWrong(t *testing.T) {
	types := partTypes(t)
	for _, tt := range []struct{ name, attribute, wanted, found string }{
		{"alternator", "volts", "12", "24"}, {"alternator", "volts", "28 V", "14 V"}, {"starter", "volts", "24", "12"},
		{"alternator", "vacuum_pump", "yes", "no"}, {"alternator", "ground", "case", "insulated"}, {"alternator", "rotation", "cw", "ccw"},
		{"compressor", "coil_volts", "12", "24"}, {"compressor", "oil", "pag46", "mineral"}, {"starter", "rotation", "cw", "ccw"},
		{"sensor", "position", "front left", "front right"}, {"belt", "section", "pk", "v10"}, {"thermostat", "control_side", "inlet", "outlet"},
		{"brake caliper", "parking_brake", "lever", "motor"}, {"brake caliper", "hand", "left", "right"}, {"water pump", "rotation", "standard", "reverse"},
		{"radiator", "heat", "28.4", "20.3"}, {"wheel bearing", "abs", "magnetic", "none"}, {"window regulator", "turns", "cw", "ccw"},
		{"fuel pump", "system", "port", "carburettor"}, {"ignition coil", "terminals", "supply, trigger, ground, feedback", "supply, trigger, ground"},
	} {
		t.Run(tt.name+" "+tt.attribute, func(t *testing.T) {
			got := compared(t, types, tt.name, tt.attribute, tt.wanted, tt.found, nil, nil)
			if got.Difference != part.WorksWrong || got.Case.Effect == "" {
				t.Errorf("got %+v", got)
			}
		})
	}
}
