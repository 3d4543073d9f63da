package compliance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// supported is what supports that are firm, not rigid, leave of a closed form.
const supported = 1e-6

// hangs puts a weight in N on the body that both wheels stand on; no wheel
// touches the ground.
func (f *structure) hangs(weight float64) {
	mass := weight / quantity.StandardGravity / 2
	f.axle.Static = &Static{Unsprung: [2]float64{mass, mass}}
}

// rates gives the bush of a structure six rates along and about x, y, z and lets
// it carry moments at rest.
func (f *structure) holds(node int, rates [6]float64) {
	f.support(node, rates)
	f.axle.Elements[len(f.axle.Elements)-1].Choice.HoldsMoments = true
}

// A body that turns about a pivot under a wheel load F and a weight W, wheel
// centre h above the pivot: rate about the axis k + (F − W)·h (the pendulum, any
// textbook of mechanics; the patch stays under the wheel centre in side view).
func TestPendulum(t *testing.T) {
	const torsion, load, weight, firm = 5e6, 4000.0, 600.0, 1e7
	for _, height := range []float64{-200, 0, 150, 400} {
		f := newStructure(t, vec{430, 0, 330})
		f.holds(0, [6]float64{firm, firm, firm, 1e10, torsion, 1e10})
		for i := range 2 {
			f.axle.Wheels[i] = wheelOn(t, 0, values{"centre.y": 700, "centre.z": 330 + height, "loaded_radius": 300})
		}
		mass := weight / quantity.StandardGravity / 2
		f.axle.Static = &Static{WheelLoad: [2]float64{load / 2, load / 2}, Unsprung: [2]float64{mass, mass}}
		s := newSolver(t, &f.axle)
		got, want := 1/s.Compliance()[4*Ports+4], torsion+(load-weight)*height
		if !near(got, want, supported, want) {
			t.Errorf("wheel centre %g above the pivot: %.9g N·mm/rad, want %.9g", height, got, want)
		}
		if got, want := s.StaticLoad(0, 4), (load-weight)*430; !near(got, want, balance, want) {
			t.Errorf("torsion at rest %g N·mm, want %g", got, want)
		}
	}
}

// Camber of a wheel about its contact: leaned about x through the wheel centre,
// the lowest point rises by R·(1 − cos γ), so a patch load F takes F·R from the
// rate, and F·(R − h) is left about an axis h above the ground … at any height.
func TestWheelLoadLeans(t *testing.T) {
	const cone, load, radius, firm = 9e6, 4000.0, 300.0, 1e7
	for _, height := range []float64{-300, 0, 200} {
		f := newStructure(t, vec{0, 0, 300})
		f.holds(0, [6]float64{firm, firm, firm, cone, 1e10, 1e10})
		f.solver()
		for i := range 2 {
			f.axle.Wheels[i] = wheelOn(t, 0, values{"centre.z": 300 + height, "loaded_radius": radius})
		}
		f.axle.Static = &Static{WheelLoad: [2]float64{load, 0}}
		got, want := 1/newSolver(t, &f.axle).Compliance()[3*Ports+3], cone+load*(height-radius)
		if !near(got, want, supported, want) {
			t.Errorf("wheel centre %g above the axis: %.9g N·mm/rad, want %.9g", height, got, want)
		}
	}
}

