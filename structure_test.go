package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// source is one Go file of the project.
type source struct {
	dir, path string
	test      bool
	set       *token.FileSet
	file      *ast.File
}

func (s source) imports() []string {
	var out []string
	for _, i := range s.file.Imports {
		out = append(out, strings.Trim(i.Path.Value, `"`))
	}
	return out
}

func sources(t *testing.T) []source {
	t.Helper()
	var out []source
	err := filepath.WalkDir(".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && p != "." || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if filepath.Ext(p) != ".go" {
			return nil
		}
		s := source{dir: path.Dir(filepath.ToSlash(p)), path: p, test: strings.HasSuffix(p, "_test.go"),
			set: token.NewFileSet()}
		s.file, err = parser.ParseFile(s.set, p, nil, 0)
		out = append(out, s)
		return err
	})
	require.NoError(t, err)
	require.NotEmpty(t, out)
	return out
}

// layer is the top folder a package lies in; "main" for the root.
func layer(pkg string) string {
	if pkg == "." || pkg == "cabwright" {
		return "main"
	}
	return strings.Split(strings.TrimPrefix(pkg, "cabwright/"), "/")[0]
}

// Imports go one way, main -> ui -> planner -> geometry, with presets beside
// the planner, as data.
func TestImportsGoOneWay(t *testing.T) {
	allowed := map[string]string{
		"main": "ui planner geometry presets", "ui": "ui planner geometry presets", "planner": "planner geometry presets",
		"presets": "presets", "geometry": "geometry",
	}
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		for _, imp := range s.imports() {
			if strings.HasPrefix(imp, "cabwright/") {
				assert.Contains(t, strings.Fields(allowed[layer(s.dir)]), layer(imp), "%s imports %s", s.path, imp)
			}
		}
	}
}

// What each layer may take from outside: geometry the standard library and
// gonum, no layer below the workbench anything that draws on a terminal.
func TestLayersKeepTheirLibraries(t *testing.T) {
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		for _, imp := range s.imports() {
			outside := strings.Contains(strings.Split(imp, "/")[0], ".")
			switch l := layer(s.dir); {
			case l == "geometry" && outside:
				helper := strings.HasPrefix(imp, "pgregory.net/rapid") && strings.HasSuffix(s.dir, "test")
				assert.True(t, strings.HasPrefix(imp, "gonum.org/") || helper, "%s imports %s", s.path, imp)
			case l == "presets":
				assert.False(t, outside, "%s imports %s", s.path, imp)
			case l == "planner":
				for _, no := range []string{"bubbletea", "bubbles", "lipgloss"} {
					assert.NotContains(t, imp, no, s.path)
				}
			}
		}
	}
}

// The places where files are touched: the stone files' own package, the
// cutter's presets, and the command line.
func TestFewTouchFiles(t *testing.T) {
	may := map[string]bool{"planner/stonefile": true, "presets": true, "planner/command": true, ".": true}
	for _, s := range sources(t) {
		if s.test || may[s.dir] {
			continue
		}
		opens := map[string]bool{"Open": true, "OpenFile": true, "Create": true, "ReadFile": true, "WriteFile": true,
			"Remove": true, "Rename": true, "Mkdir": true, "MkdirAll": true}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := sel.X.(*ast.Ident); ok && x.Name == "os" && opens[sel.Sel.Name] {
					t.Errorf("%s calls os.%s", s.set.Position(n.Pos()), sel.Sel.Name)
				}
			}
			return true
		})
	}
}

// Views are made apart from each other: a package of the workbench that has a
// view is imported by the root alone.
func TestViewsDoNotImportEachOther(t *testing.T) {
	views := map[string]bool{}
	all := sources(t)
	for _, s := range all {
		if layer(s.dir) != "ui" || s.test {
			continue
		}
		for _, d := range s.file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv != nil && f.Name.Name == "Mouse" {
				views["cabwright/"+s.dir] = true
			}
		}
	}
	delete(views, "cabwright/ui")
	require.NotEmpty(t, views)
	for _, s := range all {
		if s.test || s.dir == "ui" || s.dir == "." {
			continue
		}
		for _, imp := range s.imports() {
			assert.False(t, views[imp], "%s imports the view %s", s.path, imp)
		}
	}
}

// A file holds one idea and a function fits a screen or two.
func TestFilesAndFunctionsStayShort(t *testing.T) {
	const longestFile, longestFunc = 450, 80
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		if n := s.set.File(s.file.Pos()).LineCount(); n > longestFile {
			t.Errorf("%s has %d lines: is there more than one idea in it?", s.path, n)
		}
		for _, d := range s.file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				if n := s.set.Position(f.End()).Line - s.set.Position(f.Pos()).Line; n > longestFunc {
					t.Errorf("%s has %d lines in %s", s.path, n, f.Name.Name)
				}
			}
		}
	}
	main, err := os.ReadFile("main.go")
	require.NoError(t, err)
	assert.Less(t, strings.Count(string(main), "\n"), 60, "main.go only puts the parts together")
}

// Every package says in its doc.go, and there alone, what it is for.
func TestPackagesSayWhatTheyAreFor(t *testing.T) {
	documented := map[string]bool{}
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), s.path, nil, parser.PackageClauseOnly|parser.ParseComments)
		require.NoError(t, err)
		documented[s.dir] = documented[s.dir] || f.Doc != nil && filepath.Base(s.path) == "doc.go"
		if filepath.Base(s.path) != "doc.go" {
			assert.Nil(t, f.Doc, "%s: the comment on the package belongs into doc.go", s.path)
		}
	}
	for dir, ok := range documented {
		assert.True(t, ok, "package %s has no doc.go that says what it is for", dir)
	}
}
