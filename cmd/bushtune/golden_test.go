package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

var renew = flag.Bool("renew", false, "write the golden files anew")

// goldens maps the name of a golden file to the command line whose output it holds.
func goldens() map[string]string {
	all := map[string]string{
		"help":             "--help",
		"help-tune":        "tune --help",
		"demo":             "demo",
		"solve":            "solve",
		"solve-names":      "solve --names",
		"solve-everything": "solve --matrix --loads --readings --all-parts",
		"solve-parts":      "solve --parts brake_steer --parts lateral_compliance@cornering:patch --parts roll_rate",
		"check":            "check hatchback-link.toml van-beam-axle.toml",
		"check-mistakes":   "check mistakes.toml",
		"check-rubber":     "check estate-rubber.toml",
		"check-unusual":    "check unusual.toml",
		"solve-loads":      "solve --loads --demo estate-rubber",
		"help-spec":        "spec --help",
		"help-travel":      "travel --help",
		"help-sweep":       "sweep --help",
		"travel":           "travel --points 5",
		"travel-one":       "travel --motion roll-at-load --motion one --from -40 --to 60 --points 6 --bushes",
		"travel-right":     "travel --motion roll --right --points 5 --demo van-beam-axle",
		"sweep":            "sweep --points 11",
		"sweep-force":      "sweep --case cornering --to 4 --points 5",
		"sweep-moment":     "sweep --case aligning --points 4",
		"solve-at-size":    "solve --at-size 4",
		"tune":             "tune",
		"help-swap":        "swap --help",
		"swap":             "swap --demo hatchback-link",
		"swap-range":       "swap --demo estate-rubber polyurethane=80,bonded=true hardness=+10@bush.pivot.left",
		"swap-at-size":     "swap full.toml polyurethane=60,bonded=true worn=0.5 --at-size 4",
		"help-fit":         "fit --help",
		"fit":              "fit",
		"fit-clean":        "fit --without-outliers",
		"fit-strip":        "fit hatchback-link.toml strip.csv",
		"help-choose":      "choose --help",
		"choose":           "choose --demo hatchback-link",
		"choose-two":       "choose --at bush.outer=56x50 --at bush.inner=52x56 --best 4",
		"choose-shelf":     "choose hatchback-link.toml shelf.csv --step 20",
	}
	for _, name := range demo.PartNames() {
		all["rubber-"+name] = "rubber --demo " + name
	}
	all["help-rubber"], all["rubber-d3"] = "rubber --help", "rubber part.toml --class D3"
	for _, name := range demo.Names() {
		all["solve-"+name] = "solve --demo " + name
		all["tune-"+name] = "tune --demo " + name
	}
	return all
}

// mistakes is an axle file with one mistake of every common kind.
const mistakes = `title = "mistakes"
[wheel]
on = "arm"
centre = [0, 740, 300]
loaded_radius = -300
[body.arm]
[bush.pivot]
from = "vehicle"
to = "amr"
at = [430, 560]
sofft = 600
Axial = 700
stiff = "hard"
torsion = nan
[link.toe]
from = "vehicle"
to = "arm"
inner = [20, 500, 240]
outer = [20, 500, 240]
inner_rate = 2000
[search]
bush.pivot.plam = { from = -40, to = 40 }
link.toe.inner_rate = { from = 4000, to = 400 }
[want.corner]
number = "lateral_force_ster"
at_least = 0.02
`

// fixedPart is a part file whose dimensions are all given, and miss what is wanted.
const fixedPart = `title = "a bush with an intermediate sleeve and end stops"
[part]
compound = "given"
shear_modulus = 0.9
inner_diameter = 20
outer_diameter = 60
length = 50
sleeve_diameter = 40
sleeve_wall = 2
stop_gap = 3
stop_diameter = 70
stop_thickness = 8
ageing_factor = 1.1
[wanted]
torsion = 3
stiff = { at_most = 2000 }
`

// writeFull writes full.toml, an axle whose voids close under the loads at which more is
// wanted of it than anybody can give.
func writeFull(t *testing.T) {
	t.Helper()
	head, _, _ := strings.Cut(readText(t, "estate-rubber.toml"), "[want.")
	writeText(t, "full.toml", head+`[want.corner]
number = "total_outer_toe"
case = "state_cornering"
size = 0.6
at_least = -0.1
[want.even]
number = "lateral_force_steer"
size = 4
straight = true
target = 0
[want.kerb]
number = "longitudinal_compliance"
size = 6
at_most = 1.4
[want.firm]
number = "lateral_compliance"
size = 4
make = "small"
[want.huge]
number = "lateral_force_steer"
size = 90000
at_least = 0
`)
}

