package acceptance

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"crossbin/data"
	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/testkit"
)

// partType gives a part type as it is embedded.
func partType(t *testing.T, name string) part.Type {
	t.Helper()
	types, err := data.PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	p, ok := types.ByName(name)
	if !ok {
		t.Fatalf("no part type %s", name)
	}
	return p
}

// differences holds the part with one designation against the part with another
// one, attribute by attribute: "ribs wont_mount". Where nothing differs it is
// empty. Every value must be read without a doubt.
func differences(t rapid.TB, p part.Type, wanted, found string) []string {
	t.Helper()
	have := map[string]part.Value{}
	for _, d := range part.Designations(p, found) {
		have[d.Attribute] = d.Value
	}
	want := part.Designations(p, wanted)
	if len(have) == 0 || len(want) == 0 {
		t.Fatalf("%s or %s is not read", wanted, found)
	}
	var out []string
	for _, w := range want {
		a, _ := p.Attribute(w.Attribute)
		f, both := have[w.Attribute]
		if !both {
			continue
		}
		o := part.Compare(a, w.Value, f, func(string) (bool, bool) { return false, false })
		switch {
		case o.Open != "":
			out = append(out, a.Name+" open")
		case o.Difference != "":
			out = append(out, fmt.Sprintf("%s %s", a.Name, o.Difference))
		}
	}
	slices.Sort(out)
	return out
}

// Standard designations against the published rules of interchange: what goes
// for what, and why not.
func TestPublishedRulesOfInterchange(t *testing.T) {
	for _, tt := range []struct {
		rule          string
		typ           string
		wanted, found string
		want          string
	}{
		// JIS D 5301 as the Battery Association of Japan explains it
		// (www.baj.or.jp/car_battery/car03.html): rank, letter of the short side,
		// length, side; the higher rank is the better battery.
		{"the same battery", "battery", "55B24L", "55B24L", ""},
		{"a higher rank goes for a lower one", "battery", "55B24L", "65B24L", ""},
		{"a lower rank does not", "battery", "65B24L", "55B24L", "rank works_wrong"},
		{"an R never goes for an L", "battery", "55B24L", "55B24R", "terminal_side wont_mount"},
		{"nor an L for an R", "battery", "55B24R", "75B24L", "terminal_side wont_mount"},
		{"another length does not", "battery", "55B24L", "55B20L", "length_class wont_mount"},
		{"another letter does not", "battery", "55D23L", "55B23L", "box wont_mount,width adaptable"},
		{"the higher letter does not even stand in the tray", "battery", "55B24L", "55D24L", "box wont_mount,width wont_mount"},
		{"boxes that share a height differ in width", "battery", "130F51", "130E51L", "box wont_mount,terminal_side wont_mount"},
		{"large boxes have no side", "battery", "130F51", "150F51", ""},
		// Trade press of Japan: the S is a sealed auxiliary battery of hybrids.
		{"an ordinary battery is none of a hybrid's", "battery", "S46B24R", "46B24R", "hybrid_auxiliary works_wrong"},
		{"a hybrid's goes for an ordinary one", "battery", "46B24R", "S46B24R", "hybrid_auxiliary minor"},
		// JIS D 5306:2021: a standard of its own.
		{"codes of two standards are never compared", "battery", "95D20L", "M-42", "code_standard minor"},
		{"nor the other way round", "battery", "M-42", "26A17L", "code_standard minor"},
		{"but the side counts in both", "battery", "M-42R", "55B20L", "code_standard minor,terminal_side wont_mount"},
		{"no letter is a left one there", "battery", "M-42", "M-42R", "terminal_side wont_mount"},
		{"a higher rank for stop-start", "battery", "M-42R", "M-65R", ""},
		{"a lower rank for stop-start", "battery", "M-65R", "M-42R", "stop_start_rank works_wrong"},
		{"another outline", "battery", "Q-85", "S-85", "outline wont_mount"},

		// ISO 9981 and ISO 9982: a ribbed belt is its profile, its ribs and its
		// effective length; ISO 2790 for V belts: top width and effective length.
		{"the same belt, written another way", "belt", "6PK1270", "６ ＰＫ １２７０", ""},
		{"one rib more", "belt", "5PK1270", "6PK1270", "ribs wont_mount"},
		{"one rib less", "belt", "6PK1270", "5PK1270", "ribs works_wrong"},
		{"as long as the belt gauge tells", "belt", "6PK1270", "6PK1273", ""},
		{"longer than that", "belt", "6PK1270", "6PK1274", "length open"},
		{"too long to be drawn tight", "belt", "6PK1270", "6PK1300", "length wont_mount"},
		{"too short to go on", "belt", "6PK1270", "6PK1240", "length wont_mount"},
		{"another profile: pitch 2.34 in grooves of 3.56", "belt", "6PK1270", "6PJ1270", "rib_pitch works_wrong,section works_wrong"},
		{"pitch 4.70 in grooves of 3.56", "belt", "6PK1270", "6PL1270", "rib_pitch works_wrong,section works_wrong"},
		{"a V belt is none with ribs", "belt", "6PK925", "AV10x925", "section works_wrong"},
		{"AV10x925 is 10x925", "belt", "AV10x925", "10x925", ""},
		{"a wider V belt", "belt", "10x925", "13x925", "section works_wrong"},
		{"a cogged V belt for a plain one", "belt", "10x925", "AVX10x925", ""},

		// ISO 15: bearings of one dimension series and bore have one set of boundary
		// dimensions, whoever makes them; suffixes speak of seals and clearance.
		{"the same bearing", "wheel bearing", "6203ZZ", "6203-2Z", ""},
		{"another diameter series", "wheel bearing", "6203", "6303", "dimensions wont_mount"},
		{"another bore", "wheel bearing", "6203", "6204", "dimensions wont_mount"},
		{"nobody says whether it is shielded", "wheel bearing", "6203ZZ", "6203", ""},
		{"seals for shields", "wheel bearing", "6203ZZ", "6203-2RS", "seal minor"},
		{"shields for seals", "wheel bearing", "6203-2RS", "6203ZZ", "seal works_wrong"},
		{"another clearance", "wheel bearing", "6203ZZC3", "6203ZZC4", "clearance works_wrong"},
		{"a wheel bearing of the same size", "wheel bearing", "DAC33660035", "DAC336635", ""},
		{"a wheel bearing of another size", "wheel bearing", "DAC33660035", "DAC34660035", "dimensions wont_mount"},
		{"rings of two widths: measure", "wheel bearing", "DAC33660035", "DAC33660237", "dimensions open"},

		// ISO 9981:2020, 5.5: grooves of the pulley on the unit.
		{"the same pulley", "alternator", "P6PK60", "P6PK58", ""},
		{"fewer grooves", "alternator", "P6PK60", "P5PK60", "ribs adaptable"},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			if got := strings.Join(differences(t, partType(t, tt.typ), tt.wanted, tt.found), ","); got != tt.want {
				t.Errorf("%s for %s: got %q, want %q", tt.found, tt.wanted, got, tt.want)
			}
		})
	}
}

