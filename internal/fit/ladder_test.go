package fit

import (
	"fmt"
	"testing"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Each row of this table names the rule that it guards; without the rule it
// fails.
func TestLadder(t *testing.T) {
	const code, engine = "model_code=KV31", "engine=ZF20"
	tests := []struct {
		rule  string
		build func(b *book)
		facts vehicle.Facts
		want  map[string]string
	}{
		{"a row of the own list fits", func(b *book) { b.fit("own", "A", code, engine) }, van(),
			map[string]string{"A": "fits stated 880"}},
		{"a rebuilder alone is below the bar", func(b *book) { b.fit("rebuilder", "A", code, engine) }, van(),
			map[string]string{"A": "check_first stated 750"}},
		{"two rebuilders that do not copy one another add up", func(b *book) {
			b.fit("rebuilder", "A", code)
			b.fit("rebuilder2", "A", code)
		}, van(), map[string]string{"A": "fits stated 900"}},
		{"copies count as one source", func(b *book) {
			b.fit("rebuilder", "A", code)
			b.fit("rebuilder2", "A", code)
			s := b.k.Sources["rebuilder2"]
			s.CopiedFrom = "rebuilder"
			b.k.Sources["rebuilder2"] = s
		}, van(), map[string]string{"A": "check_first stated 750"}},
		{"two rows of one list count once", func(b *book) {
			b.fit("own", "A", code)
			b.fit("own", "A", engine)
		}, van(), map[string]string{"A": "fits stated 880"}},
		{"weak sources add up, never to fits", func(b *book) {
			for _, s := range []string{"forum", "forum2", "forum3", "forum4"} {
				b.fit(s, "A", code)
			}
		}, van(), map[string]string{"A": "check_first stated 835"}},
		{"at 0.5 or below a statement is a note", func(b *book) { b.fit("gossip", "A", code) }, van(), map[string]string{"A": ""}},
		{"a trail of two rows", func(b *book) {
			b.fit("own", "A", code)
			b.link("own", "A", statement.Same, "B")
		}, van(), map[string]string{"A": "fits stated 880", "B": "fits by_number 788"}},
		{"a replacement goes forward only", func(b *book) {
			b.fit("own", "B", code)
			b.link("own", "A", statement.ReplacedBy, "B")
		}, van(), map[string]string{"A": ""}},
		{"a replacement both ways goes back", func(b *book) {
			b.fit("own", "B", code)
			b.link("own", "A", statement.ReplacedBy, "B").BothWays = vehicle.Yes
		}, van(), map[string]string{"A": "fits by_number 788"}},
		{"two words that it does the job stop", func(b *book) {
			b.fit("own", "A", code)
			b.link("own", "A", statement.StandsIn, "B")
			b.link("own", "B", statement.StandsIn, "C")
		}, van(), map[string]string{"B": "fits by_number 788", "C": ""}},
		{"two links with changes stop", func(b *book) {
			b.fit("own", "A", code)
			b.link("own", "A", statement.StandsIn, "B").Changes = []statement.Change{{Task: "swap the pulley"}}
			b.link("own", "B", statement.StandsIn, "C").Changes = []statement.Change{{Task: "re-pin the plug"}}
		}, van(), map[string]string{"B": "fits_with_change by_number 788", "C": ""}},
		{"a replacement then a word only suggests", func(b *book) {
			b.fit("fitting", "A", code)
			b.link("fitting", "A", statement.ReplacedBy, "B")
			b.link("fitting", "B", statement.StandsIn, "C")
		}, van(), map[string]string{"B": "fits by_number 905", "C": "check_first by_number 864"}},
		{"three links and no more", func(b *book) {
			b.fit("fitting", "A", code)
			for _, l := range []string{"AB", "BC", "CD", "DE"} {
				b.link("fitting", l[:1], statement.Same, l[1:])
			}
		}, van(), map[string]string{"D": "fits by_number 828", "E": ""}},
		{"a look-alike blocks whatever lists say", func(b *book) {
			b.fit("own", "A", code)
			for _, s := range []string{"own", "maker", "rebuilder"} {
				b.link(s, "A", statement.StandsIn, "X")
			}
			b.link("forum", "A", statement.LookAlike, "X").Reason = "24 volt"
		}, van(), map[string]string{"A": "check_first stated 880", "X": "ruled_out by_number 819"}},
		{"look-alikes for different engines: each depends on the engine", func(b *book) {
			b.fit("own", "A", code, "engine=ZF20")
			b.fit("own", "B", code, "engine=ZF22")
			b.link("fitting", "A", statement.LookAlike, "B")
		}, engineUnknown(), map[string]string{"A": "check_first stated 880", "B": "check_first stated 880"}},
		{"look-alikes that fitments name for the same vehicle are both out", func(b *book) {
			b.fit("own", "A", code)
			b.fit("own", "B", code)
			b.link("fitting", "A", statement.LookAlike, "B")
		}, van(), map[string]string{"A": "ruled_out stated 880", "B": "ruled_out stated 880"}},
		{"the stronger of two named look-alikes is disputed", func(b *book) {
			b.fit("maker", "A", code)
			b.fit("own", "B", code)
			b.link("fitting", "A", statement.LookAlike, "B")
		}, van(), map[string]string{"A": "check_first stated 920", "B": "ruled_out stated 880"}},
		{"a look-alike at or below 0.5 blocks nothing", func(b *book) {
			b.fit("own", "A", code)
			b.link("own", "A", statement.StandsIn, "X")
			b.link("gossip", "A", statement.LookAlike, "X")
		}, van(), map[string]string{"X": "fits by_number 788"}},
		{"a kit is not the part", func(b *book) {
			b.fit("own", "A", code)
			b.link("own", "A", statement.ReplacedBy, "K").Kit = true
		}, van(), map[string]string{"A": "fits stated 880", "K": ""}},
		{"kin is check first at most", func(b *book) { b.fit("fitting", "A", "model_code=LT40", engine) }, van(),
			map[string]string{"A": "check_first by_kin 950"}},
		{"two makers with one model code: the maker is depended on", func(b *book) {
			b.fit("own", "A", code, "maker=ONE")
			b.fit("own", "B", code, "maker=TWO")
		}, van(), map[string]string{"A": "check_first stated 880", "B": "check_first stated 880"}},
		{"one maker of a model code changes nothing", func(b *book) { b.fit("own", "A", code, "maker=ONE") }, van(),
			map[string]string{"A": "fits stated 880"}},
		{"an engine that the book does not know in this vehicle: the row follows another block", func(b *book) {
			b.fit("own", "A", code)
			b.fit("own", "B", code, "engine=ZF22")
		}, van(), map[string]string{"A": "check_first stated 880", "B": ""}},
		{"a change that a good source names is not taken away by a stronger one", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.link("own", "A", statement.StandsIn, "B").Changes = []statement.Change{{Task: "swap the pulley"}}
		}, van(), map[string]string{"B": "fits_with_change by_number 819"}},
		{"a change that only hearsay names gives way", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.link("forum", "A", statement.StandsIn, "B").Changes = []statement.Change{{Task: "swap the pulley"}}
		}, van(), map[string]string{"B": "fits by_number 819"}},
		{"a change both ways is known one way only", func(b *book) {
			b.fit("own", "B", code)
			l := b.link("maker", "A", statement.StandsIn, "B")
			l.BothWays, l.Changes = vehicle.Yes, []statement.Change{{Task: "swap the pulley"}}
		}, van(), map[string]string{"A": "check_first by_number 819"}},
		{"a vehicle known by its engine alone depends on the model code", func(b *book) { b.fit("own", "A", code, engine) },
			engineOnly(), map[string]string{"A": "check_first stated 880"}},
		{"kin lends nothing to what is said of this vehicle", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B").Changes = []statement.Change{{Task: "swap the pulley"}}
			b.fit("fitting", "B", "model_code=LT40", engine)
		}, van(), map[string]string{"B": "fits_with_change by_number 819"}},
		{"another engine of the family, where nothing speaks of this one", func(b *book) {
			b.k.Engines["ZF20"], b.k.Engines["ZF22"] = []string{"ZF"}, []string{"ZF"}
			b.fit("own", "A", "model_code=LT40", "engine=ZF22")
		}, inFamily(van(), "ZF"), map[string]string{"A": "check_first by_kin 880"}},
		{"the family does not serve where the engine itself is listed", func(b *book) {
			b.k.Engines["ZF20"], b.k.Engines["ZF22"] = []string{"ZF"}, []string{"ZF"}
			b.fit("own", "A", "model_code=LT40", "engine=ZF22")
			b.fit("own", "B", "model_code=LT40", "engine=ZF20")
		}, inFamily(van(), "ZF"), map[string]string{"A": "", "B": "check_first by_kin 880"}},
		{"a clause on this vehicle makes no kin", func(b *book) { b.fit("own", "A", "model_code=LT40", engine, "transmission=AT") },
			van("transmission=MT"), map[string]string{"A": ""}},
		{"an unknown fact that splits is depended on", func(b *book) { b.fit("own", "A", code, "transmission=AT") }, van(),
			map[string]string{"A": "check_first stated 880"}},
		{"rows that cover every way are judged together", func(b *book) {
			b.fit("own", "A", code, "transmission=AT")
			b.fit("own", "A", code, "transmission=MT")
		}, van(), map[string]string{"A": "fits stated 880"}},
		{"a fact that splits nothing stays a note", func(b *book) { b.fit("own", "A", code, "side=RHD") }, van(),
			map[string]string{"A": "fits stated 880"}},
		{"statements that differ on a fact make it matter", func(b *book) {
			b.fit("own", "A", code, "side=RHD")
			b.fit("own", "B", code, "side=LHD")
		}, van(), map[string]string{"A": "check_first stated 880", "B": "check_first stated 880"}},
		{"several makers of one number", func(b *book) {
			b.part("own", "A@M1")
			b.part("own", "A@M2")
			b.fit("own", "A", code)
		}, van(), map[string]string{"A@M1": "check_first stated 880", "A@M2": "check_first stated 880"}},
		{"one maker of a bare number is meant", func(b *book) {
			b.part("own", "A@M1")
			b.fit("own", "A", code)
		}, van(), map[string]string{"A@M1": "fits stated 880"}},
		{"a number of another part type is not a candidate", func(b *book) {
			b.part("own", "R").Type = "regulator"
			b.fit("own", "R", code)
			b.k.Fitments[0].Type = ""
		}, van(), map[string]string{"R": ""}},
		{"a contradicting value stands against", func(b *book) {
			b.fit("own", "A", code)
			b.value("own", "A", "volts", "12")
			b.value("maker", "A", "volts", "24 V")
		}, van(), map[string]string{"A": "check_first stated 880"}},
		{"a deciding difference beats every path", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.value("own", "A", "volts", "12")
			b.value("own", "B", "volts", "24")
		}, van(), map[string]string{"B": "ruled_out by_number 0"}},
		{"a disputed value rules nothing out", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.value("own", "A", "volts", "12")
			b.value("own", "B", "volts", "24")
			b.value("maker", "B", "volts", "12")
		}, van(), map[string]string{"B": "check_first by_number 819"}},
		{"an adaptable difference adds its change", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.value("own", "A", "ribs", "6")
			b.value("own", "B", "ribs", "5")
		}, van(), map[string]string{"B": "fits_with_change by_number 819"}},
		{"a case on an unknown condition is check first", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B")
			b.value("own", "A", "ribs", "4")
			b.value("own", "B", "ribs", "5")
		}, van(), map[string]string{"B": "check_first by_number 819"}},
		{"replacements in a ring are a dispute", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.ReplacedBy, "B")
			b.link("rebuilder", "B", statement.ReplacedBy, "A")
		}, van(), map[string]string{"A": "check_first stated 880"}},
		{"a condition known to fail makes a link useless", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B").Conditions = []string{"4WD"}
		}, van("drive=2WD"), map[string]string{"B": ""}},
		{"a condition that nobody knows is check first", func(b *book) {
			b.fit("own", "A", code)
			b.link("maker", "A", statement.StandsIn, "B").Conditions = []string{"4WD"}
		}, van(), map[string]string{"B": "check_first by_number 819"}},
		{"another emission prefix is never an exact match", func(b *book) { b.fit("own", "A", code, "emission_prefix=GF") },
			van("emission_prefix=GH"), map[string]string{"A": "check_first stated 880"}},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			tt.build(b)
			a := b.ask(tt.facts)
			for number, want := range tt.want {
				if got := verdictOf(a, number); got != want {
					t.Errorf("%s: got %q, want %q", number, got, want)
				}
			}
		})
	}
}

