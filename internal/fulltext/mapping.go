package fulltext

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/mapping"
)

// Fields of a document. Every field is a run of terms with blanks between; what
// a term is, and how it is folded, is settled in document.go by the functions
// with which package query folds what is typed.
const (
	fieldKey    = "key"    // the part key
	fieldStart  = "start"  // beginnings of the key, see startLengths
	fieldEngine = "engine" // engine codes
	fieldModel  = "model"  // model codes and model names, as codes
	fieldType   = "type"   // part types, as codes
	fieldMaker  = "maker"  // words of makers
	fieldWord   = "word"   // words of descriptions, types, makers and models
)

// documentsVersion changes when documents are made in another way: other terms
// in a field, another folding in package query.
const documentsVersion = "1"

// newMapping gives the mapping: static and lean. Nothing is stored, because all
// that is shown comes from the book; no term vectors, no doc values, no field of
// everything. Only words keep their frequency and length, for the ranking.
func newMapping() (*mapping.IndexMappingImpl, error) {
	if err := guardEngine(); err != nil {
		return nil, err
	}
	m := bleve.NewIndexMapping()
	err := m.AddCustomAnalyzer(analyzerTerms, map[string]any{"type": custom.Name, "tokenizer": tokenizerTerms})
	if err != nil {
		return nil, fmt.Errorf("analyzer of the index: %w", err)
	}
	m.DefaultAnalyzer = analyzerTerms
	m.IndexDynamic, m.StoreDynamic, m.DocValuesDynamic = false, false, false
	doc := bleve.NewDocumentStaticMapping()
	for _, f := range []string{fieldKey, fieldStart, fieldEngine, fieldModel, fieldType, fieldMaker, fieldWord} {
		doc.AddFieldMappingsAt(f, field(f == fieldWord))
	}
	doc.AddSubDocumentMapping("_all", bleve.NewDocumentDisabledMapping())
	m.DefaultMapping = doc
	return m, nil
}

func field(ranked bool) *mapping.FieldMapping {
	f := bleve.NewTextFieldMapping()
	f.Analyzer = analyzerTerms
	f.Store, f.DocValues, f.IncludeInAll, f.IncludeTermVectors = false, false, false, false
	f.SkipFreqNorm = !ranked
	return f
}

// hashMapping tells one mapping from another.
func hashMapping(m *mapping.IndexMappingImpl) (string, error) {
	text, err := json.Marshal(m)
	if err != nil {
		return "", fmt.Errorf("mapping of the index: %w", err)
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8]), nil
}
