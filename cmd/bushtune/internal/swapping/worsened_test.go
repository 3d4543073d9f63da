package swapping_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/compliance"
)

// saved is an axle file of testdata: axles whose tuned bushes, laid over them as a set,
// do well at the design height and harm over the travel.
func saved(t testing.TB, name string) *axlefile.File {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(text))
}

// tunedLink and tunedRubber are what a tune of link.toml and rubber.toml ends in.
const (
	tunedLink = "[bush.pivot]\nplan = 24.51\nsoft = 350\naxial = 600\n[link.toe]\ninner = [-11.93, 290, 250]\ninner_rate = 5864\nouter_rate = 5864\n"

	tunedRubber = "[bush.pivot]\nplan = 34.82\nrubber.hardness = 61\nrubber.void_arc = 119\nrubber.length = 48\n"
)

func harm(t testing.TB, all []swapping.Harm, kind swapping.HarmKind, named ...string) swapping.Harm {
	t.Helper()
	for _, h := range all {
		text := fmt.Sprint(h.What, " ", h.Name, " ", h.In, " ", h.Want)
		if h.Kind == kind && !containsNot(text, named) {
			return h
		}
	}
	t.Fatalf("no harm %v of %v in %+v", kind, named, all)
	return swapping.Harm{}
}

func containsNot(text string, all []string) bool {
	for _, one := range all {
		if !strings.Contains(text, one) {
			return true
		}
	}
	return false
}

