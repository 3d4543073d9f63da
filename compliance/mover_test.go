package compliance

import (
	"math"
	"math/rand/v2"
	"testing"
)

func newMover(t testing.TB, axle *Axle) *Mover {
	t.Helper()
	m, err := NewMover(newSolver(t, axle))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The tangent at the design position is the linear stiffness, static load
// included: the linear answer is the tangent of the finite one.
func TestTangentAtDesignIsLinearStiffness(t *testing.T) {
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		m.evaluate(&m.now, &m.held)
		s := m.solver
		for i := range s.size {
			for j := range s.size {
				want := s.stiffness[min(i, j)*s.size+max(i, j)]
				got := m.tangent.Data[i*m.size+j]
				scale := math.Sqrt(s.stiffness[i*s.size+i] * s.stiffness[j*s.size+j])
				if !near(got, want, 1e-9, scale) {
					t.Errorf("%s: K[%d][%d] = %.10g, linear %.10g", name, i, j, got, want)
				}
			}
		}
	}
}

// randomPosture moves every body by some 30 mm and 0.2 rad.
func randomPosture(m *Mover, rng *rand.Rand) {
	d := make([]float64, m.size)
	for i := range m.solver.size {
		d[i] = 60 * (rng.Float64() - 0.5) / m.solver.freedomLength(i)
	}
	m.now.move(d, 1)
}

// The tangent at a random posture is the difference of the residual.
func TestTangentAgreesWithDifferences(t *testing.T) {
	for name, axle := range testAxles(t) {
		rng := rand.New(rand.NewPCG(21, 22)) // for each axle: a map has no order
		m := newMover(t, axle)
		randomPosture(m, rng)
		demand := Demand{Wheels: [2]WheelForce{{AtPatch: vec{-900, 800, 300}, Moment: 2e4}, {Locked: vec{-600, 200, 0}, AtCentre: vec{500, -400, 100}}},
			Pads: [2]Pad{{Held: true, Height: 12}, {Held: true, Height: -5, Tyre: 200}}}
		m.now.pads = [2]float64{200, -150}
		m.evaluate(&m.now, &demand)
		tangent := append([]float64(nil), m.tangent.Data...)
		base := newPosture(len(m.now.shifts), len(m.now.warp))
		base.copyFrom(&m.now)
		for j := range m.size {
			d := make([]float64, m.size)
			h := 1e-3
			if j < m.solver.size {
				h /= m.solver.freedomLength(j)
			}
			side := func(factor float64) []float64 {
				d[j] = factor * h
				m.trial.copyFrom(&base)
				m.trial.move(d, 1)
				m.evaluate(&m.trial, &demand)
				return append([]float64(nil), m.residual...)
			}
			a, b, c, e := side(1), side(-1), side(2), side(-2)
			for i := range m.size {
				want := (8*(a[i]-b[i]) - (c[i] - e[i])) / (12 * h)
				got := tangent[i*m.size+j]
				row, column := math.Abs(tangent[i*m.size+i]), math.Abs(tangent[j*m.size+j])
				scale := math.Abs(want) + 1e-3*math.Sqrt(max(row, 1)*max(column, 1))
				if !near(got, want, 2e-6, scale) {
					t.Errorf("%s: tangent[%d][%d] = %.9g, differences %.9g", name, i, j, got, want)
				}
			}
		}
	}
}

// Small loads give the linear answer: what moves under +load less what moves under
// −load, so that the second order drops out and the load can be large enough to
// take several Newton steps; what is left is of the third order.
func TestSmallLoadsAreLinear(t *testing.T) {
	const load, tolerance = 1.0, 1e-6
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		var moved [2][12]float64
		for i, force := range [2]float64{load, -load} {
			if err := m.Solve(&Demand{Wheels: [2]WheelForce{{AtCentre: vec{0, force, 0}}, {AtCentre: vec{0, force, 0}}}}); err != nil {
				t.Fatal(name, err)
			}
			for wheel, w := range m.wheels {
				body := m.now.body(w.body)
				at := body.point(w.centre).Sub(w.centre)
				copy(moved[i][6*wheel:], at[:])
			}
		}
		q := m.solver.Motion(&Port{1: load, 7: load})
		for wheel := range m.wheels {
			for r := range 3 {
				k := 6*wheel + r
				if got := (moved[0][k] - moved[1][k]) / 2; !near(got, q[k], tolerance, math.Abs(q[1])) {
					t.Errorf("%s: wheel %d moves %.10g along %d, linear %.10g", name, wheel, got, r, q[k])
				}
			}
		}
	}
}

// Bump by 100 mm in steps of 5 mm: every point within eight evaluations.
func TestTravelTakesFewEvaluations(t *testing.T) {
	for name, axle := range testAxles(t) {
		m := newMover(t, axle)
		for h := 0.0; h <= 100; h += 5 {
			before := m.count
			err := m.Solve(&Demand{Pads: [2]Pad{{Held: true, Height: h}, {Held: true, Height: h}}})
			if err != nil {
				t.Fatal(name, h, err)
			}
			if used := m.count - before; used > 8 {
				t.Errorf("%s: %d evaluations for 5 mm of travel at %g mm, want at most 8", name, used, h)
			}
		}
	}
}
