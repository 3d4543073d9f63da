package compliance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"

	"bushtune/bushing/exact"
)

// largeRotation is the agreement of 16 straight elements with the elastica, as a
// share of the beam's length: a quarter of what the elements' length allows at a
// whole turn (α⁴/480 a piece of α = 22.5°).
const largeRotation = 2e-3

// solidSquare is a beam of a square section, 1 mm wide, without shear and with
// the area raised so that it hardly stretches.
func solidSquare(young, inertia, area, torsion, poisson float64) values {
	return values{"youngs_modulus": young, "poissons_ratio": poisson, "area": area, "inertia_forward": inertia, "inertia_up": inertia, "torsion_constant": torsion}
}

// chain is a cantilever of beams along given points, the first one on the
// vehicle, with both wheels on the last.
func chain(t testing.TB, points []vec, section values) *structure {
	f := newStructure(t)
	last := f.ground(points[0])
	for _, p := range points[1:] {
		next := f.node(p)
		f.beam(last, next, section)
		last = next
	}
	f.wheels = [2]int{last, last}
	return f
}

// straight is n equal pieces of a line along x.
func straight(n int, length float64) []vec {
	points := make([]vec, n+1)
	for i := range points {
		points[i] = vec{length * float64(i) / float64(n), 0, 300}
	}
	return points
}

// tipOf is the displacement of the left wheel's centre.
func tipOf(m *Mover) vec { return m.Wheel(0).Centre }

// both puts one force on two wheels of the same body.
func both(force vec, moment float64) Demand {
	half := WheelForce{AtCentre: force.Scale(0.5), Moment: moment / 2}
	return Demand{Wheels: [2]WheelForce{half, half}}
}

func solve(t testing.TB, m *Mover, d Demand) {
	t.Helper()
	if err := m.Solve(&d); err != nil {
		t.Fatal(err)
	}
}

// elastica is how far the tip of a cantilever moves along and across it under a
// transverse dead force with P·L²/EI = k, as shares of L, and how it turns:
// elliptic integrals with modulus p² = (1 + sin α)/2 and √k = K(p) − F(φ, p),
// sin φ = 1/(p√2). Mattiasson, Int. J. Numer. Meth. Engng 17 (1981) 145–153,
// tabulates them.
func elastica(k float64) (along, across, turn float64) {
	angle := func(alpha float64) (m, phi float64) {
		m = (1 + math.Sin(alpha)) / 2
		return m, math.Asin(math.Sqrt(1 / (2 * m)))
	}
	low, high := 0.0, math.Pi/2-1e-9
	for range 200 {
		turn = (low + high) / 2
		m, phi := angle(turn)
		if mathext.CompleteK(m)-mathext.EllipticF(phi, m) < math.Sqrt(k) {
			low = turn
		} else {
			high = turn
		}
	}
	m, phi := angle(turn)
	across = 1 - 2/math.Sqrt(k)*(mathext.CompleteE(m)-mathext.EllipticE(phi, m))
	return 1 - math.Sqrt(2*math.Sin(turn)/k), across, turn
}

// The tabulated values (from memory of the paper's table, five digits) hold the
// integrals; the integrals hold 16 elements.
func TestElasticaUnderEndForce(t *testing.T) {
	const young, inertia, length = 1e5, 100.0, 1000.0
	section := solidSquare(young, inertia, 10, 200, 0)
	tabulated := map[float64][3]float64{1: {0.05643, 0.30172, 0.46135}, 2: {0.16064, 0.49346, 0.78175}, 5: {0.38763, 0.71379, 1.21537}, 10: {0.55500, 0.81061, 1.43029}}
	for k, want := range tabulated {
		along, across, turn := elastica(k)
		for r, x := range [3]float64{along, across, turn} {
			if !near(x, want[r], 1.1e-5, 1) {
				t.Errorf("P·L²/EI = %g: integral %.6f, tabulated %.5f", k, x, want[r])
			}
		}
		f := chain(t, straight(16, length), section)
		m, err := NewMover(f.solver())
		if err != nil {
			t.Fatal(err)
		}
		solve(t, m, both(vec{2: k * young * inertia / length / length}, 0))
		tip := tipOf(m)
		body := m.now.body(m.wheels[0].body)
		rotated := -math.Atan2(body.turn[0][2], body.turn[2][2])
		t.Logf("k = %g: u %.5f (%.5f), w %.5f (%.5f), turn %.5f (%.5f), %d evaluations", k, -tip[0]/length, along, tip[2]/length, across, rotated, turn, m.count)
		if !near(-tip[0]/length, along, largeRotation, along) || !near(tip[2]/length, across, largeRotation, across) || !near(rotated, turn, largeRotation, turn) {
			t.Errorf("P·L²/EI = %g: tip %.6g %.6g turned %.6g, elastica %.6g %.6g %.6g", k, -tip[0]/length, tip[2]/length, rotated, along, across, turn)
		}
	}
}

