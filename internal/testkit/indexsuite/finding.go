package indexsuite

import (
	"slices"
	"testing"

	"crossbin/internal/app"
)

// shop is a small book: an alternator known under two spellings, a starter, a
// pump, a radiator with a Japanese name, and numbers that begin alike.
var shop = []app.Document{
	{Key: "9876050090", Numbers: []string{"98760-50090", "98760 50090"}, Makers: []string{"Orvane Motor"}, Types: []string{"alternator"},
		Names: []string{"Alternator 12V 80A"}, Engines: []string{"ZQ20TE", "ZQ22"}, ModelCodes: []string{"KV31W"}, Models: []string{"Delmar Van"}},
	{Key: "A9876540802", Numbers: []string{"A 987 654 08 02"}, Makers: []string{"Fenwald"}, Types: []string{"starter"},
		Names: []string{"Anlasser für Diesel"}, Engines: []string{"OM9"}, ModelCodes: []string{"W99"}},
	{Key: "QX1234567C", Numbers: []string{"QX12-34-567C"}, Makers: []string{"Orvane Motor"}, Types: []string{"water pump"},
		Names: []string{"Pumps, water; with gasket"}},
	{Key: "1640050000", Numbers: []string{"16400-50000"}, Types: []string{"radiator"}, Names: []string{"ラジエーター 冷却水用"}, ModelCodes: []string{"KV31"}},
	{Key: "98760X", Numbers: []string{"98760-X"}, Types: []string{"bracket"}, Names: []string{"bracket"}},
	{Key: "LONGNUMBER01", Numbers: []string{"LONG-NUMBER-01"}},
	{Key: "LONGNUMBER02", Numbers: []string{"LONG-NUMBER-02"}},
	{Key: "LONGNUMBEX03", Numbers: []string{"LONG-NUMBEX-03"}},
	{Key: "98Д60", Numbers: []string{"98-Д60"}},
}

func finding(t *testing.T, open Open) {
	x := newIndex(t, open)
	apply(t, x, 1, shop...)
	tests := []struct {
		name, text string
		want       []string
	}{
		{"a whole number as printed", "98760-50090", []string{"9876050090"}},
		{"a whole number run together", "9876050090", []string{"9876050090"}},
		{"a whole number in full width", "９８７６０－５００９０", []string{"9876050090"}},
		{"a whole number with dots and slashes", "98.760/50090", []string{"9876050090"}},
		{"a number with blanks", "A 987 654 08 02", []string{"A9876540802"}},
		{"a number with other blanks than printed", "A987 654 0802", []string{"A9876540802"}},
		{"lower case", "qx1234567c", []string{"QX1234567C"}},
		{"a number with a letter of another alphabet", "98д60", []string{"98Д60"}},
		{"three characters begin numbers", "987", []string{"9876050090", "98760X"}},
		{"three letters begin numbers", "lon", []string{"LONGNUMBER01", "LONGNUMBER02", "LONGNUMBEX03"}},
		{"two characters do not", "98", []string{}},
		{"eight characters", "longnumb", []string{"LONGNUMBER01", "LONGNUMBER02", "LONGNUMBEX03"}},
		{"nine characters", "longnumbe", []string{"LONGNUMBER01", "LONGNUMBER02", "LONGNUMBEX03"}},
		{"ten characters", "longnumber", []string{"LONGNUMBER01", "LONGNUMBER02"}},
		{"the beginning of a number with blanks", "A 987 654", []string{"A9876540802"}},
		{"a number cut off", "98760-5*", []string{"9876050090"}},
		{"a pattern with a gap is for others", "98?60-50090", []string{}},
		{"what stands inside a number is no beginning", "50090", []string{}},
		{"a number that is not there", "98760-50091", []string{}},
		{"engine code", "zq20-te", []string{"9876050090"}},
		{"engine code with a blank", "zq20 te", []string{"9876050090"}},
		{"model code", "W99", []string{"A9876540802"}},
		{"a whole model code before one that begins so", "KV31", []string{"1640050000"}},
		{"a code begun, where nothing is whole", "KV3", []string{"1640050000", "9876050090"}},
		{"model name", "delmar van", []string{"9876050090"}},
		{"maker", "orvane", []string{"9876050090", "QX1234567C"}},
		{"part type", "starter", []string{"A9876540802"}},
		{"a word without its accents", "fur diesel", []string{"A9876540802"}},
		{"a word with them", "FÜR", []string{"A9876540802"}},
		{"Japanese", "ラジエーター", []string{"1640050000"}},
		{"Japanese without the last mark, in half width", "ﾗｼﾞｴｰﾀ", []string{"1640050000"}},
		{"part of a compound", "冷却水", []string{"1640050000"}},
		{"one character begins a pair", "冷", []string{"1640050000"}},
		{"a whole word only", "pump", []string{"QX1234567C"}},
		{"a word begun, where nothing is whole", "brack", []string{"98760X"}},
		{"two letters begin no word", "ga", []string{}},
		{"all words must be there", "alternator 12v", []string{"9876050090"}},
		{"one that is not there spoils it", "alternator 24v", []string{}},
		{"a number and a word", "98760 bracket", []string{"98760X"}},
		{"a code and a word", "zq22 alternator", []string{"9876050090"}},
		{"phrase", `"water pumps"`, []string{"QX1234567C"}},
		{"a phrase is no number", `"98760-50090"`, []string{}},
		{"a word with marks", "pump?", []string{"QX1234567C"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := search(t, x, tt.text)
			slices.Sort(got)
			if !slices.Equal(got, tt.want) {
				t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
			}
		})
	}
}

func filters(t *testing.T, open Open) {
	x := newIndex(t, open)
	apply(t, x, 1, shop...)
	tests := []struct {
		name, text string
		want       []string
	}{
		{"type", "type:alternator", []string{"9876050090"}},
		{"type of two words", `type:"water pump"`, []string{"QX1234567C"}},
		{"half a type is none", "type:water", []string{}},
		{"maker by its words", "maker:orvane", []string{"9876050090", "QX1234567C"}},
		{"maker by all its words", `maker:"motor orvane"`, []string{"9876050090", "QX1234567C"}},
		{"engine", "engine:ZQ-22", []string{"9876050090"}},
		{"half an engine is none", "engine:ZQ2", []string{}},
		{"model code", "model:KV31", []string{"1640050000"}},
		{"model name", `model:"delmar van"`, []string{"9876050090"}},
		{"two filters", "maker:orvane type:alternator", []string{"9876050090"}},
		{"a filter and a word", "maker:orvane pumps", []string{"QX1234567C"}},
		{"a filter that contradicts", "type:starter 98760-50090", []string{}},
		{"a filter does not look in words", "maker:gasket", []string{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { want(t, x, tt.text, tt.want...) })
	}
	named := func(text string) (string, bool) {
		return "alternator", text == "オルタネーター" || text == "dynamo"
	}
	t.Run("a type in another language", func(t *testing.T) {
		if got := searchQuery(t, x, parse(t, "type:オルタネーター").Resolve(named)); !slices.Equal(got, []string{"9876050090"}) {
			t.Errorf("got %q", got)
		}
	})
	t.Run("a word that names a type", func(t *testing.T) {
		if got := searchQuery(t, x, parse(t, "dynamo 12V").Resolve(named)); !slices.Equal(got, []string{"9876050090"}) {
			t.Errorf("got %q", got)
		}
	})
}
