package acceptance

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"crossbin/data"
	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/numbers"
	"crossbin/internal/part"
	"crossbin/internal/sheet"
	"crossbin/internal/testkit"
)

const fitted, offered = "98760-50011", "98760-50022"

// instead asks whether one part goes in place of the one that the vehicle is
// listed with: what is known of both are columns of a list, seen is what was
// looked up on the vehicle.
func instead(t *testing.T, typ, columns, ofFitted, ofOffered string, seen ...app.Observed) fit.Candidate {
	t.Helper()
	return testkit.CandidateOf(t, insteadAnswer(t, typ, columns, ofFitted, ofOffered, seen...), offered)
}

func insteadAnswer(t *testing.T, typ, columns, ofFitted, ofOffered string, seen ...app.Observed) app.FitResult {
	t.Helper()
	s := testkit.NewShop(t)
	s.List("fits", own, "OE No | Part type | Model code | Engine\n"+fitted+" | "+typ+" | KV31 | UQ20")
	rep := s.List("values", own, "OE No | Part type | "+columns+"\n"+fitted+" | "+typ+" | "+ofFitted+"\n"+offered+" | "+typ+" | "+ofOffered)
	if rep.Flagged+rep.Refused > 0 {
		t.Fatalf("the list of values is not clean: %+v", rep.Problems)
	}
	s.List("cross", maker, relation+fitted+" | interchanges with | "+offered+" | | |")
	q := van
	q.Type, q.Observed, q.Built, q.Transmission, q.Drive, q.Turbo, q.Without = typ, seen, "1997-05", "MT", "2WD", "no", []string{"ac", "cold"}
	return s.Ask(q)
}

// gearboxes asks about a radiator of a list in which each gearbox has its own, all
// that decides measured.
func gearboxes(t *testing.T, transmission, number string) fit.Candidate {
	t.Helper()
	s := testkit.NewShop(t)
	s.List("radiators", own, "OE No | Part type | Model code | Engine | Trans | core_size | in_side | out_side | at_cooler\n"+
		fitted+" | radiator | KV31 | UQ20 | MT | 350x668x16 | left | right | no\n"+offered+" | radiator | KV31 | UQ20 | AT | 350x668x16 | left | right | yes")
	q := van
	q.Type, q.Transmission = "radiator", transmission
	return testkit.CandidateOf(t, s.Ask(q), number)
}

func seen(attribute, value string) app.Observed {
	return app.Observed{Attribute: attribute, Value: value}
}

// is holds a candidate against a verdict and words of its reason, changes and notes.
func is(t *testing.T, c fit.Candidate, verdict fit.Verdict, words ...string) {
	t.Helper()
	text := c.Reason + "; " + strings.Join(c.Notes, "; ") + "; " + strings.Join(c.Against, "; ")
	for _, change := range c.Changes {
		text += "; " + change.Task
	}
	if c.Verdict != verdict {
		t.Errorf("got %s (%s), want %s", c.Verdict, text, verdict)
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("got %s: %s, want %q in it", c.Verdict, text, w)
		}
	}
}

func ruledOutBy(t *testing.T, c fit.Candidate, kind fit.RulingKind, attribute string) {
	t.Helper()
	if c.RuledOut == nil || c.RuledOut.Kind != kind || c.RuledOut.Attribute != attribute || c.Verdict != fit.RuledOut {
		t.Errorf("got %s %+v, want %s by %s", c.Verdict, c.RuledOut, kind, attribute)
	}
}

