package booksuite

import (
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// fullOfEverything has every field of every kind set.
func fullOfEverything() []statement.Statement {
	a := part.Ref{Key: "QRA1001", Maker: "ORVANE"}
	scope := vehicle.NewScope()
	for _, f := range []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactModelCode, vehicle.FactPrefix, vehicle.FactEngine,
		vehicle.FactSide, vehicle.FactTransmission, vehicle.FactDrive, vehicle.FactTurbo, vehicle.FactMarket,
		vehicle.OptionFact("ac"), vehicle.OptionFact("cold"), vehicle.Fact("doors")} {
		scope.Want(f, "v "+string(f))
	}
	scope.Serial = vehicle.SerialRange{From: 0, To: 125000, Width: 7}
	scope.Built = vehicle.Interval{From: vehicle.MonthOf(1996, 1), To: vehicle.MonthOf(2001, 12)}
	scope.Position, scope.Quantity = "front, 左", 2
	return []statement.Statement{
		{Kind: statement.KindPart, Type: "alternator", A: a, Note: "lag 高い", Part: statement.PartName{Printed: "QRA-1001", Maker: "Orvane",
			Role: statement.UnitMaker, Name: "alternator, 80 A"}},
		{Kind: statement.KindFitment, Type: "alternator", A: a, Scope: scope},
		{Kind: statement.KindFitment, A: a, Scope: vehicle.NewScope()},
		{Kind: statement.KindNone, Type: "alternator", Scope: scope, Note: "converter, high voltage"},
		{Kind: statement.KindLink, Type: "alternator", A: a, Link: statement.Link{Relation: statement.StandsIn,
			B: part.Ref{Key: "ZB77", Maker: "KESTRO"}, PrintedA: "QRA-1001", PrintedB: "ZB 77", BothWays: vehicle.No, Kit: true,
			Conditions: []string{"with the old pulley", "24 V"}, Set: []part.Ref{{Key: "ZB78", Maker: "KESTRO"}, {Key: "ZB79"}},
			Changes: []statement.Change{{Task: "swap the pulley", Minutes: 20, Pieces: []string{"ZB-80", "nut"}}, {Task: "bend the bracket"}},
			Reason:  "other plug <4 pins & \"oval\">"}},
		{Kind: statement.KindLink, A: a, Link: statement.Link{Relation: statement.Same, B: ref("ZB81"), BothWays: vehicle.Yes}},
		{Kind: statement.KindValue, Type: "alternator", A: a, Value: statement.Value{Attribute: "ribs", By: "Ines", How: "calliper",
			Value: part.Value{Raw: "5 ?", Numbers: []float64{5}, Doubt: "marked as not certain"}}},
		{Kind: statement.KindValue, Type: "radiator", A: a, Value: statement.Value{Attribute: "core",
			Value: part.Value{Raw: "350x668.4x0.1", Numbers: []float64{350, 668.4, 0.1}}}},
		{Kind: statement.KindValue, Type: "alternator", A: a, Value: statement.Value{Attribute: "terminals",
			Value: part.Value{Raw: "S/L/IG", Words: []string{"ig", "l", "s"}}}},
		{Kind: statement.KindEngine, Type: "alternator", A: a, Engine: statement.Engine{Code: "QX15-T", Family: "QX"}, Note: "n"},
	}
}

func testRoundTrip(d *desk) {
	rows := sheetOf("yard", []row{says("all", fullOfEverything()...)})
	d.bring("yard", says("all", fullOfEverything()...))
	want := map[string]statement.Statement{}
	for _, s := range rows[0].Statements {
		want[s.ID] = s
	}
	got := map[string]statement.Statement{}
	for _, s := range d.everything("QRA1001") {
		got[s.ID] = s
	}
	d.read(func(r app.Reader) error {
		scoped, err := r.Fitments(background(), app.FitmentQuery{Type: "alternator", ModelCodes: []string{"VMODEL_CODE"}})
		for _, s := range scoped {
			got[s.ID] = s
		}
		return err
	})
	for _, s := range got {
		d.equal("statement", s, want[s.ID])
		delete(want, s.ID)
		d.equal("its id computed again", statement.Identify(shop, "yard", s, 0), s.ID)
	}
	for id, s := range want {
		if s.Kind != statement.KindEngine { // the families alone are read, see testEngines
			d.Errorf("statement %s of kind %s did not come back", id, s.Kind)
		}
	}
}

