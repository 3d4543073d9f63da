package cases

import (
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

// curvedStudy is a loaded twist beam whose bushes have a curve instead of the
// stiff radial that ends where told, in mm.
func curvedStudy(t testing.TB, end float64, change func(*compliance.Axle)) *Study {
	t.Helper()
	table, err := bushing.NewTable([][2]float64{{0.1 * end, 300 * end}, {end, 4000 * end}})
	if err != nil {
		t.Fatal(err)
	}
	axle := beamAxle(t, wheelValues, with(bushValues, values{"stiff": 0}), springValues, beamValues)
	curves := &bushing.Curves{Tables: [6]*bushing.Table{bushing.Stiff: table}}
	for i := range 2 {
		axle.Elements[i].Choice.Curves = curves
	}
	if change != nil {
		change(axle)
	}
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	return studyOf(t, axle, vehicle)
}

// A load at rest beyond the end of a curve is a warning that names bush,
// direction and load; within it there is none.
func TestLoadAtRestBeyondACurve(t *testing.T) {
	for _, c := range []struct {
		end  float64
		want bool
	}{{0.01, true}, {5, false}} {
		s := curvedStudy(t, c.end, nil)
		text := strings.Join(s.Warnings(), "\n")
		for _, words := range []string{"bush.pivot.left stiff: the load at rest, ", "bush.pivot.right stiff: ", " N, is beyond the end of its curve"} {
			if strings.Contains(text, words) != c.want {
				t.Errorf("curve up to %g mm: warning %q is %v in:\n%s", c.end, words, !c.want, text)
			}
		}
	}
}

// Loads of bushes in a case are those of the tangent of the closed ellipse at
// rest, both radials together.
func TestBushLoadsOfAClosedEllipse(t *testing.T) {
	s := curvedStudy(t, 5, func(axle *compliance.Axle) {
		for i := range 2 {
			e := &axle.Elements[i]
			e.Choice.Curves = &bushing.Curves{Elliptical: true}
			fill(t, compliance.Bush.Fields, e.Slots, values{"stiff": 2500, "soft_gap": 0.05, "stiff_gap": 0.02, "soft_snubber": 4000, "stiff_snubber": 7000, "preload.x": 600})
		}
	})
	for _, b := range s.BushLoads() {
		if strings.HasPrefix(b.Case, "state_") { // at its size, where the tangent is another
			continue
		}
		e := &s.Solver().Axle().Elements[b.element]
		bush := bushing.New(e.Slots)
		radial := bush.Radial(e.Choice.Curves)
		k := radial.Tangent(radial.Deflection([2]float64{b.Rest[0], b.Rest[2]}))
		if k.Cross == 0 {
			t.Fatalf("%s: soft and stiff are not coupled: the test is empty", b.Element)
		}
		check(t, b.Element+" soft in "+b.Case, b.Load[0], k.Soft*b.Travel[0]+k.Cross*b.Travel[2], 1e-9*k.Stiff)
		check(t, b.Element+" stiff in "+b.Case, b.Load[2], k.Cross*b.Travel[0]+k.Stiff*b.Travel[2], 1e-9*k.Stiff)
	}
}

// Bushes that differ only beyond a gap make an axle whose halves differ.
func TestGapsMakeHalvesDiffer(t *testing.T) {
	gap := compliance.Bush.FieldIndex("axial_gap")
	snubber := compliance.Bush.FieldIndex("axial_snubber")
	for _, right := range []float64{4, 5} {
		axle := twistBeam(t)
		for i, v := range []float64{4, right} {
			axle.Elements[i].Slots[gap], axle.Elements[i].Slots[snubber] = v, 3000
		}
		if s := studyOf(t, axle, UnknownVehicle()); s.Symmetric() != (right == 4) {
			t.Errorf("gaps of 4 and %g mm: symmetric is %v", right, s.Symmetric())
		}
	}
}
