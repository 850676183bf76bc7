package data

import "testing"

func TestByWord(t *testing.T) {
	types := partTypes(t)
	for _, tt := range []struct{ rule, word, want string }{
		{"the name", "alternator", "alternator"},
		{"case and blanks", "  Water   PUMP ", "water pump"},
		{"a word in it", "alternator assy", "alternator"},
		{"words behind it", "Alternator 12V 70A new", "alternator"},
		{"words before it", "reman. starter motor", "starter"},
		{"the thing stands last", "alternator belt", "belt"},
		{"the thing stands last, not listed", "alternator v-belt 4PK", "belt"},
		{"before the comma", "Belt, alternator", "belt"},
		{"a remark in brackets", "Alternator (with belt)", "alternator"},
		{"maker's order of words", "PUMP ASSY-WATER", "water pump"},
		{"slash", "W/Pump", "water pump"},
		{"whole words only", "thermostatic", ""},
		{"hyphen", "brake-caliper LH", "brake caliper"},
		{"another thing", "radiator hose", ""},
		{"another thing, Japanese", "ラジエーターホース", ""},
		{"another thing of an alternator", "alternator pulley", ""},
		{"sensor of the pads", "brake pad wear sensor", "sensor"},
		{"half-width kana", "ｵﾙﾀﾈｰﾀｰ ASSY", "alternator"},
		{"Japanese by containment", "電動ファンベルト", "belt"},
		{"Japanese with Latin behind", "ラジエーターAT用", "radiator"},
		{"starter, Japanese", "セルモーター(リビルト)", "starter"},
		{"German", "Lichtmaschine", "alternator"},
		{"German, other", "Zündspule", "ignition coil"},
		{"German compound is another thing", "Lichtmaschinenregler", ""},
		{"Spanish", "Motor de arranque", "starter"},
		{"Spanish, accents", "batería", "battery"},
		{"battery", "バッテリー 55B24L", "battery"},
		{"caliper, other spelling", "Brake calliper", "brake caliper"},
		{"pads", "Disc pads front", "brake pads"},
		{"nothing", "", ""},
		{"only marks", " ,() ", ""},
		{"unknown", "gearbox mount", ""},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			got, ok := types.ByWord(tt.word)
			if got.Name != tt.want || ok != (tt.want != "") {
				t.Errorf("%q: got %q, want %q", tt.word, got.Name, tt.want)
			}
		})
	}
}

func TestEveryWordFindsItsOwnType(t *testing.T) {
	types := partTypes(t)
	for _, p := range types.All() {
		for _, w := range append([]string{p.Name}, p.Words...) {
			if got, ok := types.ByWord(w); !ok || got.Name != p.Name {
				t.Errorf("%q: got %q, want %q", w, got.Name, p.Name)
			}
		}
	}
}
