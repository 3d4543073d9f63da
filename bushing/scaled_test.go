package bushing

import (
	"fmt"
	"math"
	"testing"
)

// scaledBush has a stop along the axis, a bracket and a measured torsion.
func scaledBush(t *testing.T) ([]float64, *Curves) {
	t.Helper()
	slots := make([]float64, len(Fields))
	for name, v := range map[string]float64{"soft": 500, "axial": 900, "stiff": 2500, "cone_soft": 3e5, "cone_stiff": 4e5,
		"axial_gap": 1.5, "axial_gap_back": 2, "axial_snubber": 4000, "snubber_run": 1, "tightened_at": 0.02} {
		slots[slotOf(name)] = v
	}
	table, err := NewTable([][2]float64{{-0.3, -5e4}, {-0.1, -1e4}, {0.1, 1.5e4}, {0.4, 9e4}})
	if err != nil {
		t.Fatal(err)
	}
	return slots, &Curves{Tables: [6]*Table{Torsion: table}}
}

// A factor multiplies the load of its direction at every deflection, both ways,
// and of no other: the laws themselves are held against each other.
func TestFactorsMultiplyLaws(t *testing.T) {
	slots, curves := scaledBush(t)
	given := New(slots)
	before := given.Laws(curves)
	for d := range DirectionNames {
		factors := Factors{1, 1, 1, 1, 1, 1}
		factors[d] = 1.7
		changed := append([]float64(nil), slots...)
		factors.Slots(slots, func(i int, v float64) { changed[i] = v })
		b := New(changed)
		for other, law := range b.Laws(factors.Curves(curves)) {
			for _, e := range []float64{-3, -0.25, -0.05, 0, 0.04, 0.2, 0.7, 2.2, 5} {
				for what, pair := range map[string][2]float64{
					"load": {law.Load(e), before[other].Load(e)}, "slope": {law.Slope(e), before[other].Slope(e)}, "energy": {law.Energy(e), before[other].Energy(e)},
				} {
					if want := factors[other] * pair[1]; math.Abs(pair[0]-want) > 1e-12*math.Abs(want) {
						t.Errorf("%s by 1.7: %s of %s at %g is %g, want %g", DirectionNames[d], what, DirectionNames[other], e, pair[0], want)
					}
				}
			}
			flipped, flippedBefore := law.Flipped(), before[other].Flipped()
			if got, want := flipped.Load(0.2), factors[other]*flippedBefore.Load(0.2); math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%s by 1.7: %s the other way %g, want %g", DirectionNames[d], DirectionNames[other], got, want)
			}
		}
	}
}

// Gaps, angles, limits and the bracket stay; what is given is not written to.
func TestFactorsTouchRatesAlone(t *testing.T) {
	slots, curves := scaledBush(t)
	for i := range slots {
		if slots[i] == 0 {
			slots[i] = 1
		}
	}
	factors := Factors{2, 2, 2, 2, 2, 2}
	touched := map[string]bool{}
	factors.Slots(slots, func(i int, v float64) {
		if v != 2*slots[i] {
			t.Errorf("%s becomes %g, want twice %g", Fields[i].Name, v, slots[i])
		}
		touched[Fields[i].Name] = true
	})
	want := "map[axial:true axial_snubber:true cone_soft:true cone_stiff:true soft:true soft_snubber:true stiff:true stiff_snubber:true torsion:true]"
	if got := fmt.Sprint(touched); got != want {
		t.Errorf("factors touch %s, want %s", got, want)
	}
	rate := curves.Tables[Torsion].Rate()
	if scaled := factors.Curves(curves); scaled == curves || curves.Tables[Torsion].Rate() != rate || scaled.Tables[Torsion].Rate() != 2*rate {
		t.Error("the given curves changed, or the scaled ones did not")
	}
	if factors.Curves(nil) != nil || factors.Curves(&Curves{Elliptical: true}).Tables[0] != nil {
		t.Error("curves without tables need no scaling")
	}
}
