package axlefile

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// changedLines returns the lines of after that are not those of before, as "old
// → new", and fails if the number of lines differs by more than what was added.
func changedLines(t *testing.T, before, after string) []string {
	t.Helper()
	a, b := strings.Split(before, "\n"), strings.Split(after, "\n")
	if len(a) != len(b) {
		t.Fatalf("%d lines became %d", len(a), len(b))
	}
	var changed []string
	for i := range a {
		if a[i] != b[i] {
			changed = append(changed, b[i])
		}
	}
	return changed
}

func edited(t *testing.T, f *File, x ...float64) string {
	t.Helper()
	text, err := f.Edit(x)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return string(text)
}

func TestEditChangesOnlyNumbers(t *testing.T) {
	f := readTwistBeam(t)
	text := edited(t, f, -12.34567891, 612.5, 550, 240.25, 4.75, 0.2)
	want := []string{
		"plan = -12.3457",
		"soft = 612.5             # across the voids",
		"inner = [-10, 240.25, 260]",
		"outer = [20, 510.25, 280]",
		`profile = { shape = "V", leg = 80, radius = 30, half_angle = 30, wall = 4.75 }`,
	}
	got := changedLines(t, string(f.source.text), text)
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("changed:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestEditToThePresentValuesChangesNothing(t *testing.T) {
	f := readTwistBeam(t)
	var x []float64
	for _, p := range f.Search {
		x = append(x, p.Start)
	}
	if edited(t, f, x...) != string(f.source.text) {
		t.Error("the text changed")
	}
}

func TestEditedFileReadsBack(t *testing.T) {
	f := readTwistBeam(t)
	x := []float64{39.99999999, 1200, 300, 299.9, 3.14159265, 0.123456789}
	again := parseText(t, edited(t, f, x...))
	for i, p := range again.Search {
		if got := p.Start; math.Abs(got-x[i]) > rewriteTolerance*math.Abs(x[i]) || got < p.From || got > p.To {
			t.Errorf("%s = %v, want %v inside %v to %v", p.Path, got, x[i], p.From, p.To)
		}
	}
}

// TestEditAddsWhatIsAbsent asks for numbers whose keys are not in the file.
func TestEditAddsWhatIsAbsent(t *testing.T) {
	for _, c := range []struct {
		path, bounds string
		value        float64
		line         string // that must appear
		after        string // the line before it
	}{
		{"bush.pivot.lift", "from = -20, to = 20", 5, "lift = 5", "cone_stiff = 8.7"},
		{"bush.pivot.right.plan", "from = -20, to = 20", 5, "  plan = 5", "  soft = 550"},
		{"bush.pivot.left.at.y", "from = 500, to = 600", 555, "left.at.y = 555", "cone_stiff = 8.7"},
		{"bush.pivot.preload.x", "from = -10, to = 10", 5, "preload.x = 5", "cone_stiff = 8.7"},
		{"link.toe.right.inner.y", "from = 200, to = 300", 233, "right.inner.y = 233", "outer_rate = 4000"},
		{"hub.toe", "from = 0, to = 1", 0.25, "toe = 0.25", "camber = 0.2"},
		{"wheel.left.toe", "from = 0, to = 1", 0.25, "left.toe = 0.25", "camber = -1.3"},
		{"beam.cross.tilt", "from = -10, to = 10", 2.5, "tilt = 2.5", `profile = { shape = "V", leg = 80, radius = 30, half_angle = 30, wall = 5 }`},
	} {
		f, err := searching(t, c.path+" = { "+c.bounds+" }")
		if err != nil {
			t.Errorf("%s: %v", c.path, err)
			continue
		}
		text := edited(t, f, c.value)
		if !strings.Contains(text, c.after+"\n"+c.line+"\n") {
			t.Errorf("%s: no line %q after %q in\n%s", c.path, c.line, c.after, text)
		}
		if again := parseText(t, text); again.Search[0].Start != c.value {
			t.Errorf("%s reads as %v, want %v", c.path, again.Search[0].Start, c.value)
		}
	}
}

// TestEditInOtherLayouts inserts into tables written in other ways.
func TestEditInOtherLayouts(t *testing.T) {
	base := func(old, new string) string {
		text := withChange(t, old, new)
		before, _, _ := strings.Cut(text, "[search]")
		return before
	}
	for name, c := range map[string]struct{ text, path, want string }{
		"no hub":          {base("[hub]\ncamber = 0.2\n", ""), "hub.toe", "\n[hub]\ntoe = 0.5\n"},
		"empty hub":       {base("[hub]\ncamber = 0.2", "[hub]   # rigid"), "hub.toe", "[hub]   # rigid\ntoe = 0.5\n"},
		"hub of one side": {base("[hub]\ncamber = 0.2", "[hub.left]\ncamber = 0.2"), "hub.toe", "\n[hub]\ntoe = 0.5\n"},
		"inline hub":      {"hub = { camber = 0.2 }\n" + base("[hub]\ncamber = 0.2\n", ""), "hub.toe", "hub = { camber = 0.2, toe = 0.5 }"},
		"empty inline":    {"hub = { }\n" + base("[hub]\ncamber = 0.2\n", ""), "hub.toe", "hub = { toe = 0.5 }"},
		"dotted hub":      {"hub.camber = 0.2 # soft\n" + base("[hub]\ncamber = 0.2\n", ""), "hub.toe", "hub.camber = 0.2 # soft\nhub.toe = 0.5\n"},
		"crlf": {strings.ReplaceAll(base("[hub]\ncamber = 0.2", "[hub]"), "\n", "\r\n"), "hub.toe",
			"[hub]\r\ntoe = 0.5\r\n"},
	} {
		t.Run(name, func(t *testing.T) {
			for _, end := range []string{"\n", ""} {
				f := parseText(t, c.text+"[search."+c.path+"]\nfrom = 0\nto = 1"+end)
				text := edited(t, f, 0.5)
				if !strings.Contains(text, c.want) {
					t.Errorf("no %q in\n%s", c.want, text)
				}
			}
		})
	}
}

func TestEditKeepsAMatrixSymmetric(t *testing.T) {
	f := parseText(t, withChange(t, "[vehicle]", `[bush.stay]
from = "vehicle"
to = "arm"
at = [300, 500, 330]
matrix = [[500,0,10,0,0,0],[0,600,0,0,0,0],[10,0,700,0,0,0],[0,0,0,40,0,0],[0,0,0,0,50,3],[0,0,0,0,3,60]]
[search.bush.stay.matrix]
13 = { from = 0, to = 20 }
[vehicle]`))
	x := make([]float64, len(f.Search))
	for i, p := range f.Search {
		x[i] = p.Start
		if p.Path == "bush.stay.matrix.13" {
			x[i] = 12
		}
	}
	if text := edited(t, f, x...); !strings.Contains(text, "[[500,0,12,0,0,0],[0,600,0,0,0,0],[12,0,700") {
		t.Errorf("not symmetric:\n%s", text)
	}
}

func TestWriteRefusesToHarm(t *testing.T) {
	folder := t.TempDir()
	at := func(name string) string { return filepath.Join(folder, name) }
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.WriteFile(at("in.toml"), []byte("input"), 0o600))
	must(os.WriteFile(at("other.toml"), []byte("other"), 0o600))
	must(os.Symlink(at("in.toml"), at("soft.toml")))
	must(os.Link(at("in.toml"), at("hard.toml")))
	must(os.Symlink(at("nowhere.toml"), at("dangling.toml")))
	for _, c := range []struct {
		name    string
		replace bool
	}{
		{"in.toml", true}, {"./in.toml", true}, {"soft.toml", true}, {"hard.toml", true}, {"in.toml", false},
		{"other.toml", false}, {"dangling.toml", false}, {".", true}, {"no/folder.toml", true},
	} {
		if err := Write(at(c.name), []byte("new"), c.replace, InputAt(at("in.toml"))); err == nil {
			t.Errorf("%s (replace %v) was written", c.name, c.replace)
		}
	}
	must(Write(at("other.toml"), []byte("new"), true, InputAt(at("in.toml"))))
	must(Write(at("fresh.toml"), []byte("new"), false, InputAt(at("in.toml"))))
	for name, want := range map[string]string{"in.toml": "input", "other.toml": "new", "fresh.toml": "new"} {
		got, err := os.ReadFile(at(name))
		must(err)
		if string(got) != want {
			t.Errorf("%s holds %q, want %q", name, got, want)
		}
	}
	if left, _ := filepath.Glob(at(".bushtune*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	f, err := os.Create(at("ordinary.toml"))
	must(err)
	must(f.Close())
	mode := func(name string) os.FileMode {
		info, err := os.Stat(at(name))
		must(err)
		return info.Mode()
	}
	if mode("fresh.toml") != mode("ordinary.toml") || mode("other.toml") != 0o600 {
		t.Errorf("mode of the new file: %v, of the replaced one: %v", mode("fresh.toml"), mode("other.toml"))
	}
}

// TestEditOfEveryGoodFile moves every parameter to a place inside its bounds:
// every comment stays, and the values read back.
func TestEditOfEveryGoodFile(t *testing.T) {
	for name, text := range goodFiles(t) {
		f := parseText(t, string(text))
		x := make([]float64, len(f.Search))
		for i, p := range f.Search {
			x[i] = p.Start + 0.271828*(p.To-p.Start)
		}
		after := edited(t, f, x...)
		if strings.Join(comments(after), "\n") != strings.Join(comments(string(text)), "\n") {
			t.Errorf("%s: the comments changed", name)
		}
		for i, p := range parseText(t, after).Search {
			if math.Abs(p.Start-x[i]) > rewriteTolerance*math.Abs(x[i]) {
				t.Errorf("%s: %s = %v, want %v", name, p.Path, p.Start, x[i])
			}
		}
	}
}

// comments lists what follows the first # of each line; no text in the test
// files holds that sign.
func comments(text string) []string {
	var all []string
	for line := range strings.Lines(text) {
		if _, comment, ok := strings.Cut(line, "#"); ok {
			all = append(all, comment)
		}
	}
	return all
}

// TestStrayTemporaryFilesAreSwept: what a run that was stopped while it wrote left
// behind goes with the next run; what a running one writes, and any other file, stays.
func TestStrayTemporaryFilesAreSwept(t *testing.T) {
	folder := t.TempDir()
	dead := exec.Command(os.Args[0], "-test.run=^$")
	if err := dead.Run(); err != nil {
		t.Fatal(err)
	}
	stray := fmt.Sprintf("%s%d-abc", temporaryPrefix, dead.Process.Pid)
	alive := fmt.Sprintf("%s%d-abc", temporaryPrefix, os.Getppid())
	for _, name := range []string{stray, alive, ".bushtune-notes", "mine.toml"} {
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := Write(filepath.Join(folder, "new.toml"), []byte("new"), false); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	want := []string{alive, ".bushtune-notes", "mine.toml", "new.toml"}
	slices.Sort(want)
	if !slices.Equal(names, want) {
		t.Errorf("left: %q, want %q", names, want)
	}
}
