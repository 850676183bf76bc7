package fulltext_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"crossbin/data"
	"crossbin/internal/app"
	"crossbin/internal/part"
	"crossbin/internal/query"
)

var update = flag.Bool("update", false, "write the results of the ranking anew")

const rankingFolder = "../../testdata/ranking"

// lines gives the lines of a text that say something.
func lines(t *testing.T, name string) (out []string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(rankingFolder, name))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimRight(line, " \n"); line != "" && !strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	return out
}

// rankedParts reads parts.txt.
func rankedParts(t *testing.T) (docs []app.Document) {
	t.Helper()
	for _, line := range lines(t, "parts.txt") {
		if !strings.HasPrefix(line, " ") {
			docs = append(docs, app.Document{Key: query.Code(line), Numbers: []string{line}})
			continue
		}
		d := &docs[len(docs)-1]
		name, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		list, ok := map[string]*[]string{"maker": &d.Makers, "type": &d.Types, "name": &d.Names, "engine": &d.Engines,
			"model code": &d.ModelCodes, "model": &d.Models}[name]
		if !ok {
			t.Fatalf("parts.txt: no such line as %q", line)
		}
		*list = append(*list, value)
	}
	return docs
}

// question is one line of queries.txt.
type question struct {
	text   string
	wanted []string // keys
}

func questions(t *testing.T, known []app.Document) (out []question) {
	t.Helper()
	for _, line := range lines(t, "queries.txt") {
		text, wanted, ok := strings.Cut(line, " -> ")
		if !ok {
			t.Fatalf("queries.txt: no -> in %q", line)
		}
		q := question{text: text}
		for number := range strings.SplitSeq(wanted, " | ") {
			key := query.Code(number)
			if !slices.ContainsFunc(known, func(d app.Document) bool { return d.Key == key }) {
				t.Fatalf("queries.txt: %q wants %q, which is not in parts.txt", text, number)
			}
			q.wanted = append(q.wanted, key)
		}
		out = append(out, q)
	}
	return out
}

// named tells the part type that a text is the name of.
func named(types []part.Type) func(string) (string, bool) {
	return func(text string) (string, bool) {
		words := query.Words(text)
		for _, typ := range types {
			for _, name := range append([]string{typ.Name}, typ.Words...) {
				if slices.Equal(query.Words(name), words) {
					return typ.Name, true
				}
			}
		}
		return "", false
	}
}

// measure adds up how well the wanted numbers stand.
type measure struct{ questions, recall1, recall5, reciprocal float64 }

func (m *measure) add(wanted, got []string) (places []string) {
	first, in1, in5 := 0, 0.0, 0.0
	for _, w := range wanted {
		at := slices.Index(got, w) + 1
		switch {
		case at == 0:
			places = append(places, "-")
			continue
		case at == 1:
			in1++
			fallthrough
		case at <= 5:
			in5++
		}
		if first == 0 || at < first {
			first = at
		}
		places = append(places, fmt.Sprint(at))
	}
	m.questions++
	m.recall1 += in1
	m.recall5 += in5 / float64(min(5, len(wanted)))
	if first > 0 {
		m.reciprocal += 1 / float64(first)
	}
	return places
}

// A change of ranking is a change of results.txt; see the folder's README.
func TestRanking(t *testing.T) {
	docs := rankedParts(t)
	x := open(t, t.TempDir(), 1)
	t.Cleanup(func() { _ = x.Close() })
	if err := x.Apply(t.Context(), docs, 1); err != nil {
		t.Fatal(err)
	}
	types, err := data.PartTypes()
	if err != nil {
		t.Fatal(err)
	}
	printed := map[string]string{}
	for _, d := range docs {
		printed[d.Key] = d.Numbers[0]
	}
	var m measure
	var out strings.Builder
	for _, question := range questions(t, docs) {
		q, err := query.Parse(question.text)
		if err != nil {
			t.Fatal(err)
		}
		hits, count, err := x.Search(t.Context(), q.Resolve(named(types.All())), 50)
		if err != nil {
			t.Fatal(err)
		}
		var keys, shown []string
		for _, h := range hits {
			keys, shown = append(keys, h.Key), append(shown, printed[h.Key])
		}
		fmt.Fprintf(&out, "%s\n    wanted at %s of %d: %s\n", question.text, strings.Join(m.add(question.wanted, keys), ", "), count,
			strings.Join(shown[:min(5, len(shown))], " | "))
	}
	fmt.Fprintf(&out, "\n%.0f queries: recall@1 %.3f, recall@5 %.3f, MRR %.3f\n", m.questions, m.recall1/m.questions, m.recall5/m.questions, m.reciprocal/m.questions)
	compareResults(t, out.String())
}

func compareResults(t *testing.T, got string) {
	t.Helper()
	path := filepath.Join(rankingFolder, "results.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the ranking changed; read the difference after -update\ngot:\n%s\nwant:\n%s", got, want)
	}
}
