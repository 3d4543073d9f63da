package rubber

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/quantity"
)

// kidney is a bush with voids, as a twist beam may have: G of 55 IRHD (Lindley).
func kidney() Cylinder[float64] {
	return Cylinder[float64]{Inside: 12, Outside: 28, Length: 50, G: 0.81, Bulk: 1090}
}

// TestNoVoid: without arc or without depth the rates are the plain ones, to the bit.
func TestNoVoid(t *testing.T) {
	c := kidney()
	plain := Rates[float64]{
		Soft: c.Radial(), Axial: c.Axial(), Stiff: c.Radial(),
		ConeSoft: c.Conical(), Torsion: c.Torsion(), ConeStiff: c.Conical(),
	}
	for _, v := range [][2]float64{{0, 0}, {0, 5}, {1, 0}} {
		if got := c.Voided(v[0], v[1], c.FullRound(v[0], v[1])); got != plain {
			t.Errorf("arc %g, depth %g: %+v, want %+v", v[0], v[1], got, plain)
		}
	}
}

// depthRounding is by how much 3 % more depth may raise a fitted rate: where skins
// carry next to nothing the true rate is level.
const depthRounding = 0.002

// TestVoidsSoften: no rate grows with the arc of the voids, nor with their depth but
// for the rounding of the fit, whether their corners are square, half round or round; all
// lie below the plain ones; the stiff radial is the stiffer one, and so is tilting about
// the soft radial, which moves the ends along the stiff one.
func TestVoidsSoften(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for n := range 20000 {
		c, arc, depth := within(rng, &VoidRange)
		share := []float64{0, 0.5, 1}[n%3]
		round := func(arc, depth float64) float64 { return share * c.FullRound(arc, depth) }
		r, plain := c.Voided(arc, depth, round(arc, depth)), c.plain()
		moreArc, moreDepth := math.Min(arc*1.03, 140*quantity.Degree.Factor), math.Min(depth*1.03, 0.9*c.wall())
		more, deeper := c.Voided(moreArc, depth, round(moreArc, depth)), c.Voided(arc, moreDepth, round(arc, moreDepth))
		six, whole, wider, deep := r.Six(), plain.Six(), more.Six(), deeper.Six()
		for i, k := range six {
			if k >= whole[i] || wider[i] > k || deep[i] > k*(1+depthRounding) || !(k > 0) {
				t.Fatalf("%+v, arc %.3f, depth %.3f, rate %d: plain %.5g, %.5g; wider %.5g, deeper %.5g", c, arc, depth, i, whole[i], k, wider[i], deep[i])
			}
		}
		if r.Soft >= r.Stiff || r.ConeStiff >= r.ConeSoft {
			t.Fatalf("%+v, arc %.3f, depth %.3f: soft %.5g above stiff %.5g, or cones %.5g and %.5g", c, arc, depth, r.Soft, r.Stiff, r.ConeSoft, r.ConeStiff)
		}
	}
}

// TestWholeRing: legs that meet all around are the ring.
func TestWholeRing(t *testing.T) {
	l := newLegs(math.Pi / 2)
	share, spread := l.stiffFilm()
	for name, got := range map[string]float64{
		"angle": l.angle(), "along": l.along(), "across": l.across(), "film": share, "spread": spread,
	} {
		if !near(got, 1, 1e-12) {
			t.Errorf("%s of the whole ring: %.15g, want 1", name, got)
		}
	}
	if l.leaningWithout() != 1 {
		t.Error("a leg beside a void without depth leans")
	}
	// Two slits alone keep P = sin φ − 2φ/π of the film: 2/π·(π/2 − 4/π).
	if soft, _ := l.softFilm(); !near(soft, 1-8/(math.Pi*math.Pi), 1e-12) {
		t.Errorf("film across two slits: %.12g", soft)
	}
}

func (l legs[T]) leaningWithout() T {
	var c Cylinder[T]
	c.Inside, c.Outside = 1, 2
	return c.leaning(l, 0)
}

// TestLegFilms: the closed forms are the integrals that they stand for, by sums.
func TestLegFilms(t *testing.T) {
	const steps = 20000
	for _, half := range []float64{0.35, 0.8, 1.3} {
		l := newLegs(half)
		for _, f := range []struct {
			name     string
			film     func() (float64, float64)
			pressure func(phi float64) float64
			slope    func(phi float64) float64
			approach func(phi float64) float64
		}{
			{"stiff", l.stiffFilm, func(p float64) float64 { return math.Cos(p) - math.Cos(half) }, func(p float64) float64 { return -math.Sin(p) }, math.Cos},
			{"soft", l.softFilm, func(p float64) float64 { return math.Sin(p) - p*math.Sin(half)/half }, func(p float64) float64 { return math.Cos(p) - math.Sin(half)/half }, math.Sin},
		} {
			var force, square, slope float64
			for i := range steps {
				phi := half * (float64(i) + 0.5) / steps // half of a leg; both halves and both legs over π
				force += f.pressure(phi) * f.approach(phi) * half / steps * 4 / math.Pi
				square += f.pressure(phi) * f.pressure(phi)
				slope += f.slope(phi) * f.slope(phi)
			}
			share, spread := f.film()
			if !near(share, force, 1e-7) || !near(spread, math.Sqrt(square/slope), 1e-6) {
				t.Errorf("%s film of half angle %g: %.9g, %.9g; summed %.9g, %.9g", f.name, half, share, spread, force, math.Sqrt(square/slope))
			}
		}
	}
}

