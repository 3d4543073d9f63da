package rubber

import (
	"testing"

	"bushtune/bushing"
)

// A rigid sleeve of no wall leaves torsion as it is wherever it sits: rubber in
// torsion turns in rigid circles anyway. It raises the radial and conical rates,
// because it forbids the flow of rubber from the pressed to the drawn side across
// its circle, and the axial rate, if at all, by its free ends alone.
func TestVanishingSleeve(t *testing.T) {
	c := Choice{}
	plain := half()
	without := plain.Rates(c)
	for _, diameter := range []float64{24, 28, 30, 33, 37} {
		b := plain
		b.SleeveDiameter = diameter
		with := b.Rates(c)
		if !near(with.Torsion, without.Torsion, digits) {
			t.Errorf("sleeve at %g mm: torsion %.15g, without %.15g", diameter, with.Torsion, without.Torsion)
		}
		if with.Soft < 1.3*without.Soft || with.ConeSoft < without.ConeSoft {
			t.Errorf("sleeve at %g mm: radial %.5g, without %.5g; conical %.5g, without %.5g", diameter, with.Soft, without.Soft, with.ConeSoft, without.ConeSoft)
		}
		if low, high := without.Axial, 1.08*without.Axial; with.Axial < low || with.Axial > high {
			t.Errorf("sleeve at %g mm: axial %.5g, without %.5g", diameter, with.Axial, without.Axial)
		}
	}
}

// A wall of steel takes rubber away: all rates rise with it.
func TestSleeveWallStiffens(t *testing.T) {
	thin, thick := sleeved(), sleeved()
	thick.SleeveWall = 2
	a, b := thin.Rates(Choice{}), thick.Rates(Choice{})
	before, after := a.Six(), b.Six()
	for i := range before {
		if after[i] <= before[i] {
			t.Errorf("%s: %.5g with a wall of 2 mm, %.5g with 1 mm", bushing.DirectionNames[i], after[i], before[i])
		}
	}
}

// Both rings by hand: torsion in series of 4πGL/(1/a² − 1/b²), and the sleeve's own
// equilibrium by a system of two springs.
func TestSleeveInSeries(t *testing.T) {
	b := sleeved() // rings of 20 to 28 and 30 to 40 mm
	m := b.Moduli(Choice{})
	r := b.Rates(Choice{})
	turn := func(inner, outer float64) float64 {
		ring := Cylinder[float64]{Inside: inner / 2, Outside: outer / 2, Length: b.Length, G: m.G, Bulk: m.Bulk}
		return ring.Torsion()
	}
	first, second := turn(20, 28), turn(30, 40)
	if want := 1 / (1/first + 1/second); !near(r.Torsion, want, digits) {
		t.Errorf("torsion %.15g, want %.15g", r.Torsion, want)
	}
	outer, inner := b.outerRing(&m), b.innerRing(&m)
	if outer.Inside != 15 || outer.Outside != 20 || inner.Inside != 10 || inner.Outside != 14 {
		t.Errorf("rings %+v and %+v", inner, outer)
	}
	// the inner sleeve moves by 1, the free sleeve by x: k_i(1 − x) = k_o·x
	x := inner.Radial() / (inner.Radial() + outer.Radial())
	if want := inner.Radial() * (1 - x); !near(r.Soft, want, digits) {
		t.Errorf("radial %.15g, want %.15g", r.Soft, want)
	}
}

// The voids lie in the outer ring. They close when that ring has moved their depth,
// and then the closed ring and the inner one are in series.
func TestSleeveWithVoids(t *testing.T) {
	b := sleeved()
	b.VoidArc, b.VoidDepth = 90*degree, 2
	m := b.Moduli(Choice{})
	r := b.Rates(Choice{})
	outer, inner := b.outerRing(&m), b.innerRing(&m)
	alone := outer.Voided(b.VoidArc, b.VoidDepth, b.voidRadius(&outer))
	if moved := r.VoidGap * r.Soft / alone.Soft; !near(moved, b.VoidDepth, digits) {
		t.Errorf("the outer ring has moved %.15g mm when its void of %g mm closes", moved, b.VoidDepth)
	}
	closed := 1 / (1/(alone.Soft+alone.VoidSnubber) + 1/inner.Radial())
	if got := r.Soft + r.VoidSnubber; !near(got, closed, 10*digits) {
		t.Errorf("closed rate %.15g, want %.15g", got, closed)
	}
	if r.Soft >= r.Stiff || r.ConeStiff >= r.ConeSoft {
		t.Errorf("%+v: voids at the soft radial soften it and the cone about the stiff one", r)
	}
}