// Brakes, steering, fuel and timing-driven pumps: the higher bar, and a list
// alone never says fits.
func TestHighCare(t *testing.T) {
	tests := []struct {
		name string
		by   []string
		want Verdict
	}{
		{"a list alone", []string{"own"}, CheckFirst},
		{"two lists that do not copy one another pass the bar", []string{"own", "maker"}, Fits},
		{"two rebuilders stay below it", []string{"rebuilder", "rebuilder2"}, CheckFirst},
		{"an own fitting and a list", []string{"fitting", "own"}, Fits},
		{"an own fitting alone meets the bar", []string{"fitting"}, Fits},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBook()
			for _, s := range tt.by {
				b.fit(s, "A", "model_code=KV31")
			}
			care := alternator()
			care.HighCare = true
			a := Ask(Question{Facts: van(), Type: care, Shop: "main"}, b.k)
			if got := find(t, a, "A").Verdict; got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// An own standing of another shop is worth what another shop's word is.
func TestOtherShopsOwnListIsOtherShop(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	a := Ask(Question{Facts: van(), Type: alternator(), Shop: "elsewhere"}, b.k)
	if got, want := find(t, a, "A").Confidence, 550; got != want {
		t.Errorf("got %d, want %d", got, want)
	}
}

func TestNone(t *testing.T) {
	b := newBook()
	b.none("own", "model_code=KV31").Note = "charging by converter"
	b.fit("own", "A", "model_code=KV31")
	b.fit("own", "B", "model_code=LT40", "engine=ZF20")
	b.link("own", "A", statement.Same, "C")
	a := b.ask(van())
	if a.None == nil || a.None.Note != "charging by converter" {
		t.Fatalf("got %+v, want the statement that it has none", a.None)
	}
	for number, want := range map[string]string{"A": "check_first stated 880", "B": "", "C": ""} {
		if got := verdictOf(a, number); got != want {
			t.Errorf("%s: got %q, want %q", number, got, want)
		}
	}
}

// A "none" that may hold is one more way in which the unknown facts can turn
// out.
func TestPossibleNoneIsDependedOn(t *testing.T) {
	b := newBook()
	b.none("own", "model_code=KV31", "transmission=AT")
	b.fit("own", "A", "model_code=KV31")
	b.k.Fitments[0].Note = "charging by converter"
	a := b.ask(van())
	c := find(t, a, "A")
	if c.Verdict != CheckFirst || len(c.DependsOn) != 1 || c.DependsOn[0] != vehicle.FactTransmission {
		t.Errorf("got %s depending on %v, want check first on the gearbox", c.Verdict, c.DependsOn)
	}
	if want := "has none at all with the gearbox AT: charging by converter (own, own.csv, row 1)"; len(a.Notes) != 1 || a.Notes[0] != want {
		t.Errorf("got notes %q, want %q", a.Notes, want)
	}
}

func TestAskedByNumber(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "transmission=AT")
	b.link("own", "OLD", statement.ReplacedBy, "A")
	b.link("own", "A", statement.ReplacedBy, "K").Kit = true
	tests := []struct{ name, part, reason string }{
		{"ruled out by a scope", "A", "listed for the gearbox AT, this one is MT"},
		{"nothing known", "Z", "nothing in the book speaks for it"},
		{"a kit", "K", "a kit that holds A; a kit is not the part"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := find(t, b.askPart(van("transmission=MT"), tt.part), tt.part)
			if c.Verdict != NotKnown || c.Reason != tt.reason {
				t.Errorf("got %s %q, want not_known %q", c.Verdict, c.Reason, tt.reason)
			}
		})
	}
	old := find(t, b.askPart(van("transmission=AT"), "OLD"), "OLD")
	if want := "the old number of A; nobody says that it still goes in its place"; old.Reason != want {
		t.Errorf("got %q, want %q", old.Reason, want)
	}
}

