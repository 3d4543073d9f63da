package rubber

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Errors that may stand against elements: of the radial rate from a length of 1.5
// walls on, and of the axial rate.
const (
	radialAsked = 0.04
	axialAsked  = 0.02
)

// TestRatesAgainstElements: own finite elements, not published.
func TestRatesAgainstElements(t *testing.T) {
	errors := FitErrors(false)
	for _, e := range elements {
		c := unitRing(e.rho, e.walls, nearlyIncompressible)
		for _, r := range []struct {
			name              string
			got, want, stated float64
		}{
			{"radial", c.Radial() / c.Length, e.radial, min(radialAsked, errors[0])},
			{"axial", c.Axial() / c.Length, e.axial, min(axialAsked, errors[1])},
			{"conical", c.Conical(), e.conical, errors[3]},
		} {
			if !near(r.got, r.want, r.stated) {
				t.Errorf("a/b %g, L/t %g: %s %.5g, elements %.5g: off by %+.2f %%", e.rho, e.walls, r.name, r.got, r.want, 100*(r.got/r.want-1))
			}
		}
	}
}

// TestRatesAgainstRitz: series that are independent of elements and of the fit,
// between the radii and lengths that the fit saw.
func TestRatesAgainstRitz(t *testing.T) {
	errors := FitErrors(false)
	for _, e := range [][3]float64{{0.33, 18, 200}, {0.52, 2.6, 1000}, {0.74, 7, 200}, {0.88, 1.1, 1000}, {0.33, 1.1, 1000}, {0.88, 18, 200}} {
		c := unitRing(e[0], e[1], e[2])
		radial, conical := c.Radial()/ritzRate(c, acrossAxis)-1, c.Conical()/ritzRate(c, tilting)-1
		if math.Abs(radial) > errors[0] || math.Abs(conical) > errors[3] {
			t.Errorf("a/b, L/t, B/G %v: radial off by %+.2f %%, conical by %+.2f %%", e, 100*radial, 100*conical)
		}
	}
}

// TestCorrectionsAreNeeded: without them the formulas miss their stated errors.
func TestCorrectionsAreNeeded(t *testing.T) {
	c := unitRing(0.5, 1.5, nearlyIncompressible)
	if got := c.conicalBridge(); near(got, 2.42, 0.2) {
		t.Errorf("the bridge alone gives %.4g, elements 2.42: the check does not notice", got)
	}
	if got := c.radialBridge() / c.Length; near(got, 29.42, FitErrors(false)[0]/2) {
		t.Errorf("the bridge alone gives %.4g, elements 29.42: the check does not notice", got)
	}
}

// within draws a ring and voids from the inside of a range.
func within(rng *rand.Rand, limits *[5][2]float64) (c Cylinder[float64], arc, depth float64) {
	draw := func(i int) float64 { return limits[i][0] + rng.Float64()*(limits[i][1]-limits[i][0]) }
	wall := 5 + 15*rng.Float64()
	rho := draw(0)
	c = Cylinder[float64]{Inside: wall * rho / (1 - rho), Outside: wall / (1 - rho), Length: wall * draw(1), G: 0.3 + rng.Float64()}
	c.Bulk = c.G * draw(4)
	return c, draw(2) * quantity.Degree.Factor, draw(3) * wall
}

func TestRadialLiesBetweenItsLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		c, _, _ := within(rng, &PlainRange)
		if k := c.Radial(); k <= c.ShortRadial() || k >= c.LongRadial() {
			t.Fatalf("%+v: radial %.5g, short %.5g, long %.5g", c, k, c.ShortRadial(), c.LongRadial())
		}
	}
}

// TestFilm: the film's shares go to those of a flat bed and of free ends.
func TestFilm(t *testing.T) {
	c := unitRing(0.6, 4, 1e12)
	long := c
	long.Length = 1e6
	endless := long.film(1)
	if f := endless.force(); !near(f, 1, 1e-5) {
		t.Errorf("endless: %.8g of the force is left", f)
	}
	if m := endless.moment(); !near(m, 1, 1e-4) {
		t.Errorf("endless: %.8g of the moment is left", m)
	}
	short := c.film(100 * c.Length) // 1 − tanh(x)/x → x²/3, 1 − 3(x coth x − 1)/x² → x²/15
	if f, want := short.force(), short.x*short.x/3; !near(f, want, 1e-3) {
		t.Errorf("short: force %.6g, want %.6g", f, want)
	}
	if m, want := short.moment(), short.x*short.x/15; !near(m, want, 1e-3) {
		t.Errorf("short: moment %.6g, want %.6g", m, want)
	}
	c.Bulk = 1e-9 // gives way at once
	if f := c.film(1).force(); f > 1e-8 {
		t.Errorf("compressible: %.3g of the force is left", f)
	}
}

// voidedAt is Voided of the eight numbers that it depends on; without a radius the
// corners are as round as fits.
func voidedAt[T exact.Number](x [8]T) [6]T {
	c := Cylinder[T]{Inside: x[0], Outside: x[1], Length: x[2], G: x[3], Bulk: x[4]}
	radius := x[7]
	if exact.Real(radius) == 0 {
		radius = c.FullRound(x[5], x[6])
	}
	r := c.Voided(x[5], x[6], radius)
	return r.Six()
}

// TestDerivatives: complex step against central differences.
func TestDerivatives(t *testing.T) {
	const share, agreement = 1e-5, 1e-7 // the rest of the difference goes with share²
	rng := rand.New(rand.NewPCG(5, 6))
	for n := range 60 {
		c, arc, depth := within(rng, &VoidRange)
		x := [8]float64{c.Inside, c.Outside, c.Length, c.G, c.Bulk, arc, depth}
		switch n % 3 {
		case 0:
			x[5], x[6] = 0, 0
		case 1:
			x[7] = 0.6 * c.FullRound(arc, depth)
		}
		for i := range x {
			if x[i] == 0 {
				continue
			}
			var lifted [8]complex128
			for k := range x {
				lifted[k] = complex(x[k], 0)
			}
			lifted[i] = exact.Seed(x[i])
			low, high := x, x
			low[i], high[i] = x[i]*(1-share), x[i]*(1+share)
			slopes, down, up, at := voidedAt(lifted), voidedAt(low), voidedAt(high), voidedAt(x)
			for k := range at {
				got, want := exact.Derivative(slopes[k]), (up[k]-down[k])/(2*x[i]*share)
				if math.Abs(got-want)*x[i] > agreement*math.Max(at[k], math.Abs(want)*x[i]) {
					t.Errorf("%v: rate %d by input %d: %.10g, difference %.10g", x, k, i, got, want)
				}
			}
		}
	}
}