// JIS D 5301: a battery goes for another one exactly where letter, length and
// side are the same and the rank is no lower; an auxiliary one of a hybrid only
// gives way to its like.
func TestBatteryRuleHoldsForEveryCode(t *testing.T) {
	p := partType(t, "battery")
	type code struct {
		sealed, box, side string
		rank, length      int
	}
	draw := func(t *rapid.T, name string) code {
		ranks := []int{26, 28, 34, 38, 46, 48, 50, 55, 60, 75, 95, 105, 115}
		return code{rapid.SampledFrom([]string{"", "S"}).Draw(t, name+" sealed"), rapid.SampledFrom([]string{"A", "B", "D", "E"}).Draw(t, name+" box"),
			rapid.SampledFrom([]string{"L", "R"}).Draw(t, name+" side"), rapid.SampledFrom(ranks).Draw(t, name+" rank"), rapid.SampledFrom([]int{20, 24, 26}).Draw(t, name+" length")}
	}
	rapid.Check(t, func(t *rapid.T) {
		w, f := draw(t, "wanted"), draw(t, "found")
		if rapid.Bool().Draw(t, "same box") {
			f.box, f.length, f.side = w.box, w.length, w.side
		}
		text := func(c code) string { return fmt.Sprintf("%s%d%s%d%s", c.sealed, c.rank, c.box, c.length, c.side) }
		goes := f.box == w.box && f.length == w.length && f.side == w.side && f.rank >= w.rank && (w.sealed == "" || f.sealed != "")
		deciding := slices.ContainsFunc(differences(t, p, text(w), text(f)), func(d string) bool {
			_, kind, _ := strings.Cut(d, " ")
			return part.Difference(kind).Deciding()
		})
		if goes == deciding {
			t.Fatalf("%s for %s: goes %v, but ruled out %v", text(f), text(w), goes, deciding)
		}
	})
}