// A link under tension T holds its end sideways by T/length, under compression
// it pushes it away; a column of links falls over when that exceeds its guide.
func TestLinkUnderTension(t *testing.T) {
	const guide, weight, length = 12.0, 3000.0, 400.0
	for _, c := range []struct{ above, force float64 }{{length, weight}, {-length, -weight}, {length / 3, weight}} {
		f := newStructure(t, vec{0, 0, 500})
		f.holds(0, [6]float64{guide, 2 * guide, 1e-6, heldTurn, heldTurn, heldTurn})
		f.add(Link, Vehicle, 0, values{"inner.z": 500 + c.above, "outer.z": 500, "inner_rate": 2e9, "outer_rate": 2e9}, Choice{})
		f.hangs(weight)
		s := f.solver()
		if got := s.StaticLoad(1, 0); !near(got, c.force, balance, weight) {
			t.Errorf("link carries %.9g N, want %g", got, c.force)
		}
		for axis, rate := range [2]float64{guide, 2 * guide} {
			got, want := 1/s.Compliance()[axis*(Ports+1)], rate+c.force/math.Abs(c.above)
			if !near(got, want, supported, guide) {
				t.Errorf("link of %g mm with %g N: rate along %d is %.9g N/mm, want %.9g", c.above, c.force, axis, got, want)
			}
		}
	}
	f := newStructure(t, vec{0, 0, 500})
	f.holds(0, [6]float64{guide, 2 * guide, 1e-6, heldTurn, heldTurn, heldTurn})
	f.add(Link, Vehicle, 0, values{"inner.z": 500 - length, "outer.z": 500, "inner_rate": 2e9, "outer_rate": 2e9}, Choice{})
	f.hangs(1.01 * guide * length)
	for i := range f.axle.Wheels {
		f.axle.Wheels[i] = wheelOn(t, 0, with(point("centre", vec{0, 0, 500}), values{"loaded_radius": 1}))
	}
	free := freeMotions(t, &f.axle)
	if !free.Unstable || len(free.Motions) != 1 {
		t.Fatalf("a link that stands on its end and gives way: %v", free)
	}
	checkScrew(t, free.Motions[0], Screw{Body: "node0", Direction: vec{1, 0, 0}})
}

// A spring between two seats has the rate along its line and load/length across
// it, less what it pushes.
func TestSpringPushesSideways(t *testing.T) {
	const guide, load, rate, length = 40.0, 5000.0, 25.0, 250.0
	f := newStructure(t, vec{0, 0, 500})
	f.holds(0, [6]float64{guide, guide, 1e-6, heldTurn, heldTurn, heldTurn})
	f.add(Spring, Vehicle, 0, values{"upper.z": 500 + length, "lower.z": 500, "rate": rate, "load": 1200}, Choice{})
	f.hangs(-load) // pushed up
	s := f.solver()
	if got := s.StaticLoad(1, 0); !near(got, -load, 1e-6, load) { // the guide's 1e-6 N/mm takes its share
		t.Errorf("spring carries %g N whatever load was written, want %g", got, -load)
	}
	if got, want := 1/s.Compliance()[0], guide-load/length; !near(got, want, supported, guide) {
		t.Errorf("across %.9g N/mm, want %.9g", got, want)
	}
	if got := 1 / s.Compliance()[2*(Ports+1)]; !near(got, rate, supported, rate) {
		t.Errorf("along %.9g N/mm, want %g", got, rate)
	}
}

// stringMatrix is the geometric stiffness of a beam per newton of tension in its
// own axes (Przemieniecki 1968, eq. 15.13: 6/5L, 1/10, 2L/15, −L/30), and the
// twist Ip/(A·L) of its fibres (Wagner).
func stringMatrix(length, polar float64) *mat.SymDense {
	k := mat.NewSymDense(12, nil)
	for _, plane := range []struct {
		v, turn int
		sign    float64
	}{{1, 5, 1}, {2, 4, -1}} {
		v, turn, lever := plane.v, plane.turn, plane.sign/10
		k.SetSym(v, v, 6/(5*length))
		k.SetSym(v+6, v+6, 6/(5*length))
		k.SetSym(v, v+6, -6/(5*length))
		k.SetSym(v, turn, lever)
		k.SetSym(v, turn+6, lever)
		k.SetSym(turn, v+6, -lever)
		k.SetSym(v+6, turn+6, -lever)
		k.SetSym(turn, turn, 2*length/15)
		k.SetSym(turn+6, turn+6, 2*length/15)
		k.SetSym(turn, turn+6, -length/30)
	}
	k.SetSym(3, 3, polar/length)
	k.SetSym(9, 9, polar/length)
	k.SetSym(3, 9, -polar/length)
	return k
}

