package rubber

import (
	"math"
	"testing"

	"bushtune/bushing"
)

// printed is half a unit in the last of four digits, the form of the values below.
const printed = 5e-4

// bush102040 is the ring of 10, 20, 40 mm at G = 1 MPa.
func bush102040() Cylinder[float64] {
	return Cylinder[float64]{Inside: 10, Outside: 20, Length: 40, G: 1, Bulk: nearlyIncompressible}
}

// Worked rings: torsion and the long axial formula by hand; axial by own finite
// elements, not published.
func TestWorkedRings(t *testing.T) {
	for _, e := range []struct{ a, b, length, g, torsion, long, axial float64 }{
		{10, 20, 40, 1, 67.02e3, 362.6, 342.3},
		{10, 20, 40, 0.81, 54.29e3, 293.7, 277.3},
		{12.5, 20, 45, 1.06, 153.7e3, 637.7, 613.5},
		{8, 16, 30, 0.64, 20.59e3, 174.0, 163.7},
	} {
		c := Cylinder[float64]{Inside: e.a, Outside: e.b, Length: e.length, G: e.g, Bulk: 1000 * e.g}
		if got := c.Torsion(); !near(got, e.torsion, printed) {
			t.Errorf("%+v: torsion %.5g N·mm/rad, want %.5g", c, got, e.torsion)
		}
		if _, long := axialLimits(&c, 0); !near(long, e.long, printed) {
			t.Errorf("%+v: long axial %.5g N/mm, want %.5g", c, long, e.long)
		}
		if got := c.Axial(); !near(got, e.axial, PlainError[bushing.Axial]) {
			t.Errorf("%+v: axial %.5g N/mm, elements %.5g", c, got, e.axial)
		}
	}
}

// Torsion is that of a = 1, b = 2, L = 2 in closed form and by own finite elements,
// 33.5103; thin walls go to the shear of a strip, G·2πRL·R²/t.
func TestTorsion(t *testing.T) {
	c := Cylinder[float64]{Inside: 1, Outside: 2, Length: 2, G: 1, Bulk: 1000}
	if got := c.Torsion(); math.Abs(got-33.5103) > 5e-5 {
		t.Errorf("torsion %.7g, want 33.5103", got)
	}
	thin := Cylinder[float64]{Inside: 99.95, Outside: 100.05, Length: 10, G: 0.7, Bulk: 1000}
	if got, want := thin.Torsion(), 0.7*2*math.Pi*100*10*100*100/0.1; !near(got, want, 1e-5) {
		t.Errorf("thin wall %.8g, want %.8g", got, want)
	}
}

// Every rate scales with G, and with all dimensions at once: N/mm as a length,
// N·mm/rad as its cube.
func TestRatesScale(t *testing.T) {
	const size, stiffer = 1.7, 2.3
	c := bush102040()
	d := Cylinder[float64]{Inside: size * c.Inside, Outside: size * c.Outside, Length: size * c.Length, G: stiffer * c.G, Bulk: stiffer * c.Bulk}
	one, two := c.Voided(1.5, 5, 2), d.Voided(1.5, 5*size, 2*size)
	before, after := one.Six(), two.Six()
	for i, rate := range before {
		want := rate * stiffer * size
		if i >= 3 {
			want *= size * size
		}
		if !near(after[i], want, 1e-12) {
			t.Errorf("rate %d: %.15g, want %.15g", i, after[i], want)
		}
	}
}

// The axial formula holds within its stated error: finite elements at two radii,
// and Ritz series over the whole range of the other formulas.
func TestAxialError(t *testing.T) {
	stated := PlainError[bushing.Axial]
	for _, e := range elements {
		c := unitRing(e.rho, e.walls, nearlyIncompressible)
		if got, want := c.Axial(), e.axial*c.Length; !near(got, want, stated) {
			t.Errorf("a/b %g, L/t %g: %.5g, elements %.5g", e.rho, e.walls, got, want)
		}
	}
	worst := 0.0
	for _, rho := range []float64{PlainRange[0][0], 0.6, PlainRange[0][1]} {
		for _, walls := range []float64{PlainRange[1][0], 2, PlainRange[1][1]} {
			c := unitRing(rho, walls, 1000)
			off := c.Axial()/ritzRate(c, alongAxis) - 1
			worst = max(worst, math.Abs(off))
			if math.Abs(off) > stated {
				t.Errorf("a/b %g, L/t %g: off by %+.2f %%", rho, walls, 100*off)
			}
		}
	}
	if worst < stated/2 {
		t.Errorf("the largest error is %.2f %%: the stated one is too large", 100*worst)
	}
}
