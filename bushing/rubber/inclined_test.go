package rubber

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Pairs checked by a 3×3 stiffness matrix: spacing, tilt, compression and shear;
// elastic centre, crossing of the axes, lateral and vertical rate, roll.
func TestInclinedPairs(t *testing.T) {
	for _, e := range []struct {
		spacing, tilt, press, shear               float64
		centre, crossing, lateral, vertical, roll float64
	}{
		{0.3, 45, 6, 1, 0.214286, 0.3, 7, 7, 0.308571},
		{0.3, 30, 5, 1, 0.259808, 0.519615, 4, 8, 0.45},
		{0.25, 20, 10, 1, 0.352268, 0.25 / math.Tan(20*degree), 4.10560, 17.8944, 0.608924},
	} {
		p := InclinedPair[float64]{HalfSpacing: e.spacing, Tilt: e.tilt * degree, Compression: e.press, Shear: e.shear}
		for name, pair := range map[string][2]float64{
			"centre": {p.Centre(), e.centre}, "crossing": {p.Crossing(), e.crossing}, "lateral": {p.Lateral(), e.lateral},
			"vertical": {p.Vertical(), e.vertical}, "roll": {p.Roll(), e.roll}, "along": {p.Along(), 2 * e.shear},
		} {
			if !near(pair[0], pair[1], 3e-6) {
				t.Errorf("%+v, %s: %.7g, want %.7g", p, name, pair[0], pair[1])
			}
		}
		lateral, vertical, roll, coupling := pairMatrix(&p)
		if !near(p.Lateral(), lateral, 1e-12) || !near(p.Vertical(), vertical, 1e-12) || !near(p.Roll(), roll, 1e-12) || math.Abs(coupling) > 1e-12 {
			t.Errorf("%+v: at its elastic centre the matrix has %g, %g, %g and couples by %g", p, lateral, vertical, roll, coupling)
		}
	}
}

// pairMatrix sums both mounts' stiffness for (y, z, roll) at the elastic centre.
func pairMatrix(p *InclinedPair[float64]) (lateral, vertical, roll, coupling float64) {
	k := mat.NewDense(3, 3, nil)
	for _, side := range []float64{1, -1} {
		sin, cos := math.Sincos(p.Tilt)
		y, z := side*p.HalfSpacing, -p.Centre()
		for axis, rate := range map[[2]float64]float64{{-side * sin, cos}: p.Compression, {side * cos, sin}: p.Shear} {
			g := mat.NewVecDense(3, []float64{axis[0], axis[1], y*axis[1] - z*axis[0]})
			k.RankOne(k, rate, g, g)
		}
	}
	return k.At(0, 0), k.At(1, 1), k.At(2, 2), k.At(0, 2)
}

// The highest elastic centre: ratio 5 and spacing 0.3 give 0.268328 at 24.095 deg.
func TestHighestCentre(t *testing.T) {
	p := InclinedPair[float64]{HalfSpacing: 0.3, Tilt: math.Atan(1 / math.Sqrt(5)), Compression: 5, Shear: 1}
	if !near(p.Tilt/degree, 24.095, 1e-5) || !near(p.Highest(), 0.268328, 3e-6) || !near(p.Centre(), p.Highest(), digits) {
		t.Errorf("%.5g deg: %.7g, highest %.7g", p.Tilt/degree, p.Centre(), p.Highest())
	}
	for tilt := 1.0; tilt < 85; tilt += 3 {
		p.Tilt = tilt * degree
		if p.Centre() > p.Highest() || p.Centre() >= p.Crossing() {
			t.Errorf("%g deg: centre %g, highest %g, crossing %g", tilt, p.Centre(), p.Highest(), p.Crossing())
		}
	}
}

// Equal rates have their centre in the plane of the mounts, an endless ratio where
// the axes cross.
func TestElasticCentreLimits(t *testing.T) {
	p := InclinedPair[float64]{HalfSpacing: 0.3, Tilt: 0.6, Compression: 2, Shear: 2}
	if p.Centre() != 0 {
		t.Errorf("equal rates: centre %g", p.Centre())
	}
	p.Shear = 2e-9
	if !near(p.Centre(), p.Crossing(), 1e-8) {
		t.Errorf("no shear: centre %g, crossing %g", p.Centre(), p.Crossing())
	}
}