func testLinks(d *desk) {
	d.bring("yard", says("1", linked(statement.ReplacedBy, "AA-1", "BB-1")), says("2", linked(statement.Same, "BB-1", "CC-1")),
		says("3", linked(statement.Same, "DD-1", "DD-1")), says("4", linked(statement.LookAlike, "EE-1", "FF-1")))
	tests := []struct {
		name string
		keys []string
		want string
	}{
		{"first number", []string{"AA1"}, "AA1-BB1"},
		{"second number", []string{"CC1"}, "BB1-CC1"},
		{"either side", []string{"BB1"}, "AA1-BB1 BB1-CC1"},
		{"both ends asked for", []string{"AA1", "BB1", "AA1"}, "AA1-BB1 BB1-CC1"},
		{"a link to itself comes once", []string{"DD1"}, "DD1-DD1"},
		{"unknown number", []string{"GG1"}, ""},
		{"nothing asked", nil, ""},
	}
	for _, tt := range tests {
		d.read(func(r app.Reader) error {
			links, err := r.Links(background(), tt.keys)
			if !slices.IsSorted(ids(links)) {
				d.Errorf("%s: not in the order of ids", tt.name)
			}
			var texts []string
			for _, l := range links {
				texts = append(texts, l.A.Key+"-"+l.Link.B.Key)
			}
			slices.Sort(texts)
			d.equal(tt.name, strings.Join(texts, " "), tt.want)
			return err
		})
	}
}

func testFitments(d *desk) {
	none := fits("", "alternator", "model_code", "HX11")
	none.Kind = statement.KindNone
	d.bring("yard",
		says("1", fits("P-1", "alternator", "maker", "Orvane", "model", "Lorrin", "model_code", "KV31")),
		says("2", fits("P-2", "alternator", "engine", "QX15", "model_code", "KV31")),
		says("3", fits("P-3", "starter", "engine", "QX15")),
		says("4", fits("P-4", "alternator", "model", "Lorrin")),
		says("5", fits("P-5", "alternator", "maker", "Kestro", "model", "Lorrin")),
		says("6", fits("P-6", "alternator")),
		says("7", none))
	tests := []struct {
		name string
		q    app.FitmentQuery
		want string
	}{
		{"model code", app.FitmentQuery{Type: "alternator", ModelCodes: []string{"KV31"}}, "P1 P2"},
		{"model codes", app.FitmentQuery{Type: "alternator", ModelCodes: []string{"KV31", "KV32"}}, "P1 P2"},
		{"engine", app.FitmentQuery{Type: "alternator", Engines: []string{"QX15"}}, "P2"},
		{"engine of any type", app.FitmentQuery{Engines: []string{"QX15", "QX"}}, "P2 P3"},
		{"model of a maker or of none", app.FitmentQuery{Type: "alternator", Makers: []string{"ORVANE"}, Models: []string{"LORRIN"}}, "P1 P4"},
		{"model without a maker", app.FitmentQuery{Type: "alternator", Models: []string{"LORRIN"}}, "P1 P4 P5"},
		{"a maker alone leads nowhere", app.FitmentQuery{Type: "alternator", Makers: []string{"ORVANE"}}, ""},
		{"key", app.FitmentQuery{Type: "alternator", Keys: []string{"P6", "P3"}}, "P6"},
		{"several ways, each once", app.FitmentQuery{Type: "alternator", ModelCodes: []string{"KV31"}, Engines: []string{"QX15"},
			Models: []string{"LORRIN"}, Makers: []string{"ORVANE"}, Keys: []string{"P1"}}, "P1 P2 P4"},
		{"another maker's key is given whatever the scope", app.FitmentQuery{Makers: []string{"ORVANE"}, Models: []string{"LORRIN"},
			Keys: []string{"P5"}}, "P1 P4 P5"},
		{"none", app.FitmentQuery{Type: "alternator", ModelCodes: []string{"HX11"}}, "none"},
		{"nothing asked", app.FitmentQuery{Type: "alternator"}, ""},
	}
	for _, tt := range tests {
		d.read(func(r app.Reader) error {
			found, err := r.Fitments(background(), tt.q)
			if !slices.IsSorted(ids(found)) {
				d.Errorf("%s: not in the order of ids", tt.name)
			}
			var texts []string
			for _, s := range found {
				if s.Kind == statement.KindNone {
					texts = append(texts, "none")
					continue
				}
				texts = append(texts, s.A.Key)
			}
			slices.Sort(texts)
			d.equal(tt.name, strings.Join(texts, " "), tt.want)
			return err
		})
	}
}

func testEngines(d *desk) {
	engine := func(code, family string) statement.Statement {
		return statement.Statement{Kind: statement.KindEngine, Engine: statement.Engine{Code: code, Family: family}}
	}
	read := func() (got vehicle.Engines) {
		d.read(func(r app.Reader) (err error) {
			got, err = r.Engines(background())
			return err
		})
		return got
	}
	d.equal("no engines", read(), vehicle.Engines{})
	first := d.bring("yard", says("1", engine("QX15-T", "QX")), says("2", engine("qx15t", "XQ")), says("3", engine("QX", "QX")), says("4", engine("", "QX")))
	d.equal("families", read(), vehicle.Engines{"QX15T": {"QX", "XQ"}})
	d.bring("other", says("1", engine("QX16", "QX")), says("2", engine("QX15T", "QX")))
	d.equal("families of two lists", read(), vehicle.Engines{"QX15T": {"QX", "XQ"}, "QX16": {"QX"}})
	d.undo(first.batch)
	d.equal("families after an undo", read(), vehicle.Engines{"QX15T": {"QX"}, "QX16": {"QX"}})
}

