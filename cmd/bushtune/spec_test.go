package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

// tunedAxle is a folder with the built-in axle and what tune makes of it, whose
// wants hold.
func tunedAxle(t *testing.T) {
	t.Helper()
	inFolder(t, "hatchback-link")
	if r := bushtune(t, "tune hatchback-link.toml --out tuned.toml"); r.code != exitAnswer {
		t.Fatal(r.err)
	}
}

var manyDigits = regexp.MustCompile(`-?[0-9]+\.[0-9]{4,}(e[-+][0-9]+)?`)

// sixDigits rounds what is written in full, whose last digits differ between
// processors.
func sixDigits(text string) string {
	return manyDigits.ReplaceAllStringFunc(text, func(s string) string {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		return strconv.FormatFloat(x, 'g', 6, 64)
	})
}

// TestSpecGolden holds whole pages against files; go test -renew writes them.
func TestSpecGolden(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("testdata", "spec"))
	if err != nil {
		t.Fatal(err)
	}
	tunedAxle(t)
	lines := map[string]string{
		"tuned.md":            "spec tuned.toml",
		"tuned.csv":           "spec tuned.toml --format csv",
		"multi-link.md":       "spec --demo saloon-multi-link --bush front_mount --class D1",
		"hatchback-plain.csv": "spec --demo hatchback-plain -f csv",
	}
	for name, line := range lines {
		got := sixDigits(bushtune(t, line).out)
		path := filepath.Join(folder, name)
		if *renew {
			if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if want := readText(t, path); got != want {
			t.Errorf("bushtune %s differs from %s (go test ./cmd/bushtune -run Spec -renew writes it anew):\n%s", line, path, firstDifference(want, got))
		}
	}
	if there, err := filepath.Glob(filepath.Join(folder, "*")); err != nil || len(there) != len(lines) {
		t.Errorf("%d files of pages for %d command lines, %v", len(there), len(lines), err)
	}
}

// bushTable heads a bush in an axle file.
var bushTable = regexp.MustCompile(`(?m)^\[bush\.[a-z_]+\]`)

// Every built-in axle that has bushes has pages, one for each; --out writes the
// same, whole and never over the input.
func TestSpecWritesAFile(t *testing.T) {
	tunedAxle(t)
	page := bushtune(t, "spec tuned.toml")
	if r := bushtune(t, "spec tuned.toml --out pivot.md"); r.code != exitAnswer || r.out != "" || readText(t, "pivot.md") != page.out {
		t.Errorf("code %d, %s", r.code, r.err)
	}
	before := files(t)
	for _, line := range []string{"spec tuned.toml --out pivot.md", "spec tuned.toml --out tuned.toml --force", "spec tuned.toml --out nowhere/pivot.md"} {
		if r := bushtune(t, line); r.code != exitFailed || !strings.Contains(r.err, "not written") || !slices.Equal(files(t), before) {
			t.Errorf("%s: code %d, %s", line, r.code, r.err)
		}
	}
	for _, name := range demo.Names() {
		r := bushtune(t, "spec --demo "+name)
		if want := len(bushTable.FindAllString(builtInText(t, name), -1)); want == 0 {
			if r.code != exitFailed || !strings.Contains(r.err, "no bush") {
				t.Errorf("%s has no bush: code %d, %s", name, r.code, r.err)
			}
		} else if got := strings.Count("\n"+r.out, "\n# "); got != want || r.code != exitAnswer {
			t.Errorf("%s: code %d, %d pages, want %d", name, r.code, got, want)
		}
	}
}

func TestSpecSaysWhatIsWrong(t *testing.T) {
	inFolder(t, "hatchback-link")
	for line, want := range map[string]struct {
		code int
		says string
	}{
		"spec --class D4":             {exitBadInput, "--class takes D1, D2, D3"},
		"spec --mould M9":             {exitBadInput, "--mould takes M1"},
		"spec --format text":          {exitBadInput, "--format takes md, csv, json"},
		"spec --bush pivto":           {exitBadInput, "did you mean pivot?"},
		"spec --bush":                 {exitBadInput, "needs a value"},
		"spec --out -":                {exitBadInput, "--out takes the name of a file"},
		"spec missing.toml":           {exitFailed, "missing.toml"},
		"spec a.toml b.toml":          {exitBadInput, "takes one axle file"},
		"spec --demo van-beam-axle":   {exitFailed, "no bush to write a page for"},
		"spec --bush bush.pivot":      {exitAnswer, ""},
		"spec hatchback-link.toml":    {exitAnswer, ""},
		"spec --format json":          {exitAnswer, "Caution"},
		"spec --class D3 --mould M1":  {exitAnswer, ""},
		"spec --demo saloon-nonsense": {exitBadInput, "saloon"},
	} {
		if r := bushtune(t, line); r.code != want.code || !strings.Contains(r.err, want.says) || (r.code != exitAnswer) != (r.out == "") {
			t.Errorf("%s: code %d, want %d; %s", line, r.code, want.code, r.err)
		}
	}
}

// The part of a page that README shows is what the command writes.
func TestReadmeSpec(t *testing.T) {
	const command = "$ bushtune spec tuned.toml\n…\n"
	block := fenced(t, command)[0]
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	tunedAxle(t)
	_, rest, ok := strings.Cut(bushtune(t, "spec tuned.toml").out, "\n## What the axle can bear")
	section, _, closed := strings.Cut(rest, "\n## ")
	if !ok || !closed {
		t.Fatal("the page has no part on what the axle can bear")
	}
	want := command + "## What the axle can bear" + section + "…\n"
	switch {
	case block == want:
	case *renew:
		t.Chdir(folder)
		rewrite(t, block, want)
	default:
		t.Errorf("README's page is not what bushtune spec writes; go test ./cmd/bushtune -renew writes it anew")
	}
}
