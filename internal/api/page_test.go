package api

import (
	"bytes"
	"flag"
	"html/template"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"crossbin/internal/httpserver"
)

var update = flag.Bool("update", false, "write page.html anew from openapi.yaml")

// docPage is the document as people read it.
type docPage struct {
	Title, Summary, Description string
	Operations                  []docOperation
	Schemas                     []docSchema
	Problems                    []httpserver.Kind
}

type docOperation struct {
	Method, Path, Summary, Description, Body, Answer string
	Parameters                                       []docField
}

type docSchema struct {
	Name, Description string
	Fields            []docField
}

type docField struct {
	Name, Type, Description, Link string
	Required                      bool
}

// The served page says what the document says.
func TestPageIsMadeFromTheDocument(t *testing.T) {
	tmpl := template.Must(template.ParseFiles("testdata/page.tmpl"))
	var want bytes.Buffer
	if err := tmpl.Execute(&want, readDoc(document(t))); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("page.html", want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want.Bytes(), page) {
		t.Error("page.html is stale: go test ./internal/api -run Page -update")
	}
	for _, outside := range []string{"<script", "http://", "https://", "style="} {
		if strings.Contains(string(page), outside) {
			t.Errorf("the page holds %s", outside)
		}
	}
}

func readDoc(doc *openapi3.T) docPage {
	p := docPage{Title: doc.Info.Title, Summary: doc.Info.Summary, Description: doc.Info.Description, Problems: httpserver.Kinds()}
	for _, path := range doc.Paths.InMatchingOrder() {
		item := doc.Paths.Value(path)
		for _, method := range sortedKeys(item.Operations()) {
			p.Operations = append(p.Operations, readOperation(method, path, item.Operations()[method]))
		}
	}
	slices.SortFunc(p.Operations, func(a, b docOperation) int { return strings.Compare(a.Path+a.Method, b.Path+b.Method) })
	for _, name := range sortedKeys(doc.Components.Schemas) {
		if s := doc.Components.Schemas[name].Value; len(s.Properties) > 0 {
			p.Schemas = append(p.Schemas, docSchema{name, s.Description, readFields("", s)})
		}
	}
	return p
}

func readOperation(method, path string, op *openapi3.Operation) docOperation {
	out := docOperation{Method: method, Path: path, Summary: op.Summary, Description: op.Description}
	for _, ref := range op.Parameters {
		f := readField(ref.Value.Name, ref.Value.Schema, ref.Value.Required)
		f.Description = ref.Value.Description
		out.Parameters = append(out.Parameters, f)
	}
	if op.RequestBody != nil {
		out.Body = schemaName(op.RequestBody.Value.Content["application/json"].Schema)
	}
	if media := op.Responses.Value("200").Value.Content["application/json"]; media != nil {
		out.Answer = schemaName(media.Schema)
	}
	return out
}

// readFields lists the properties of an object, those of nested objects and
// lists without a name of their own behind a dot.
func readFields(prefix string, s *openapi3.Schema) []docField {
	var out []docField
	for _, name := range sortedKeys(s.Properties) {
		ref := s.Properties[name]
		out = append(out, readField(prefix+name, ref, slices.Contains(s.Required, name)))
		if ref.Ref != "" {
			continue
		}
		inner, mark := ref.Value, "."
		if inner.Items != nil && inner.Items.Ref == "" {
			inner, mark = inner.Items.Value, "[]."
		}
		out = append(out, readFields(prefix+name+mark, inner)...)
	}
	return out
}

func readField(name string, ref *openapi3.SchemaRef, required bool) docField {
	f := docField{Name: name, Required: required, Description: ref.Value.Description, Link: schemaName(ref)}
	f.Type = typeName(ref)
	if len(ref.Value.Enum) > 0 {
		var words []string
		for _, v := range ref.Value.Enum {
			if s, ok := v.(string); ok && s != "" {
				words = append(words, s)
			}
		}
		f.Type = strings.Join(words, " | ")
	}
	return f
}

func typeName(ref *openapi3.SchemaRef) string {
	s := ref.Value
	switch {
	case s.Items != nil:
		return "list of " + typeName(s.Items)
	case s.AdditionalProperties.Schema != nil:
		return "object of " + typeName(s.AdditionalProperties.Schema)
	case ref.Ref != "" && len(s.Properties) > 0:
		return schemaName(ref)
	case s.Type != nil:
		return strings.Join(s.Type.Slice(), " or ")
	}
	return "any"
}

// schemaName gives the name of the schema that a reference, or the items of a
// list, point at; "" where it has no section on the page.
func schemaName(ref *openapi3.SchemaRef) string {
	for _, r := range []*openapi3.SchemaRef{ref, ref.Value.Items, ref.Value.AdditionalProperties.Schema} {
		if r != nil && r.Ref != "" && len(r.Value.Properties) > 0 {
			return r.Ref[strings.LastIndexByte(r.Ref, '/')+1:]
		}
	}
	if ref.Value.Items != nil {
		return schemaName(ref.Value.Items)
	}
	return ""
}
