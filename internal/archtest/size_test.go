package archtest

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Bounds in lines. Beyond the first a file or function is listed, beyond the
// second the test fails: a crowded room wants a wall moved.
const (
	fileListed, fileFails = 400, 500
	funcListed, funcFails = 60, 80
)

func TestSizes(t *testing.T) {
	for _, f := range sources(t) {
		text, err := os.ReadFile(filepath.Join(root(t), f.path))
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(text, []byte("\n")); n > fileListed && !f.test {
			report(t, n > fileFails, "%s has %d lines", f.path, n)
		}
		fset := token.NewFileSet()
		parsed, err := parser.ParseFile(fset, f.path, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range parsed.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || f.test || under(f.pkg, "internal/testkit") { // a suite is one test after another
				continue
			}
			if n := fset.Position(fn.End()).Line - fset.Position(fn.Pos()).Line + 1; n > funcListed {
				report(t, n > funcFails, "%s: %s has %d lines", f.path, fn.Name.Name, n)
			}
		}
	}
}

func report(t *testing.T, fails bool, format string, args ...any) {
	t.Helper()
	if fails {
		t.Errorf(format, args...)
		return
	}
	t.Logf(format, args...)
}

// Every package and every export is described.
func TestDescribed(t *testing.T) {
	described := map[string]bool{}
	packages := map[string]bool{}
	for _, f := range sources(t) {
		if f.test {
			continue
		}
		fset := token.NewFileSet()
		parsed, err := parser.ParseFile(fset, filepath.Join(root(t), f.path), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		packages[f.pkg] = true
		described[f.pkg] = described[f.pkg] || parsed.Doc.Text() != ""
		for _, d := range parsed.Decls {
			for _, name := range undescribed(d) {
				t.Errorf("%s: %s is exported and not described", f.path, name)
			}
		}
	}
	for p := range packages {
		if !described[p] {
			t.Errorf("package %s is not described", p)
		}
	}
}

// undescribed lists the exported names of a declaration that nobody describes.
// A group of constants or variables may be described as one.
func undescribed(d ast.Decl) []string {
	var out []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc.Text() == "" && exportedReceiver(d) {
			out = append(out, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				if s.Name.IsExported() && d.Doc.Text() == "" && s.Doc.Text() == "" {
					out = append(out, s.Name.Name)
				}
			case *ast.ValueSpec:
				if s.Names[0].IsExported() && d.Doc.Text() == "" && s.Doc.Text() == "" && s.Comment.Text() == "" {
					out = append(out, s.Names[0].Name)
				}
			}
		}
	}
	return out
}

func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	name := ""
	switch e := d.Recv.List[0].Type.(type) {
	case *ast.Ident:
		name = e.Name
	case *ast.StarExpr:
		if id, ok := e.X.(*ast.Ident); ok {
			name = id.Name
		}
	}
	return ast.IsExported(strings.TrimPrefix(name, "*"))
}