// strip are readings that tell little; wrong are some with mistakes.
const (
	strip = `case,load [kN],channel,side,value [mm],sd [mm]
impact,1,centre_x,left,-1.75,0.02
impact,2,centre_x,left,-3.46,0.02
impact,1,centre_x,right,-1.71,0.02
impact,2,centre_x,right,-3.49,0.02
impact,3,centre_x,right,-5.20,0.02
`
	wrong = `case,load [kN],channel,side,value [mm]
imapct,1,centre_x,left,-4.31
impact,2,centre_x,left,"-8,65"
impact,2,toe,left,0.1
`
)

// goldenFolder goes to a folder with all files that the command lines name.
func goldenFolder(t *testing.T) {
	t.Helper()
	inFolder(t, "hatchback-link", "van-beam-axle", "estate-rubber")
	writeText(t, "mistakes.toml", mistakes)
	writeText(t, "unusual.toml", unusualText(t))
	writeText(t, "strip.csv", strip)
	writeText(t, "wrong.csv", wrong)
	writeText(t, "shelf.csv", shelfTable)
	writeText(t, "part.toml", fixedPart)
	writeFull(t)
}

// TestGolden holds whole answers against files; go test -renew writes them.
func TestGolden(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("testdata", "golden"))
	if err != nil {
		t.Fatal(err)
	}
	goldenFolder(t)
	for name, line := range goldens() {
		t.Run(name, func(t *testing.T) {
			got := strings.ReplaceAll(bushtune(t, line).out, version(), "VERSION")
			path := filepath.Join(folder, name+".txt")
			if *renew {
				if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := readText(t, path); got != want {
				t.Errorf("bushtune %s differs from %s (go test ./cmd/bushtune -renew writes it anew):\n%s", line, path, firstDifference(want, got))
			}
		})
	}
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "want: " + w[i] + "\n got: " + g[i]
		}
	}
	return "one is longer than the other"
}

// TestGoldenFilesAreAllUsed finds golden files that no test looks at.
func TestGoldenFilesAreAllUsed(t *testing.T) {
	found, err := filepath.Glob("testdata/golden/*.txt")
	if err != nil || len(found) != len(goldens()) {
		t.Errorf("%d golden files for %d command lines, %v", len(found), len(goldens()), err)
	}
}

// TestPageFits holds every text answer, as TestGolden finds it in its file, to what a
// person can read: at most 100 signs a line, nothing at the end of lines.
func TestPageFits(t *testing.T) {
	for name, line := range goldens() {
		if strings.HasPrefix(name, "help") {
			continue
		}
		for i, text := range strings.Split(readText(t, filepath.Join("testdata", "golden", name+".txt")), "\n") {
			if n := len([]rune(text)); n > 100 && !strings.HasPrefix(text, "mistakes.toml:") && !strings.HasPrefix(text, "unusual.toml:") {
				t.Errorf("bushtune %s: line %d has %d signs: %s", line, i+1, n, text)
			}
			if strings.TrimRight(text, " ") != text {
				t.Errorf("bushtune %s: line %d ends with spaces: %q", line, i+1, text)
			}
		}
	}
}

// heading is a group of numbers: it stands at the margin above rows that hold
// values.
var heading = regexp.MustCompile(`^[A-Z][A-Z ]+`)

func TestEveryTableOfNumbersNamesThePads(t *testing.T) {
	for _, name := range demo.Names() {
		lines := strings.Split(bushtune(t, "solve --demo "+name+" --matrix").out, "\n")
		groups := 0
		for _, line := range lines {
			if !heading.MatchString(line) || strings.HasPrefix(line, "NOT OFFERED") || strings.HasPrefix(line, "NOTES") || strings.HasPrefix(line, "Caution") {
				continue
			}
			groups++
			if !strings.Contains(line, "pads level") && !strings.Contains(line, "pads floating") {
				t.Errorf("%s: heading without pads: %s", name, line)
			}
		}
		if groups < 8 {
			t.Errorf("%s: only %d headings found", name, groups)
		}
		if !strings.Contains(lines[1], "static load: included") && !strings.Contains(lines[1], "static load: not included") {
			t.Errorf("%s: the head does not tell about the static load: %s", name, lines[1])
		}
	}
}