// listOf makes a sheet of parts with the values that their designations say, one
// column an attribute.
func listOf(t *testing.T, typ string, parts [][2]string) string {
	t.Helper()
	columns := map[string]bool{}
	rows := make([]map[string]string, len(parts))
	for i, p := range parts {
		values, _, ok := part.ReadDesignation(typ, p[1])
		if !ok {
			t.Fatalf("%s is not read", p[1])
		}
		rows[i] = values
		for name := range values {
			columns[name] = true
		}
	}
	names := slices.Sorted(maps.Keys(columns))
	out := "OE No | Part type | " + strings.Join(names, " | ")
	for i, p := range parts {
		out += "\n" + p[0] + " | " + typ
		for _, n := range names {
			out += " | " + rows[i][n]
		}
	}
	return out
}

// Lists that say "interchangeable" of what the standard keeps apart are overruled
// by the codes; what it lets through goes one way only.
func TestListsDoNotOutvoteTheStandard(t *testing.T) {
	q := app.FitRequest{Frame: "KV31-0123456", Engine: "UQ20", Built: "1997-05", Without: []string{"cold"}, Type: "battery"}
	for _, tt := range []struct{ listed, other, want string }{
		{"55B24L", "65B24L", "fits by_number 819"},
		{"65B24L", "55B24L", "ruled_out by_number"},
		{"55B24L", "55B24R", "ruled_out by_number"},
		{"55B24L", "55B19L", "ruled_out by_number"},
		{"55B24L", "55D23L", "ruled_out by_number"},
		{"S46B24R", "46B24R", "ruled_out by_number"},
		{"46B24R", "S46B24R", "fits by_number 819"},
	} {
		t.Run(tt.listed+" "+tt.other, func(t *testing.T) {
			s := testkit.NewShop(t)
			s.List("fits", own, "OE No | Part type | Model code | Engine\n98765-50011 | battery | KV31 | UQ20")
			s.List("codes", own, listOf(t, "battery", [][2]string{{"98765-50011", tt.listed}, {"98765-50022", tt.other}}))
			s.List("cross", maker, relation+"98765-50011 | interchangeable with | 98765-50022 | yes | |")
			s.List("again", maker, relation+"98765-50011 | equivalent | 98765-50022 | yes | |")
			asked := q
			asked.Part = "98765-50022"
			c := testkit.CandidateOf(t, s.Ask(asked), "98765-50022")
			if got := fmt.Sprintf("%s %s %d", c.Verdict, c.Basis, c.Confidence); !strings.HasPrefix(got, tt.want) {
				t.Errorf("got %s: %s, want %s", got, c.Reason, tt.want)
			}
			if c.Verdict == fit.RuledOut && c.RuledOut.Effect == "" {
				t.Errorf("ruled out without a word: %+v", c.RuledOut)
			}
			want(t, s.Ask(q), map[string]string{"98765-50011": "fits stated 880"})
		})
	}
}

// A belt must have the ribs of the pulleys, and a length that the tensioner
// takes: ISO 9981; what the vehicle takes is seen on it.
func TestBeltsWithinTheTensioner(t *testing.T) {
	s := testkit.NewShop(t)
	s.List("fits", own, "OE No | Part type | Model code | Engine\n"+
		"98765-60011 | belt | KV31 | UQ20\n98765-60022 | belt | KV31 | UQ20\n98765-60033 | belt | KV31 | UQ20\n98765-60044 | belt | KV31 | UQ20")
	s.List("codes", own, listOf(t, "belt", [][2]string{{"98765-60011", "6PK1200"}, {"98765-60022", "6PK1250"}, {"98765-60033", "5PK1200"}, {"98765-60044", "6PK1217"}}))
	q := app.FitRequest{Frame: "KV31-0123456", Engine: "UQ20", Built: "1997-05", Type: "belt", With: []string{"ac"},
		Observed: []app.Observed{{Attribute: "ribs", Value: "6"}, {Attribute: "length", Value: "1190-1215"}, {Attribute: "slotted", Value: "no"}}}
	r := s.Ask(q)
	want(t, r, map[string]string{"98765-60011": "fits stated 880", "98765-60044": "fits stated 880", "98765-60022": "ruled_out stated 880", "98765-60033": "ruled_out stated 880"})
	for number, attribute := range map[string]string{"98765-60022": "length", "98765-60033": "ribs"} {
		if c := testkit.CandidateOf(t, r, number); c.RuledOut == nil || c.RuledOut.Attribute != attribute {
			t.Errorf("%s: got %+v, want it ruled out by %s", number, c.RuledOut, attribute)
		}
	}
}

