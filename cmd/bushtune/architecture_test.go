package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const root = "../.."

// layers is the one straight line: a package imports its own layer and those
// before it. The optimiser is general: it imports none of them.
var layers = []string{"bushing", "compliance", "cases", "optimize", "cmd"}

// onlyIn keeps outside libraries where they belong: import path prefix → folders
// whose files may import it.
var onlyIn = map[string][]string{
	"github.com/BurntSushi/toml":   {"cmd/bushtune/internal/axlefile"},
	"github.com/pelletier/go-toml": {"cmd/bushtune/internal/axlefile"},
	"github.com/urfave/cli":        {"cmd/bushtune"},
	"gonum.org/v1/gonum/optimize":  {"optimize"},
	"net/http":                     {},
	"golang.org/x/term":            {"cmd/bushtune"},
	"github.com/santhosh-tekuri":   {"cmd/bushtune/internal/axlefile"},
}

// oneFile lists imports that a single file may have.
var oneFile = []string{"gonum.org/v1/gonum/optimize", "github.com/pelletier/go-toml/v2/unstable"}

type goFile struct {
	path    string // from the root, with slashes
	imports []string
}

func goFiles(t *testing.T) []goFile {
	t.Helper()
	var files []goFile
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(root, path)
		file := goFile{path: filepath.ToSlash(rel)}
		for _, spec := range parsed.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			file.imports = append(file.imports, name)
		}
		files = append(files, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 50 {
		t.Fatalf("only %d Go files found: the walk is broken", len(files))
	}
	return files
}

func TestImportsFollowTheLine(t *testing.T) {
	for _, f := range goFiles(t) {
		layer := strings.Split(f.path, "/")[0]
		own := slices.Index(layers, layer)
		if own < 0 {
			t.Errorf("%s: Go files belong under %v", f.path, layers)
			continue
		}
		for _, name := range f.imports {
			inside, ok := strings.CutPrefix(name, "bushtune/")
			if !ok {
				continue
			}
			other := strings.Split(inside, "/")[0]
			if slices.Index(layers, other) > own || layer == "optimize" && other != "optimize" {
				t.Errorf("%s imports %s: imports run %s, and optimize imports none of the others", f.path, name, strings.Join(layers, " ← "))
			}
		}
	}
}

func TestLibrariesStayInTheirRooms(t *testing.T) {
	users := map[string][]string{}
	for _, f := range goFiles(t) {
		folder := f.path[:strings.LastIndex(f.path, "/")]
		for _, name := range f.imports {
			for prefix, rooms := range onlyIn {
				if strings.HasPrefix(name, prefix) && !slices.Contains(rooms, folder) {
					t.Errorf("%s imports %s: allowed in %v only", f.path, name, rooms)
				}
			}
			if slices.Contains(oneFile, name) {
				users[name] = append(users[name], f.path)
			}
		}
	}
	for _, name := range oneFile {
		if len(users[name]) != 1 {
			t.Errorf("%s is imported by %v: one file should", name, users[name])
		}
	}
}

func TestTopLevelIsFixed(t *testing.T) {
	want := []string{"DEVELOPERS.md", "README.md", "bushing", "cases", "cmd", "compliance", "go.mod", "go.sum", "optimize", "testdata"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			got = append(got, e.Name())
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("top level is %v, want %v", got, want)
	}
}