func TestBreaksComeFirst(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "serial=0-124999")
	b.fit("own", "B", "model_code=KV31", "serial=125000-199999")
	a := b.ask(van())
	if len(a.Notes) == 0 || a.Notes[0] != "1,544 before a change at 0125000: read the last four again" {
		t.Errorf("got notes %q", a.Notes)
	}
	if got := verdictOf(a, "A"); got != "fits stated 880" {
		t.Errorf("got %q, want fits: a serial needs no margin", got)
	}
}

// Within three months of a date break both parts are offered, with the look
// that tells them apart.
func TestDateBreakOffersBoth(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "built=1993-08..1997-05")
	b.fit("own", "B", "model_code=KV31", "built=1997-06..2001-07")
	b.value("own", "A", "ribs", "5")
	b.value("own", "B", "ribs", "6")
	a := b.ask(van("built=1997-05..1997-05"))
	for _, n := range []string{"A", "B"} {
		if got := verdictOf(a, n); got != "check_first stated 880" {
			t.Errorf("%s: got %q, want check first", n, got)
		}
	}
	if len(a.Looks) == 0 || a.Looks[len(a.Looks)-1].Attribute != "ribs" && a.Looks[0].Attribute != "ribs" {
		t.Errorf("got looks %+v, want one on the ribs", a.Looks)
	}
	a = b.ask(van("built=1996-01..1996-01"))
	if got := verdictOf(a, "A"); got != "fits stated 880" {
		t.Errorf("well inside: got %q, want fits", got)
	}
}

