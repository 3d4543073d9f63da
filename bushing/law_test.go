package bushing

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
)

// chained bounds complex steps through a few dozen products, as a share.
const chained = 1e-12

// tiny is what the square of a complex step leaves of a load of zero.
const tiny = 1e-50

// measured is an S-shaped curve as of a supplier's sheet, one-sided on purpose
// of no regular spacing.
func measured(t testing.TB) *Table {
	t.Helper()
	table, err := NewTable([][2]float64{{-3, -4100}, {-1.9, -1000}, {-0.7, -410}, {0, 0}, {0.4, 230}, {1, 520}, {2.2, 900}, {2.9, 2100}, {3.3, 4800}})
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// laws are one of each shape, with and without a bracket.
func laws(t testing.TB) map[string]Law[float64] {
	table := measured(t)
	return map[string]Law[float64]{
		"linear":              {Rate: 700},
		"linear, bracket":     {Rate: 700, Bracket: 9000},
		"stop both ways":      {Rate: 400, GapPlus: 1.5, GapMinus: 1.5, Snubber: 5000, Run: 0.8},
		"stop one way":        {Rate: 400, GapMinus: 1.2, Snubber: 5000, Run: 0.8},
		"two gaps, bracket":   {Rate: 400, GapPlus: 0.5, GapMinus: 2, Snubber: 6000, Run: 1.1, Bracket: 12000},
		"nothing, then stop":  {GapPlus: 1, GapMinus: 1, Snubber: 5000, Run: 1},
		"table":               {Table: table, Rate: table.Rate()},
		"table, bracket":      {Table: table, Rate: table.Rate(), Bracket: 8000},
		"table, mirror image": {Table: table.mirror, Rate: table.Rate()},
	}
}

// deflections lie on both sides of every gap, run and point, and beyond all.
var deflections = []float64{-5, -3.2, -2.1, -1.6, -1.3, -0.6, -1e-3, 0, 2e-7, 0.3, 0.8, 1.1, 1.55, 2.05, 2.5, 3.1, 4.7}

// Load is the derivative of the energy, slope that of the load, curvature that
// of the slope: by complex step.
func TestLawIsAGradient(t *testing.T) {
	for name, law := range laws(t) {
		c := LiftLaw[complex128](law)
		for _, e := range deflections {
			seed := exact.Seed(e)
			for _, d := range []struct {
				what      string
				got, want float64
			}{
				{"load", exact.Derivative(c.Energy(seed)), law.Load(e)},
				{"slope", exact.Derivative(c.Load(seed)), law.Slope(e)},
				{"curvature", exact.Derivative(c.Slope(seed)), law.Curvature(e)},
			} {
				if math.Abs(d.got-d.want) > chained*max(math.Abs(d.want), 1) {
					t.Errorf("%s at %g: %s %.15g, derivative of what is above %.15g", name, e, d.what, d.want, d.got)
				}
			}
			if math.Abs(real(c.Load(seed))-law.Load(e)) > rounding*math.Abs(law.Load(e))+tiny {
				t.Errorf("%s at %g: load %.17g in complex, %.17g in real", name, e, real(c.Load(seed)), law.Load(e))
			}
		}
	}
}

// Derivatives by rate, gap, snubber, run and bracket against differences
// extrapolated twice.
func TestLawDerivatives(t *testing.T) {
	const differences = 1e-8
	for name, law := range laws(t) {
		for n := range 6 {
			if *lawSlot(&law, n) == 0 || law.Table != nil && n == 0 {
				continue
			}
			for _, e := range deflections {
				value := func(x float64) float64 {
					moved := law
					*lawSlot(&moved, n) = x
					return moved.Load(e) + moved.Slope(e) + moved.Energy(e)
				}
				c := LiftLaw[complex128](law)
				*lawSlot(&c, n) = exact.Seed(*lawSlot(&law, n))
				at := exact.Lift[complex128](e)
				got := exact.Derivative(c.Load(at) + c.Slope(at) + c.Energy(at))
				want := extrapolated(value, *lawSlot(&law, n))
				if math.Abs(got-want) > differences*(math.Abs(want)+law.Slope(e)) {
					t.Errorf("%s at %g by slot %d: %.12g, differences %.12g", name, e, n, got, want)
				}
			}
		}
	}
}

func lawSlot[T exact.Number](l *Law[T], n int) *T {
	return [...]*T{&l.Rate, &l.GapPlus, &l.GapMinus, &l.Snubber, &l.Run, &l.Bracket}[n]
}

// extrapolated is a derivative by central differences extrapolated twice.
func extrapolated(f func(float64) float64, x float64) float64 {
	h := 0.002 * math.Abs(x)
	d := func(h float64) float64 { return (f(x+h) - f(x-h)) / (2 * h) }
	first, second := (4*d(h/2)-d(h))/3, (4*d(h/4)-d(h/2))/3
	return (16*second - first) / 15
}

// Load and tangent are continuous where the void closes, where the stop is fully
// in, at every point of a table and at zero.
func TestLawIsSmooth(t *testing.T) {
	const width, jump = 1e-9, 1e-7 // share of the largest rate over the width
	for name, law := range laws(t) {
		edges := []float64{0, law.GapPlus, -law.GapMinus, law.GapPlus + law.Run, -law.GapMinus - law.Run}
		if law.Table != nil {
			edges = law.Table.x
		}
		for _, e := range edges {
			load, slope := law.Load(e+width)-law.Load(e-width), law.Slope(e+width)-law.Slope(e-width)
			if size := max(law.Snubber, 1e4); math.Abs(load) > 3*width*size || math.Abs(slope) > jump*size {
				t.Errorf("%s: at %g load jumps by %g, tangent by %g", name, e, load, slope)
			}
		}
	}
}

// The stop by its formula: nothing in the gap, a parabola over the run, then a
// straight line half a run behind.
func TestStopByHand(t *testing.T) {
	law := Law[float64]{Rate: 100, GapPlus: 2, GapMinus: 3, Snubber: 1000, Run: 0.5}
	for _, c := range []struct{ e, load, slope, energy float64 }{
		{2, 200, 100, 200},
		{2.2, 220 + 1000*0.04/1, 100 + 400, 242 + 1000*0.008/3},
		{2.5, 250 + 250, 1100, 312.5 + 1000*0.125/3},
		{4, 400 + 1750, 1100, 800 + 1000*(0.125/3) + 250*1.5 + 500*2.25},
		{-3, -300, 100, 450},
		{-3.2, -320 - 40, 500, 512 + 8.0/3},
	} {
		if got := [3]float64{law.Load(c.e), law.Slope(c.e), law.Energy(c.e)}; math.Abs(got[0]-c.load)+math.Abs(got[1]-c.slope)+math.Abs(got[2]-c.energy) > 1e-10 {
			t.Errorf("at %g: load, slope, energy %v, by hand %v", c.e, got, c)
		}
	}
}

// A bracket in series: at one load the deflections of rubber and bracket add up,
// and so do the energies.
func TestBracketBehindALaw(t *testing.T) {
	const bracket = 3000.0
	for name, law := range laws(t) {
		law.Bracket = 0
		behind := law
		behind.Bracket = bracket
		for _, x := range deflections {
			load := law.Load(x)
			e := x + load/bracket
			if got := behind.Load(e); math.Abs(got-load) > chained*max(1, math.Abs(load)) {
				t.Errorf("%s: %.15g N behind the bracket, want %.15g", name, got, load)
			}
			if got, want := behind.Energy(e), law.Energy(x)+load*load/(2*bracket); math.Abs(got-want) > 10*chained*max(1, want) {
				t.Errorf("%s: energy %.15g behind the bracket, want %.15g", name, got, want)
			}
		}
	}
}

// Deflection undoes Load, on every branch of every law.
func TestDeflectionInvertsLoad(t *testing.T) {
	for name, law := range laws(t) {
		for _, e := range deflections {
			if law.Slope(e) == 0 {
				continue // a void without rate: one load at many deflections
			}
			if got := law.Deflection(law.Load(e)); math.Abs(got-e) > chained*max(1, math.Abs(e)) {
				t.Errorf("%s: deflection %.15g of the load at %.15g", name, got, e)
			}
		}
	}
	oneSided := Law[float64]{GapPlus: 1, Snubber: 100, Run: 1}
	if got := oneSided.Deflection(-5); !math.IsInf(got, -1) {
		t.Errorf("deflection %g under a load that the law never carries", got)
	}
	if got := (&Law[float64]{}).Deflection(3); !math.IsInf(got, 1) {
		t.Errorf("deflection %g of no rate at all under load", got)
	}
	if oneSided.Deflection(0) != 0 {
		t.Error("no load must be no deflection")
	}
}

// Seen from the other sleeve, load and deflection change their sign.
func TestFlipped(t *testing.T) {
	for name, law := range laws(t) {
		flipped := law.Flipped()
		for _, e := range deflections {
			if got, want := flipped.Load(e), -law.Load(-e); math.Abs(got-want) > chained*math.Abs(want) {
				t.Errorf("%s at %g: flipped %.15g, want %.15g", name, e, got, want)
			}
		}
		if back := flipped.Flipped(); back != law {
			t.Errorf("%s: flipped twice %v", name, back)
		}
	}
}
