package bushing

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

// radials are voids of usual and of odd proportions, one behind a bracket.
func radials() map[string]Radial[float64] {
	return map[string]Radial[float64]{
		"equal stops":   {Soft: 300, Stiff: 2400, GapSoft: 3, GapStiff: 1, SnubberSoft: 5000, SnubberStiff: 5000, Run: 1},
		"one function":  {Soft: 300, Stiff: 2400, GapSoft: 3, GapStiff: 1.5, SnubberSoft: 2000, SnubberStiff: 8000, Run: 1e-6},
		"hard and soft": {Soft: 10, Stiff: 20, GapSoft: 0.5, GapStiff: 4, SnubberSoft: 200, SnubberStiff: 20000, Run: 2},
		"bracket":       {Soft: 300, Stiff: 2400, GapSoft: 3, GapStiff: 1, SnubberSoft: 4000, SnubberStiff: 6000, Run: 1, Bracket: 9000},
	}
}

// places lie inside the void, at its edge and far outside, on and off the axes.
func places() [][2]float64 {
	rng := rand.New(rand.NewPCG(63, 64))
	list := [][2]float64{{0, 0}, {3.2, 0}, {0, -1.3}, {-7, 0}, {1e-9, 5}, {2.9, 0.2}}
	for range 200 {
		list = append(list, [2]float64{6 * rng.NormFloat64(), 3 * rng.NormFloat64()})
	}
	return list
}

// Load is the gradient of the energy, and the tangent that of the load, which
// makes it symmetric: by complex step.
func TestRadialIsAGradient(t *testing.T) {
	for name, r := range radials() {
		c := LiftRadial[complex128](r)
		for _, e := range places() {
			load, k := r.Load(e), r.Tangent(e)
			tangent := [2][2]float64{{k.Soft, k.Cross}, {k.Cross, k.Stiff}}
			size := 1 + math.Abs(load[0]) + math.Abs(load[1])
			for i := range 2 {
				at := [2]complex128{complex(e[0], 0), complex(e[1], 0)}
				at[i] = exact.Seed(e[i])
				if got := exact.Derivative(c.Energy(at)); math.Abs(got-load[i]) > chained*size {
					t.Errorf("%s at %v: load %d is %.15g, of the energy %.15g", name, e, i, load[i], got)
				}
				for j, l := range c.Load(at) {
					if got := exact.Derivative(l); math.Abs(got-tangent[j][i]) > 20*chained*(k.Soft+k.Stiff) {
						t.Errorf("%s at %v: tangent %d%d is %.15g, of the load %.15g", name, e, j, i, tangent[j][i], got)
					}
				}
			}
		}
	}
}

// Along each axis the potential is the stop of that direction alone.
func TestRadialAlongItsAxes(t *testing.T) {
	for name, r := range radials() {
		soft := Law[float64]{Rate: r.Soft, GapPlus: r.GapSoft, GapMinus: r.GapSoft, Snubber: r.SnubberSoft, Run: r.Run, Bracket: r.Bracket}
		stiff := Law[float64]{Rate: r.Stiff, GapPlus: r.GapStiff, GapMinus: r.GapStiff, Snubber: r.SnubberStiff, Run: r.Run, Bracket: r.Bracket}
		for _, e := range deflections {
			alongSoft, alongStiff := r.Load([2]float64{e, 0}), r.Load([2]float64{0, e})
			for i, c := range []struct{ got, want float64 }{
				{alongSoft[0], soft.Load(e)}, {alongSoft[1], 0}, {alongStiff[1], stiff.Load(e)}, {alongStiff[0], 0},
				{r.Energy([2]float64{e, 0}), soft.Energy(e)}, {r.Energy([2]float64{0, e}), stiff.Energy(e)},
				{r.Tangent([2]float64{e, 0}).Soft, soft.Slope(e)}, {r.Tangent([2]float64{0, e}).Stiff, stiff.Slope(e)},
			} {
				if math.Abs(c.got-c.want) > 10*chained*max(1, math.Abs(c.want)) {
					t.Errorf("%s at %g, value %d: %.15g, one direction alone %.15g", name, e, i, c.got, c.want)
				}
			}
		}
	}
}

// The tangent is never less than the core: the potential of the stop is convex
// in every direction.
func TestRadialIsConvex(t *testing.T) {
	for name, r := range radials() {
		if r.Bracket != 0 {
			continue
		}
		for _, e := range places() {
			k := r.Tangent(e)
			soft, stiff := k.Soft-r.Soft, k.Stiff-r.Stiff
			least := (soft+stiff)/2 - math.Hypot((soft-stiff)/2, k.Cross)
			if least < -chained*(k.Soft+k.Stiff) {
				t.Errorf("%s at %v: the stop's tangent has the eigenvalue %g", name, e, least)
			}
		}
	}
}

