package rubber

import (
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
)

// Radial limits over radii: coefficients of G·L by hand from the general formula
// (a problem in Barber, Elasticity, 3rd ed. 2010).
func TestRadialLimitsTable(t *testing.T) {
	for _, e := range []struct{ rho, short, long float64 }{
		{0.3, 11.128, 34.045}, {0.4, 15.334, 65.398}, {0.5, 21.069, 134.909}, {0.6, 29.445, 312.306},
		{0.7, 43.063, 873.085}, {0.8, 69.755, 3460.52}, {0.9, 148.779, 32375.9},
	} {
		c := unitRing(e.rho, 1/(1-e.rho), 1e9)
		short, long := c.kolosov()
		for name, pair := range map[string][2]float64{
			"short":                     {c.ShortRadial(), e.short},
			"long":                      {c.LongRadial(), e.long},
			"short of the general form": {c.planeRadial(short), e.short},
			"long of the general form":  {c.planeRadial(long), e.long},
		} {
			if !near(pair[0], pair[1], 4e-5) {
				t.Errorf("a/b %g, %s: %.7g, want %.7g", e.rho, name, pair[0], pair[1])
			}
		}
	}
}

// Thin walls: 5πR/t in plane stress, 12π(R/t)³ in plane strain; sliding ones 3πR/t and 4πR/t.
func TestThinWallLimits(t *testing.T) {
	c := Cylinder[float64]{Inside: 0.9975, Outside: 1.0025, Length: 1, G: 1, Bulk: 1e15}
	ratio := 1 / 0.005
	for name, pair := range map[string][2]float64{
		"short":          {c.ShortRadial(), 5 * math.Pi * ratio},
		"long":           {c.LongRadial(), 12 * math.Pi * ratio * ratio * ratio},
		"sliding, short": {c.slidingRadial(planeStress), 3 * math.Pi * ratio},
		"sliding, long":  {c.slidingRadial(planeStrain), 4 * math.Pi * ratio},
		"axial end":      {endDepth(&c), 0.005 / 6},
	} {
		if !near(pair[0], pair[1], 1e-4) {
			t.Errorf("%s: %.7g, want %.7g", name, pair[0], pair[1])
		}
	}
}

// The plane ways fit both sleeves and, of an incompressible ring, keep its area.
func TestPlaneWays(t *testing.T) {
	c := unitRing(0.6, 3, 1000)
	_, compressible := c.kolosov()
	for _, kappa := range []float64{planeStrain, compressible, planeStress} {
		ways := planeWays(&c, kappa)
		insideR, insideT := ways(c.Inside)
		outsideR, outsideT := ways(c.Outside)
		for i, pair := range [][2]float64{{insideR, 1}, {insideT, -1}, {outsideR, 0}, {outsideT, 0}} {
			if math.Abs(pair[0]-pair[1]) > 1e-12 {
				t.Errorf("κ %g, way %d at a sleeve: %g, want %g", kappa, i, pair[0], pair[1])
			}
		}
	}
	const r, h = 0.77, 1e-5
	ways := planeWays(&c, planeStrain)
	up, _ := ways(r + h)
	down, _ := ways(r - h)
	radial, around := ways(r)
	if growth := (up-down)/(2*h) + (radial+around)/r; math.Abs(growth) > 1e-8 {
		t.Errorf("an incompressible ring grows by %g", growth)
	}
}

// Limits hold for the true rates: finite elements, and Ritz series with finite
// bulk modulus.
func TestLimitsHoldTheTruth(t *testing.T) {
	hold := func(c Cylinder[float64], radial, axial, conical, share float64) {
		t.Helper()
		low, high := ringLimits(c, 0)
		for i, truth := range map[bushing.Direction]float64{bushing.Soft: radial, bushing.Stiff: radial, bushing.Axial: axial, bushing.ConeSoft: conical, bushing.ConeStiff: conical} {
			if !(low[i] < truth*(1+share) && truth*(1-share) < high[i]) {
				t.Errorf("%+v, %s: %.5g is not between %.5g and %.5g", c, bushing.DirectionNames[i], truth, low[i], high[i])
			}
		}
	}
	for _, e := range elements {
		c := unitRing(e.rho, e.walls, nearlyIncompressible)
		hold(c, e.radial*c.Length, e.axial*c.Length, e.conical, elementShare)
	}
	for _, c := range []Cylinder[float64]{unitRing(0.85, 12, 500), unitRing(0.3, 1, 500), unitRing(0.85, 1, 3000), unitRing(0.35, 10, 800)} {
		hold(c, ritzRate(c, acrossAxis), ritzRate(c, alongAxis), ritzRate(c, tilting), elementShare)
	}
}

// The axial limits are close: plain shear above, what it loses at two ends below.
func TestAxialLimitsAreClose(t *testing.T) {
	c := unitRing(0.6, 4, 1000)
	low, high := axialLimits(&c, 0)
	if want := 1 - 1./3/4; !near(low/high, want, 0.01) {
		t.Errorf("low over high %g, about %g of a thin wall", low/high, want)
	}
}

// Every rate lies strictly between its limits over the range of the formulas, with
// voids, an intermediate sleeve and touching collars; torsion without voids is exact.
func TestRatesLieBetweenLimits(t *testing.T) {
	count := 0
	over := func(b Bush[float64], c Choice) {
		if b.Check(c) != nil {
			return
		}
		count++
		rates, limits := b.Rates(c), Limits(&b, c)
		for i, rate := range rates.Six() {
			l := limits[i]
			d := bushing.Direction(i)
			touched := b.StopThick != 0 && b.StopGap == 0 && (d == bushing.Axial || d == bushing.ConeSoft || d == bushing.ConeStiff)
			if strings.Contains(l.LowIs, "collars") != touched || strings.Contains(l.HighIs, "collars") != touched {
				t.Fatalf("collar %g, %s: %s; %s", b.StopThick, bushing.DirectionNames[i], l.LowIs, l.HighIs)
			}
			exact := d == bushing.Torsion && b.VoidArc == 0 && !c.Free
			if exact && l.Low == l.High && near(rate, l.Low, digits) {
				continue
			}
			if !(l.Low < rate || c.Free && rate == 0 && l.Low == 0) || !(rate < l.High) || l.LowIs == "" || l.HighIs == "" {
				t.Errorf("%.4g/%.4g/%.4g mm, void %.3g rad %.3g mm, collar %g, free %t, %s: %.5g, limits %.5g (%s) and %.5g (%s)",
					b.Inner, b.Outer, b.Length, b.VoidArc, b.VoidDepth, b.StopThick, c.Free, bushing.DirectionNames[i], rate, l.Low, l.LowIs, l.High, l.HighIs)
			}
		}
	}
	for _, rho := range []float64{0.36, 0.5, 0.65, 0.79} {
		for _, walls := range []float64{1.5, 3, 6, 9.9} {
			for _, arc := range []float64{0, 45, 90, 139} {
				for _, depth := range []float64{0, 0.25, 0.5, 0.85} {
					b := natural55()
					b.Inner = rho * b.Outer
					wall := (b.Outer - b.Inner) / 2
					b.Length, b.VoidArc, b.VoidDepth = walls*wall, arc*degree, depth*wall
					over(b, Choice{})
					over(b, Choice{Free: true})
					b.StopDiameter, b.StopThick = b.Outer, 6
					over(b, Choice{})
				}
			}
		}
	}
	plain := sleeved()
	over(plain, Choice{})
	if count < 150 {
		t.Errorf("only %d bushes were inside the range", count)
	}
}
