package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

const (
	// gradientShare is what Richardson differences of a potential leave of its
	// gradient in double precision.
	gradientShare = 1e-9
	// closedShare is the work left on a closed path as a share of the work done
	// and given back on it; the quadrature is exact to rounding.
	closedShare = 1e-10
	// objectiveShare is rounding of a few products of rotations.
	objectiveShare = 1e-12
)

// ends is where both bodies of an element are, and the rates of twist there.
type ends struct {
	from, to pose[float64]
	warp     [2]float64
}

// randomPose is up to 30 mm and 0.4 rad away from the design position, about
// any axis.
func randomPose(rng *rand.Rand, turn float64) pose[float64] {
	v := vec{spread(rng, turn), spread(rng, turn), spread(rng, turn)}
	return pose[float64]{shift: vec{spread(rng, 30), spread(rng, 30), spread(rng, 30)}, turn: rotationMatrix(v)}
}

func randomPlaces(rng *rand.Rand) ends {
	return ends{randomPose(rng, 0.4), randomPose(rng, 0.4), [2]float64{spread(rng, 1e-4), spread(rng, 1e-4)}}
}

// kick moves one freedom of a pose: along an axis, or about it.
func kick(p pose[float64], freedom int, by float64) pose[float64] {
	var v vec
	v[freedom%3] = by
	if freedom < 3 {
		p.shift = p.shift.Add(v)
	} else {
		p.turn = rotationMatrix(v).Mul(p.turn)
	}
	return p
}

// moved is ends with one of 14 freedoms moved: six of From, six of To, the rates
// of twist.
func (e ends) moved(freedom int, by float64) ends {
	switch {
	case freedom < 6:
		e.from = kick(e.from, freedom, by)
	case freedom < 12:
		e.to = kick(e.to, freedom-6, by)
	default:
		e.warp[freedom-12] += by
	}
	return e
}

// wideRotationVector is the inverse of rotationMatrix up to half a turn.
func wideRotationVector(m exact.Mat3[float64]) vec {
	v := vec{m[2][1] - m[1][2], m[0][2] - m[2][0], m[1][0] - m[0][1]}.Scale(0.5)
	sin, cos := v.Norm(), (m[0][0]+m[1][1]+m[2][2]-1)/2
	if sin == 0 {
		return v
	}
	return v.Scale(math.Atan2(sin, cos) / sin)
}

// storedEnergy is the potential of an element in N·mm, written from the strains
// of its lines at finite movements; only rates, wrenches and constants are those
// of the solver. A two-point element strains by its length. Others strain by
// displacement and rotation of To against From in axes that turn with the force
// axes; a beam's lines get their strains of the second order on top.
func storedEnergy(s *Solver, i int, at *ends) float64 {
	lines := &s.lines[i]
	an := &lines.Anchor
	gap := at.to.shift.Add(at.to.turn.Apply(an.To)).Sub(at.from.shift.Add(at.from.turn.Apply(an.From)))
	if an.TwoPoint {
		e := gap.Norm() - an.To.Sub(an.From).Norm()
		return (s.preload[i][0] + 0.5*lines.Rate[0]*e) * e
	}
	relative := transposed(at.from.turn).Mul(at.to.turn) // in From's axes
	turned := wideRotationVector(relative)
	axes := at.from.turn.Mul(rotationMatrix(turned.Scale(an.Lean)))
	slid := transposed(axes).Apply(gap)
	var e [maxLines]float64
	for l := range lines.Count {
		force := linear(&lines.Wrench[l])
		moment := rotation(&lines.Wrench[l]).Sub(an.To.Cross(force))
		e[l] = force.Dot(slid) + moment.Dot(turned) + lines.Warp[l][0]*at.warp[0] + lines.Warp[l][1]*at.warp[1]
	}
	energy, second := 0.0, e
	for _, t := range lines.Second {
		second[t.line] += t.by * e[t.a] * e[t.b]
	}
	wound := 0.0
	for _, t := range lines.Wound {
		wound += t.by * e[t.a] * e[t.b]
	}
	energy += 0.5 * lines.Helix * wound * wound
	e = second
	for l := range lines.Count {
		energy += (s.preload[i][l] + 0.5*lines.Rate[l]*e[l]) * e[l]
	}
	return energy
}

// resistance is an element's resistance at ends, as 14 numbers.
func resistance(s *Solver, i int, at *ends) (r [14]float64) {
	arm := armsOf(&s.lines[i])
	out, _ := resist(&s.lines[i], &arm, &s.preload[i], &at.from, &at.to, at.warp)
	copy(r[:6], out.from[:])
	copy(r[6:12], out.to[:])
	copy(r[12:], out.warp[:])
	return r
}

