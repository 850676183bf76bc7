package archtest

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "crossbin"

// ring is how far out a package stands; a package may import those further in,
// and never one of its own ring.
var ring = map[string]int{
	"internal/vehicle": 0, "internal/part": 0,
	"internal/statement": 1,
	"internal/fit":       2, "internal/shelf": 2, "internal/readings": 2, "internal/query": 2,
	"internal/app": 3,
	"internal/web": 4, "internal/api": 4, "importers": 4, "internal/sqlite": 4, "internal/fulltext": 4,
	"internal/numbers": 4, "internal/labels": 4,
	"data": 5, "cmd/crossbin": 6, "internal/testkit": 6, "internal/archtest": 6,
}

// support lists packages that know none of our nouns, or only errors, and who
// may use them beside cmd and testkit.
var support = map[string][]string{
	"internal/sheet":      {"importers"},
	"internal/httpserver": {"internal/web", "internal/api"},
}

// mayUse lists what a support package may import of ours.
var mayUse = map[string][]string{"internal/sheet": nil, "internal/httpserver": {"internal/app"}}

// home is the one place of each library that is not for everyone.
var home = map[string][]string{
	"github.com/mattn/go-sqlite3": {"internal/sqlite"},
	"github.com/blevesearch":      {"internal/fulltext"},
	"github.com/xuri/excelize/v2": {"internal/sheet"},
	"github.com/gorilla/mux":      {"internal/web", "internal/api", "internal/httpserver"},
	"github.com/alecthomas/kong":  {"cmd/crossbin"},
	"github.com/goccy/go-yaml":    {"data", "internal/api"},
	"github.com/getkin":           {},
	"github.com/chromedp":         {},
}

// file is one Go file with its imports.
type file struct {
	path, pkg string
	test      bool
	imports   []string
}

func TestArrows(t *testing.T) {
	for _, f := range sources(t) {
		for _, imp := range f.imports {
			target, ours := strings.CutPrefix(imp, module+"/")
			switch {
			case ours:
				if !allowed(f, target) {
					t.Errorf("%s imports %s: the arrows point inwards only", f.path, target)
				}
			case !f.test && inner(f.pkg) && strings.Contains(imp, ".") && !strings.HasPrefix(imp, "golang.org/x/text"):
				t.Errorf("%s imports %s: inner packages use the standard library and golang.org/x/text", f.path, imp)
			case !f.test && !atHome(f.pkg, imp):
				t.Errorf("%s imports %s, which lives elsewhere", f.path, imp)
			}
		}
	}
}

// allowed reports whether one of our packages may import another. Tests may
// reach the test kit and the embedded data besides.
func allowed(f file, target string) bool {
	if under(target, "internal/testkit") {
		return f.test || under(f.pkg, "internal/testkit")
	}
	if target == "data" && f.test || under(f.pkg, "internal/testkit") || f.pkg == "cmd/crossbin" || f.pkg == target {
		return true
	}
	if f.test && f.pkg == "data" {
		return true // checks of the embedded files read them as the program does
	}
	if users, ok := support[target]; ok {
		return slices.Contains(users, f.pkg)
	}
	if targets, ok := mayUse[f.pkg]; ok {
		return slices.Contains(targets, target)
	}
	from, known := ring[f.pkg]
	to, known2 := ring[target]
	return known && known2 && to < from
}

func inner(pkg string) bool {
	r, ok := ring[pkg]
	return ok && r <= 3
}

func atHome(pkg, imp string) bool {
	for lib, homes := range home {
		if strings.HasPrefix(imp, lib) && !slices.Contains(homes, pkg) && !under(pkg, "internal/testkit") {
			return false
		}
	}
	return true
}

func under(pkg, dir string) bool { return pkg == dir || strings.HasPrefix(pkg, dir+"/") }

// root finds the top of the project.
func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "go.mod")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// sources reads the imports of every Go file.
func sources(t *testing.T) []file {
	t.Helper()
	top := root(t)
	var out []file
	err := filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel := filepath.ToSlash(strings.TrimPrefix(p, top+string(filepath.Separator)))
		f := file{path: rel, pkg: path.Dir(rel), test: strings.HasSuffix(rel, "_test.go")}
		for _, i := range parsed.Imports {
			f.imports = append(f.imports, strings.Trim(i.Path.Value, `"`))
		}
		out = append(out, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 50 {
		t.Fatalf("only %d Go files found: the walk is broken", len(out))
	}
	return out
}

// The top level holds these and nothing else.
func TestTopLevel(t *testing.T) {
	want := []string{"DEVELOPERS.md", "LICENSE", "README.md", "cmd", "data", "go.mod", "go.sum", "importers", "internal", "testdata"}
	entries, err := os.ReadDir(root(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(want, e.Name()) && e.Name() != "crossbin-book" {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}

// Nothing in the project reads or names what lies outside it.
func TestStandsAlone(t *testing.T) {
	for _, f := range sources(t) {
		text, err := os.ReadFile(filepath.Join(root(t), f.path))
		if err != nil {
			t.Fatal(err)
		}
		if f.pkg != "internal/archtest" && strings.Contains(string(text), "../shared") {
			t.Errorf("%s names a folder outside the project", f.path)
		}
	}
}