// A moment M at the end bends a cantilever to a circle through the angle M·L/EI
// (Euler). A moment about a fixed axis has no potential in space, but in a plane
// it does; the section is firm the other way, or the rod would leave the plane.
func TestElasticaUnderEndMoment(t *testing.T) {
	const young, inertia, length = 1e5, 100.0, 1000.0
	section := with(solidSquare(young, inertia, 10, 2e4, 0), values{"inertia_up": 1e4})
	f := chain(t, straight(16, length), section)
	m, err := NewMover(f.solver())
	if err != nil {
		t.Fatal(err)
	}
	for _, turns := range []float64{0.125, 0.25, 0.5, 0.75, 1} {
		angle := 2 * math.Pi * turns
		solve(t, m, both(vec{}, angle*young*inertia/length))
		tip := tipOf(m)
		along, across := length*(math.Sin(angle)/angle-1), length*(1-math.Cos(angle))/angle
		t.Logf("%g turns: tip %.4f %.4f, circle %.4f %.4f, %d evaluations", turns, tip[0], tip[1], along, across, m.count)
		if !near(tip[0], along, largeRotation, length) || !near(tip[1], across, largeRotation, length) || !near(tip[2], 0, 1e-6, length) {
			t.Errorf("%g turns: tip %v, circle %.6g %.6g", turns, tip, along, across)
		}
	}
}

// quarterBend is an eighth of a circle of radius 100 from the vehicle along x,
// in n straight pieces.
func quarterBend(n int) []vec {
	points := make([]vec, n+1)
	for i := range points {
		sin, cos := math.Sincos(math.Pi / 4 * float64(i) / float64(n))
		points[i] = vec{100 * sin, 100 * (1 - cos), 300}
	}
	return points
}

// rodState is a curved rod at one place: position, axes (tangent first) and the
// moment in it.
type rodState struct {
	at     vec
	axes   exact.Mat3[float64]
	moment vec
}

// curvedRod is a rod that does not stretch or shear, with bending and torsion
// stiffness, natural curvature in its plane and a dead force at its tip.
type curvedRod struct {
	bending, torsion, radius, angle float64
	force                           vec
}

// root integrates the rod's equations (Kirchhoff; Love, A Treatise on the
// Mathematical Theory of Elasticity, 4th ed. 1927, ch. 18), r' = t, m' = −t×F,
// axes' = curvature × axes, from a free tip whose axes are turned by v to the root,
// and returns the root's axes and where the tip is from the root.
func (c *curvedRod) root(v vec) (exact.Mat3[float64], vec) {
	const steps = 400
	start := rotationMatrix(v).Mul(exact.RotZ(c.angle))
	s := rodState{axes: start}
	h := -c.radius * c.angle / steps
	turned := func(by vec) exact.Mat3[float64] { return rotationMatrix(by).Mul(s.axes) }
	rate := func(axes exact.Mat3[float64], moment vec) vec {
		k := vec{moment.Dot(axes.Column(0)) / c.torsion, moment.Dot(axes.Column(1)) / c.bending, moment.Dot(axes.Column(2))/c.bending + 1/c.radius}
		return axes.Apply(k)
	}
	for range steps { // midpoint rule, implicit within a step
		m1 := s.moment.Add(c.force.Cross(s.axes.Column(0)).Scale(h / 2))
		half := turned(rate(s.axes, s.moment).Scale(h / 2))
		for range 3 {
			half = turned(rate(half, m1).Scale(h / 2))
			m1 = s.moment.Add(c.force.Cross(half.Column(0)).Scale(h / 2))
		}
		s.axes = turned(rate(half, m1).Scale(h))
		s.moment = s.moment.Add(c.force.Cross(half.Column(0)).Scale(h))
		s.at = s.at.Add(half.Column(0).Scale(h))
	}
	return s.axes, s.at.Scale(-1)
}

