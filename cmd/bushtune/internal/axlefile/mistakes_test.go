package axlefile

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var renew = flag.Bool("renew", false, "write the expected texts and the schema anew")

// TestMistakes reads every file of testdata/mistakes and holds all that is said
// about it against the text of the same name.
func TestMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, err = Parse(filepath.Base(file), text)
			var mistakes Mistakes
			if !errors.As(err, &mistakes) {
				t.Fatalf("no mistakes, but %v", err)
			}
			checkPlaces(t, mistakes, text)
			golden(t, strings.TrimSuffix(file, ".toml")+".txt", mistakes.Error()+"\n")
		})
	}
}

// checkPlaces wants every mistake on a line of the text, in their order.
func checkPlaces(t *testing.T, mistakes Mistakes, text []byte) {
	t.Helper()
	lines := countLines(text)
	last := 0
	for _, m := range mistakes {
		if m.Line < max(1, last) || m.Line > lines {
			t.Errorf("line %d of %d, after line %d: %v", m.Line, lines, last, m)
		}
		last = m.Line
		if m.Wrong == "" || strings.ContainsAny(m.String(), "\n\r\x00") {
			t.Errorf("not one printable line: %q", m.String())
		}
	}
}

// golden compares a text with a file, or writes the file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *renew {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err, "; go test -renew writes it")
	}
	if got != string(want) {
		t.Errorf("differs from %s; go test -renew writes it anew\ngot:\n%swant:\n%s", file, got, want)
	}
}