// Load and tangent are continuous across the edge of the void, in any direction.
func TestRadialIsSmoothAtTheEdge(t *testing.T) {
	const width, jump = 1e-8, 1e-6 // share of the stops' rate over the width
	for name, r := range radials() {
		if r.Run < 0.1 || r.Bracket != 0 {
			continue // hard stop; edge moved by the bracket
		}
		for n := range 16 {
			sin, cos := math.Sincos(float64(n) * math.Pi / 8)
			at := func(scale float64) [2]float64 { return [2]float64{scale * r.GapSoft * cos, scale * r.GapStiff * sin} }
			inside, outside := r.Load(at(1-width)), r.Load(at(1+width))
			k, m := r.Tangent(at(1-width)), r.Tangent(at(1+width))
			size := r.SnubberSoft + r.SnubberStiff
			if math.Hypot(outside[0]-inside[0], outside[1]-inside[1]) > 10*width*size ||
				math.Abs(m.Soft-k.Soft)+math.Abs(m.Cross-k.Cross)+math.Abs(m.Stiff-k.Stiff) > jump*size {
				t.Errorf("%s at %d/16 of a turn: load %v to %v, tangent %v to %v", name, n, inside, outside, k, m)
			}
		}
	}
}

// Where both stops times the square of their gaps are alike, hard from the first
// touch, the potential depends on ρ² = (s/g_s)² + (t/g_t)² alone.
func TestRadialOfOneFunction(t *testing.T) {
	r := radials()["one function"]
	for _, rho := range []float64{0.7, 1.2, 2.5} {
		at := func(angle float64) float64 {
			sin, cos := math.Sincos(angle)
			e := [2]float64{rho * r.GapSoft * cos, rho * r.GapStiff * sin}
			return r.Energy(e) - 0.5*(r.Soft*e[0]*e[0]+r.Stiff*e[1]*e[1])
		}
		past := (rho - 1) * r.GapSoft
		want := 0.5 * r.SnubberSoft * past * past
		if rho < 1 {
			want = 0
		}
		for _, angle := range []float64{0, 0.4, 1, math.Pi / 2, 2.6} {
			if got := at(angle); math.Abs(got-want) > 1e-5*max(1, want) { // the run of 1e-6 mm
				t.Errorf("ρ = %g, %g rad: stop energy %.9g, want %.9g", rho, angle, got, want)
			}
		}
	}
}

// No work on closed paths: around the void outside of it, where the load is
// smooth and the mean over a full turn converges at once, and on a path that
// enters and leaves the void.
func TestRadialClosedPaths(t *testing.T) {
	for name, r := range radials() {
		if r.Run < 0.1 {
			continue
		}
		for _, c := range []struct {
			share float64
			at    [2]float64
			steps int
			bound float64
		}{{1.4, [2]float64{}, 2000, 1e-10}, {0.9, [2]float64{0.4 * r.GapSoft, 0}, 20000, 1e-8}} {
			work, size := 0.0, 0.0
			for n := range c.steps {
				sin, cos := math.Sincos(2 * math.Pi * float64(n) / float64(c.steps))
				load := r.Load([2]float64{c.at[0] + c.share*r.GapSoft*cos, c.at[1] + c.share*r.GapStiff*sin})
				along := load[0]*-r.GapSoft*sin + load[1]*r.GapStiff*cos
				work += along
				size += math.Abs(along)
			}
			if math.Abs(work) > c.bound*size {
				t.Errorf("%s: work %g of %g on a closed path at %g of the gap", name, work, size, c.share)
			}
		}
	}
}

// Deflection undoes Load.
func TestRadialInverse(t *testing.T) {
	for name, r := range radials() {
		for _, e := range places() {
			got := r.Deflection(r.Load(e))
			if math.Hypot(got[0]-e[0], got[1]-e[1]) > 1e-11*max(1, math.Hypot(e[0], e[1])) {
				t.Errorf("%s: deflection %v of the load at %v", name, got, e)
			}
		}
	}
}

// Derivatives of load and tangent by every number, against differences
// extrapolated twice.
func TestRadialDerivatives(t *testing.T) {
	const differences = 1e-7
	for _, name := range []string{"equal stops", "bracket", "hard and soft"} {
		r := radials()[name]
		for n := range 8 {
			if *radialSlot(&r, n) == 0 {
				continue
			}
			for _, e := range [][2]float64{{1, 0.1}, {4, 0.5}, {-2.5, 2}, {0.3, -5}} {
				value := func(x float64) float64 {
					moved := r
					*radialSlot(&moved, n) = x
					load, k := moved.Load(e), moved.Tangent(e)
					return load[0] + 2*load[1] + k.Soft + 2*k.Cross + 3*k.Stiff
				}
				c := LiftRadial[complex128](r)
				*radialSlot(&c, n) = exact.Seed(*radialSlot(&r, n))
				at := [2]complex128{complex(e[0], 0), complex(e[1], 0)}
				load, k := c.Load(at), c.Tangent(at)
				got := exact.Derivative(load[0] + 2*load[1] + k.Soft + 2*k.Cross + 3*k.Stiff)
				if want := extrapolated(value, *radialSlot(&r, n)); math.Abs(got-want) > differences*(math.Abs(want)+r.SnubberSoft) {
					t.Errorf("%s at %v by slot %d: %.12g, differences %.12g", name, e, n, got, want)
				}
			}
		}
	}
}

func radialSlot[T exact.Number](r *Radial[T], n int) *T {
	return [...]*T{&r.Soft, &r.Stiff, &r.GapSoft, &r.GapStiff, &r.SnubberSoft, &r.SnubberStiff, &r.Run, &r.Bracket}[n]
}
