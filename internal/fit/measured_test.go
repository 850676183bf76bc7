package fit

import (
	"slices"
	"strings"
	"testing"

	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// radiator is a part type whose gearbox clause is answered by the cooler.
func radiator() part.Type {
	return part.Type{Name: "alternator", RidesOn: part.OnBody, SplitBy: []string{"transmission"},
		AnsweredBy: map[string]string{"transmission": "at_cooler"},
		Attributes: []part.Attribute{
			{Name: "core", Title: "core", Kind: part.KindNumber, Unit: "mm", Needed: true, Compare: part.Within, Tolerance: 5,
				Cases: []part.Case{{When: part.Differs, Difference: part.WontMount}}},
			{Name: "at_cooler", Title: "oil cooler", Kind: part.KindBool, Needed: true, Compare: part.Includes, Cases: []part.Case{
				{When: part.Missing, Difference: part.WorksWrong, Effect: "the gearbox overheats"},
				{When: part.Extra, Difference: part.Minor, Note: "plug two ports"}}},
		}}
}

func (b *book) measure(number, core, cooler string) {
	for attribute, raw := range map[string]string{"core": core, "at_cooler": cooler} {
		s := b.statement("own", "value", number)
		s.Place.Row = 100 + int(number[0])
		a, _ := radiator().Attribute(attribute)
		v, err := part.ReadValue(a, raw)
		if err != nil {
			panic(err)
		}
		s.Value.Attribute, s.Value.Value = attribute, v
		b.k.Values = append(b.k.Values, s)
	}
}

func (b *book) askRadiator(f vehicle.Facts) Answer {
	return Ask(Question{Facts: f, Type: radiator(), Shop: "main"}, b.k)
}

// A radiator with the oil cooler in a manual: it goes in, two ports plugged; one
// without in an automatic never does.
func TestCoolerAnswersTheGearbox(t *testing.T) {
	b := newBook()
	for n, gearbox := range map[string]string{"M": "MT", "A": "AT"} {
		s := b.fit("own", n, "model_code=KV31", "transmission="+gearbox)
		s.Place.Row = 100 + int(n[0]) // the row that also holds the measurements
	}
	b.measure("M", "400", "no")
	b.measure("A", "400", "yes")

	c := find(t, b.askRadiator(van("transmission=MT")), "A")
	if c.Verdict != Fits || c.Basis != Measured || c.Confidence != 788 || !strings.Contains(strings.Join(c.Notes, ";"), "plug two ports") {
		t.Errorf("with the cooler in a manual: got %s %s %d %v", c.Verdict, c.Basis, c.Confidence, c.Notes)
	}
	if got := verdictOf(b.askRadiator(van("transmission=AT")), "M"); got != "" {
		t.Errorf("without the cooler in an automatic: got %q, want not listed", got)
	}
}

// Units on the shelf that nobody lists are offered where all that decides is
// known and agrees, and never more than to check first.
func TestShelfUnitsAreCompared(t *testing.T) {
	tests := []struct {
		rule, core, cooler string
		want               string
	}{
		{"all agrees", "402", "no", "check_first measured"},
		{"a deciding attribute differs", "450", "no", ""},
		{"a needed attribute is not known", "402", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			b.fit("own", "M", "model_code=KV31")
			b.measure("M", "400", "no")
			if tt.cooler == "" {
				b.measure("S", tt.core, "no")
				b.k.Values = slices.DeleteFunc(b.k.Values, func(s statement.Statement) bool { return s.A == ref("S") && s.Value.Attribute == "at_cooler" })
			} else {
				b.measure("S", tt.core, tt.cooler)
			}
			b.k.OnShelf = []part.Ref{ref("S")}
			got := verdictOf(b.askRadiator(van()), "S")
			if tt.want == "" && got != "" || !strings.HasPrefix(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestObservationsOnTheVehicle(t *testing.T) {
	seen := func(attribute, raw string) map[string]Observation {
		a, _ := alternator().Attribute(attribute)
		v, err := part.ReadValue(a, raw)
		if err != nil {
			t.Fatal(err)
		}
		return map[string]Observation{attribute: {Value: v, How: "label"}}
	}
	tests := []struct {
		rule     string
		build    func(b *book)
		observed map[string]Observation
		want     string
		reason   string
	}{
		{"what was seen rules out", func(b *book) { b.value("own", "A", "volts", "12") }, seen("volts", "24"), "ruled_out stated 880", "bolts on, but never: wrong voltage class"},
		{"what agrees changes nothing", func(b *book) { b.value("own", "A", "volts", "12") }, seen("volts", "12"), "fits stated 880", ""},
		{"what is adaptable names its change", func(b *book) { b.value("own", "A", "ribs", "5") }, seen("ribs", "6"), "fits_with_change stated 880", "move the pulley over"},
		{"what hangs on something unknown is a look", func(b *book) { b.value("own", "A", "ribs", "5") }, seen("ribs", "4"), "check_first stated 880", "goes only if"},
		{"one reading against several fittings: count again", func(b *book) {
			b.value("own", "A", "volts", "12")
			b.fit("maker", "A", "model_code=KV31")
		}, seen("volts", "24"), "check_first stated 988", "count again"},
		{"a doubtful value rules nothing out", func(b *book) { b.value("own", "A", "volts", "24?") }, seen("volts", "12"), "fits stated 880", ""},
	}
	for _, tt := range tests {
		t.Run(tt.rule, func(t *testing.T) {
			b := newBook()
			b.fit("own", "A", "model_code=KV31")
			tt.build(b)
			a := Ask(Question{Facts: van(), Type: alternator(), Shop: "main", Observed: tt.observed}, b.k)
			if got := verdictOf(a, "A"); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
			if got := find(t, a, "A").Reason; !strings.Contains(got, tt.reason) {
				t.Errorf("got reason %q, want %q in it", got, tt.reason)
			}
		})
	}
}

// The same engine in another vehicle may carry a unit that works wrongly here.
func TestKinIsHeldAgainstTheListedPart(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.fit("own", "K", "model_code=LT40", "engine=ZF20")
	b.fit("own", "L", "model_code=LT40", "engine=ZF20")
	b.value("own", "A", "volts", "12")
	b.value("own", "K", "volts", "24")
	b.value("own", "L", "volts", "12")
	a := b.ask(van())
	if c := find(t, a, "K"); c.Verdict != RuledOut || c.RuledOut.Kind != WorksWrong {
		t.Errorf("got %s, want it ruled out", c.Verdict)
	}
	if got := verdictOf(a, "L"); got != "check_first by_kin 880" {
		t.Errorf("got %q", got)
	}
}

// What was looked at, or cannot be seen, is not asked again.
func TestLooksAreNotAskedTwice(t *testing.T) {
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.fit("own", "B", "model_code=KV31")
	b.value("own", "A", "ribs", "5")
	b.value("own", "B", "ribs", "6")
	asks := func(q Question) bool {
		q.Facts, q.Type, q.Shop = van(), alternator(), "main"
		return slices.ContainsFunc(Ask(q, b.k).Looks, func(l Look) bool { return l.Attribute == "ribs" })
	}
	if !asks(Question{}) {
		t.Error("the look that tells the two apart is not asked")
	}
	if asks(Question{CannotSee: map[string]bool{"ribs": true}}) {
		t.Error("asked again though it cannot be seen")
	}
	a, _ := alternator().Attribute("ribs")
	v, _ := part.ReadValue(a, "7")
	if asks(Question{Observed: map[string]Observation{"ribs": {Value: v}}}) {
		t.Error("asked again though it was seen")
	}
}

// A number that stands for a part which a look at the vehicle rules out is no
// plain answer, unless its own value is known.
func TestWhatStandsForARuledOutPart(t *testing.T) {
	a, _ := alternator().Attribute("volts")
	v, err := part.ReadValue(a, "24")
	if err != nil {
		t.Fatal(err)
	}
	b := newBook()
	b.fit("own", "A", "model_code=KV31")
	b.link("maker", "A", statement.ReplacedBy, "B")
	b.value("own", "A", "volts", "12")
	ask := func() string {
		return verdictOf(Ask(Question{Facts: van(), Type: alternator(), Shop: "main", Observed: map[string]Observation{"volts": {Value: v}}}, b.k), "B")
	}
	if got := ask(); got != "check_first by_number 819" {
		t.Errorf("got %q", got)
	}
	b.value("own", "B", "volts", "24")
	if got := ask(); got != "fits by_number 819" {
		t.Errorf("with its own value known: got %q", got)
	}
}
