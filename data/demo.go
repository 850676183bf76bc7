package data

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"github.com/goccy/go-yaml"

	"crossbin/internal/statement"
)

//go:embed demo/scenario.yaml demo/*.xlsx demo/*.csv
var demo embed.FS

const scenarioFile = "demo/scenario.yaml"

// DemoFile is one workbook of the demo, to be brought in as a list.
type DemoFile struct {
	Name     string // "parts-list.xlsx"
	As       string // name of the list
	Standing statement.Standing
	Bytes    []byte
}

// DemoQuestion is one question that the demo asks of its book.
type DemoQuestion struct {
	Title     string
	Situation string   // one sentence: what stands in the workshop
	Args      []string // flags of "crossbin fit"
	Expect    DemoExpect
}

// DemoExpect is what the demo's workbooks must lead to. It is there for tests
// and never shown: the answer comes from the book.
type DemoExpect struct {
	Number  string // as printed: the part that the question is about
	Verdict string // fits, fits_with_change, ruled_out
	Basis   string // stated, by_number; "" where the verdict needs none
	Change  string // task that must be named, or ""
	Reason  string // words that must stand in the answer, or ""
}

// The shape of the scenario file.
type scenarioDoc struct {
	Files     []demoFileDoc     `yaml:"files"`
	Questions []demoQuestionDoc `yaml:"questions"`
}

type demoFileDoc struct {
	Name     string `yaml:"name"`
	As       string `yaml:"as"`
	Standing string `yaml:"standing"`
}

type demoQuestionDoc struct {
	Title     string        `yaml:"title"`
	Situation string        `yaml:"situation"`
	Args      []string      `yaml:"args"`
	Expect    demoExpectDoc `yaml:"expect"`
}

type demoExpectDoc struct {
	Number  string `yaml:"number"`
	Verdict string `yaml:"verdict"`
	Basis   string `yaml:"basis"`
	Change  string `yaml:"change"`
	Reason  string `yaml:"reason"`
}

// Demo gives the demo's workbooks in the order in which they are brought in,
// and its questions in the order in which they are asked. All names and numbers
// in them are invented. A scenario that names no such workbook, or leaves one
// out, is an error that names it.
func Demo() ([]DemoFile, []DemoQuestion, error) { return loadDemo(demo) }

func loadDemo(from fs.FS) ([]DemoFile, []DemoQuestion, error) {
	text, err := fs.ReadFile(from, scenarioFile)
	if err != nil {
		return nil, nil, err
	}
	var doc scenarioDoc
	if err := yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(&doc); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", scenarioFile, err)
	}
	files, err := doc.files(from)
	if err != nil {
		return nil, nil, err
	}
	questions, err := doc.questions()
	return files, questions, err
}

func (d scenarioDoc) files(from fs.FS) ([]DemoFile, error) {
	var files []DemoFile
	for _, f := range d.Files {
		content, err := fs.ReadFile(from, path.Join("demo", f.Name))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", scenarioFile, err)
		}
		if f.As == "" || !slices.Contains(demoStandings, statement.Standing(f.Standing)) {
			return nil, fmt.Errorf("%s: %s needs a list name and a standing that a list can have, has %q and %q",
				scenarioFile, f.Name, f.As, f.Standing)
		}
		files = append(files, DemoFile{Name: f.Name, As: f.As, Standing: statement.Standing(f.Standing), Bytes: content})
	}
	return files, d.complete(from)
}

// demoStandings are the standings that a whole list can have.
var demoStandings = []statement.Standing{statement.OwnList, statement.MakersBook, statement.RebuildersList, statement.OtherShop}

// complete refuses a workbook that lies beside the scenario and is not named in
// it: it would be carried about and never read.
func (d scenarioDoc) complete(from fs.FS) error {
	for _, pattern := range []string{"demo/*.xlsx", "demo/*.csv"} {
		names, err := fs.Glob(from, pattern)
		if err != nil {
			return err
		}
		for _, name := range names {
			if !slices.ContainsFunc(d.Files, func(f demoFileDoc) bool { return f.Name == path.Base(name) }) {
				return fmt.Errorf("%s: %s is not listed", scenarioFile, name)
			}
		}
	}
	return nil
}

func (d scenarioDoc) questions() ([]DemoQuestion, error) {
	var questions []DemoQuestion
	for i, q := range d.Questions {
		if q.Title == "" || q.Situation == "" || len(q.Args) == 0 || q.Expect.Number == "" || q.Expect.Verdict == "" {
			return nil, fmt.Errorf("%s: question %d needs a title, a situation, args and what to expect", scenarioFile, i+1)
		}
		questions = append(questions, DemoQuestion{Title: q.Title, Situation: q.Situation, Args: q.Args, Expect: DemoExpect(q.Expect)})
	}
	return questions, nil
}