// TestFullRound: half of the depth where the arc leaves room; in a narrow void the round
// touches both flanks and the inner face, so its middle stands on the soft radial.
func TestFullRound(t *testing.T) {
	c := kidney() // radii 12 and 28 mm
	if got := c.FullRound(1.5, 6); got != 3 {
		t.Errorf("full round of a void of 6 mm: %g", got)
	}
	const arc, depth = 0.7, 14 // from 13 to 27 mm, 40 deg
	r := c.FullRound(arc, depth)
	if r >= depth/2 || !near((13+r)*math.Sin(arc/2), r, 1e-12) {
		t.Errorf("full round of a narrow void: %g mm", r)
	}
}

// TestRoundCornersStiffen: rounding a corner leaves rubber, so no rate falls with the
// radius but for the scatter of the fit, where shallow voids hardly feel their corners, nor
// rises above the ring's by more than its error; a radius of next to nothing is a square corner.
func TestRoundCornersStiffen(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for range 20000 {
		c, arc, depth := within(rng, &VoidRange)
		full := c.FullRound(arc, depth)
		square, tiny := c.Voided(arc, depth, 0), c.Voided(arc, depth, full*1e-9)
		plain := c.plain()
		last, small, whole := square.Six(), tiny.Six(), plain.Six()
		for i := range last {
			if !near(small[i], last[i], 1e-7) {
				t.Fatalf("rate %d: %g with a tiny radius, %g square", i, small[i], last[i])
			}
		}
		for _, share := range []float64{0.25, 0.5, 0.75, 1} {
			r := c.Voided(arc, depth, share*full)
			for i, k := range r.Six() {
				if k < last[i]*(1-RoundScatter[i]) || k > whole[i]*(1+RoundError[i]) {
					t.Fatalf("%+v, arc %.3f, depth %.3f, radius %.2f of the largest, rate %d: %.5g after %.5g, plain %.5g", c, arc, depth, share, i, k, last[i], whole[i])
				}
				last[i] = k
			}
		}
	}
}

// TestSnubber: what must be, elements apart (package crosscheck): a closed void is
// stiffer the wider it is and the thinner its skins are, and softer than half of
// the joint skins pressed all around.
func TestSnubber(t *testing.T) {
	c := kidney()
	r := c.Voided(1.5, 6, 3)
	wider, deeper := c.Voided(1.6, 6, 3), c.Voided(1.5, 7, 3)
	if r.VoidGap != 6 {
		t.Errorf("gap %g, want the depth", r.VoidGap)
	}
	if !(r.VoidSnubber > 0) || wider.VoidSnubber <= r.VoidSnubber || deeper.VoidSnubber <= r.VoidSnubber {
		t.Errorf("snubber %g, wider void %g, deeper %g", r.VoidSnubber, wider.VoidSnubber, deeper.VoidSnubber)
	}
	skins := Cylinder[float64]{Inside: c.meanRadius() - 5, Outside: c.meanRadius() + 5, Length: c.Length, G: c.G, Bulk: c.Bulk}
	if whole := skins.radialBridge() / 2; r.VoidSnubber >= whole {
		t.Errorf("snubber %.6g, all around %.6g", r.VoidSnubber, whole)
	}
}

// TestClosedRange: from a quarter of the arc to all of it, over bushes of the range.
func TestClosedRange(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	low, high := 1.0, 1.0
	for range 3000 {
		c, arc, depth := within(rng, &VoidRange)
		k := c.voidSnubber(arc, depth)
		low, high = min(low, c.voidSnubber(arc/2, depth)/k), max(high, c.voidSnubber(2*arc, depth)/k)
	}
	t.Logf("factors from %.3f to %.3f", low, high)
	if low < ClosedLow || high > ClosedHigh || low > 1.5*ClosedLow || high < ClosedHigh/1.5 {
		t.Errorf("factors from %.3f to %.3f, stated %g to %g", low, high, ClosedLow, ClosedHigh)
	}
}

func TestVoidedDoesNotAllocate(t *testing.T) {
	c := kidney()
	if n := testing.AllocsPerRun(100, func() { c.Voided(1.5, 6, 3) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// BenchmarkVoided: all rates of one bush in at most 3 µs.
func BenchmarkVoided(b *testing.B) {
	c := kidney()
	for b.Loop() {
		c.Voided(1.5, 6, 3)
	}
}