// A beam under tension against the textbook's geometric stiffness, in any place
// and turn, with inertia in mixed axes. Motions here are about the axle's centre,
// so that a turn moves the ends along the beam by second order: the tension times
// that comes on top of the textbook's, which moves the ends themselves.
func TestBeamUnderTensionIsTextbookMatrix(t *testing.T) {
	const tension = 7000.0
	for _, place := range [][2]vec{{{270, 550, 310}, {270, -550, 310}}, {{10, 20, 30}, {400, -300, 200}}, {{0, 0, 0}, {0, 0, 500}}} {
		f := newStructure(t, place[0], place[1])
		f.beam(0, 1, values{"tilt": 33, "area": 1100, "inertia_forward": 1.9e6, "inertia_up": 0.7e6, "inertia_mixed": 3e5, "torsion_constant": 9300})
		f.support(0, [6]float64{900, 900, 900, 1e7, 1e7, 1e7})
		f.wheels = [2]int{0, 1}
		s := f.solver()
		s.preload[0][0] = tension
		axial := place[1].Sub(place[0]).Unit()
		ends := func(p, q *endMotion) vec {
			to := turnTwice(rotation(&p.to), rotation(&q.to), place[1].Sub(s.centre))
			return to.Sub(turnTwice(rotation(&p.from), rotation(&q.from), place[0].Sub(s.centre)))
		}
		got := mat.NewDense(12, 12, nil)
		for i := range 12 {
			p := f.unitMotion(s, i)
			for j := range 12 {
				q := f.unitMotion(s, j)
				got.Set(i, j, s.staticForm(0, &p, &q)/tension-axial.Dot(ends(&p, &q)))
			}
		}
		length := place[1].Sub(place[0]).Norm()
		want := inVehicleAxes(stringMatrix(length, 2.6e6/1100), triad(place[0], place[1], 33*math.Pi/180))
		for i := range 12 {
			for j := range 12 {
				scale := 1 / length
				for _, n := range [2]int{i, j} {
					if n%6 >= 3 {
						scale *= length
					}
				}
				if !near(got.At(i, j), want.At(i, j), sameMatrix, scale) {
					t.Errorf("%v: entry %d, %d per newton %.9g, textbook %.9g", place, i, j, got.At(i, j), want.At(i, j))
				}
			}
		}
	}
}

// unitMotion moves one freedom of the first two nodes by one.
func (f *structure) unitMotion(s *Solver, freedom int) endMotion {
	var m endMotion
	node, i := freedom/6, freedom%6
	var w exact.Wrench[float64]
	w[i] = 1
	if i >= 3 {
		back := unit(i - 3).Cross(f.points[node].Sub(s.centre)).Scale(-1)
		w[0], w[1], w[2] = back[0], back[1], back[2]
	}
	if node == 0 {
		m.from = w
	} else {
		m.to = w
	}
	for r := range 6 {
		m.relative[r] = m.to[r] - m.from[r]
	}
	return m
}

// column is a straight bar of twelve beams, clamped at the ground, with a weight
// at its end: standing (up +1) or hanging (−1).
func column(t *testing.T, up, weight float64) *structure {
	const pieces = 12
	f := newStructure(t)
	last := f.ground(vec{})
	for i := range pieces {
		next := f.node(vec{0, 0, up * columnLength * float64(i+1) / pieces})
		f.beam(last, next, values{"area": 400, "inertia_forward": columnInertia, "inertia_up": 3 * columnInertia, "torsion_constant": 2e4})
		last = next
	}
	f.wheels = [2]int{last, last}
	f.hangs(weight)
	for i := range f.axle.Wheels {
		f.axle.Wheels[i] = wheelOn(t, pieces-1, with(point("centre", f.points[last]), values{"loaded_radius": 1}))
	}
	return f
}

const (
	columnLength  = 1000.0
	columnInertia = 1.3e4
	columnEI      = 210000 * columnInertia
	// twelvePieces is the error of cubic shapes in a column of twelve: (βL/12)⁴/720.
	twelvePieces = 2e-5
)

