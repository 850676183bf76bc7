package importers_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"crossbin/importers"
	"crossbin/internal/app"
	"crossbin/internal/sheet"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// TestRules holds one row under given headings against what must and what must
// not be read from it.
func TestRules(t *testing.T) {
	for _, tt := range []struct {
		name, head, row string
		want, not       string
	}{
		{"case 29, a bare thread in a note is asked back", "OE No,Description,Notes", "98760-50090,Alternator,M10 at the back", "M10: thread or wrench size?", ""},
		{"case 29, a thread with its pitch is not", "OE No,Description,Notes", "98760-50090,Alternator,M10x1.25 stud", "taken", "!"},
		{"case 29, a bare thread in a value is left out", "OE No,Description,Thread of the main stud", "98760-50090,Alternator,M10", "M10: thread or wrench size?", "value"},
		{"case 31, one current only", "OE No,Description,Output", "98760-50090,Alternator,12V 80A", "amps=80", "idle_amps"},
		{"case 31, two currents", "OE No,Description,Output", "98760-50090,Alternator,14V 50/100A", "idle_amps=50", "amps=50/"},
		{"a rating the other way round", "OE No,Description,Output", "98760-50090,Alternator,50/120A 13.5V", "idle_amps=50", "!"},
		{"a rating in doubt", "OE No,Description,Output", "98760-50090,Alternator,12V 80A?", "amps=80 (marked as not certain)", ""},
		{"no rating", "OE No,Description,Output", "98760-50090,Alternator,strong", "value_unread", "value 98"},
		{"volts of their own column before those beside the amps", "OE No,Description,Amps,Volts", "98760-50090,Alternator,12V 80A,24", "! C2 value_twice", "volts=12"},
		{"the same volts twice", "OE No,Description,Amps,Volts", "98760-50090,Alternator,12V 80A,12", "D2 value 9876050090 volts=12", "!"},
		{"a starter's power", "OE No,Description,Output", "98760-50090,Starter,12V 1.4kW", "power=1.4", "amps"},
		{"case 39, a member of a kit is not the kit", "Number,Relation,Other number,Both ways", "98760-50090,supplied in kit,98760-50091,yes", "kit both ways no", "both ways yes"},
		{"case 41, tails are expanded and flagged", "OE No,Description", "98760-50090/91/100,Alternator", "part 9876050100", "part 91"},
		{"case 41, tails that do not fit are asked", "OE No,Description", "98760-50090/91X/100,Alternator", "shorthand_unclear", "part 9876050100"},
		{"case 44, a fraction character", "OE No,Description,Core thickness", "98760-50090,Radiator,1½ in", "", "11"},
		{"the first condition of a unit, aftermarket", "OE No,Our No,Description,Condition", "98760-50090,A1,Alternator,aftermarket", "stands_in", "same"},
		{"remanufactured stands in", "OE No,Our No,Description,Condition", "98760-50090,A1,Alternator,リビルト", "stands_in", "same"},
		{"used is the same part", "OE No,Our No,Description,Condition", "98760-50090,A1,Alternator,used", "same", "stands_in"},
		{"superseded by", "OE No,Superseded by", "98760-50090,98760-50091", "link 9876050090 replaced_by 9876050091", "both ways"},
		{"replaces", "OE No,Replaces", "98760-50090,98760-50089", "link 9876050089 replaced_by 9876050090", ""},
		{"equivalent is never same", "OE No,Equivalent", "98760-50090,98760-50091; 98760-50092", "link 9876050090 stands_in 9876050092", "same"},
		{"a bare list is one way", "OE No,Interchange", "98760-50090,98760-50091", "link 9876050090 stands_in 9876050091", "link 9876050091"},
		{"numbers of one cell are not linked", "OE No,Our No", "98760-50090 / 98760-50091,A1", "link 9876050091 same A1", "link 9876050090 same 9876050091"},
		{"a set replaces", "OE No,Superseded by", "98760-50090,98760-50091 + 98760-50092", "replaced_by 9876050091 + 9876050092", ""},
		{"a set is not replaced by one", "OE No,Replaces", "98760-50090,98760-50091 + 98760-50092", "set_replaced", "  B2 link"},
		{"two sets tell nothing of one another", "OE No,Unit No", "98760-50090 + 98760-50091,100211-1230 + 100211-1231", "part 1002111231", "link"},
		{"an arrow in a cross cell", "OE No,Equivalent", "98760-50090,98760-50091 → 98760-50092", "link 9876050091 replaced_by 9876050092", "stands_in 9876050092"},
		{"an arrow in an OE cell is one way from the old number", "OE No,Our No", "98760-50090 → 98760-50091,A1", "link 9876050090 stands_in A1", "same"},
		{"an arrow in an own cell is one way to the new number", "OE No,Our No", "98760-50090,A1 → A2", "link 9876050090 stands_in A2", "same"},
		{"an arrow in a replaces cell", "OE No,Replaces", "98760-50092,98760-50090 → 98760-50091", "link 9876050091 replaced_by 9876050092", "9876050090 replaced_by 9876050092"},
		{"several unit makers cannot all have made it", "OE No,Hartwell No,Zennor No", "98760-50090,100211-1230,200311-4560", "link 9876050090 stands_in ZENNOR 2003114560", "same"},
		{"old and new number are enough", "Old number,New number,Both ways", "98760-50090,98760-50091,no", "link 9876050090 replaced_by 9876050091 both ways no", "!"},
		{"serials of the units are no vehicles", "OE No,Serial No,Qty", "98760-50090,1234567,2", "counted 2", "!"},
		{"a number equal to its own cross", "OE No,Equivalent", "98760-50090,98760 50090", "taken", "link"},
		{"a lost name of a maker", "OE No,Make,Model", "98760-50090,Kestrel / Ostara,Arrow", "part 9876050090", "part KESTREL"},
		{"words in front of a number", "OE No,Description", "Genuine No. 98760-50090,Alternator", "part 9876050090 ", "GENUINE"},
		{"the part's name in front of a number", "OE No,Description", "Alternator 98760-50090,Alternator", "part 9876050090 ", "part ALTERNATOR"},
		{"a remark behind a number", "OE No,Equivalent", "98760-50090,98760-50091 small plug", `if ["small plug"]`, ""},
		{"letters in front of a number belong to it", "OE No,Description", "A 987 654 32 10,Alternator", "part A9876543210", "!"},
		{"no part at all, in Japanese", "純正品番,品名,車種,型式", "なし,オルタネーター,アロー,ZV18", "none in", "fitment"},
		{"no part at all, in Spanish", "Número original,Descripción,Modelo", "sin alternador,Alternador,Arrow", "none in model=ARROW [alternator]", "fitment"},
		{"no part in a cell that names it", "OE No,Model", "no alternator,Arrow", "none in model=ARROW [alternator]", ""},
		{"no part in a cell that names it, in Japanese", "純正品番,車種", "オルタネーターなし,アロー", "none in model=アロー [alternator]", ""},
		{"no part, but no vehicle", "OE No,Part type,Model", "none,Alternator,", "refused", "none in"},
		{"an own number without digits", "Our No,Description", "FOX,Alternator", "part FOX", "!"},
		{"too long for a number", "OE No,Description", strings.Repeat("12345", 9) + "X,Alternator", "not_a_number", "A2 part"},
		{"too many links", "OE No,Cross", "98760-50090," + strings.Repeat("98760-50091;", 3), "taken", "!"},
		{"too many vehicles", "OE No,Part type,Model,Engine", "98760-50090,Alternator," + names("M", 9) + "," + names("E", 8), "too_many_vehicles", "fitment"},
		{"contradicting codes", "OE No,Part type,Model code,Frame No", "98760-50090,Alternator,KV31,KV41-0123456", "contradiction", "fitment"},
		{"agreeing codes", "OE No,Part type,Model code,Serial from,Serial to", "98760-50090,Alternator,KV31,0100000,0124999", "serial=0100000…0124999", "!"},
		{"reversed serials", "OE No,Part type,Model code,Serial from,Serial to", "98760-50090,Alternator,KV31,0124999,0100000", "contradiction", "fitment"},
		{"family and code", "OE No,Part type,Engine,Engine family", "98760-50090,Alternator,ZZ6,ZZ", "engine ZZ6 of family ZZ", "engine=ZZ "},
		{"family alone", "OE No,Part type,Engine,Engine family", "98760-50090,Alternator,,ZZ", "into engine=ZZ", "engine ZZ"},
		{"several families", "Engine code,Engine family", "ZZ6 / HB6,ZZ / HB", "several_families", "engine ZZ6"},
		{"an unreadable engine in a family", "Engine code,Engine family", "ZZ6 / ZZ?,ZZ", "engine ZZ6 of family ZZ", "engine ZZ?"},
		{"quantity per vehicle not a number", "OE No,Part type,Model,Per vehicle", "98760-50090,Alternator,Arrow,some", "quantity_unread", "quantity="},
		{"type column wins", "OE No,Part type,Description", "98760-50090,Radiator,Alternator", "[radiator]", "[alternator]"},
		{"a type that is not known", "OE No,Part type,V", "98760-50090,Gizmo,12", "unknown_part_type", "no_part_type"},
		{"a piece of a part is not the part", "OE No,Description,V", "98760-50090,Alternator bracket,12", "no_part_type", "[alternator]"},
		{"rotation", "OE No,Description,Rotation", "98760-50090,Alternator,derecha", "rotation=cw", "!"},
		{"unit in the heading", "OE No,Description,Cap pressure (bar)", "98760-50090,Radiator,0.9", "cap_pressure=90", "!"},
		{"unit in the cell", "OE No,Description,Cap pressure", "98760-50090,Radiator,13psi", "cap_pressure=89.6", "!"},
		{"a remark beside a value", "OE No,Description,Amps", "98760-50090,Alternator,80 (old type)", "! C2 remark_beside_value", "row 2 taken"},
		{"line numbers are no part numbers", "No,OE No,Qty", "1,98760-50090,2", "part 9876050090", "part 1 "},
		{"held, in words", "OE No,Reserved", "98760-50090,1 for J-9", `held 1 for "J-9"`, "!"},
		{"not held", "OE No,Qty,Reserved", "98760-50090,3,no", "counted 3", "held"},
		{"a date in words decides nothing", "OE No,Qty,Checked", "98760-50090,3,2026/11/2", "on 2026-11-02", "!"},
		{"no such day", "OE No,Qty,Checked", "98760-50090,3,2026-13-45", "counted 3", " on "},
		{"cores", "OE No,Cores", "98760-50090,some", "quantity_unclear", "shelf"},
		{"used and incomplete is incomplete", "OE No,Qty,Condition", `98760-50090,1,"used, no pulley"`, "incomplete counted 1", "!"},
		{"change on same", "Number,Relation,Other number,Change needed", "98760-50090,same as,98760-50091,swap pulley", "stands_in 9876050091 change", " same 98"},
		{"no change", "Number,Relation,Other number,Change needed", "98760-50090,interchanges with,98760-50091,no", "stands_in 9876050091", "change \""},
		{"pieces", "Number,Relation,Other number,Change needed,Minutes,Pieces needed", `98760-50090,fits with change,98760-50091,swap pulley; re-pin,35,"pulley, pins"`, `change "swap pulley; re-pin" 35 min ["pulley" "pins"]`, "!"},
		{"minutes that are no minutes", "Number,Relation,Other number,Change needed,Minutes", "98760-50090,fits with change,98760-50091,swap pulley,an hour", "minutes_unread", ""},
		{"both ways unknown", "Number,Relation,Other number,Both ways", "98760-50090,replaces,98760-50091,?", "replaced_by 9876050090", "both ways"},
		{"one number on both sides", "Number,Relation,Other number", "98760-50090,same as,98760 50090", "same_number", "link"},
		{"a set in front", "Number,Relation,Other number", "98760-50090 + 98760-50091,superseded by,98760-50092", "set_replaced", "B2 link"},
		{"a set is no same", "Number,Relation,Other number", "98760-50090,same as,98760-50091 + 98760-50092", "stands_in 9876050091 + 9876050092", " same 98"},
		{"no relation in the row", "Number,Relation,Other number", "98760-50090,,98760-50091", "unknown_relation", "link"},
		{"several numbers on one side", "Number,Relation,Other number", "98760-50090 / 98760-50091,superseded by,98760-50092", "link 9876050091 replaced_by 9876050092", "!"},
		{"makers of both numbers", "Number,Number maker,Relation,Other number,Other maker", "98760-50090,Kestrel,same as,100211-1230,Hartwell", "link KESTREL 9876050090 same HARTWELL 1002111230", "!"},
		{"OE and unit number with a relation", "OE No,Relation,Other number,Make", "98760-50090,same as,100211-1230,Kestrel", "9876050090 same 1002111230", "!"},
		{"old and new say the direction", "Old number,New number,Relation", "98760-50090,98760-50091,replaces", "9876050090 replaced_by 9876050091", "9876050091 replaced_by"},
		{"ditto without a row above", "OE No,Description,Model", "98760-50090,Alternator,ditto", "nothing_above", "DITTO"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := report(readText(t, "list", tt.head+"\n"+tt.row+"\n"))
			_, rows, _ := strings.Cut(got, "\nrow 2 ")
			if !strings.Contains(rows, tt.want) || tt.not != "" && strings.Contains(rows, tt.not) {
				t.Errorf("want %q, not %q, in\n%s", tt.want, tt.not, got)
			}
		})
	}
}