// More of the trade's acceptance cases, by number; sources as in the case, or
// common practice, no source.
func TestMoreCases(t *testing.T) {
	for _, c := range []struct {
		number int
		name   string
		run    func(t *testing.T)
	}{
		{1, "a radiator with a cooler goes into a manual car", func(t *testing.T) {
			is(t, instead(t, "radiator", "at_cooler", "no", "yes"), fit.Fits, "plug the two ports")
			is(t, gearboxes(t, "MT", offered), fit.Fits, "plug the two ports", "listed for the gearbox AT")
		}},
		{2, "a radiator without a cooler needs a separate one in an automatic", func(t *testing.T) {
			c := instead(t, "radiator", "at_cooler", "yes", "no")
			is(t, c, fit.FitsWithChange, "separate transmission cooler")
			if len(c.Changes) != 1 || c.Changes[0].Minutes < 60 || c.Changes[0].Minutes > 90 {
				t.Errorf("got %+v, want 60 to 90 minutes", c.Changes)
			}
			is(t, gearboxes(t, "AT", fitted), fit.FitsWithChange, "separate transmission cooler", "listed for the gearbox MT")
		}},
		{3, "five grooves run a belt of four where the belt line holds", func(t *testing.T) {
			is(t, instead(t, "alternator", "ribs | belt_line", "4 | 30", "5 | 30.5"), fit.Fits, "run it in the grooves")
			open := insteadAnswer(t, "alternator", "ribs | belt_line", "4 | 30", "5 |")
			is(t, testkit.CandidateOf(t, open, offered), fit.CheckFirst)
			if !slices.ContainsFunc(open.Looks, func(l fit.Look) bool { return l.Attribute == "belt_line" }) {
				t.Errorf("got looks %+v, want the belt line", open.Looks)
			}
			is(t, instead(t, "alternator", "ribs", "5", "4"), fit.FitsWithChange, "pulley")
		}},
		{4, "terminals are compared by function, never by letter", func(t *testing.T) {
			ruledOutBy(t, instead(t, "alternator", "letters | terminals", "C | output, lamp, command", "C | output, lamp, load_report"), fit.WorksWrong, "terminals")
			is(t, instead(t, "alternator", "letters | terminals", "C | output, lamp, command", "RLO | output, lamp, command"), fit.Fits)
		}},
		{5, "a list of left-hand-drive cars tells nothing of a right-hand-drive one", func(t *testing.T) {
			s := testkit.NewShop(t)
			s.List("fits", own, "OE No | Part type | Model code | RHD/LHD | Position | role | hand\n"+
				"98760-70011 | window regulator | KV31 | LHD | front left | driver | left\n98760-70022 | window regulator | KV31 | RHD | front right | driver | right")
			q := app.FitRequest{Frame: "KV31-0123456", Built: "1997-05", Type: "window regulator", Side: "RHD"}
			r := s.Ask(q)
			want(t, r, map[string]string{"98760-70011": "", "98760-70022": "fits stated 880"})
			if c := testkit.CandidateOf(t, r, "98760-70022"); c.Position != "front right" {
				t.Errorf("got position %q", c.Position)
			}
			q.Part = "98760-70011"
			is(t, testkit.CandidateOf(t, s.Ask(q), "98760-70011"), fit.NotKnown, "LHD")
			q.Part, q.Side = "", "LHD"
			want(t, s.Ask(q), map[string]string{"98760-70011": "fits stated 880", "98760-70022": ""})
		}},
		{9, "a lost zero is a suggestion only", func(t *testing.T) {
			s := identifyingShop(t, "OE No | Part type\n0999123001 | starter")
			r, err := s.Identify(t.Context(), app.IdentifyRequest{Number: "999123001"})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(r.Suggestions, []string{"0999123001"}) || slices.ContainsFunc(r.Suspects, func(s fit.Suspect) bool { return s.Exact }) {
				t.Errorf("got %q, %+v", r.Suggestions, r.Suspects)
			}
		}},
		{10, "a half-legible number is a candidate with its doubtful places marked", func(t *testing.T) {
			s := identifyingShop(t, "OE No | Part type\n98760-50090 | alternator\n98760-61234 | alternator")
			r, err := s.Identify(t.Context(), app.IdentifyRequest{Number: "9?760-5OO9O"})
			if err != nil || len(r.Suspects) == 0 {
				t.Fatalf("got %+v, %v", r.Suspects, err)
			}
			best, marks := r.Suspects[0], ""
			for _, m := range best.Marks {
				marks += string(m.Kind) + " "
			}
			if best.Ref.Key != "9876050090" || best.Exact || marks != "agrees unread agrees agrees agrees agrees confused confused agrees confused " {
				t.Errorf("got %v exact %v, marks %s", best.Ref, best.Exact, marks)
			}
		}},
		{11, "a year range that became a date is asked back", yearAsDate},
		{12, "a weaker radiator overheats on a hill", func(t *testing.T) {
			c := instead(t, "radiator", "heat", "28.4 kW", "20.3 kW")
			ruledOutBy(t, c, fit.WorksWrong, "heat")
			is(t, c, fit.RuledOut, "bolts on, but never", "hill")
		}},
		{17, "three pins for four: it turns on whether the load report is read", func(t *testing.T) {
			ask := func(o ...app.Observed) fit.Candidate {
				return instead(t, "alternator", "pins | terminals", "4 | lamp, sense, ignition, load_report", "3 | lamp, sense, ignition", o...)
			}
			ruledOutBy(t, ask(seen("load_report", "yes")), fit.WorksWrong, "terminals")
			is(t, ask(seen("load_report", "no")), fit.FitsWithChange, "re-pin", "no load report")
			is(t, ask(), fit.CheckFirst, "load report")
		}},
		{18, "charge control works wrong both ways", func(t *testing.T) {
			c := instead(t, "alternator", "control", "ecu", "self regulated")
			ruledOutBy(t, c, fit.WorksWrong, "control")
			is(t, c, fit.RuledOut, "fixed voltage")
			ruledOutBy(t, instead(t, "alternator", "control", "lamp excited", "duty"), fit.WorksWrong, "control")
		}},
		{19, "a solid pulley for a decoupler is swapped", func(t *testing.T) {
			is(t, instead(t, "alternator", "ribs | pulley_kind", "6 | decoupler", "6 | solid"), fit.FitsWithChange, "swap the pulley")
		}},
		{20, "a bigger body does not go in, and its amps are not the reason", func(t *testing.T) {
			ruledOutBy(t, instead(t, "alternator", "amps | body_od", "70 | 128", "90 | 140"), fit.WontMount, "body_od")
		}},
		{21, "a cold-region unit fits a standard car, and not the other way round", func(t *testing.T) {
			is(t, instead(t, "alternator", "amps", "70", "90", seen("main_fuse", "100 A")), fit.Fits)
			ruledOutBy(t, instead(t, "alternator", "amps", "90", "70", seen("main_fuse", "100 A")), fit.WorksWrong, "amps")
		}},
		{28, "55B24R is no substitute for 55B24L", func(t *testing.T) { // JIS D 5301
			s := testkit.NewShop(t)
			s.List("fits", own, "OE No | Part type | Model code | Engine\n"+fitted+" | battery | KV31 | UQ20")
			s.List("codes", own, listOf(t, "battery", [][2]string{{fitted, "55B24L"}, {offered, "55B24R"}}))
			s.List("cross", maker, relation+fitted+" | same size as | "+offered+" | | |\n"+fitted+" | equivalent | "+offered+" | | |")
			q := van
			q.Type = "battery"
			ruledOutBy(t, testkit.CandidateOf(t, s.Ask(q), offered), fit.WontMount, "terminal_side")
		}},
		{29, "a bare M10 is asked back, and nothing is made of it", func(t *testing.T) {
			s := testkit.NewShop(t)
			rep := s.List("parts", own, "OE No | Part type | Model code | Engine | bplus_thread | Notes\n"+
				fitted+" | alternator | KV31 | UQ20 | M10 |\n"+offered+" | alternator | KV31 | UQ20 | M10x1.25 | M10 at the back")
			asked := 0
			for _, p := range rep.Problems {
				if strings.Contains(p.Wanted, "M10: thread or wrench size?") {
					asked++
				}
			}
			if rep.Flagged != 2 || asked != 2 {
				t.Errorf("got %d flagged, %d asked back: %+v", rep.Flagged, asked, rep.Problems)
			}
			q := van
			q.Part = fitted
			for _, v := range s.Ask(q).Reference {
				if v.Attribute == "bplus_thread" {
					t.Errorf("made %s of it", v.Value)
				}
			}
		}},
		{30, "0.9 bar and 0.9 kgf/cm2 are close, not equal", func(t *testing.T) { // NIST SP 811 B
			is(t, instead(t, "radiator", "cap_pressure", "0.9 bar", "0.9 kgf/cm2"), fit.Fits)
			ruledOutBy(t, instead(t, "radiator", "cap_pressure", "0.9 bar", "1.1 kgf/cm2"), fit.WorksWrong, "cap_pressure")
			r := insteadAnswer(t, "radiator", "cap_pressure", "0.9 kgf/cm2", "0.9 bar")
			if got := referenceOf(r, "cap_pressure"); !strings.HasPrefix(got, "88.2") {
				t.Errorf("got %q, want it kept as 88.26 kPa", got)
			}
		}},
		{31, "a label with one current says nothing of the idle", func(t *testing.T) { // ISO 8854 prints both
			s := testkit.NewShop(t)
			s.List("parts", own, "OE No | Part type | Model code | Engine | Output\n"+fitted+" | alternator | KV31 | UQ20 | 12V 80A")
			r := s.Ask(van)
			if referenceOf(r, "amps") != "80" || referenceOf(r, "volts") != "12" || referenceOf(r, "idle_amps") != "" {
				t.Errorf("got %+v", r.Reference)
			}
		}},
		{38, "a contradiction at the two ends beats the path", func(t *testing.T) {
			ruledOutBy(t, instead(t, "alternator", "mount", "pivot", "saddle"), fit.WontMount, "mount")
			is(t, instead(t, "alternator", "plug", "oval", "square"), fit.FitsWithChange, "swap the plug tail")
		}},
		{40, "date and lot codes of a label are never part numbers", func(t *testing.T) {
			s := identifyingShop(t, "OE No | Part type\n98760-50090 | alternator\n0623 | alternator")
			r, err := s.Identify(t.Context(), app.IdentifyRequest{Type: "alternator", Label: []string{"98760-50090", "9K", "0623", "24A"}})
			if err != nil || len(r.Lines) != 4 {
				t.Fatalf("got %+v, %v", r.Lines, err)
			}
			for _, l := range r.Lines[1:] {
				if l.Kind != part.LineDate {
					t.Errorf("%q: got %s", l.Raw, l.Kind)
				}
			}
			if len(r.Suspects) == 0 || r.Suspects[0].Ref.Key != "9876050090" {
				t.Errorf("got %+v", r.Suspects)
			}
			t.Run("in a list", func(t *testing.T) {
				s := testkit.NewShop(t)
				rep := s.List("parts", own, "OE No | Unit No | Part type | Model code | Engine\n"+fitted+" | 9K | alternator | KV31 | UQ20")
				if rep.Flagged != 1 || len(rep.Problems) != 1 || rep.Problems[0].Rule != "lot_code" {
					t.Errorf("got %+v", rep.Problems)
				}
				want(t, s.Ask(van), map[string]string{fitted: "fits stated 880", "9K": ""})
			})
		}},
		{41, "short tails are expanded only where their lengths fit", func(t *testing.T) {
			ask := func(cell string, verdicts map[string]string) {
				t.Helper()
				s := testkit.NewShop(t)
				rep := s.List("parts", own, "OE No | Our No | Part type | Model code | Engine\n"+cell+" | A-1 | alternator | KV31 | UQ20")
				if rep.Flagged != 1 || len(rep.Problems) == 0 {
					t.Errorf("%s: got %+v, want it asked back", cell, rep)
				}
				want(t, s.Ask(van), verdicts)
			}
			ask("98760-50090/91/100", map[string]string{"98760-50090": "fits stated 880", "98760-50091": "fits by_number 880", "98760-50100": "fits by_number 880"})
			ask("98760-50090/91X/100", map[string]string{"98760-50090": "fits stated 880", "98760-50100": "", "98760-5091X": ""})
		}},
		{42, "two rows of one number with other facts are two statements and a conflict", func(t *testing.T) {
			s := testkit.NewShop(t)
			s.List("parts", own, "OE No | Part type | Model code | Engine | Amps | Bin | Qty | Condition\n"+
				fitted+" | alternator | KV31 | UQ20 | 80 | A-1 | 2 | new\n"+fitted+" | alternator | KV31 | UQ20 | 90 | A-2 | 1 | new")
			r := s.Ask(van)
			c := testkit.CandidateOf(t, r, fitted)
			is(t, c, fit.CheckFirst, "80", "90", "row 2", "row 3")
			if len(r.Stock[0]) != 2 || c.Free != 3 {
				t.Errorf("got %+v, want both bins", r.Stock[0])
			}
		}},
		{43, "a unit on the shelf that fits with a pulley swap is offered with its change", func(t *testing.T) {
			s := testkit.NewShop(t)
			s.List("fits", own, "OE No | Part type | Model code | Engine | Ribs\n"+fitted+" | alternator | KV31 | UQ20 | 5")
			s.List("shelf", own, "OE No | Part type | Ribs | Bin | Qty | Condition\n"+offered+" | alternator | 4 | A-03-2 | 1 | new")
			s.List("cross", maker, relation+fitted+" | interchanges with | "+offered+" | | |")
			r := s.Ask(van)
			c := testkit.CandidateOf(t, r, offered)
			is(t, c, fit.FitsWithChange, "pulley")
			if c.Free != 1 {
				t.Errorf("got %d free, want the one on the shelf", c.Free)
			}
		}},
		{44, "a fraction character is a fraction", func(t *testing.T) { // UAX #15: NFKC makes 1 U+2044 2 of it
			for cell, mm := range map[string]string{"½ in": "12.7", "1½ inch": "38.1"} {
				s := testkit.NewShop(t)
				s.List("parts", own, "OE No | Part type | Model code | Engine | v_width\n"+fitted+" | alternator | KV31 | UQ20 | "+cell)
				if got := referenceOf(s.Ask(van), "v_width"); got != mm {
					t.Errorf("%s: got %q, want %s mm", cell, got, mm)
				}
			}
		}},
	} {
		t.Run(fmt.Sprintf("%d %s", c.number, c.name), func(t *testing.T) { c.run(t) })
	}
}

