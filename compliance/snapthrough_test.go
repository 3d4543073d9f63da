package compliance

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

const (
	// mechanism is what supports that are firm, not rigid, leave of a mechanism's
	// closed form, in rad or as a share of a length.
	mechanism = 1e-6
	// limitShare is how near to a closed-form limit load the solution must stop.
	limitShare = 0.01
)

// truss is a shallow von Mises truss (von Mises, Zeitschrift für angewandte
// Mathematik und Mechanik 3, 1923): two rods of a rate rise by height over half a
// span to an apex that is pressed down.
type truss struct{ half, height, rate float64 }

func (v truss) length(z float64) float64 { return math.Hypot(v.half, z) }

// load is the force down that holds the apex at a height over the feet:
// P = 2k·z·(l₀/l − 1).
func (v truss) load(z float64) float64 {
	return 2 * v.rate * z * (v.length(v.height)/v.length(z) - 1)
}

// limit is the largest load, at l³ = l₀·b², and the apex's height there.
func (v truss) limit() (load, z float64) {
	l := math.Cbrt(v.length(v.height) * v.half * v.half)
	z = math.Sqrt(l*l - v.half*v.half)
	return v.load(z), z
}

// risen is the height of the apex under a load below the limit.
func (v truss) risen(load float64) float64 {
	_, low := v.limit()
	return bisect(low, v.height, func(z float64) float64 { return load - v.load(z) })
}