func testSources(d *desk) {
	read := func() (got map[string]statement.Source) {
		d.read(func(r app.Reader) (err error) {
			got, err = r.Sources(background())
			return err
		})
		return got
	}
	bring := func(sources ...statement.Source) brought {
		w, id := d.begin("yard")
		for _, s := range sources {
			if err := w.Source(background(), s); err != nil {
				d.Fatal(err)
			}
		}
		before := read()
		c := d.stage(w, sheetOf("yard", []row{rowOne}))
		d.equal("sources before the commit", read(), before)
		revision, err := w.Commit(background(), c)
		if err != nil {
			d.Fatal(err)
		}
		return brought{id, c, revision}
	}
	forum := statement.Source{ID: statement.SourceID(shop, "yard", "forum"), Shop: shop, List: "yard", Name: "forum", Standing: statement.Hearsay,
		Manner: statement.Photo, CopiedFrom: sourceOf("yard").ID}
	own := sourceOf("yard")
	first := bring(forum)
	d.equal("sources", read(), map[string]statement.Source{own.ID: own, forum.ID: forum})
	same := bring(forum)
	d.equal("revision after the same sources", same.revision, first.revision)
	better := forum
	better.Standing, better.CopiedFrom = statement.OtherShop, ""
	second := bring(better)
	d.equal("revision after another standing", second.revision, first.revision+1)
	d.equal("sources with another standing", read(), map[string]statement.Source{own.ID: own, forum.ID: better})
	d.undo(second.batch)
	d.equal("sources after the undo", read(), map[string]statement.Source{own.ID: own, forum.ID: forum})
}

func testChanges(d *desk) {
	start := d.revision()
	d.bring("yard", rowOne, rowTwo)
	d.bring("attic", counts("bin", counted("SH-1", "A-1", 2)))
	third := d.bring("yard", rowTwo, rowThree)
	d.undo(third.batch)
	want := fmt.Sprintf("%[1]d:QRA1001 %[1]d:QRA1002 %[1]d:ZB77 %[2]d:SH1 %[3]d:QRA1001 %[3]d:QRA1003 %[4]d:QRA1001 %[4]d:QRA1003",
		start+1, start+2, start+3, start+4)
	d.equal("the whole feed", d.changed(0), want)
	d.equal("after the last revision", d.changed(start+4), "")
}

func testKeys(d *desk) {
	walk := func() (got []string) {
		d.read(func(r app.Reader) error {
			return r.Keys(background(), func(key string) error {
				got = append(got, key)
				return nil
			})
		})
		return got
	}
	d.equal("no keys", len(walk()), 0)
	first := d.bring("yard", rowThree, rowTwo, rowOne, says("v", statement.Statement{Kind: statement.KindValue, A: ref("VAL-1")}),
		counts("bin", counted("SH-1", "A-1", 2)))
	d.bring("attic", rowOne, says("none", statement.Statement{Kind: statement.KindNone, Scope: vehicle.NewScope()}))
	d.equal("keys", walk(), []string{"QRA1001", "QRA1002", "QRA1003", "SH1", "VAL1", "ZB77"})
	d.undo(first.batch)
	d.equal("keys after an undo", walk()[:1], []string{"QRA1001"})
	stop := fmt.Errorf("stop")
	err := d.book.Read(background(), func(r app.Reader) error {
		return r.Keys(background(), func(string) error { return stop })
	})
	if err == nil || !strings.Contains(err.Error(), "stop") {
		d.Errorf("an error of yield: got %v, want it back", err)
	}
}

func testManyKeys(d *desk) {
	const n = 1100
	var rows []row
	var keys []string
	for i := range n {
		number := fmt.Sprintf("N-%05d", i)
		rows = append(rows, row{text: number, says: []statement.Statement{named(number, "belt"), linked(statement.Same, "HUB-1", number)}})
		keys = append(keys, ref(number).Key, ref(number).Key)
	}
	w, _ := d.begin("yard")
	if err := w.Stage(background(), sheetOf("yard", rows)); err != nil {
		d.Fatal(err)
	}
	c, err := w.Finish(background())
	if err != nil {
		d.Fatal(err)
	}
	d.equal("counts", c, app.Counts{Added: 2 * n})
	if _, err := w.Commit(background(), c); err != nil {
		d.Fatal(err)
	}
	for _, size := range []int{1, 2, 3, 5, 17, 65, 257, 600, 2 * n} {
		got := 0
		d.read(func(r app.Reader) error {
			parts, err := r.Parts(background(), keys[:size])
			got = len(parts)
			return err
		})
		d.equal(fmt.Sprintf("parts for %d keys", size), got, (size+1)/2)
	}
	d.read(func(r app.Reader) error {
		links, err := r.Links(background(), append(keys, "HUB1"))
		d.equal("links, each once", len(links), n)
		return err
	})
}