// travelOf is a travel of 641 heights of an axle with a set, apart from what is looked
// at in the comparison.
func travelOf(t testing.TB, file *axlefile.File, axle *compliance.Axle) func(number, caseName, where string) []cases.Point {
	t.Helper()
	study, err := cases.NewStudy(axle, file.Vehicle, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	full, err := cases.NewFullSize(study)
	if err != nil {
		t.Fatal(err)
	}
	travelled, err := full.Travel(cases.Travel{Mode: cases.Heave, From: -80, To: 80, Points: 641})
	if err != nil {
		t.Fatal(err)
	}
	return func(number, caseName, where string) []cases.Point {
		for i := range travelled.Series {
			s := &travelled.Series[i]
			if s.Number == number && s.Case == caseName && s.Where == where {
				return s.Points
			}
		}
		t.Fatalf("no %s", number)
		return nil
	}
}

func most(points []cases.Point) (value float64) {
	for _, p := range points {
		value = max(value, p.Value)
	}
	return value
}

// TestWorsenedOverTheTravel lays what a tune ends in over an axle: at the design
// height all is well, at full rebound the wheel rate is eight times what it is there and
// the pivots carry half of what they may. Both are those of a travel.
func TestWorsenedOverTheTravel(t *testing.T) {
	file := saved(t, "link.toml")
	c := compare(t, file, []string{tunedLink})
	before, after := travelOf(t, file, file.Axle), travelOf(t, file, c.Columns[0].Axles[0])
	worse := c.Columns[0].Worse

	rate := worse[0]
	if rate.Kind != swapping.OnTravel || rate.What != "wheel_rate" || rate.In != "heave" || rate.X != -80 {
		t.Fatalf("first %+v, want the wheel rate at 80 mm rebound", rate)
	}
	a, b := before("wheel_rate", "heave", ""), after("wheel_rate", "heave", "")
	close(t, "wheel rate before", rate.Before, a[0].Value)
	close(t, "wheel rate after", rate.After, b[0].Value)
	close(t, "steps", rate.Steps, ((b[0].Value-b[320].Value)-(a[0].Value-a[320].Value))/0.5)

	load := harm(t, worse, swapping.Carrying, "radial load", "bush.pivot", "heave")
	close(t, "radial load before", load.Before, most(before("bush_radial_load", "heave", "bush.pivot.left")))
	close(t, "radial load after", load.After, most(after("bush_radial_load", "heave", "bush.pivot.left")))
	if !(load.After > 4500 && load.Limit == 9000) {
		t.Errorf("radial load %+v", load)
	}
	toe := harm(t, worse, swapping.OnTravel, "wheel_toe", "heave")
	close(t, "toe", toe.After, after("wheel_toe", "heave", "right")[0].Value)
	if bump := harm(t, worse, swapping.Number, "heave", "bump"); !bump.Inside || bump.Want != "bump" {
		t.Errorf("bump steer inside its limit is %+v", bump)
	}
	if strip := harm(t, worse, swapping.Number, "impact", "strip"); strip.Want != "strip" || strip.Inside || strip.Broken {
		t.Errorf("what is given up is %+v", strip)
	}
}

func close(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*math.Abs(want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestWorsenedPutsExceededLimitsFirst: the end stops of the tuned rubber bush are pressed
// beyond their limit in a load case and more so in bump, and the brake steer of one
// wheel goes from -0.121 to -0.194 deg/kN.
func TestWorsenedPutsExceededLimitsFirst(t *testing.T) {
	file := saved(t, "rubber.toml")
	c := compare(t, file, []string{tunedRubber})
	worse := c.Columns[0].Worse
	first := worse[0]
	if first.Kind != swapping.OverLimit || first.What != "compression" || first.Limit != 15 || first.After < 20 {
		t.Errorf("first %+v, want the compression of the rubber", first)
	}
	brake := harm(t, worse, swapping.Number, "braking_single")
	index, _ := c.Base.Find("brake_steer", "braking_single", "")
	for _, h := range worse {
		if h.Index == index {
			brake = h
		}
	}
	low, _ := c.Columns[0].Between(index)
	unit := c.Base.Numbers()[index].Unit
	close(t, "brake steer before", brake.Before, unit.Written(c.Base.Value(index)))
	close(t, "brake steer after", brake.After, unit.Written(low))
	if !(brake.After < -0.17 && brake.Before > -0.13) {
		t.Errorf("brake steer of one wheel %v to %v deg/kN", brake.Before, brake.After)
	}
}

// TestNothingWorsens where nothing changes: only limits that are exceeded as the axle
// is are told, with no step.
func TestNothingWorsens(t *testing.T) {
	for _, name := range demo.Names() {
		text := demoText(t, name)
		if !strings.Contains(text, "\n[bush.") {
			continue
		}
		c := compare(t, parse(t, text), []string{"swap_sides=true", "swap_sides=true"})
		for _, h := range c.Columns[0].Worse {
			if h.Kind != swapping.OverLimit || h.Steps > 1e-6 {
				t.Errorf("%s: %+v", name, h)
			}
		}
	}
}

// TestEveryExceededLimitIsTold with every set, also where the axle as it is exceeds the
// same limit by less.
func TestEveryExceededLimitIsTold(t *testing.T) {
	text := edit(t, demoText(t, "hatchback-plain"), "max_radial_load = 9000", "max_radial_load = 500\nmax_radial_travel = 0.1")
	text = edit(t, text, "max_axial_load = 5000", "max_axial_load = 400")
	text += "\n[case.kerb]\ntitle = \"kerb\"\npads = \"level\"\nright.force = [0, 20000, 0]\n"
	c := compare(t, parse(t, text), []string{"rates=2"}, []string{"rates=0.5"})
	for k := range c.Columns {
		over := 0
		for _, h := range c.Columns[k].Worse {
			if h.Kind != swapping.OverLimit {
				continue
			}
			over++
			if !(h.After > h.Limit) || h.Before <= 0 {
				t.Errorf("set %d: %+v", k+1, h)
			}
		}
		if over < 3 {
			t.Errorf("set %d: %d of three exceeded limits told", k+1, over)
		}
	}
}

// TestWorsenedOverARange takes the worse of both ends.
func TestWorsenedOverARange(t *testing.T) {
	file := saved(t, "rubber.toml")
	c := compare(t, file, []string{"polyurethane=80,bonded=true@bush.pivot"})
	column := &c.Columns[0]
	strip := harm(t, column.Worse, swapping.Number, "impact", "strip")
	low, high := column.Between(strip.Index)
	unit := c.Base.Numbers()[strip.Index].Unit
	close(t, "the stiff end", strip.After, unit.Written(min(low, high)))
	if low == high {
		t.Error("no range")
	}
}

// TestALimitLostByLessThanAStepIsTold among what got worse.
func TestALimitLostByLessThanAStepIsTold(t *testing.T) {
	text := demoText(t, "hatchback-plain") + "\n[want.brake]\nnumber = \"brake_recession\"\nat_least = 1.0\n"
	file := parse(t, text)
	study, err := cases.NewStudy(file.Axle, file.Vehicle, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	index, _ := study.Find("brake_recession", "braking", "")
	just := study.Figure(index).Value * 0.995
	c := compare(t, parse(t, edit(t, text, "at_least = 1.0", fmt.Sprint("at_least = ", just))), []string{"rates=1.02"})
	h := harm(t, c.Columns[0].Worse, swapping.Number, "braking", "brake")
	if !h.Broken || h.Steps >= 1 {
		t.Errorf("a limit that is lost is told as %+v", h)
	}
}
