package show

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// What check says of a bush given by its dimensions: its compound with both
// published moduli, six rates inside their own band and inside the limits of
// elasticity, and where the void closes.
func TestCheckedRubber(t *testing.T) {
	file := fileOf(t, "estate-rubber", nil)
	all := file.Describe().Rubbers
	if len(all) != 1 || all[0].Bush != "bush.pivot" {
		t.Fatalf("described %+v", all)
	}
	r := &all[0]
	lindley, gent := rubber.Spread(r.Dimensions.Hardness)
	for _, words := range []string{"natural rubber of 55 IRHD", rate(lindley) + " MPa", rate(gent) + " MPa", "bonded"} {
		if !strings.Contains(compoundOf(r), words) {
			t.Errorf("%q is not in %q", words, compoundOf(r))
		}
	}
	lines := ratesOf(r)
	if len(lines) != 7 || !strings.Contains(lines[6].text, "past 6 mm the closed void adds ") {
		t.Fatalf("lines are %+v", lines)
	}
	for d, name := range bushing.DirectionNames {
		text := lines[d].text
		if lines[d].rate != name || !strings.Contains(text, "RMA class D3") || !strings.Contains(text, "hardness ±2 IRHD") {
			t.Errorf("%s: %q", name, text)
		}
		var value, low, high, least, most float64
		first, rest, _ := strings.Cut(text, ", ")
		_, limits, _ := strings.Cut(text, "elasticity allows ")
		fmt.Sscanf(first, "%g", &value)
		fmt.Sscanf(rest, "%g to %g", &low, &high)
		fmt.Sscanf(limits, "%g to %g", &least, &most)
		if !(low < value && value < high && least <= value && value <= most) {
			t.Errorf("%s: %g in %g to %g, limits %g to %g, of %q", name, value, low, high, least, most, text)
		}
	}
}

// Compounds that are not natural rubber, and rubber that is not bonded.
func TestCheckedCompounds(t *testing.T) {
	r := fileOf(t, "estate-rubber", nil).Describe().Rubbers[0]
	r.Dimensions.VoidArc, r.Dimensions.VoidDepth, r.Dimensions.StopDiameter, r.Dimensions.StopThick = 0, 0, 0, 0
	r.Choice = rubber.Choice{Compound: rubber.Polyurethane, Free: true}
	r.Dimensions.Hardness, r.Dimensions.RangeShare = 80, 0.5
	if text := compoundOf(&r); !strings.Contains(text, "polyurethane of 80 Shore A") || !strings.Contains(text, "not bonded") {
		t.Error(text)
	}
	for _, line := range ratesOf(&r) {
		friction := line.rate == "axial" || line.rate == "torsion"
		if strings.HasPrefix(line.text, "none: friction alone") != friction {
			t.Errorf("%s: %s", line.rate, line.text)
		}
	}
	r.Choice = rubber.Choice{Compound: rubber.Given}
	r.Dimensions.ShearModulus = 0.875
	if text := compoundOf(&r); text != "compound as given, G 0.875 MPa, bonded" {
		t.Error(text)
	}
}

// A tune that moves dimensions tells what the rates have become: once where both
// sides are alike, for each side where one alone has moved, and not at all where
// no dimension moves.
func TestRatesThatFollow(t *testing.T) {
	one := func(text string) string {
		return strings.ReplaceAll(text, "bush.pivot.rubber.", "bush.pivot.left.rubber.")
	}
	for name, c := range map[string]struct {
		file string
		edit func(string) string
		want []string
	}{"both": {"estate-rubber", nil, []string{"bush.pivot"}}, "one side": {"estate-rubber", one, []string{"bush.pivot.left"}}, "none": {"hatchback-plain", nil, nil}} {
		out, err := tuning.Tune(context.Background(), fileOf(t, c.file, c.edit), optimize.Options{Seed: 1, Starts: 1})
		if err != nil {
			t.Fatal(err)
		}
		s := (&Tuned{Outcome: out}).sides()
		rates := s.followed()
		if len(rates) != 6*len(c.want) || len(s.followedRecords()) != 2*len(rates) {
			t.Fatalf("%s: %d rates, want bushes %v", name, len(rates), c.want)
		}
		for i, r := range rates {
			bush, _ := out.After.Solver().Axle().Elements[0].Bush()
			if want := rateUnit(bushing.Direction(i)).Written(bush.Rates()[i]); r.bush != c.want[0] || r.rate != bushing.DirectionNames[i] || math.Abs(r.after-want) > 1e-12*want || r.after == r.before {
				t.Errorf("%s: %+v, want %g", name, r, want)
			}
		}
	}
}

// The table of loads shows strains beside their limits for bushes by dimensions,
// and nothing of them where there are none.
func TestStrainsInTheTableOfLoads(t *testing.T) {
	var with, without Page
	v := viewOf(t, fileOf(t, "estate-rubber", nil))
	v.loadTable(&with)
	viewOf(t, fileOf(t, "estate-bar", nil)).loadTable(&without)
	for _, words := range []string{"compression %", "compression 15 %, shear 50 %"} {
		if !strings.Contains(with.String(), words) || strings.Contains(without.String(), words) {
			t.Errorf("%q in the wrong table", words)
		}
	}
	loads := v.study.BushLoads()
	worst := v.study.WorstStrains(&loads[0])
	if row := fmt.Sprintf("%.1f", worst[1].Value); !strings.Contains(with.String(), row) || math.IsNaN(worst[1].Value) {
		t.Errorf("no %s in:\n%s", row, with.String())
	}
}
