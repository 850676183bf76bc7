package fit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// What a look takes is said, and where it costs more than being wrong, that too.
func TestLooksSayWhatTheyCost(t *testing.T) {
	tests := []struct {
		rule    string
		alike   int // how many parts that go for one another stand against a single other one
		care    bool
		effort  int
		minutes int
		noted   bool
	}{
		{"a cheap look costs less", 1, false, 1, 1, false},
		{"with a torch", 1, false, 2, 2, false},
		{"with a calliper", 1, false, 3, 8, false},
		{"the wheel off costs less than a coin toss", 1, false, 4, 30, false},
		{"the part out costs less than a coin toss", 1, false, 5, 90, false},
		{"the part out costs more where the other one is unlikely", 6, false, 5, 90, true},
		{"the wheel off does not", 6, false, 4, 30, false},
		{"for brakes and the like being wrong costs more", 6, true, 5, 90, false},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b, kind := newBook(), lookable()
			kind.Attributes, kind.HighCare = kind.Attributes[1:2], tt.care
			kind.Attributes[0].OnVehicle.Effort = tt.effort
			b.crowd(tt.alike, "ribs", "5")
			b.fit("fitting", "Z", "model_code=KV31")
			b.valueOf("own", "Z", "ribs", "6")
			looks := Ask(Question{Facts: van(), Type: kind, Shop: "main"}, b.k).Looks
			if len(looks) != 1 {
				t.Fatalf("got %+v, want one look", looks)
			}
			if l := looks[0]; l.Effort != tt.effort || l.Minutes != tt.minutes || (l.Note != "") != tt.noted {
				t.Errorf("got effort %d, %d minutes, note %q", l.Effort, l.Minutes, l.Note)
			}
		})
	}
}

// crowd adds parts that go for one another, with some values.
func (b *book) crowd(n int, values ...string) {
	for i := range n {
		number := fmt.Sprintf("A%d", i)
		b.fit("fitting", number, "model_code=KV31")
		for v := 0; v < len(values); v += 2 {
			b.valueOf("own", number, values[v], values[v+1])
		}
		if i > 0 {
			b.link("own", "A0", statement.StandsIn, number)
		}
	}
}

// The note is given as soon as the minutes pass the chance of being wrong times
// what that costs, and not before; for brakes and the like being wrong costs more.
func TestNote(t *testing.T) {
	tests := []struct {
		minutes, wrong float64
		care           bool
		want           string
	}{
		{48, .1, false, ""},
		{49, .1, false, "costs more than being wrong, by our guess: about 49 minutes of looking, and at these odds a wrong part costs about 48"},
		{49, .1, true, ""},
		{241, .1, true, "costs more than being wrong, by our guess: about 241 minutes of looking, and at these odds a wrong part costs about 240"},
	}
	for _, tt := range tests {
		k := looker{w: &world{q: Question{Type: part.Type{HighCare: tt.care}}}}
		if got := k.note(tt.minutes, tt.wrong); got != tt.want {
			t.Errorf("%v minutes at %v: got %q, want %q", tt.minutes, tt.wrong, got, tt.want)
		}
	}
	if got := chanceWrong(Puzzle{Chance: []float64{1, 2, 1}, Class: []int{1, 2, 1}}); got != .5 {
		t.Errorf("got %v, want 0.5", got)
	}
}

// The first look is noted by what the whole looking takes, the others by what
// they take alone: here two parts out cost more than being wrong, one does not.
func TestNoteOfTheFirstLookCountsThoseThatFollow(t *testing.T) {
	b, kind := newBook(), lookable()
	kind.Attributes = kind.Attributes[:2]
	for i := range kind.Attributes {
		kind.Attributes[i].OnVehicle.Effort = 5
	}
	b.crowd(7, "volts", "12", "ribs", "5")
	for number, values := range map[string][2]string{"Y": {"24", "5"}, "Z": {"12", "6"}} {
		b.fit("fitting", number, "model_code=KV31")
		b.valueOf("own", number, "volts", values[0])
		b.valueOf("own", number, "ribs", values[1])
	}
	looks := Ask(Question{Facts: van(), Type: kind, Shop: "main"}, b.k).Looks
	if len(looks) != 2 || looks[0].Note == "" || looks[1].Note != "" {
		t.Errorf("got %+v, want a note on the first of two", looks)
	}
}

func TestWhereToLook(t *testing.T) {
	tests := []struct {
		rule  string
		build func(b *book)
		facts vehicle.Facts
		want  string
	}{
		{"a fact by its sight", func(b *book) { b.fit("own", "A", "model_code=KV31", "transmission=AT") }, van(), "pedals and selector"},
		{"a fact without one", func(b *book) {
			b.fit("own", "A", "model_code=KV31", "option:roof=YES")
			b.fit("own", "B", "model_code=KV31", "option:roof=NO")
		}, van(), "ask the owner"},
		{"a build date that is known", func(b *book) { b.fit("own", "A", "model_code=KV31", "built=1993-08..1997-05") }, van("built=1997-05..1997-05"), "too near a change"},
		{"a build date that is not", func(b *book) { b.fit("own", "A", "model_code=KV31", "built=1993-08..1997-05") }, van(), "build plate"},
		{"a prefix that is known", func(b *book) { b.fit("own", "A", "model_code=KV31", "emission_prefix=GF") }, van("emission_prefix=GH"), "under both prefixes"},
		{"what a comparison wants", standIn("amps", "70", "90"), van(), "read the fusible link; wanted: main fuse is at least the rated output"},
		{"which number several makers bear", func(b *book) { b.part("own", "A@M1"); b.part("own", "A@M2"); b.fit("own", "A", "model_code=KV31") }, van(), "several makers bear A:"},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			tt.build(b)
			looks := Ask(Question{Facts: tt.facts, Type: lookable(), Shop: "main"}, b.k).Looks
			if len(looks) == 0 || !strings.Contains(looks[len(looks)-1].Where, tt.want) {
				t.Errorf("got %+v, want %q", looks, tt.want)
			}
		})
	}
}

