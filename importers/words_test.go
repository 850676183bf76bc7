package importers

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"
)

// testWords are the words that the program ships.
func testWords(t testing.TB) Words {
	t.Helper()
	w, err := ParseWords(os.DirFS("../data/words"))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestWordsThatShip(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct{ text, want string }{
		{"Part No", "part_no"}, {"part-no.", "part_no"}, {"PARTNO", "part_no"}, {"Part #", "part_no"}, {"P/N", "part_no"},
		{"Ｐａｒｔ Ｎｏ", "part_no"}, {"品番", "part_no"}, {"純正品番", "maker_no"}, {"OE-Nummer", "maker_no"}, {"Código original", "maker_no"},
		{"codigo original", "maker_no"}, {"ОЕМ", "maker_no"}, {"OEM", "maker_no"}, {"Nº de parte", "part_no"}, {"№", "part_no"},
		{"Ersetzt durch", "superseded_by"}, {"ﾌﾟｰﾘｰ", "ribs"}, {"순정품번", "maker_no"}, {"原厂号", "maker_no"}, {"Maße", "core_size"},
		{"車台番号", "frame_no"}, {"T/M", "transmission"}, {"nötige Änderung", "change"}, {"???", "notes"},
	} {
		if got := w.headings.of(tt.text); len(got) == 0 || got[0] != tt.want {
			t.Errorf("%q means %v, want %s", tt.text, got, tt.want)
		}
	}
}

// Every file is held to its meanings, its languages and one meaning a word.
func TestParseWordsNamesFileAndLine(t *testing.T) {
	const head = "means,language,words\n"
	for _, tt := range []struct{ name, file, text, want string }{
		{"unknown field", "headings.csv", head + "# remark\npart_no,en,Part No\nprat_no,en,PN\n", `headings.csv line 4: unknown meaning "prat_no"`},
		{"unknown language", "headings.csv", head + "part_no,xx,Part No\n", `headings.csv line 2: unknown language "xx"`},
		{"empty word", "marks.csv", head + "yes,en,yes||y\n", "marks.csv line 2: an empty word"},
		{"two meanings", "relations.csv", head + "same,en,same as\nreplaces,en,Same-As\n", `relations.csv line 3: "Same-As" already means "same"`},
		{"two values of a fact", "facts.csv", head + "transmission=AT,en,auto\ntransmission=MT,en,auto\n", `facts.csv line 3: "auto" already means "AT"`},
		{"unknown fact", "facts.csv", head + "colour=red,en,red\n", `facts.csv line 2: unknown meaning "colour=red"`},
		{"unknown manner", "standings.csv", head + "hearsay/dream,en,dream\n", `standings.csv line 2: unknown meaning "hearsay/dream"`},
		{"unknown value field", "attributes.csv", head + "maker_no,any,x\n", `attributes.csv line 2: unknown meaning "maker_no"`},
		{"wrong head", "conditions.csv", "meaning,language,words\n", "conditions.csv: wanted the headings"},
		{"ragged", "positions.csv", head + "left,en\n", "positions.csv: record on line 2"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			files := fstest.MapFS{}
			for _, f := range []string{"headings", "relations", "conditions", "marks", "facts", "positions", "standings", "attributes"} {
				files[f+".csv"] = &fstest.MapFile{Data: []byte(head)}
			}
			files[tt.file] = &fstest.MapFile{Data: []byte(tt.text)}
			_, err := ParseWords(files)
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
	if _, err := ParseWords(fstest.MapFS{}); err == nil {
		t.Error("a missing file is no error")
	}
}

func TestLexiconFindsLongestFirst(t *testing.T) {
	w := testWords(t)
	for _, tt := range []struct{ text, want string }{
		{"forum with photos, page 3", "hearsay/photo"}, {"owners' forum", "hearsay"}, {"the rebuilder", "rebuilder's list"},
		{"写真付掲示板より", "hearsay/photo"}, {"当社取付 2024", "own fitting"}, {"Herstellerkatalog 1998", "maker's book"},
	} {
		if got, _ := w.standings.first(tt.text); got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
		}
	}
	if got, ok := w.conditions.first("see N about it"); ok {
		t.Errorf("a single letter inside a sentence means nothing, got %q", got)
	}
}