// The same part on both sides of a break depends on nothing.
func TestBreakThatChangesNothing(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "built=1993-08..1997-05")
	b.fit("own", "A", "model_code=KV31", "built=1997-06..2001-07")
	c := find(t, b.ask(van("built=1997-05..1997-05")), "A")
	if c.Verdict != Fits || len(c.DependsOn) != 0 {
		t.Errorf("got %s depending on %v", c.Verdict, c.DependsOn)
	}
}

func TestSwappedEngineFollowsTheBlock(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "engine=ZF20")
	b.fit("own", "B", "model_code=LT40", "engine=ZF30")
	f := van()
	f.Set(vehicle.FactEngine, "ZF30", vehicle.Stamped)
	a := b.ask(f)
	if got := verdictOf(a, "A"); got != "" {
		t.Errorf("the old engine's unit: got %q, want not listed", got)
	}
	if got := verdictOf(a, "B"); got != "check_first by_kin 880" {
		t.Errorf("the block's unit: got %q, want check first by kin", got)
	}
	body := alternator()
	body.RidesOn = part.OnBody
	if got := verdictOf(Ask(Question{Facts: f, Type: body, Shop: "main"}, b.k), "B"); got != "" {
		t.Errorf("body-riding: got %q, want not listed", got)
	}
}

