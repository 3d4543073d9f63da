package main

import (
	"encoding/json"
	"fmt"
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
