package compliance

import (
	"math"
	"testing"
)

// hinge is a pin along y: firm but for turning about it.
func hinge(turn float64) [6]float64 { return [6]float64{1e7, 1e7, 1e7, 1e11, turn, 1e11} }

// turnedUp is the rotation of a body in side view, + from x to z.
func turnedUp(m *Mover, body int) float64 {
	p := m.now.body(body)
	return math.Atan2(p.turn[2][0], p.turn[0][0])
}

func moverOf(t testing.TB, f *structure) *Mover {
	t.Helper()
	m, err := NewMover(f.solver())
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// fourBar is a linkage in side view with its crank's pivot at the origin.
type fourBar struct{ crank, coupler, rocker, ground float64 }

// closed is where coupler and rocker meet and where the crank's pin is, at a
// crank angle: two circles that cut (any textbook of mechanisms).
func (b fourBar) closed(angle float64) (pin, joint vec) {
	pin = vec{b.crank * math.Cos(angle), 0, b.crank * math.Sin(angle)}
	across := vec{b.ground, 0, 0}.Sub(pin)
	d := across.Norm()
	along := (b.coupler*b.coupler - b.rocker*b.rocker + d*d) / (2 * d)
	off := math.Sqrt(b.coupler*b.coupler - along*along)
	u := across.Scale(1 / d)
	return pin, pin.Add(u.Scale(along)).Add(vec{-u[2], 0, u[0]}.Scale(off))
}

// A four-bar linkage whose crank is lifted by a pad to given heights stands where
// the closed form says, over 117 degrees of crank angle.
func TestFourBarLinkage(t *testing.T) {
	b := fourBar{crank: 100, coupler: 280, rocker: 200, ground: 300}
	pin, joint := b.closed(0)
	f := newStructure(t, pin, joint, vec{b.ground, 0, 0})
	pivot := f.ground(vec{})
	f.bush(pivot, Vehicle, 0, hinge(1e3))
	f.bush(0, 0, 1, hinge(0))
	f.bush(1, 1, 2, hinge(0))
	f.support(2, hinge(0))
	m := moverOf(t, f)
	for _, height := range []float64{10, 30, 60, 80, 90, 40, -20, -60, -80} {
		solve(t, m, Demand{Pads: [2]Pad{{Held: true, Height: height}}})
		angle := math.Asin(height / b.crank)
		newPin, newJoint := b.closed(angle)
		slope := func(from, to vec) float64 { return math.Atan2(to[2]-from[2], to[0]-from[0]) }
		want := [3]float64{angle, slope(newPin, newJoint) - slope(pin, joint), slope(f.points[2], newJoint) - slope(f.points[2], joint)}
		for body, w := range want {
			if got := turnedUp(m, body); !near(got, w, mechanism, 1) {
				t.Errorf("pin at %g mm: body %d turned by %.9g, closed form %.9g", height, body, got, w)
			}
		}
	}
}

// A pendulum pushed aside by F: k·θ + W·l·sin θ = F·l·cos θ.
func TestPendulumAtLargeAngle(t *testing.T) {
	const weight, length, torsion = 600.0, 250.0, 2e4
	f := newStructure(t, vec{0, 0, 500})
	f.holds(0, hinge(torsion))
	bob := f.node(vec{0, 0, 500 - length})
	f.axle.Bodies = f.axle.Bodies[:1] // the bob is a place on the pendulum
	f.bodies[bob] = 0
	f.wheels = [2]int{bob, bob}
	f.hangs(weight)
	m := moverOf(t, f)
	for _, force := range []float64{60, 600, 1800, 3000, -3000} {
		solve(t, m, both(vec{force}, 0))
		want := bisect(-1.57, 1.57, func(a float64) float64 {
			return torsion*a + length*(weight*math.Sin(a)-force*math.Cos(a))
		})
		if got := turnedUp(m, 0); !near(got, want, mechanism, 1) {
			t.Errorf("%g N: turned by %.9g, closed form %.9g", force, got, want)
		}
	}
}

// A brake force with the brake locked keeps under the wheel centre while the body turns:
// k·θ equals its moment about the pivot, which no potential gives.
func TestBrakeForceKeepsBelowTheWheel(t *testing.T) {
	const torsion, radius = 3e6, 300.0
	pivot, centre := vec{400, 0, 350}, vec{0, 0, 300}
	f := newStructure(t, pivot)
	f.support(0, hinge(torsion))
	wheel := f.node(centre)
	f.axle.Bodies = f.axle.Bodies[:1]
	f.bodies[wheel] = 0
	f.wheels = [2]int{wheel, wheel}
	m := moverOf(t, f)
	arm := centre.Sub(pivot)
	for _, force := range []float64{-500, -4000, -8000, 5000} {
		half := WheelForce{Locked: vec{force / 2, 0, 0}}
		solve(t, m, Demand{Wheels: [2]WheelForce{half, half}})
		want := bisect(-1.5, 1.5, func(up float64) float64 {
			z := arm[0]*math.Sin(up) + arm[2]*math.Cos(up) - radius
			return torsion*up + force*z // the moment about y turns down
		})
		if got := turnedUp(m, 0); !near(got, want, mechanism, 1) {
			t.Errorf("%g N: turned by %.9g, closed form %.9g", force, got, want)
		}
	}
}

// An aligning torque has no part about the spin axis and works on the heading alone.
// On a hinge that leans by a, which turns by φ, the spin axis of a wheel that looked
// straight ahead is seen from above along
//
//	(−cos a·sin φ, cos φ + sin² a·(1 − cos φ))
//
// and k·φ = M·dψ/dφ with ψ the angle of that to the transverse.
func TestAligningTorqueWorksOnTheHeading(t *testing.T) {
	const rate, lean = 1e6, 0.4
	f := newStructure(t, vec{0, 0, 300})
	v := with(point("at", f.points[0]), values{"soft": 1e7, "axial": 1e7, "stiff": 1e7, "axis.y": math.Sin(lean), "axis.z": math.Cos(lean), "soft_axis.x": 1})
	f.add(Bush, Vehicle, 0, v, Choice{Base: 3})
	slots := f.axle.Elements[0].Slots
	slots[fieldIndex(Bush.Fields, "cone_soft")], slots[fieldIndex(Bush.Fields, "torsion")], slots[fieldIndex(Bush.Fields, "cone_stiff")] = 1e13, rate, 1e13
	m := moverOf(t, f)
	for _, moment := range []float64{1e5, 5e5, 1e6, -1.5e6} {
		solve(t, m, both(vec{}, moment))
		angle := bisect(-1.5, 1.5, func(turn float64) float64 {
			s, c := math.Sin(lean), math.Cos(lean)
			x, y := c*math.Sin(turn), math.Cos(turn)+s*s*(1-math.Cos(turn))
			heading := (c*math.Cos(turn)*y + x*c*c*math.Sin(turn)) / (x*x + y*y)
			return rate*turn - moment*heading
		})
		want := vec{0, math.Sin(lean), math.Cos(lean)}.Scale(angle)
		if got := wideRotationVector(m.now.body(0).turn); got.Sub(want).Norm() > mechanism {
			t.Errorf("%g N·mm: turned by %v, closed form %v", moment, got, want)
		}
	}
}

// A crank pressed toward its dead centre against a spring ahead of it: the force
// k·(l₀/l − 1)·d·tan α rises to a limit and is zero at the dead centre.
func TestSpringAtDeadCentre(t *testing.T) {
	const radius, distance, rate, start = 100.0, 250.0, 50.0, 0.6
	length := func(a float64) float64 {
		return math.Sqrt(distance*distance + radius*radius - 2*distance*radius*math.Cos(a))
	}
	force := func(a float64) float64 { return rate * (length(start)/length(a) - 1) * distance * math.Tan(a) }
	sin, cos := math.Sincos(start)
	f := newStructure(t, vec{radius * cos, 0, 300 + radius*sin})
	pivot := f.ground(vec{0, 0, 300})
	f.bush(pivot, Vehicle, 0, hinge(0))
	f.add(Spring, Vehicle, 0, with(point("upper", vec{distance, 0, 300}), with(point("lower", f.points[0]), values{"rate": rate})), Choice{})
	limit := bisect(-start, -1e-3, func(a float64) float64 { // where the force falls again, from the start down
		const h = 1e-5
		return force(h-a) - force(-h-a)
	})
	most := force(-limit)
	m := moverOf(t, f)
	for _, share := range []float64{0.2, 0.6, 0.9, 0.99} {
		solve(t, m, both(vec{2: -share * most}, 0))
		want := -bisect(-start, limit, func(a float64) float64 { return force(-a) - share*most })
		if got := start + turnedUp(m, 0); !near(got, want, 10*mechanism, 1) {
			t.Errorf("at %g of the limit: crank at %.9g, closed form %.9g", share, got, want)
		}
	}
	d := both(vec{2: -1.5 * most}, 0)
	snapped(t, "crank", m.Solve(&d), 0.01/0.51, 1/0.51)
}