// kindsAtRest are solvers that together hold every kind of element and every
// choice that changes its kinematics, with random loads at rest.
func kindsAtRest(t *testing.T, rng *rand.Rand) []*Solver {
	var all []*Solver
	helix := everything(t)
	for i := range helix.Elements {
		if e := &helix.Elements[i]; e.Kind == Beam {
			e.Slots[beamSlots+14] = 5e10
			e.Slots[beamSlots+15], e.Slots[beamSlots+16] = 60, -150
			e.Slots[beamSlots+3] = 0 // no mixed inertia: another line direction
		}
	}
	axles := testAxles(t)
	for _, axle := range []*Axle{axles["everything"], helix, axles["pressed V"], lopsided(t), solidRubber(t)} {
		for i := range axle.Elements {
			if e := &axle.Elements[i]; e.Kind == BumpStop {
				e.Slots[7] = 0 // closed: an open one carries nothing at rest, and has a kink where it closes
			}
		}
		s := newSolver(t, axle)
		for i := range s.lines {
			for l := range s.lines[i].Count {
				s.preload[i][l] = spread(rng, 2000)
			}
		}
		all = append(all, s)
	}
	return all
}

// forEveryElement runs a check for each element, three times at random ends.
func forEveryElement(t *testing.T, check func(t *testing.T, rng *rand.Rand, s *Solver, i int, at *ends)) {
	rng := rand.New(rand.NewPCG(31, 32))
	seen := map[*Kind]bool{}
	for _, s := range kindsAtRest(t, rng) {
		for i := range s.lines {
			e := &s.axle.Elements[i]
			seen[e.Kind] = true
			t.Run(e.Label(), func(t *testing.T) {
				for range 3 {
					at := randomPlaces(rng)
					check(t, rng, s, i, &at)
				}
			})
		}
	}
	for _, k := range []*Kind{Bush, BushMatrix, BushRubber, Link, Spring, BumpStop, Damper, TorsionBar, Beam} {
		if !seen[k] {
			t.Errorf("no %s %s was checked", k.Table, k.Variant)
		}
	}
}

// scales are what 14 derivatives of an element are judged by: the largest force
// and the largest moment, and the moment over a length for the rates of twist.
func scales(r *[14]float64) (s [14]float64) {
	force, moment, warp := 1.0, 1e3, max(1e6, math.Abs(r[12]), math.Abs(r[13]))
	for k := range 12 {
		if k%6 < 3 {
			force = max(force, math.Abs(r[k]))
		} else {
			moment = max(moment, math.Abs(r[k]))
		}
	}
	for k := range s {
		switch {
		case k >= 12:
			s[k] = warp
		case k%6 < 3:
			s[k] = force
		default:
			s[k] = moment
		}
	}
	return s
}

// smallStep is a step for differences by one of 14 freedoms.
func smallStep(freedom int) float64 {
	switch {
	case freedom >= 12:
		return 1e-4
	case freedom%6 < 3:
		return 4
	}
	return 0.02
}

// Forces, moments and bimoments are the gradient of the potential at any
// movement of both bodies.
func TestResistanceIsGradientOfPotential(t *testing.T) {
	forEveryElement(t, func(t *testing.T, _ *rand.Rand, s *Solver, i int, at *ends) {
		got := resistance(s, i, at)
		size := scales(&got)
		for k := range got {
			want := richardson(func(x float64) float64 {
				there := at.moved(k, x)
				return storedEnergy(s, i, &there)
			}, 0, smallStep(k))
			if !near(got[k], want, gradientShare, size[k]) {
				t.Errorf("freedom %d: %.12g, gradient of the potential %.12g", k, got[k], want)
			}
		}
	})
}

// closedPath is a loop of both bodies with three waves on each freedom, and its
// speed.
type closedPath struct{ size, phase [14]float64 }

func newClosedPath(rng *rand.Rand) (c closedPath) {
	for k := range c.size {
		c.size[k], c.phase[k] = [3]float64{20, 0.3, 1e-4}[min(k%6/3+2*(k/12), 2)], 6*rng.Float64()
	}
	return c
}

// at is the place at a time and how fast the six freedoms of both bodies and the
// rates of twist change: spins by complex step of the rotation's matrix.
func (c *closedPath) at(time float64) (e ends, speed [14]float64) {
	var x [14]complex128
	for k := range x {
		n := float64(1 + k%3)
		x[k] = complex(c.size[k]*math.Sin(n*time+c.phase[k]), exact.Step*c.size[k]*n*math.Cos(n*time+c.phase[k]))
		speed[k] = imag(x[k]) / exact.Step
	}
	for end, p := range [2]*pose[float64]{&e.from, &e.to} {
		q := x[6*end : 6*end+6]
		turn := exact.RotZ(q[5]).Mul(exact.RotY(q[4])).Mul(exact.RotX(q[3]))
		var rate exact.Mat3[float64]
		for r := range 3 {
			p.shift[r] = real(q[r])
			for col := range 3 {
				p.turn[r][col], rate[r][col] = real(turn[r][col]), imag(turn[r][col])/exact.Step
			}
		}
		spin := rate.Mul(transposed(p.turn))
		speed[6*end+3], speed[6*end+4], speed[6*end+5] = spin[2][1], spin[0][2], spin[1][0]
	}
	e.warp = [2]float64{real(x[12]), real(x[13])}
	return e, speed
}