// bisect is the root of a rising function between two places.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 200 {
		if middle := (low + high) / 2; f(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// mover is the truss as a model: both wheels at the apex, which is held across
// the truss and against turning, where the truss does not move it.
func (v truss) mover(t *testing.T) *Mover {
	f := newStructure(t, vec{0, 0, 300 + v.height})
	for _, foot := range []float64{-v.half, v.half} {
		rod := with(point("inner", vec{foot, 0, 300}), point("outer", f.points[0]))
		f.add(Link, Vehicle, 0, with(rod, values{"inner_rate": 2 * v.rate, "outer_rate": 2 * v.rate}), Choice{})
	}
	f.support(0, [6]float64{0, 1e4, 0, 1e9, 1e9, 1e9})
	m, err := NewMover(f.solver())
	if err != nil {
		t.Fatal(err)
	}
	return m
}

var trusses = []truss{{300, 20, 1e4}, {300, 60, 1e4}, {200, 150, 500}, {1000, 5, 2e4}}

// Load and height along the stable branch are those of the closed form.
func TestTrussFollowsItsBranch(t *testing.T) {
	for _, v := range trusses {
		m := v.mover(t)
		limit, _ := v.limit()
		for _, share := range []float64{0.1, 0.5, 0.8, 0.95, 0.99, 0.5, -2, 0} {
			solve(t, m, both(vec{2: -share * limit}, 0))
			got := v.height + tipOf(m)[2]
			want := bisect(0, 20*v.height, func(z float64) float64 { return share*limit - v.load(z) })
			if share >= 0 {
				want = v.risen(share * limit)
			}
			if !near(got, want, mechanism, v.height) {
				t.Errorf("%+v at %g of its limit: apex at %.9g, closed form %.9g", v, share, got, want)
			}
		}
	}
}

// snapped wants an error that tells of a lost equilibrium, a mover that stands
// before the limit, and a share of the way within 1 % of the limit load.
func snapped(t *testing.T, what string, err error, fraction, want float64) {
	t.Helper()
	var lost *LostBalance
	switch {
	case !errors.As(err, &lost):
		t.Errorf("%s: error %v, want a lost balance", what, err)
	case !near(lost.Fraction, fraction, limitShare, want):
		t.Errorf("%s: lost at %.5f of the way, the limit is at %.5f (%v)", what, lost.Fraction, fraction, lost)
	}
}

// A steep truss leaves its branch before its limit: it sways when the rods' load
// takes their stiffness across, 2k·b²/l² = 2k·(l₀ − l)·z²/l³.
func TestSteepTrussSways(t *testing.T) {
	v := truss{50, 200, 3000}
	l0 := v.length(v.height)
	sways := bisect(0, v.height, func(z float64) float64 {
		l := v.length(z)
		return v.half*v.half*l - (l0-l)*z*z
	})
	limit, z := v.limit()
	if sways < z {
		t.Fatalf("the truss sways at %g, after its limit at %g", sways, z)
	}
	m := v.mover(t)
	d := both(vec{2: -limit}, 0)
	snapped(t, "steep truss", m.Solve(&d), v.load(sways)/limit, 1)
}

// A load beyond the limit has an equilibrium, but on the other side: it must be
// refused, whatever the load before and however far beyond.
func TestTrussDoesNotSnapSilently(t *testing.T) {
	for _, v := range trusses {
		limit, z := v.limit()
		for _, before := range []float64{0, 0.5, 0.9, 0.975, 0.99, 0.999, 0.9999} {
			for _, beyond := range []float64{1.002, 1.02, 1.3, 2, 3} {
				m := v.mover(t)
				start := both(vec{2: -before * limit}, 0)
				if err := m.Solve(&start); err != nil {
					t.Errorf("%+v to %g of its limit: %v", v, before, err)
					continue
				}
				beyondLoad := both(vec{2: -beyond * limit}, 0)
				err := m.Solve(&beyondLoad)
				what := fmt.Sprintf("%+v from %g to %g of its limit", v, before, beyond)
				snapped(t, what, err, (1-before)/(beyond-before), 1/(beyond-before))
				if at := v.height + tipOf(m)[2]; at < z*(1-1e-6) {
					t.Errorf("%s: the apex stands at %.6g, beyond the limit at %.6g", what, at, z)
				}
				if err == nil {
					continue
				}
				if balanced := v.load(v.height + tipOf(m)[2]); !near(balanced, -2*m.held.Wheels[0].AtCentre[2], mechanism, limit) {
					t.Errorf("%s: the apex stands where %.6g N balance, not %.6g N", what, balanced, -2*m.held.Wheels[0].AtCentre[2])
				}
				solve(t, m, both(vec{}, 0))
				if !near(tipOf(m).Norm(), 0, mechanism, v.height) {
					t.Errorf("%s: after the error the way back ends at %v", what, tipOf(m))
				}
			}
		}
	}
}

// Two trusses side by side, one under each wheel, reach their limits together:
// two directions lose their stiffness at once and the sign of the determinant
// does not change.
func TestTwinTrussesDoNotSnapSilently(t *testing.T) {
	v := truss{300, 20, 1e4}
	f := newStructure(t, vec{0, 500, 300 + v.height}, vec{0, -500, 300 + v.height})
	f.wheels = [2]int{0, 1}
	for node, apex := range f.points {
		for _, foot := range []float64{-v.half, v.half} {
			rod := with(point("inner", vec{foot, apex[1], 300}), point("outer", apex))
			f.add(Link, Vehicle, node, with(rod, values{"inner_rate": 2 * v.rate, "outer_rate": 2 * v.rate}), Choice{})
		}
		f.support(node, [6]float64{0, 1e4, 0, 1e9, 1e9, 1e9})
	}
	limit, z := v.limit()
	for _, before := range []float64{0, 0.5, 0.9, 0.99} {
		for _, beyond := range []float64{1.01, 1.3, 2} {
			m, err := NewMover(f.solver())
			if err != nil {
				t.Fatal(err)
			}
			solve(t, m, both(vec{2: -2 * before * limit}, 0))
			d := both(vec{2: -2 * beyond * limit}, 0)
			what := fmt.Sprintf("twins from %g to %g", before, beyond)
			snapped(t, what, m.Solve(&d), (1-before)/(beyond-before), 1/(beyond-before))
			if at := v.height + tipOf(m)[2]; at < z*(1-1e-6) {
				t.Errorf("%s: the apex stands at %.6g, beyond the limit at %.6g", what, at, z)
			}
		}
	}
}