// The bar held by its end load: sideways rate P/(tan(βL)/β − L) standing,
// P/(L − tanh(βL)/β) hanging, β = √(P/EI) (Timoshenko & Gere, Theory of Elastic
// Stability, 1961, ch. 1), weak plane y (the beam's forward when upright).
func TestBeamColumn(t *testing.T) {
	euler := math.Pi * math.Pi * columnEI / (4 * columnLength * columnLength)
	for _, share := range []float64{0.2, 0.5, 0.9} {
		weight := share * euler
		beta := math.Sqrt(weight / columnEI)
		standing := weight / (math.Tan(beta*columnLength)/beta - columnLength)
		hanging := weight / (columnLength - math.Tanh(beta*columnLength)/beta)
		for up, want := range map[float64]float64{1: standing, -1: hanging} {
			got := 1 / column(t, up, weight).solver().Compliance()[Ports+1]
			if !near(got, want, twelvePieces/(1-share), want) {
				t.Errorf("%g of the Euler load, up %g: %.8g N/mm, closed form %.8g", share, up, got, want)
			}
		}
	}
	if _, err := NewSolver(&column(t, 1, 0.999*euler).axle); err != nil {
		t.Errorf("under the Euler load: %v", err)
	}
	if free := freeMotions(t, &column(t, 1, 1.001*euler).axle); !free.Unstable {
		t.Errorf("above the Euler load: %v", free)
	}
}

// A clamped deep strip under a weight at its end tips over at 4.013·√(EI·GJ)/L²
// (Timoshenko & Gere 1961, sect. 6.3): the loads in bending and shear at rest act
// on twist and sideways bending. 24 pieces are within 0.4 % of it.
func TestDeepStripTipsOver(t *testing.T) {
	const pieces, length, inertia, torsion = 24, 1000.0, 2e3, 8e3
	critical := 4.013 * math.Sqrt(210000*inertia*210000/2.6*torsion) / (length * length)
	strip := func(weight float64) *Axle {
		f := newStructure(t)
		last := f.ground(vec{})
		for i := range pieces {
			next := f.node(vec{length * float64(i+1) / pieces, 0, 0})
			f.beam(last, next, values{"area": 400, "inertia_forward": inertia, "inertia_up": 1e4 * inertia, "torsion_constant": torsion})
			last = next
		}
		f.hangs(weight)
		for i := range f.axle.Wheels {
			f.axle.Wheels[i] = wheelOn(t, pieces-1, with(point("centre", f.points[last]), values{"loaded_radius": 1}))
		}
		return &f.axle
	}
	if _, err := NewSolver(strip(0.996 * critical)); err != nil {
		t.Errorf("under the critical load: %v", err)
	}
	if free := freeMotions(t, strip(1.004*critical)); !free.Unstable {
		t.Errorf("above the critical load: %v", free)
	}
}

// A clamped column whose shear centre lies e off its centroid twists as it
// bends: r²·(P₁ − P)·(P₂ − P) = P²·e² with P₁ = π²·EI/(4L²), P₂ = G·J/r²,
// r² = e² + Ip/A (Timoshenko & Gere 1961, sect. 5.6, without warping). Twist is
// straight within a piece: 16 of them are within 0.2 % of it.
func TestColumnTwistsAsItBends(t *testing.T) {
	const pieces, length, offset, area, weak, strong, torsion = 16, 1000.0, 30.0, 600.0, 4e4, 40e4, 900.0
	square := offset*offset + (weak+strong)/area
	bends, twists := math.Pi*math.Pi*210000*weak/(4*length*length), 210000/2.6*torsion/square
	a, b, c := 1-offset*offset/square, -(bends + twists), bends*twists
	critical := (-b - math.Sqrt(b*b-4*a*c)) / (2 * a)
	column := func(weight float64) *Axle {
		f := newStructure(t)
		last := f.ground(vec{})
		for i := range pieces {
			next := f.node(vec{0, 0, length * float64(i+1) / pieces})
			f.beam(last, next, values{"area": area, "inertia_forward": strong, "inertia_up": weak, "torsion_constant": torsion, "shear_centre.f": offset})
			last = next
		}
		f.hangs(weight)
		for i := range f.axle.Wheels {
			f.axle.Wheels[i] = wheelOn(t, pieces-1, with(point("centre", f.points[last]), values{"loaded_radius": 1}))
		}
		return &f.axle
	}
	if least := math.Min(bends, twists); critical > 0.9*least {
		t.Fatalf("bending %g, twist %g, both %g N: the test wants them coupled", bends, twists, critical)
	}
	if _, err := NewSolver(column(0.998 * critical)); err != nil {
		t.Errorf("under the critical load: %v", err)
	}
	if free := freeMotions(t, column(1.002*critical)); !free.Unstable {
		t.Errorf("above the critical load: %v", free)
	}
}
