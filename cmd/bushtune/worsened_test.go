package main

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/show"
)

// oneSided is the plain hatchback whose right pivot alone may change its fore-and-aft
// rate.
func oneSided(t *testing.T) string {
	t.Helper()
	inFolder(t, "hatchback-plain")
	head, _, found := strings.Cut(readText(t, "hatchback-plain.toml"), "[search]")
	if !found {
		t.Fatal("no [search]")
	}
	return head + "[search]\nbush.pivot.right.soft = { from = 350, to = 1400 }\n\n" +
		"[want.strip]\nnumber = \"longitudinal_compliance\"\nmake = \"large\"\n\n[want.steer]\nnumber = \"lateral_force_steer\"\nat_least = 0\n"
}

// figureIn is a figure of an answer in JSON.
func figureIn(t *testing.T, line, stage, number, caseName string) float64 {
	t.Helper()
	for _, r := range recordsOf(t, line) {
		if r.Kind == "figure" && r.Stage == stage && r.Number == number && r.Case == caseName {
			return *r.Value
		}
	}
	t.Fatalf("no figure %s@%s", number, caseName)
	return 0
}

// TestASearchOfOneSideNamesBothWheels: what it costs is told of both, with the figures
// of the tuned file solved anew, and that the axle pulls to one side stands among what got
// worse.
func TestASearchOfOneSideNamesBothWheels(t *testing.T) {
	writeText(t, "one.toml", oneSided(t))
	answer := strings.Join(strings.Fields(bushtune(t, "tune one.toml --out tuned.toml").out), " ")
	_, cost, found := strings.Cut(answer, "Cost in longitudinal compliance: right wheel ")
	if !found {
		t.Fatalf("the cost names no wheel:\n%s", answer)
	}
	right, left, found := strings.Cut(cost, "; left wheel ")
	if !found {
		t.Fatalf("the cost names one wheel:\n%s", cost)
	}
	for caseName, text := range map[string]string{"impact": right, "impact" + cases.TurnRight: left[:60]} {
		after := figureIn(t, "solve tuned.toml", "", "longitudinal_compliance", caseName)
		if want := "→ " + fmt.Sprintf("%.2f", after); !strings.Contains(text, want) {
			t.Errorf("%s: %q does not say %q", caseName, text, want)
		}
	}
	if !strings.Contains(answer, "pull: mean steer to the left") {
		t.Errorf("the pull is not told:\n%s", answer)
	}
	asked := 0
	for _, r := range recordsOf(t, "tune one.toml") {
		if r.Kind == "want" && r.Line == "margin" && r.Stage == "after" && r.Name == "steer" {
			asked++
		}
	}
	if asked != 2 {
		t.Errorf("the want stands for %d turns", asked)
	}
}

// recordsOf are the records of an answer.
func recordsOf(t *testing.T, line string) (all []show.Record) {
	t.Helper()
	if err := json.Unmarshal([]byte(bushtune(t, line+" --format json").out), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

var pivotRate = regexp.MustCompile(`(?m)^(soft|axial|stiff|torsion|cone_soft|cone_stiff) = ([0-9.]+)`)

// TestSwapAtSizeTellsEveryExceededLimit of every bush: those of an axle file with the
// rates of the set written in, which a sweep takes to full size.
func TestSwapAtSizeTellsEveryExceededLimit(t *testing.T) {
	inFolder(t, "hatchback-plain")
	head, _, _ := strings.Cut(readText(t, "hatchback-plain.toml"), "[search]")
	writeText(t, "stiff.toml", pivotRate.ReplaceAllStringFunc(head, func(line string) string {
		part := pivotRate.FindStringSubmatch(line)
		rate, _ := strconv.ParseFloat(part[2], 64)
		return fmt.Sprintf("%s = %v", part[1], 4*rate)
	}))
	type limit struct{ element, number string }
	limits := map[string]float64{"bush_radial_load": 9000, "bush_axial_load": 5000}
	want := map[limit]float64{}
	for _, event := range []string{"kerb_strike", "pothole"} { // no case of 4 kN exceeds a limit
		for _, r := range recordsOf(t, "sweep stiff.toml --points 5 --case "+event) {
			at := limit{r.Where, r.Number}
			if most := limits[r.Number]; most > 0 && r.Kind == "curve" && r.Stage == "total" && *r.Value > most && *r.Value > want[at] {
				want[at] = *r.Value
			}
		}
	}
	if len(want) < 2 {
		t.Fatalf("only %v exceed a limit", want)
	}
	found := 0
	for _, r := range recordsOf(t, "swap hatchback-plain.toml rates=4 --at-size 4") {
		if r.Kind != "worsened" || r.Line != "over its limit" || r.Stage != "after" || r.Name != "set 1" {
			continue
		}
		found++
		if value := want[limit{r.Where, "bush_" + r.Number}]; math.Abs(value-*r.Value) > 1e-6*value {
			t.Errorf("%s %s: %v, solved alone %v", r.Where, r.Number, *r.Value, value)
		}
	}
	if found != len(want) {
		t.Errorf("%d exceeded limits told of %d: %v", found, len(want), want)
	}
}