const (
	oldNo, newNo, newestNo = "98760-50011", "98760-50022", "98760-50033"
	oldFits                = "OE No | Part type | Model code | Engine\n98760-50011 | alternator | KV31 | UQ20"
	newFits                = "OE No | Part type | Model code | Engine\n98760-50022 | alternator | KV31 | UQ20"
	byNumber               = "fits by_number 852" // two statements of a maker's book: 1/2 + 0.84 x 0.84 / 2
	listed                 = "fits stated 920"
)

// The interchangeability codes of civil aviation, as the Common Support Data
// Dictionary of the Air Transport Association defines them, asked of the whole
// program. A is the old number, B the new one; vehicles are listed with one of
// them.
func TestInterchangeabilityCodesOfCivilAviation(t *testing.T) {
	for _, tt := range []struct {
		rule, cross string
		inOld       map[string]string // answers for a vehicle that is listed with A
		inNew       map[string]string // and for one with B
	}{
		// 1: the new one replaces either; the old one only where it was.
		{"one-way", oldNo + " | superseded by | " + newNo + " | no | |",
			map[string]string{oldNo: listed, newNo: byNumber}, map[string]string{newNo: listed, oldNo: ""}},
		{"direction not told counts as one-way", oldNo + " | superseded by | " + newNo + " | | |",
			map[string]string{oldNo: listed, newNo: byNumber}, map[string]string{newNo: listed, oldNo: ""}},
		{"one-way, told from the new number", newNo + " | replaces | " + oldNo + " | no | |",
			map[string]string{oldNo: listed, newNo: byNumber}, map[string]string{newNo: listed, oldNo: ""}},
		// 2: each replaces both.
		{"two-way", oldNo + " | superseded by | " + newNo + " | yes | |",
			map[string]string{oldNo: listed, newNo: byNumber}, map[string]string{newNo: listed, oldNo: byNumber}},
		// 3: each is only replaced by its like.
		{"not interchangeable", oldNo + " | not interchangeable | " + newNo + " | | |",
			map[string]string{oldNo: listed, newNo: ""}, map[string]string{newNo: listed, oldNo: ""}},
		// 4: all that is fitted is replaced by a whole set of the new.
		{"as a set", oldNo + " | superseded by | " + newNo + " + " + newestNo + " | yes | |",
			map[string]string{oldNo: listed, newNo: "fits_with_change by_number 852", newestNo: ""}, map[string]string{newNo: listed, oldNo: ""}},
		// 5: under conditions that are told.
		{"qualified, nobody knows the condition", oldNo + " | superseded by | " + newNo + " | yes | with the new bracket |",
			map[string]string{oldNo: listed, newNo: "check_first by_number 852"}, map[string]string{newNo: listed, oldNo: "check_first by_number 852"}},
		{"qualified, the condition holds", oldNo + " | superseded by | " + newNo + " | yes | only 4WD |",
			map[string]string{oldNo: listed, newNo: byNumber}, map[string]string{newNo: listed, oldNo: byNumber}},
		{"qualified, the condition does not hold", oldNo + " | superseded by | " + newNo + " | yes | only 2WD |",
			map[string]string{oldNo: listed, newNo: ""}, map[string]string{newNo: listed, oldNo: ""}},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			for fits, answers := range map[string]map[string]string{oldFits: tt.inOld, newFits: tt.inNew} {
				s := testkit.NewShop(t)
				s.List("fits", maker, fits)
				s.List("cross", maker, "Number | Relation | Other number | Both ways | Only if | Notes\n"+tt.cross)
				q := van
				q.Drive, q.Built = "4WD", "1997-05"
				want(t, s.Ask(q), answers)
			}
		})
	}
}