func referenceOf(r app.FitResult, attribute string) string {
	for _, v := range r.Reference {
		if v.Attribute == attribute {
			return v.Value
		}
	}
	return ""
}

// identifyingShop is a shop with one list whose numbers can be looked for.
func identifyingShop(t *testing.T, table string) *testkit.Shop {
	t.Helper()
	s := testkit.NewShop(t)
	groups, err := data.Confusions()
	if err != nil {
		t.Fatal(err)
	}
	if s.Confusions, err = part.NewConfusions(groups); err != nil {
		t.Fatal(err)
	}
	s.NumbersOf = func(ctx context.Context, r app.Reader) (app.Numbers, error) {
		var keys []string
		err := r.Keys(ctx, func(key string) error { keys = append(keys, key); return nil })
		return nearNumbers{numbers.Build(keys, r.Revision()), s.Confusions}, err
	}
	s.List("parts", own, table)
	return s
}

type nearNumbers struct {
	index      *numbers.Index
	confusions part.Confusions
}

func (n nearNumbers) Near(ctx context.Context, r part.Reading, limit int) (keys []string, rest int, err error) {
	matches, rest, err := n.index.Matches(ctx, r, n.confusions, limit)
	for _, m := range matches {
		keys = append(keys, m.Key)
	}
	return keys, rest, err
}

