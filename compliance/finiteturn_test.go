package compliance

import (
	"math"
	"testing"
)

// turnShare is how near the wheels keep to the turn of rigid halves, as a share
// of their lift: what the second order leaves at 40 mm.
const turnShare = 0.005

// halfTurn is where a wheel's centre and spin axis go when its half turns about
// the line through its pivot and the shear centre, + up, by vectors alone.
type halfTurn struct{ pivot, line, wheel vec }

func (h halfTurn) at(side, angle float64) (centre, spin vec) {
	mirror := func(v vec) vec { return vec{v[0], side * v[1], v[2]} }
	p := mirror(h.pivot)
	r := rotationMatrix(mirror(h.line).Scale(-angle))
	return p.Add(r.Apply(mirror(h.wheel).Sub(p))), r.Apply(vec{0, 1, 0})
}

// rise is how far the contact point of a wheel of a radius rises.
func (h halfTurn) rise(side, angle, radius float64) float64 {
	c, u := h.at(side, angle)
	return c[2] - h.wheel[2] + radius*(1-math.Sqrt(1-u[2]*u[2]))
}

// A twist beam on stiff bushes in roll: each half turns about the line through
// its pivot and the shear centre of the cross-member at mid-span (common practice,
// no source). That is so to the first order. To the second the turned ends of a
// straight cross-member would lean by (1 − cos θ)·d_y·d_n each, d the line's
// direction, n square to the cross-member in the plane of both lines. Its bending
// and its shear share that in the same proportion at every lift, so that a wheel
// is off by less and by the square of the turn.
func TestHalvesTurnAboutPivotAndShearCentre(t *testing.T) {
	const radius = 300.0
	half := halfTurn{pivot: vec{430, 560, 330}, wheel: vec{0, 740, 300}}
	half.line = vec{270 - 5, 0, 310 + 45}.Sub(half.pivot).Unit()
	axle := stiffTwistBeam(t)
	share := 0.0
	for _, height := range []float64{10, 20, 40, -40} {
		angle := bisect(-0.5, 0.5, func(a float64) float64 { return half.rise(1, a, radius) - height })
		m := newMover(t, axle)
		solve(t, m, Demand{Pads: hold(half.rise(1, angle, radius), half.rise(-1, angle, radius))})
		most := (1 - math.Cos(angle)) * -half.line[1] * math.Hypot(half.line[0], half.line[2])
		for i, side := range []float64{1, -1} {
			centre, spin := half.at(side, angle)
			body := m.now.body(i)
			missed := body.point(m.wheels[i].centre).Add(m.solver.centre).Sub(centre).Norm()
			if missed > turnShare*math.Abs(height) {
				t.Errorf("height %g, wheel %d: centre %.4g mm off the half's turn", height, i, missed)
			}
			lean := body.turn.Apply(vec{0, 1, 0}).Sub(spin).Norm() / most
			if share == 0 {
				share = lean
			}
			if lean >= 1 || !near(lean, share, 0.05, share) {
				t.Errorf("height %g, wheel %d: spin axis off the half's turn by %.4g of the second order, at first by %.4g", height, i, lean, share)
			}
		}
	}
}

// stiffTwistBeam has pivots 1e4 times as stiff, without torsion and cones, and a
// cross-member 100 times as stiff in bending and rigid in shear.
func stiffTwistBeam(t *testing.T) *Axle {
	axle := twistBeam(t)
	for i := range axle.Elements {
		e := &axle.Elements[i]
		scale := func(factor float64, names ...string) {
			for _, name := range names {
				e.Slots[fieldIndex(e.Kind.Fields, name)] *= factor
			}
		}
		switch e.Kind {
		case Bush:
			scale(1e4, "soft", "axial", "stiff")
			scale(0, "torsion", "cone_soft", "cone_stiff")
		case Beam:
			scale(1e2, "inertia_forward", "inertia_up", "inertia_mixed", "area")
			scale(0, "shear_forward", "shear_up", "shear_mixed")
		}
	}
	return axle
}