// A comparison with what was seen, or of a measured part with the reference,
// may hang on a look too.
func TestOpenAgainstWhatWasSeen(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.valueOf("own", "A", "amps", "90")
	a := Ask(Question{Facts: van(), Type: lookable(), Shop: "main", Observed: seen("amps", "70")}, b.k)
	if got, want := printed(a), "main_fuse: less_than_90=A at_least_90=A"; got != want {
		t.Errorf("seen on the vehicle: got %q, want %q", got, want)
	}
	b.fit("own", "K", "model_code=LT40", "engine=ZF20")
	b.valueOf("own", "K", "terminals", "lamp")
	b.valueOf("own", "A", "terminals", "report")
	a = Ask(Question{Facts: van(), Type: lookable(), Shop: "main", CannotSee: map[string]bool{"amps": true}}, b.k)
	if got, want := printed(a), "reports: no=A+K yes=A"; got != want {
		t.Errorf("kin against the listed part: got %q, want %q", got, want)
	}
}

// The ways in which it may turn out: each way of a look on which a verdict hangs
// is as likely as another, and none of these is as likely as the results that
// leave nobody, or one in ten where anything may be seen.
func TestHypotheses(t *testing.T) {
	yesNo := func(closed bool, says ...leave) prospect {
		p := prospect{Look: Look{Effort: 1}, closed: closed}
		for _, s := range says {
			p.says = append(p.says, []leave{s})
		}
		return p
	}
	tests := []struct {
		rule string
		look prospect
		want string
	}{
		{"it goes or none does", yesNo(true, stays, out), "[800 800] [[0] [1]]"},
		{"one of three", yesNo(true, stays, out, out), "[800 1600] [[0] [1] [1]]"},
		{"anything may be seen", yesNo(false, stays, out), "[800 89] [[0] [1]]"},
		{"as it is or with a change", yesNo(true, stays, changes), "[400 400] [[0] [1]]"},
		{"it hangs on each result", yesNo(true, hangs, hangs, hangs), "[267 267 267] [[0] [1] [2]]"},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			k := looker{w: &world{classes: newClasses()}, cs: []Candidate{{Refs: []part.Ref{ref("A")}, Confidence: 800}}, open: []int{0}}
			p := k.puzzle([]prospect{tt.look})
			chances := make([]int, len(p.Chance))
			for i, c := range p.Chance {
				chances[i] = int(c + .5)
			}
			if got := fmt.Sprint(chances, p.Looks[0].Results); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
			if got := p.separates(0); !got {
				t.Error("the look separates nothing")
			}
		})
	}
}

// At most six looks are listed.
func TestAtMostSixLooks(t *testing.T) {
	b := manyParts()
	if got := len(Ask(Question{Facts: van(), Type: manyAttributes(), Shop: "main"}, b.k).Looks); got != maxLooks {
		t.Errorf("got %d", got)
	}
}

func TestReadSpan(t *testing.T) {
	month := func(y, m int) int64 { return int64(vehicle.MonthOf(y, m)) }
	tests := []struct {
		fact  vehicle.Fact
		label string
		want  span
	}{
		{vehicle.FactBuilt, "from 1995-09 to 1999-12", span{month(1995, 9), month(1999, 12)}},
		{vehicle.FactBuilt, "to 1999-12", span{0, month(1999, 12)}},
		{vehicle.FactBuilt, "from 1999-12", span{month(1999, 12), 1<<63 - 1}},
		{vehicle.FactBuilt, "whenever from now", span{0, 1<<63 - 1}},
		{vehicle.FactSerial, "up to 0124999", span{0, 124999}},
		{vehicle.FactSerial, "from 0125000", span{125000, 1<<63 - 1}},
		{vehicle.FactSerial, "from 0000100 to 0000200", span{100, 200}},
	}
	for _, tt := range tests {
		if got := readSpan(tt.fact, tt.label); got != tt.want {
			t.Errorf("%q: got %v, want %v", tt.label, got, tt.want)
		}
		if again := readSpan(tt.fact, spanLabel(tt.fact, tt.want, 7)); again != tt.want && tt.want != (span{0, 1<<63 - 1}) && tt.fact == vehicle.FactSerial {
			t.Errorf("%v: printed and read again it is %v", tt.want, again)
		}
	}
}

// A look-alike keeps its two sides apart even where a link joins them.
func TestLookAlikesAreNeverOneClass(t *testing.T) {
	b := newBook()
	for _, n := range []string{"A", "B", "C"} {
		b.fit("own", n, "model_code=KV31")
	}
	b.link("own", "A", statement.StandsIn, "B")
	b.link("own", "B", statement.StandsIn, "C")
	w := newWorld(Question{Facts: van(), Type: lookable(), Shop: "main"}, b.k)
	cs := Ask(w.q, b.k).Candidates
	k := looker{w: w, cs: cs, open: []int{0, 1, 2}}
	if got := k.classes(); !slices.Equal(got, []int{0, 0, 0}) {
		t.Errorf("got %v, want one class", got)
	}
	w.alike = append(w.alike, alikePair{a: ref("A"), b: ref("C")}, alikePair{a: ref("A"), b: ref("Z")})
	if got := k.classes(); got[0] == got[2] {
		t.Errorf("got %v, want A and C apart", got)
	}
}
