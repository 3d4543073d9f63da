package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// firstScreen is how many lines of an answer are seen at once.
const firstScreen = 24

// TestWhatIsWorstStandsOnTheFirstScreen: an exceeded limit and a lost want, of every set,
// however long the tables before the list are.
func TestWhatIsWorstStandsOnTheFirstScreen(t *testing.T) {
	inFolder(t, "hatchback-link")
	text := readText(t, "hatchback-link.toml")
	writeText(t, "limited.toml", strings.NewReplacer("max_axial_load = 5000", "max_axial_load = 4500", "at_most = 1.0                   # mm/kN", "at_most = 0.75").Replace(text))
	bushtune(t, "demo catalogue --out shelf.toml")
	writeText(t, "weak.toml", strings.Replace(text, "max_radial_load = 9000", "max_radial_load = 1500", 1))
	for line, says := range map[string][]string{
		"tune weak.toml": {"Worse: bush.pivot, radial load", "EXCEEDED"},
		"swap limited.toml rates=1.5 worn=0.6 rates=0.5 rates=1.2": {
			"Worse with set 1: bush.pivot, axial load, 80 mm in roll", "(EXCEEDED: ",
			"Worse with set 2: ", "want sideways lost", "Worse with set 3: ", "Worse with set 4: "},
		"choose hatchback-link.toml shelf.toml": {"Worse: "},
		"swap hatchback-link.toml rates=1":      {"Worse with set 1: nothing by a noticeable step."},
	} {
		lines := strings.Split(bushtune(t, line).out, "\n")
		head := strings.Join(strings.Fields(strings.Join(lines[:firstScreen], " ")), " ")
		for _, words := range says {
			if !strings.Contains(head, words) {
				t.Errorf("bushtune %s does not say %q on its first screen:\n%s", line, words, strings.Join(lines[:firstScreen], "\n"))
			}
		}
	}
}

// TestALimitThatIsNewHasALoadBefore: a set that limits a load tells what it was without,
// and calls it no worse.
func TestALimitThatIsNewHasALoadBefore(t *testing.T) {
	inFolder(t, "saloon-semi-trailing")
	writeText(t, "limited.toml", "[bush.inner]\nmax_radial_load = 3000\n")
	before := map[string]float64{}
	for _, r := range recordsOf(t, "swap saloon-semi-trailing.toml limited.toml") {
		if r.Kind == "worsened" && r.Line == "over its limit" && r.Value != nil && r.Unit == "N" {
			before[r.Stage] = *r.Value
		}
	}
	if len(before) == 0 || before["before"] == 0 || math.Abs(before["before"]/before["after"]-1) > 1e-9 {
		t.Errorf("loads %v", before)
	}
	if out := bushtune(t, "swap saloon-semi-trailing.toml limited.toml").out; !strings.Contains(out, "EXCEEDED as before") {
		t.Error(out)
	}
	if out := fmt.Sprint(before); strings.Contains(out, "NaN") {
		t.Error(out)
	}
}