func names(prefix string, n int) string {
	var out []string
	for i := range n {
		out = append(out, prefix+string(rune('A'+i))+"1")
	}
	return strings.Join(out, ";")
}

// A shop maps its own headings, or leaves a column unused; an unknown field is
// refused.
func TestMapping(t *testing.T) {
	path := filepath.Join(t.TempDir(), "alternators.csv")
	if err := os.WriteFile(path, []byte("Gizmo,Wunder,Qty,V,Where from\n98760-50090,100211-1230,2,12,Shop\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := sheet.Open(path, sheet.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	opt := options(t)
	opt.List = "our alternators"
	opt.Mapping = map[string]importers.Field{"Gizmo": importers.MakerNo, "Qty": ""}
	reading, err := importers.Read(t.Context(), f, opt)
	if err != nil {
		t.Fatal(err)
	}
	var rows []app.Row
	if err := reading.Each(t.Context(), func(r app.Row) error { rows = append(rows, r); return nil }); err != nil {
		t.Fatal(err)
	}
	got := report(reading.Tables(), rows)
	for _, want := range []string{"part 9876050090", "volts=12 [alternator]", `[from "Shop": own list ]`, "2 rows: 1 taken"} {
		if !strings.Contains(got, want) || strings.Contains(got, "counted") {
			t.Errorf("want %s in\n%s", want, got)
		}
	}
	opt.Mapping = map[string]importers.Field{"Gizmo": "gizmo"}
	if _, err := importers.Read(t.Context(), f, opt); err == nil || !strings.Contains(err.Error(), `"gizmo", which is no field`) {
		t.Errorf("unknown field: %v", err)
	}
}

// Case 42: two rows of one number with different facts are two statements and
// two postings, none overwritten.
func TestTwoRowsOfOneNumber(t *testing.T) {
	_, rows := readText(t, "list", "OE No,Description,Amps,Bin,Qty\n98760-50090,Alternator,80,A-1,2\n98760-50090,Alternator,90,A-2,1\n")
	var amps []string
	var bins []string
	for _, r := range rows {
		for _, s := range r.Statements {
			if s.Kind == statement.KindValue {
				amps = append(amps, s.Value.Value.String())
			}
		}
		for _, p := range r.Postings {
			bins = append(bins, p.Bin)
		}
	}
	if !slices.Equal(amps, []string{"80", "90"}) || !slices.Equal(bins, []string{"A-1", "A-2"}) {
		t.Errorf("amps %v, bins %v", amps, bins)
	}
}

// Who measured a value, and with what, stands with it.
func TestWhoMeasuredIt(t *testing.T) {
	_, rows := readText(t, "list", "OE No,Description,Amps,Measured by,Measured with,Where from\n98760-50090,Alternator,80,Mo,calliper,our list\n")
	i := slices.IndexFunc(rows[1].Statements, func(s statement.Statement) bool { return s.Kind == statement.KindValue })
	v := rows[1].Statements[i].Value
	if v.By != "Mo" || v.How != "calliper" || rows[1].Manner != statement.Calliper || rows[1].Standing != statement.OwnList || rows[1].From != "our list" {
		t.Errorf("%+v, %s %s from %q", v, rows[1].Standing, rows[1].Manner, rows[1].From)
	}
}

// Case 5, the importers' part: side of the part, role and drive side are three
// fields.
func TestSideRoleAndDriveSide(t *testing.T) {
	_, rows := readText(t, "list", "OE No,Part type,Model,RHD/LHD,Side\n98760-50090,Window regulator,Arrow,LHD,driver\n")
	i := slices.IndexFunc(rows[1].Statements, func(s statement.Statement) bool { return s.Kind == statement.KindFitment })
	s := rows[1].Statements[i].Scope
	if s.Position != "driver side" || s.Text[vehicle.FactSide] != "LHD" {
		t.Errorf("position %q, side %q", s.Position, s.Text[vehicle.FactSide])
	}
}

// The same file gives the same rows again, word for word.
func TestReadingTwiceIsTheSame(t *testing.T) {
	path := "../testdata/importers/dirt.csv"
	a, b := report(readFile(t, path)), report(readFile(t, path))
	if a != b {
		t.Error(firstDifference(a, b))
	}
}

// Every statement says where it stands, and the row as it was read is with it.
func TestPlaces(t *testing.T) {
	_, rows := readFile(t, "../testdata/importers/flat-english.csv")
	for _, r := range rows {
		if r.Place.File != "flat-english.csv" || r.Place.Row == 0 {
			t.Errorf("place %+v", r.Place)
		}
		for _, s := range r.Statements {
			if s.Place.Cell == "" || s.Place.Row != r.Place.Row || s.Place.Text != r.Place.Text || s.ID != "" || s.Source != "" {
				t.Errorf("row %d: %+v", r.Place.Row, s)
			}
		}
		if r.State == app.Taken && !strings.Contains(r.Place.Text, "\t") {
			t.Errorf("row %d holds %q", r.Place.Row, r.Place.Text)
		}
	}
}