// An element gives back on a closed path all the work that was done on it. The
// trapezoidal rule converges faster than any power on a periodic integrand
// (Trefethen & Weideman, SIAM Review 56, 2014).
func TestNoWorkOnClosedPaths(t *testing.T) {
	const points = 2048
	forEveryElement(t, func(t *testing.T, rng *rand.Rand, s *Solver, i int, _ *ends) {
		path := newClosedPath(rng)
		work, traffic := 0.0, 1e-3
		for n := range points {
			at, speed := path.at(2 * math.Pi * float64(n) / points)
			power := 0.0
			for k, r := range resistance(s, i, &at) {
				power += r * speed[k]
			}
			work += power / points
			traffic += math.Abs(power) / points
		}
		if math.Abs(work) > closedShare*traffic {
			t.Errorf("%.3g of the work is left on a closed path, want %g", work/traffic, closedShare)
		}
	})
}

// The bodies' wrenches balance: no force and no moment about the vehicle's origin
// is left. So an element neither pushes nor turns the axle as a whole.
func TestResistanceBalances(t *testing.T) {
	forEveryElement(t, func(t *testing.T, _ *rand.Rand, s *Solver, i int, at *ends) {
		r := resistance(s, i, at)
		size := scales(&r)
		forceFrom, forceTo := vec(r[0:3]), vec(r[6:9])
		moment := vec(r[3:6]).Add(vec(r[9:12])).Add(at.from.shift.Cross(forceFrom)).Add(at.to.shift.Cross(forceTo))
		for k, v := range forceFrom.Add(forceTo) {
			if !near(v, 0, objectiveShare, size[0]) || !near(moment[k], 0, objectiveShare, size[3]+100*size[0]) {
				t.Errorf("%g N and %g N·mm are left along axis %d", v, moment[k], k)
			}
		}
	})
}

// Both bodies moved as one: the wrenches turn with them and nothing else
// changes, for any rotation.
func TestResistanceIsObjective(t *testing.T) {
	forEveryElement(t, func(t *testing.T, rng *rand.Rand, s *Solver, i int, at *ends) {
		whole := randomPose(rng, 2.5)
		move := func(p pose[float64]) pose[float64] {
			return pose[float64]{shift: whole.shift.Add(whole.turn.Apply(p.shift)), turn: whole.turn.Mul(p.turn)}
		}
		want := resistance(s, i, at)
		size := scales(&want)
		got := resistance(s, i, &ends{move(at.from), move(at.to), at.warp})
		for k := 0; k < 12; k += 3 {
			turned := whole.turn.Apply(vec(want[k : k+3]))
			for r := range 3 {
				if !near(got[k+r], turned[r], 10*objectiveShare, size[k]) {
					t.Errorf("freedom %d: %.15g, turned with the axle %.15g", k+r, got[k+r], turned[r])
				}
			}
		}
		for k := 12; k < 14; k++ {
			if !near(got[k], want[k], 10*objectiveShare, size[k]) {
				t.Errorf("bimoment %d: %.15g, unmoved %.15g", k-12, got[k], want[k])
			}
		}
	})
}

// The exact tangent of each element alone against Richardson differences.
func TestElementTangents(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for _, axle := range []*Axle{everything(t), testAxles(t)["pressed V"]} {
		m := newMover(t, axle)
		for i := range m.lines {
			m.now.reset()
			randomPosture(m, rng)
			clear(m.tangent.Data)
			m.addElementTangent(i, &m.now)
			checkElementTangent(t, m, i)
		}
	}
}

func checkElementTangent(t *testing.T, m *Mover, i int) {
	t.Helper()
	e := &m.solver.axle.Elements[i]
	for j := range m.solver.size {
		for r := range m.solver.size {
			got := m.tangent.Data[r*m.size+j]
			want := richardson(func(x float64) float64 {
				m.trial.copyFrom(&m.now)
				clear(m.step)
				m.step[j] = x
				m.trial.move(m.step, 1)
				return elementResidual(m, i, r)
			}, 0, 4/m.solver.freedomLength(j))
			row, column := m.tangent.Data[r*m.size+r], m.tangent.Data[j*m.size+j]
			scale := math.Abs(want) + 1e-2*math.Sqrt(math.Abs(row*column)) + 1
			if !near(got, want, 10*gradientShare, scale) {
				t.Errorf("%s: tangent[%d][%d] = %.12g, differences %.12g", e.Label(), r, j, got, want)
			}
		}
	}
}

// elementResidual is what one element adds to a residual at the trial.
func elementResidual(m *Mover, i, row int) float64 {
	e := &m.solver.axle.Elements[i]
	from, to, warp := m.endsAt(e, &m.trial)
	all := resistance(m.solver, i, &ends{from, to, warp})
	sum := 0.0
	for end, b := range [2]int{e.From, e.To} {
		switch {
		case b == Vehicle:
		case row/6 == b && row < 6*len(m.now.shifts):
			sum += all[6*end+row%6]
		case row == m.solver.warp[b]:
			sum += all[12+end]
		}
	}
	return sum
}
