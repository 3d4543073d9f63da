package rubber

import (
	"math"
	"testing"

	"bushtune/bushing"
)

// A free ring without friction against Ritz series that follow the sleeves
// radially and slide along them, over the range of the other formulas.
func TestFreeRing(t *testing.T) {
	worst := 0.0
	for _, rho := range []float64{PlainRange[0][0], 0.55, PlainRange[0][1]} {
		for _, walls := range []float64{PlainRange[1][0], 2.5, 6, PlainRange[1][1]} {
			c := unitRing(rho, walls, 1000)
			rates := c.free()
			for name, pair := range map[string][2]float64{
				"radial":  {rates.Soft, ritz(c, acrossAxis.sliding(), 10)},
				"conical": {rates.ConeSoft, ritz(c, tilting.sliding(), 10)},
			} {
				off := pair[0]/pair[1] - 1
				worst = max(worst, math.Abs(off))
				if math.Abs(off) > FreeError {
					t.Errorf("a/b %g, L/t %g, %s: off by %+.2f %%", rho, walls, name, 100*off)
				}
			}
		}
	}
	if worst < FreeError/2 {
		t.Errorf("the largest error is %.2f %%: the stated one is too large", 100*worst)
	}
}

// Short free rings meet Michell's plane stress, endless ones plane strain.
func TestFreeRingLimits(t *testing.T) {
	for _, rho := range []float64{0.3, 0.6, 0.85} {
		short := unitRing(rho, 0.05, nearlyIncompressible)
		if got := ritz(short, acrossAxis.sliding(), 8); !near(got, short.slidingRadial(planeStress), 1e-3) {
			t.Errorf("a/b %g, short: series %.6g, closed form %.6g", rho, got, short.slidingRadial(planeStress))
		}
		long := unitRing(rho, 4000, nearlyIncompressible)
		rates := long.free()
		if want := long.slidingRadial(planeStrain); !near(rates.Soft, want, 0.01) {
			t.Errorf("a/b %g, long: %.6g, closed form %.6g", rho, rates.Soft, want)
		}
	}
}

// A free bush has no rate about and along its axis, and is softer everywhere else.
func TestFreeBush(t *testing.T) {
	b := half()
	free, bonded := b.Rates(Choice{Free: true}), b.Rates(Choice{})
	if free.Torsion != 0 || free.Axial != 0 {
		t.Errorf("free bush: torsion %g, axial %g", free.Torsion, free.Axial)
	}
	a, z := free.Six(), bonded.Six()
	for i := range a {
		if a[i] >= z[i] {
			t.Errorf("%s: free %.5g, bonded %.5g", bushing.DirectionNames[i], a[i], z[i])
		}
	}
	for i, bands := range Bands(&b, Choice{Free: true}, D2) {
		friction := bandOf(bands, ofFriction)
		switch i := bushing.Direction(i); {
		case i == bushing.Torsion || i == bushing.Axial:
			if bands != nil {
				t.Errorf("%s has bands: %v", bushing.DirectionNames[i], bands)
			}
		case friction.Low != 1 || !near(friction.High, z[i]/a[i], digits):
			t.Errorf("%s: friction %+v, bonded over free %g", bushing.DirectionNames[i], friction, z[i]/a[i])
		}
	}
}
