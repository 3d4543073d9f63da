package main

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"
)

func TestOutNeverReplacesTheInput(t *testing.T) {
	inFolder(t, "hatchback-link")
	input := readText(t, "hatchback-link.toml")
	if err := os.Symlink("hatchback-link.toml", "soft.toml"); err != nil {
		t.Fatal(err)
	}
	if err := os.Link("hatchback-link.toml", "hard.toml"); err != nil {
		t.Fatal(err)
	}
	before := files(t)
	for _, out := range []string{"hatchback-link.toml", "./hatchback-link.toml", "soft.toml", "hard.toml"} {
		for _, force := range []string{"", " --force"} {
			r := bushtune(t, "tune hatchback-link.toml --out "+out+force)
			if r.code != exitFailed || !strings.Contains(r.err, "it is the input file") {
				t.Errorf("--out %s%s: code %d, %s", out, force, r.code, r.err)
			}
			if readText(t, "hatchback-link.toml") != input || !slices.Equal(files(t), before) {
				t.Fatalf("--out %s%s did harm", out, force)
			}
		}
	}
}

// TestOutNeverReplacesStandardInput: a file that is read through the shell's < is an
// input like any other.
func TestOutNeverReplacesStandardInput(t *testing.T) {
	inFolder(t, "hatchback-link")
	input := readText(t, "hatchback-link.toml")
	for _, command := range []string{"tune", "spec"} {
		in, err := os.Open("hatchback-link.toml")
		if err != nil {
			t.Fatal(err)
		}
		r := bushtuneWith(context.Background(), streams{in: in}, command, "-", "--out", "hatchback-link.toml", "--force")
		if r.code != exitFailed || !strings.Contains(r.err, "it is the input file on standard input") || readText(t, "hatchback-link.toml") != input {
			t.Errorf("%s: code %d, %s", command, r.code, r.err)
		}
		if err := in.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

func TestOutReplacesOnlyWhenForced(t *testing.T) {
	inFolder(t, "hatchback-link")
	writeText(t, "mine.toml", "precious")
	for _, line := range []string{"tune --out mine.toml", "demo hatchback-link --out mine.toml", "tune hatchback-link.toml --out mine.toml"} {
		if r := bushtune(t, line); r.code != exitFailed || !strings.Contains(r.err, "--force") || readText(t, "mine.toml") != "precious" {
			t.Errorf("%s: code %d, %s", line, r.code, r.err)
		}
		if r := bushtune(t, line+" --force"); r.code != exitAnswer || !strings.Contains(readText(t, "mine.toml"), "[bush.pivot]") {
			t.Errorf("%s --force: code %d, %s", line, r.code, r.err)
		}
		writeText(t, "mine.toml", "precious")
	}
	if got := files(t); !slices.Equal(got, []string{"hatchback-link.toml", "mine.toml"}) {
		t.Errorf("left behind: %v", got)
	}
}

func TestOutIntoNowhere(t *testing.T) {
	inFolder(t, "hatchback-link")
	r := bushtune(t, "tune --out nowhere/new.toml")
	if want := "nowhere/new.toml: not written: folder nowhere: "; r.code != exitFailed || r.out != "" || !strings.Contains(r.err, want) || strings.Contains(r.err, ".bushtune-") {
		t.Errorf("code %d, %s", r.code, r.err)
	}
}

// TestTunedFileKeepsAllButNumbers compares input and output line by line: equal
// but for the value of the parameters that MOVED lists.
func TestTunedFileKeepsAllButNumbers(t *testing.T) {
	inFolder(t, "hatchback-link")
	if r := bushtune(t, "tune hatchback-link.toml --out new.toml"); r.code != exitAnswer {
		t.Fatal(r.err)
	}
	was, is := strings.Split(readText(t, "hatchback-link.toml"), "\n"), strings.Split(readText(t, "new.toml"), "\n")
	if len(was) != len(is) {
		t.Fatalf("%d lines became %d", len(was), len(is))
	}
	changed := 0
	for i := range was {
		if was[i] == is[i] {
			continue
		}
		changed++
		for _, mark := range []string{" = ", "#"} {
			a, oldRest, _ := strings.Cut(was[i], mark)
			b, newRest, _ := strings.Cut(is[i], mark)
			if mark == " = " && a != b || mark == "#" && oldRest != newRest {
				t.Errorf("line %d: %q became %q", i+1, was[i], is[i])
			}
		}
	}
	if changed == 0 {
		t.Error("nothing changed")
	}
}

// TestTunedFileSolvesToWhatTuneSaid reads the written file again.
func TestTunedFileSolvesToWhatTuneSaid(t *testing.T) {
	inFolder(t)
	tuned := records(t, bushtune(t, "tune --format json --out new.toml"))
	after := map[string]float64{}
	for _, r := range tuned {
		if r.Kind == "figure" && r.Stage == "after" {
			after[r.Number+"@"+r.Case+":"+r.Where] = *r.Value
		}
	}
	compared := 0
	for _, r := range records(t, bushtune(t, "solve new.toml --format json")) {
		if r.Kind != "figure" {
			continue
		}
		compared++
		if want := after[r.Number+"@"+r.Case+":"+r.Where]; !close(*r.Value, want) {
			t.Errorf("%s %s %s: solve says %v, tune said %v", r.Number, r.Case, r.Where, *r.Value, want)
		}
	}
	if compared < 40 {
		t.Errorf("only %d figures compared", compared)
	}
}