// Numbers of one physical part stand under one heading; the asked one keeps its
// own.
func TestHeading(t *testing.T) {
	b := newBook()
	fitment := b.fit("own", "A", "model_code=KV31")
	b.link("own", "A", statement.Same, "U")
	b.k.Links[0].Place = fitment.Place // the same row names both numbers
	a := b.ask(van())
	if len(a.Candidates) != 1 || len(a.Candidates[0].Refs) != 2 || a.Candidates[0].Confidence != 880 {
		t.Errorf("got %+v, want one heading with two numbers at .880: a row counts once", a.Candidates)
	}
}

// However sure a shop makes its own list, alone it never says fits for brakes.
func TestHighCareListAloneNeverFits(t *testing.T) {
	b := newBook()
	b.k.Standings = append(statement.Standings{{Standing: statement.OwnList, R: .97}}, b.k.Standings...)
	b.fit("own", "A", "model_code=KV31")
	care := alternator()
	care.HighCare = true
	if got := find(t, Ask(Question{Facts: van(), Type: care, Shop: "main"}, b.k), "A"); got.Verdict != CheckFirst || got.Confidence != 970 {
		t.Errorf("got %s %d, want check first at 970", got.Verdict, got.Confidence)
	}
}

func inFamily(f vehicle.Facts, family string) vehicle.Facts {
	f.Families = []string{family}
	return f
}

