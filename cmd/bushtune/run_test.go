package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

// ran is what one command line gave.
type ran struct {
	code     int
	out, err string
}

// bushtune runs a command line that is given as in a shell, without quotes.
func bushtune(t *testing.T, line string) ran {
	t.Helper()
	return bushtuneWith(context.Background(), streams{in: strings.NewReader("")}, strings.Fields(line)...)
}

func bushtuneWith(ctx context.Context, s streams, args ...string) ran {
	var out, err bytes.Buffer
	s.out, s.err = &out, &err
	code := run(ctx, append([]string{"bushtune"}, args...), s)
	return ran{code, out.String(), err.String()}
}

// inFolder changes to an empty folder with some built-in axles in it.
func inFolder(t *testing.T, demos ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, name := range demos {
		axle, err := demo.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		writeText(t, name+".toml", string(axle.Text))
	}
}

func writeText(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func readText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// files lists what a folder holds, hidden or not.
func files(t *testing.T) []string {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, filepath.Base(e.Name()))
	}
	return names
}
