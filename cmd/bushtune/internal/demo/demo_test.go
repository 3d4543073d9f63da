package demo_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

func TestEveryFileIsListedOnce(t *testing.T) {
	files, err := filepath.Glob("axles/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no axle files: %v", err)
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".toml"))
	}
	listed := slices.Sorted(slices.Values(demo.Names()))
	if !slices.Equal(names, listed) {
		t.Errorf("files %v, listed %v", names, listed)
	}
	if !slices.Contains(listed, demo.Default) {
		t.Errorf("the default %q is not listed", demo.Default)
	}
}

func TestEveryAxleOpensWithTwoLines(t *testing.T) {
	for _, name := range demo.Names() {
		a, err := demo.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range a.Shows {
			if len(line) < 40 || !strings.HasSuffix(line, ".") {
				t.Errorf("%s line %d is no sentence: %q", name, i+1, line)
			}
		}
		file, err := os.ReadFile(filepath.Join("axles", name+".toml"))
		if err != nil || string(file) != string(a.Text) {
			t.Errorf("%s: embedded text differs from the file: %v", name, err)
		}
	}
}

func TestUnknownAxleHasAHint(t *testing.T) {
	for asked, want := range map[string]string{"hatchback-lnk": "did you mean hatchback-link", "zzzzzzzzzzzz": "there are hatchback-plain"} {
		if _, err := demo.Open(asked); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", asked, err, want)
		}
	}
}
