package cases

import (
	"math"
	"testing"
)

func fullSize(t testing.TB, s *Study) *FullSize {
	t.Helper()
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// designTolerance bounds what rounding does to a tangent at the design position
// against the linear answer, at condition numbers of 1e7.
const designTolerance = 1e-6

// At the design position every number is that of the linear study, whatever pads
// hold the axle there and whatever load it carries at rest.
func TestTangentsAtDesignAreTheLinearNumbers(t *testing.T) {
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	sprung := vehicleWith(t, carValues)
	sprung.TyreInSeries = true
	for name, s := range map[string]*Study{
		"twist beam": studyOf(t, twistBeam(t), vehicleWith(t, carValues)), "linked": studyOf(t, linkedBeam(t), vehicleWith(t, carValues)),
		"static load": studyOf(t, linkedBeam(t), loaded), "tyres": studyOf(t, twistBeam(t), sprung),
	} {
		for _, held := range []bool{false, true} {
			f := fullSize(t, s)
			var d = f.demand
			if held {
				f.holdPads(&d, 0, 0)
			}
			if err := f.solve(&d); err != nil {
				t.Fatal(name, err)
			}
			for i := range s.numbers {
				if s.numbers[i].state >= 0 { // at its size, which the design position is not
					continue
				}
				want, got := s.Value(i), f.Tangent(i)
				if n := &s.numbers[i]; !near(got, want, designTolerance, math.Abs(want)+1e-3*n.Step*n.Unit.Factor) {
					t.Errorf("%s, pads held %v: %s in %s %s = %.9g, linear %.9g", name, held, n.Name, n.Case, n.Where, got, want)
				}
			}
		}
	}
}