// What replaces a part only as a set says what goes with it.
func TestASetNamesItsPieces(t *testing.T) {
	s := testkit.NewShop(t)
	s.List("fits", maker, oldFits)
	s.List("cross", maker, relation+oldNo+" | superseded by | "+newNo+" + "+newestNo+" | no | |")
	c := testkit.CandidateOf(t, s.Ask(van), newNo)
	if len(c.Changes) != 1 || !strings.Contains(c.Changes[0].Task, "as a set") || !slices.Equal(c.Changes[0].Pieces, []string{"9876050033"}) {
		t.Errorf("got %+v", c.Changes)
	}
}

// Parts books of makers of small engines and generators mark each change as
// interchangeable, not, or conditionally, and for which serial numbers a part is
// used: "up to 010000", "from 010001". The two examples with three parts are
// theirs, the numbers are made up.
func TestChangesAtASerialNumber(t *testing.T) {
	book := func(rows ...string) string {
		return "OE No | Part type | Model code | Engine | Serial from | Serial to\n" + strings.Join(rows, "\n")
	}
	row := func(number, from, to string) string {
		return number + " | alternator | KV31 | UQ20 | " + from + " | " + to
	}
	for _, tt := range []struct {
		rule, fits, cross string
		answers           map[string]map[string]string // by serial
	}{
		{"interchangeable from 0020000", book(row(oldNo, "", "0019999"), row(newNo, "0020000", "")),
			oldNo + " | superseded by | " + newNo + " | yes | |",
			map[string]map[string]string{
				"0015000": {oldNo: listed, newNo: byNumber},
				"0025000": {newNo: listed, oldNo: byNumber},
			}},
		{"not interchangeable from 0015000, interchangeable from 0020000",
			book(row(oldNo, "", "0014999"), row(newNo, "0015000", "0019999"), row(newestNo, "0020000", "")),
			oldNo + " | not interchangeable | " + newNo + " | | |\n" + newNo + " | superseded by | " + newestNo + " | yes | |",
			map[string]map[string]string{
				"0010000": {oldNo: listed, newNo: "", newestNo: ""},
				"0017000": {oldNo: "", newNo: listed, newestNo: byNumber},
				"0025000": {oldNo: "", newNo: byNumber, newestNo: listed},
			}},
		{"new from 0020000", book(row(newNo, "0020000", "")), oldNo + " | same as | 98760-50044 | | |",
			map[string]map[string]string{"0015000": {newNo: ""}, "0020000": {newNo: listed}}},
		{"no longer used from 0030001", book(row(oldNo, "", "0030000")), oldNo + " | same as | 98760-50044 | | |",
			map[string]map[string]string{"0030000": {oldNo: listed}, "0030001": {oldNo: ""}}},
		{"conditionally interchangeable from 0020000", book(row(oldNo, "", "0019999"), row(newNo, "0020000", "")),
			oldNo + " | superseded by | " + newNo + " | yes | see the note at the end |",
			map[string]map[string]string{
				"0015000": {oldNo: listed, newNo: "check_first by_number 852"},
				"0025000": {newNo: listed, oldNo: "check_first by_number 852"},
			}},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			s := testkit.NewShop(t)
			s.List("book", maker, tt.fits)
			s.List("changes", maker, "Number | Relation | Other number | Both ways | Only if | Notes\n"+tt.cross)
			for serial, answers := range tt.answers {
				q := van
				q.Frame = "KV31-" + serial
				want(t, s.Ask(q), answers)
			}
		})
	}
}

// Examples that were published wrong and must not be copied.
func TestPublishedErrorsAreNotRepeated(t *testing.T) {
	// Pages on battery codes call the rank a capacity of five hours; it is the
	// root of current times reserve (JIS D 5301:2006), and no capacity follows.
	if values, _, ok := part.ReadDesignation("battery", "55B24L"); !ok || values["rank"] != "55" || values["capacity"] != "" {
		t.Errorf("got %v", values)
	}
	// Cap books print 93 kPa beside "1.0 kgf/cm2", which is 98.07 (NIST SP 811 B);
	// by its own mark it is a weaker cap.
	a, _ := partType(t, "radiator").Attribute("cap_pressure")
	wanted, err := part.ReadValue(a, "1.0 kgf/cm2")
	found, err2 := part.ReadValue(a, "93 kPa")
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if o := part.Compare(a, wanted, found, nil); o.Difference != part.WorksWrong {
		t.Errorf("93 kPa for 1.0 kgf/cm2: got %+v", o)
	}
}
