package main

import (
	"math"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/show"
)

// totalKey names a total at full size.
func totalKey(r *show.Record) string { return r.Number + "@" + r.Case + ":" + r.Where }

// swappedTotals are the totals at full size of swap, by set and end of a range; those of
// the axle as it is under "".
func swappedTotals(t *testing.T, line string) map[string]map[string]float64 {
	t.Helper()
	all := map[string]map[string]float64{}
	for _, r := range records(t, bushtune(t, line+" --at-size 4 --format json")) {
		end, total := strings.CutPrefix(r.Line, "total")
		if !total || r.Kind != "figure" {
			continue
		}
		if all[r.Name+end] == nil {
			all[r.Name+end] = map[string]float64{}
		}
		all[r.Name+end][totalKey(&r)] = *r.Value
	}
	return all
}

// solvedTotals are those of solve.
func solvedTotals(t *testing.T, line string) map[string]float64 {
	t.Helper()
	all := map[string]float64{}
	for _, r := range records(t, bushtune(t, line+" --at-size 4 --format json")) {
		if r.Stage == "total" {
			all[totalKey(&r)] = *r.Value
		}
	}
	return all
}

// totalRounding is how far totals of one axle given in two ways may lie apart, as a share
// of themselves or of one unit: equilibria are found to 1e-9 or better.
const totalRounding = 1e-6

func near(a, b float64) bool { return math.Abs(a-b) <= totalRounding*max(1, math.Abs(b)) }

// TestSwapAtSizeIsWhatSolveSays of the axle as it is, and of the axle edited by hand: a
// hardness, and both ends of a range of polyurethane.
func TestSwapAtSizeIsWhatSolveSays(t *testing.T) {
	inFolder(t, "estate-rubber")
	head, rest, _ := strings.Cut(readText(t, "estate-rubber.toml"), "[search]")
	_, wants, _ := strings.Cut(rest, "[want.")
	text := head + "[want." + wants // polyurethane has no modulus at the bounds of the search
	edited := func(name, compound, hardness string) map[string]float64 {
		const was = "rubber.compound = \"natural\"\nrubber.hardness = 55 "
		if strings.Count(text, was) != 1 {
			t.Fatal("no rubber to edit")
		}
		writeText(t, name, strings.Replace(text, was, "rubber.compound = "+compound+"\nrubber.hardness = "+hardness+" ", 1))
		return solvedTotals(t, "solve "+name)
	}
	sets := swappedTotals(t, "swap estate-rubber.toml rates=1 hardness=+10 polyurethane=60,bonded=true")
	base, harder := solvedTotals(t, "solve estate-rubber.toml"), edited("harder.toml", `"natural"`, "65")
	soft := edited("soft.toml", "\"polyurethane\"\nrubber.bonded = true\nrubber.range_share = 0", "60")
	stiff := edited("stiff.toml", "\"polyurethane\"\nrubber.bonded = true\nrubber.range_share = 1", "60")
	moved := 0
	for key, value := range base {
		if got, there := sets[""][key]; !there || got != value {
			t.Errorf("%s as it is: %v, want %v", key, got, value)
		}
		if got := sets["set 1"][key]; !near(got, value) {
			t.Errorf("%s with nothing changed: %v, want %v", key, got, value)
		}
		if got := sets["set 2"][key]; !near(got, harder[key]) {
			t.Errorf("%s harder: %v, want %v", key, got, harder[key])
		}
		low, high := sets["set 3 low"][key], sets["set 3 high"][key]
		for _, end := range []float64{soft[key], stiff[key]} {
			if (end < low || end > high) && !near(end, low) && !near(end, high) {
				t.Errorf("%s: %v at one end, from %v to %v", key, end, low, high)
			}
		}
		if !near(harder[key], value) {
			moved++
		}
	}
	if len(base) < 100 || len(sets[""]) != len(base) || moved < len(base)/2 {
		t.Errorf("%d totals of swap, %d of solve, %d moved", len(sets[""]), len(base), moved)
	}
}

// TestSwapAtSizeInWords: nothing changes with an equal set; a load that one set does not
// hold is told with its place, and the exit code tells; both turns of uneven sets.
func TestSwapAtSizeInWords(t *testing.T) {
	same := bushtune(t, "swap --demo hatchback-link rates=1 --at-size 4")
	_, block, _ := strings.Cut(joinLines(same.out), "AT FULL SIZE")
	if cases := strings.Count(block, " · pads "); same.code != exitAnswer || cases < 10 || strings.Count(block, "no number changes by a step") != cases {
		t.Errorf("%d cases of a set that changes nothing in\n%s", cases, block)
	}
	lost := bushtune(t, "swap --demo hatchback-link rates=0.05 rates=2 --at-size 50")
	if lost.code != exitFailed || !strings.Contains(lost.out, "  set 1: sweep of driving: no further than 2") || strings.Contains(lost.out, "  set 2: sweep") {
		t.Errorf("code %d, %s", lost.code, lost.err)
	}
	notes := 0
	for _, r := range records(t, bushtune(t, "swap --demo hatchback-link rates=0.05 rates=2 --at-size 50 --format json")) {
		if r.Kind == "note" && strings.HasPrefix(r.Words, "set 1, driving: sweep of driving: no further than") {
			notes++
		}
	}
	if notes != 1 {
		t.Errorf("%d notes about the load that is lost", notes)
	}
	uneven := bushtune(t, "swap --demo hatchback-link rates=1 rates=0.6@bush.pivot.left --at-size 4").out
	for _, title := range []string{"kerb strike, 20 kN inward at the outer contact point, turning right", "cornering at 0.9 g, turning right"} {
		if !strings.Contains(joinLines(uneven), title) {
			t.Errorf("not told: %s", title)
		}
	}
}
