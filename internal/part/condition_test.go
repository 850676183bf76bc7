package part

import "testing"

func TestReadClause(t *testing.T) {
	for _, tt := range []struct {
		expr string
		want Clause
	}{
		{"transmission=MT", Clause{Name: "transmission", Value: "MT", Dimension: 1}},
		{" belt_line = agrees ", Clause{Name: "belt_line", Value: "agrees", Dimension: 1}},
		{"main_fuse>=amps", Clause{Name: "main_fuse", AtLeast: true, Value: "amps", Dimension: 1}},
		{"core_room>=core_size.3", Clause{Name: "core_room", AtLeast: true, Value: "core_size", Dimension: 3}},
		{"ratio>=1.5", Clause{Name: "ratio", AtLeast: true, Value: "1.5", Dimension: 1}},
		{"option:ac=no", Clause{Name: "option:ac", Value: "no", Dimension: 1}},
	} {
		if got, err := ReadClause(tt.expr); err != nil || got != tt.want {
			t.Errorf("%q: got %+v %v, want %+v", tt.expr, got, err, tt.want)
		}
	}
	for _, expr := range []string{"", "belt_line", "=x", "x=", "x>=", ">=3"} {
		if got, err := ReadClause(expr); err == nil {
			t.Errorf("%q gives %+v", expr, got)
		}
	}
}

func TestConditions(t *testing.T) {
	typ := Type{Attributes: []Attribute{
		{Name: "belt_line", Title: "b", Kind: KindNumber, Unit: "mm", Compare: Within, Tolerance: 1},
		{Name: "main_fuse", Title: "m", Kind: KindNumber, Unit: "A", Compare: Any},
		{Name: "amps", Title: "a", Kind: KindNumber, Unit: "A", Compare: AtLeast},
		{Name: "core_size", Title: "c", Kind: KindSize, Unit: "mm", Compare: Within, Tolerance: 5},
		{Name: "core_room", Title: "r", Kind: KindNumber, Unit: "mm", Compare: Any},
		{Name: "tacho_used", Title: "t", Kind: KindBool, Compare: Any},
		{Name: "plug", Title: "p", Kind: KindWord, Compare: Equal},
	}}
	wanted := map[string]string{"belt_line": "30", "main_fuse": "100", "core_room": "30", "tacho_used": "yes", "plug": "oval"}
	found := map[string]string{"belt_line": "30.5", "amps": "100", "core_size": "350x668x32"}
	look := func(values map[string]string) func(string) (Value, bool) {
		return func(name string) (Value, bool) {
			a, ok := typ.Attribute(name)
			raw, known := values[name]
			if !ok || !known {
				return Value{}, false
			}
			return read(t, a, raw), true
		}
	}
	cond := typ.Condition(Ask{
		Fact:   func(name string) (string, bool) { return "MT", name == "transmission" },
		Wanted: look(wanted), Found: look(found),
	})
	for _, tt := range []struct {
		expr         string
		holds, known bool
	}{
		{"transmission=mt", true, true}, {"transmission=AT", false, true}, {"transmission=known", true, true},
		{"option:ac=yes", false, false}, {"engine=known", true, false},
		{"belt_line=agrees", true, true}, {"main_fuse=known", true, true}, {"amps=known", false, false},
		{"plug=agrees", false, false}, {"plug=OVAL", true, true}, {"plug=round", false, true}, {"tacho_used=yes", true, true}, {"tacho_used=no", false, true},
		{"tacho_used=perhaps", false, false},
		{"main_fuse>=amps", true, true}, {"main_fuse>=101", false, true}, {"main_fuse>=99.5", true, true},
		{"core_room>=core_size.3", false, true}, {"core_room>=core_size.4", false, false}, {"core_room>=plug", false, false},
		{"plug>=3", false, false}, {"nonsense", false, false},
	} {
		holds, known := cond(tt.expr)
		if known != tt.known || known && holds != tt.holds {
			t.Errorf("%s: got %v %v, want %v %v", tt.expr, holds, known, tt.holds, tt.known)
		}
	}
}

func TestTypes(t *testing.T) {
	typ := Type{SplitBy: []string{"engine", "option:cold"}, Attributes: []Attribute{{Name: "ribs"}}}
	if !typ.Splits("engine") || !typ.Splits("option:cold") || typ.Splits("model_code") {
		t.Error("splits by its own facts only")
	}
	if _, ok := typ.Attribute("teeth"); ok {
		t.Error("found what is not there")
	}
}

func TestConditionsAreExplained(t *testing.T) {
	typ := Type{Attributes: []Attribute{
		{Name: "main_fuse", Title: "rating of the main fuse", Unit: "A"}, {Name: "amps", Title: "rated output"},
		{Name: "core_size", Title: "core", Kind: KindSize},
	}}
	for expr, want := range map[string]string{
		"main_fuse>=amps":        "rating of the main fuse is at least the rated output",
		"main_fuse>=core_size.3": "rating of the main fuse is at least number 3 of the core",
		"main_fuse>=60":          "rating of the main fuse is at least 60 A",
		"main_fuse=known":        "rating of the main fuse is known",
		"amps=agrees":            "rated output agrees",
		"transmission=MT":        "transmission: MT",
		"nonsense":               "nonsense",
	} {
		if got := typ.Explain(expr); got != want {
			t.Errorf("%s: got %q, want %q", expr, got, want)
		}
	}
}
