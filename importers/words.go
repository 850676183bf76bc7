package importers

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Words is the vocabulary of the importers: what headings, relation words,
// conditions, marks, vehicle facts and sources are called in the languages of
// the shops. The zero value knows nothing; see [ParseWords].
type Words struct {
	headings, relations, conditions, marks, positions, standings *lexicon
	facts                                                        map[string]*lexicon // by fact
	attributes                                                   map[Field][]string  // attribute names, best first
}

// languages are the ones that a line may name; "any" is for signs.
var languages = []string{"any", "de", "en", "es", "fr", "it", "ja", "ko", "ru", "zh"}

// The meanings that the files may use.
var (
	relationMeanings = []string{relReplacedBy, relReplaces, relSame, relStandsIn, relChange, relLookAlike, relKit, relContains, relPair}
	markMeanings     = []string{markYes, markNo, markUnknown, markAll, markAbove, markBlank, markNone, markTotal, markMany, markPieces, markBoth}
	positionMeanings = []string{"front", "rear", "left", "right", "nearside", "offside", "driver side", "passenger side", "upper", "lower", "inner", "outer"}
	conditionWords   = []string{string(shelf.New), string(shelf.Remanufactured), string(shelf.UsedTested), string(shelf.UsedUntested),
		string(shelf.Core), string(shelf.Quarantine), string(shelf.Incomplete), condAftermarket, condGenuine}
	factNames = []string{string(vehicle.FactTransmission), string(vehicle.FactDrive), string(vehicle.FactSide), string(vehicle.FactTurbo),
		string(vehicle.OptionFact("ac")), string(vehicle.OptionFact("cold")), string(Rotation), serialWords}
	standingWords = []statement.Standing{statement.OwnFitting, statement.OwnReading, statement.OwnMeasurement, statement.OwnList,
		statement.MakersBook, statement.UnitLabel, statement.RebuildersList, statement.BoxLabel, statement.OtherShop, statement.Hearsay}
	mannerWords = []statement.Manner{statement.AnyManner, statement.Fitting, statement.Specification, statement.Calliper, statement.Tape, statement.Photo}
)

// Meanings of relation words, marks and conditions that this package acts on.
const (
	relReplacedBy = "replaced_by"
	relReplaces   = "replaces"
	relSame       = "same"
	relStandsIn   = "stands_in"
	relChange     = "stands_in_change"
	relLookAlike  = "look_alike"
	relKit        = "kit"
	relContains   = "contains"
	relPair       = "pair"

	markYes     = "yes"
	markNo      = "no"
	markUnknown = "unknown"
	markAll     = "all"
	markAbove   = "above"
	markBlank   = "blank"
	markNone    = "none"
	markTotal   = "total"
	markMany    = "many"
	markPieces  = "pieces"
	markBoth    = "both"

	condAftermarket = "aftermarket"
	condGenuine     = "genuine"

	factEither = "either" // no restriction

	serialWords  = "serial" // words beside a serial number
	serialFrom   = "from"
	serialTo     = "to"
	serialAfter  = "after"
	serialBefore = "before"
)

// ParseWords reads the vocabulary from headings.csv, relations.csv,
// conditions.csv, marks.csv, facts.csv, positions.csv, standings.csv
// and attributes.csv. A meaning or language that is not
// known, and a word with two meanings where one is wanted, are errors that name
// file and line.
func ParseWords(fsys fs.FS) (Words, error) {
	w := Words{facts: map[string]*lexicon{}, attributes: map[Field][]string{}}
	files := []struct {
		name   string
		into   **lexicon
		known  func(string) bool
		double bool // a word may have several meanings
	}{
		{"headings.csv", &w.headings, func(m string) bool { return isField(Field(m)) && Field(m) != AttributeOf }, true},
		{"relations.csv", &w.relations, oneOf(relationMeanings), false},
		{"conditions.csv", &w.conditions, oneOf(conditionWords), false},
		{"marks.csv", &w.marks, oneOf(markMeanings), true},
		{"positions.csv", &w.positions, oneOf(positionMeanings), false},
		{"standings.csv", &w.standings, knownStanding, false},
	}
	for _, f := range files {
		*f.into = newLexicon()
		if err := readWords(fsys, f.name, f.known, adder(*f.into, f.double)); err != nil {
			return Words{}, err
		}
	}
	if err := readWords(fsys, "facts.csv", knownFact, w.addFact); err != nil {
		return Words{}, err
	}
	err := readWords(fsys, "attributes.csv", func(m string) bool { return slices.Contains(valueFields, Field(m)) }, w.addAttribute)
	return w, err
}

func oneOf(list []string) func(string) bool {
	return func(m string) bool { return slices.Contains(list, m) }
}

// knownFact tells a fact=value whose fact columns can hold.
func knownFact(m string) bool {
	fact, value, ok := strings.Cut(m, "=")
	return ok && value != "" && slices.Contains(factNames, fact)
}

func knownStanding(m string) bool {
	standing, manner, _ := strings.Cut(m, "/")
	return slices.Contains(standingWords, statement.Standing(standing)) && slices.Contains(mannerWords, statement.Manner(manner))
}

// adder adds words to a lexicon, refusing a second meaning unless double is
// set.
func adder(l *lexicon, double bool) func(meaning, word string) error {
	return func(meaning, word string) error {
		if have := l.of(word); !double && len(have) > 0 && have[0] != meaning {
			return fmt.Errorf("%q already means %q", word, have[0])
		}
		l.add(word, meaning)
		return nil
	}
}

func (w Words) addFact(meaning, word string) error {
	fact, value, _ := strings.Cut(meaning, "=")
	if w.facts[fact] == nil {
		w.facts[fact] = newLexicon()
	}
	return adder(w.facts[fact], false)(value, word)
}

func (w Words) addAttribute(meaning, word string) error {
	w.attributes[Field(meaning)] = append(w.attributes[Field(meaning)], word)
	return nil
}

// readWords reads one file of lines "meaning,language,words"; words are divided
// by bars.
func readWords(fsys fs.FS, name string, known func(string) bool, add func(meaning, word string) error) error {
	f, err := fsys.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.FieldsPerRecord, r.LazyQuotes = '#', 3, true
	if head, err := r.Read(); err != nil || !slices.Equal(head, []string{"means", "language", "words"}) {
		return fmt.Errorf("%s: wanted the headings means, language, words", name)
	}
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		if err := addLine(record, known, add); err != nil {
			return fmt.Errorf("%s line %d: %w", name, line, err)
		}
	}
}

func addLine(record []string, known func(string) bool, add func(meaning, word string) error) error {
	if !known(record[0]) {
		return fmt.Errorf("unknown meaning %q", record[0])
	}
	if !slices.Contains(languages, record[1]) {
		return fmt.Errorf("unknown language %q, known are %s", record[1], strings.Join(languages, ", "))
	}
	for _, word := range strings.Split(record[2], "|") {
		if strings.TrimSpace(word) == "" {
			return errors.New("an empty word between two bars")
		}
		if err := add(record[0], word); err != nil {
			return err
		}
	}
	return nil
}