func engineUnknown() vehicle.Facts {
	f := van()
	delete(f.Text, vehicle.FactEngine)
	return f
}

// In a group of thousands of cross-references the near numbers are not crowded
// out by what lies behind the first of them.
func TestLargeGroupsKeepTheNearNumbers(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	for i := range 80 {
		near := fmt.Sprintf("N%02d", i)
		b.link("own", "A", statement.Same, near)
		for j := range 80 {
			b.link("own", near, statement.Same, fmt.Sprintf("N%02d", j))
		}
	}
	w := newWorld(Question{Facts: van(), Type: alternator(), Shop: "main"}, b.k)
	reached := map[string]bool{}
	for _, p := range w.paths(ref("A")) {
		reached[p.end.Key] = true
	}
	for i := range 80 {
		if n := fmt.Sprintf("N%02d", i); !reached[n] {
			t.Fatalf("%s is one link away and was not reached", n)
		}
	}
	if got := len(b.ask(van()).Candidates); got == 0 {
		t.Error("no candidate")
	}
}

// A run between two breaks is named by both of its ends.
func TestSerialRunsAreNamedByBothEnds(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31", "serial=10000-19999")
	b.fit("own", "B", "model_code=KV31", "serial=20000-29999")
	f := van()
	f.Serial = vehicle.NoSerial
	got := find(t, b.ask(f), "A").GoesInWhen[vehicle.FactSerial]
	if len(got) != 1 || got[0] != "from 0010000 to 0019999" {
		t.Errorf("got %q", got)
	}
}

func engineOnly() vehicle.Facts {
	f := van()
	delete(f.Text, vehicle.FactModelCode)
	f.Serial = vehicle.NoSerial
	return f
}

// A warning that a part only looks like a listed one counts although nothing
// speaks for that part, with and without a vehicle.
func TestLookAlikeOfAnUnlistedPart(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.link("fitting", "A", statement.LookAlike, "X").Reason = "24 volt"
	c := find(t, b.askPart(van(), "X"), "X")
	if c.Verdict != RuledOut || c.RuledOut.Kind != BlockedLook {
		t.Errorf("got %s %q, want it ruled out", c.Verdict, c.Reason)
	}
	around := AskAround(Question{Type: alternator(), Shop: "main", Part: ref("A")}, b.k)
	if len(around.Against) != 1 || around.Against[0] != "only looks like X: 24 volt (fitting, fitting.csv, row 2)" {
		t.Errorf("got %q", around.Against)
	}
}