// yearAsDate brings a workbook in whose year column holds what a spreadsheet
// makes of a typed 96-01: the first of January 1996.
func yearAsDate(t *testing.T) {
	f := excelize.NewFile()
	style, err := f.NewStyle(&excelize.Style{NumFmt: 17})
	if err != nil {
		t.Fatal(err)
	}
	rows := [][]any{{"OE No", "Part type", "Model code", "Engine", "Year"}, {fitted, "alternator", "KV31", "UQ20", time.Date(1996, 1, 1, 0, 0, 0, 0, time.UTC)}}
	for i, row := range rows {
		err = errors.Join(err, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row))
	}
	var file bytes.Buffer
	if err = errors.Join(err, f.SetCellStyle("Sheet1", "E2", "E2", style), f.Write(&file), f.Close()); err != nil {
		t.Fatal(err)
	}
	s := testkit.NewShop(t)
	words, err := data.Words()
	if err != nil {
		t.Fatal(err)
	}
	book, err := sheet.OpenReader("years.xlsx", bytes.NewReader(file.Bytes()), int64(file.Len()), sheet.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	reading, err := importers.Read(t.Context(), book, importers.Options{Types: s.Types, Words: words, List: "years", Shop: "main"})
	if err != nil {
		t.Fatal(err)
	}
	rep, err := s.Import(t.Context(), app.ImportRequest{File: "years.xlsx", Hash: book.Hash, As: "years", Standing: own}, reading)
	if err != nil {
		t.Fatal(err)
	}
	if rep.Flagged != 1 || len(rep.Problems) != 1 || !strings.Contains(rep.Problems[0].Wanted, "96") || !strings.Contains(rep.Problems[0].Wanted, "1996") {
		t.Errorf("got %d flagged, %+v", rep.Flagged, rep.Problems)
	}
	for _, built := range []string{"1996-01", "1999-06"} { // neither reading is taken, and the row is no row for all years
		q := van
		q.Built = built
		want(t, s.Ask(q), map[string]string{fitted: ""})
	}
}
