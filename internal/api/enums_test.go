package api

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// The words that the document allows are those of the program, so that a new
// word cannot be added to one alone.
func TestEnumerationsAreThoseOfTheProgram(t *testing.T) {
	schemas := document(t).Components.Schemas
	property := func(schema, name string) *openapi3.Schema { return schemas[schema].Value.Properties[name].Value }
	tests := []struct {
		folder, typ string
		schema      *openapi3.Schema
	}{
		{"../fit", "Verdict", schemas["Verdict"].Value}, {"../fit", "Basis", schemas["Basis"].Value}, {"../fit", "RulingKind", property("Ruling", "kind")},
		{"../fit", "Direction", property("Step", "direction")}, {"../statement", "Kind", property("Step", "kind")}, {"../statement", "Role", property("Number", "role")},
		{"../part", "Kind", property("Attribute", "kind")}, {"../part", "Comparison", property("Attribute", "compare")}, {"../part", "RidesOn", property("Attribute", "rides_on")},
	}
	for _, tt := range tests {
		t.Run(tt.folder+" "+tt.typ, func(t *testing.T) {
			var written []string
			for _, v := range tt.schema.Enum {
				if s, ok := v.(string); ok && s != "" {
					written = append(written, s)
				}
			}
			slices.Sort(written)
			if got := constants(t, tt.folder, tt.typ); !slices.Equal(got, written) || len(got) == 0 {
				t.Errorf("program  %v\ndocument %v", got, written)
			}
		})
	}
}

// constants reads the text constants of a type from the source, sorted.
func constants(t *testing.T, folder, typ string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			out = append(out, texts(n, typ)...)
			return true
		})
	}
	slices.Sort(out)
	return out
}

// texts gives the texts of a constant declaration of a type.
func texts(n ast.Node, typ string) []string {
	v, ok := n.(*ast.ValueSpec)
	if !ok {
		return nil
	}
	name, ok := v.Type.(*ast.Ident)
	if !ok || name.Name != typ {
		return nil
	}
	var out []string
	for _, value := range v.Values {
		literal, ok := value.(*ast.BasicLit)
		if !ok {
			continue
		}
		if s, err := strconv.Unquote(literal.Value); err == nil && s != "" {
			out = append(out, s)
		}
	}
	return out
}