// tip finds by Newton's method the turn of the tip for which the root is
// clamped along x, and returns where the tip is.
func (c *curvedRod) tip(t *testing.T) vec {
	t.Helper()
	var v vec
	full := c.force
	for _, share := range []float64{0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 1} {
		c.force = full.Scale(share)
		for range 12 {
			axes, _ := c.root(v)
			miss := wideRotationVector(axes)
			if miss.Norm() < 1e-12 {
				break
			}
			slope := mat.NewDense(3, 3, nil)
			for j := range 3 {
				more, less := v, v
				more[j] += 1e-6
				less[j] -= 1e-6
				a, _ := c.root(more)
				b, _ := c.root(less)
				d := wideRotationVector(a).Sub(wideRotationVector(b)).Scale(1 / 2e-6)
				for r := range 3 {
					slope.Set(r, j, d[r])
				}
			}
			var step mat.VecDense
			if err := step.SolveVec(slope, mat.NewVecDense(3, miss[:])); err != nil {
				t.Fatal(err)
			}
			v = v.Sub(vec{step.AtVec(0), step.AtVec(1), step.AtVec(2)})
		}
	}
	axes, at := c.root(v)
	if miss := wideRotationVector(axes).Norm(); miss > 1e-9 {
		t.Fatalf("the rod's root misses its clamp by %g rad", miss)
	}
	return at
}

// The 45-degree bend of Bathe & Bolourchi (Int. J. Numer. Meth. Engng 14 (1979)
// 961–986): radius 100, section 1 × 1, E = 1e7, no lateral contraction, force out
// of its plane. Tip positions as published there and, from eight straight
// elements, by Simo & Vu-Quoc (Comp. Meth. Appl. Mech. Engng 58 (1986) 79–116);
// they agree with each other within a hundredth of the radius. The Kirchhoff rod
// above is exact, and 8, 16, 32 straight elements come to it.
func TestBendOutOfItsPlane(t *testing.T) {
	const bendShare = 0.01 // of the radius: how far the published positions are apart
	published := map[float64][]vec{
		300: {{59.2, 22.5, 39.5}, {58.84, 22.33, 40.08}},
		600: {{47.2, 15.9, 53.4}, {47.23, 15.79, 53.37}},
	}
	for force, positions := range published {
		rod := curvedRod{bending: 1e7 / 12, torsion: 0.5e7 / 6, radius: 100, angle: math.Pi / 4, force: vec{2: force}}
		want := rod.tip(t)
		missed := math.Inf(1)
		for _, n := range []int{8, 16, 32} {
			f := chain(t, quarterBend(n), solidSquare(1e7, 1.0/12, 1, 1.0/6, 0))
			m, err := NewMover(f.solver())
			if err != nil {
				t.Fatal(err)
			}
			solve(t, m, both(vec{2: force}, 0))
			tip := f.points[f.wheels[0]].Add(tipOf(m)).Sub(vec{2: 300})
			now := tip.Sub(want).Norm()
			t.Logf("force %g, %d elements: tip %.3f, rod %.3f, apart %.4f, %d evaluations", force, n, tip, want, now, m.count)
			if now > 0.6*missed {
				t.Errorf("force %g: %d elements are %.3g from the rod, half as many %.3g", force, n, now, missed)
			}
			missed = now
			for _, p := range positions {
				for r := range 3 {
					if !near(tip[r], p[r], bendShare, rod.radius) {
						t.Errorf("force %g, %d elements: tip %.4g, published %.4g", force, n, tip, p)
					}
				}
			}
		}
		if missed > largeRotation*rod.radius {
			t.Errorf("force %g: 32 elements are %.3g from the rod", force, missed)
		}
	}
}
