package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

// The load stiffness of every element against second differences of its
// potential Σ N·e(motion), with e written here for finite rotations:
// displacement and rotation of To against From in axes that turn with the outer
// sleeve, or the length between two points. Nothing is shared with the formulas
// tested but the lines at the design position.
func TestLoadStiffnessIsCurvatureOfPotential(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	s := newSolver(t, everything(t))
	for i := range s.lines {
		for l := range s.lines[i].Count {
			s.preload[i][l] = 1000 * (rng.Float64() - 0.5)
		}
		p, q := randomEnds(rng), randomEnds(rng)
		got := s.staticForm(i, &p, &q)
		want := curvature(func(m *endMotion) float64 { return s.finitePotential(i, m) }, &p, &q)
		if scale := math.Abs(want) + 1e3; !near(got, want, 1e-6, scale) {
			t.Errorf("%s: load stiffness %.9g, curvature of the potential %.9g", s.axle.Elements[i].Label(), got, want)
		}
	}
}

func randomEnds(rng *rand.Rand) endMotion {
	var m endMotion
	for r := range 6 {
		scale := 1.0
		if r >= 3 {
			scale = 0.01
		}
		m.from[r], m.to[r] = scale*(rng.Float64()-0.5), scale*(rng.Float64()-0.5)
		m.relative[r] = m.to[r] - m.from[r]
	}
	return m
}

// curvature is the mixed second derivative of f at rest along p and q, by
// central differences extrapolated once.
func curvature(f func(*endMotion) float64, p, q *endMotion) float64 {
	mixed := func(h float64) float64 {
		at := func(sp, sq float64) float64 {
			var m endMotion
			for r := range 6 {
				m.from[r] = h * (sp*p.from[r] + sq*q.from[r])
				m.to[r] = h * (sp*p.to[r] + sq*q.to[r])
			}
			return f(&m)
		}
		return (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * h * h)
	}
	coarse, fine := mixed(0.4), mixed(0.2)
	return (4*fine - coarse) / 3
}

// finitePotential is Σ N·e for a finite motion of both bodies.
func (s *Solver) finitePotential(i int, m *endMotion) float64 {
	lines := &s.lines[i]
	an := &lines.Anchor
	turnFrom, turnTo := rotationMatrix(rotation(&m.from)), rotationMatrix(rotation(&m.to))
	from := linear(&m.from).Add(turnFrom.Apply(an.From))
	to := linear(&m.to).Add(turnTo.Apply(an.To))
	gap := to.Sub(from)
	if an.TwoPoint {
		return s.preload[i][0] * gap.Norm()
	}
	axes := transposed(rotationMatrix(rotation(&m.from).Scale(1 - an.Lean).Add(rotation(&m.to).Scale(an.Lean))))
	slid := axes.Apply(gap)
	turned := axes.Apply(rotationVector(turnTo.Mul(transposed(turnFrom))))
	sum := 0.0
	var e [maxLines]float64
	for l := range lines.Count {
		force := linear(&lines.Wrench[l])
		moment := rotation(&lines.Wrench[l]).Sub(an.To.Cross(force))
		e[l] = force.Dot(slid) + moment.Dot(turned)
		sum += s.preload[i][l] * e[l]
	}
	for _, t := range lines.Second {
		sum += s.preload[i][t.line] * t.by * e[t.a] * e[t.b]
	}
	return sum
}

// rotationMatrix is Rodrigues' formula.
func rotationMatrix(v vec) exact.Mat3[float64] {
	angle := v.Norm()
	m := exact.Mat3[float64]{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	if angle == 0 {
		return m
	}
	k := skew(v.Scale(1 / angle))
	kk := k.Mul(k)
	for r := range 3 {
		for c := range 3 {
			m[r][c] += math.Sin(angle)*k[r][c] + (1-math.Cos(angle))*kk[r][c]
		}
	}
	return m
}

// rotationVector is the inverse of rotationMatrix for small angles.
func rotationVector(m exact.Mat3[float64]) vec {
	v := vec{m[2][1] - m[1][2], m[0][2] - m[2][0], m[1][0] - m[0][1]}.Scale(0.5)
	sin := v.Norm()
	if sin == 0 {
		return v
	}
	return v.Scale(math.Asin(sin) / sin)
}

// A wheel's static load against second differences of the height of its lowest
// point and of its centre, by turns of its body and by turns of the wheel alone.
func TestWheelLoadStiffnessIsCurvatureOfHeight(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	s := newSolver(t, everything(t))
	for wheel, w := range s.axle.Wheels {
		static := newStaticWheel(w.Slots, wheel, s.axle.Static, s.centre)
		lowest := func(m *endMotion) float64 {
			spin := rotationMatrix(rotation(&m.to)).Apply(static.spin)
			return -static.radius * math.Sqrt(1-spin[2]*spin[2])
		}
		onSpin := func(m *endMotion) float64 { return -static.patch * lowest(m) }
		whole := func(m *endMotion) float64 {
			centre := rotationMatrix(rotation(&m.to)).Apply(static.centre)[2]
			return static.weight*centre - static.patch*(centre+lowest(m))
		}
		p, q := randomEnds(rng), randomEnds(rng)
		turnP, turnQ := rotation(&p.to), rotation(&q.to)
		if got, want := static.onSpin(turnP, turnQ), curvature(onSpin, &p, &q); !near(got, want, 1e-6, math.Abs(want)) {
			t.Errorf("wheel %d: by its spin axis %.9g, curvature %.9g", wheel, got, want)
		}
		if got, want := static.onSpin(turnP, turnQ)+static.onCentre(turnP, turnQ), curvature(whole, &p, &q); !near(got, want, 1e-6, math.Abs(want)) {
			t.Errorf("wheel %d: %.9g, curvature %.9g", wheel, got, want)
		}
	}
}

// The assembled stiffness between two random motions is the sum of its forms:
// the blocks of addTurning, addAcross and addTwice against staticForm.
func TestAssemblyAgreesWithForms(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	s := newSolver(t, everything(t))
	u, v := make([]float64, s.size), make([]float64, s.size)
	for i := range u {
		u[i], v[i] = (rng.Float64()-0.5)/s.freedomLength(i), (rng.Float64()-0.5)/s.freedomLength(i)
	}
	got, size := 0.0, 0.0
	for i := range s.size {
		for j := range s.size {
			term := u[i] * s.stiffness[min(i, j)*s.size+max(i, j)] * v[j]
			got += term
			size += math.Abs(term)
		}
	}
	want := 0.0
	for i := range s.lines {
		p, q := s.ends(i, u), s.ends(i, v)
		for l := range s.lines[i].Count {
			want += s.lines[i].Rate[l] * p.strain(&s.lines[i], l) * q.strain(&s.lines[i], l)
		}
		want += s.staticForm(i, &p, &q)
	}
	for wheel, w := range s.axle.Wheels {
		want += s.hubs[wheel].stiffness(bodyRotation(u, w.Body), bodyRotation(v, w.Body))
	}
	if !near(got, want, 1e-13, size) {
		t.Errorf("assembled %.12g, forms %.12g", got, want)
	}
}
