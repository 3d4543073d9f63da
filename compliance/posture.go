package compliance

import (
	"gonum.org/v1/gonum/num/quat"

	"bushtune/bushing/exact"
)

// pose is where a body has moved: the displacement of its point at the axle's
// centre in mm, and its rotation from the design position.
type pose[T exact.Number] struct {
	shift exact.Vec[T]
	turn  exact.Mat3[T]
}

// designPose is the pose of a body at the design position, and of the vehicle.
func designPose[T exact.Number]() pose[T] {
	return pose[T]{turn: exact.Mat3[T]{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
}

// point is where a point of the body has gone, r and result from the axle's
// centre at rest.
func (p *pose[T]) point(r exact.Vec[T]) exact.Vec[T] { return p.shift.Add(p.turn.Apply(r)) }

// back expresses a vector in the axes of the body at rest.
func back[T exact.Number](turn *exact.Mat3[T], v exact.Vec[T]) exact.Vec[T] {
	return exact.Vec[T]{turn.Column(0).Dot(v), turn.Column(1).Dot(v), turn.Column(2).Dot(v)}
}

// seeded is the pose with one of its six freedoms raised by the complex step: a
// displacement, or a rotation about a fixed axis.
func seeded(p *pose[float64], freedom int) pose[complex128] {
	q := pose[complex128]{shift: exact.LiftVec[complex128](p.shift)}
	for r := range 3 {
		q.turn[r] = exact.LiftVec[complex128](p.turn[r])
	}
	if freedom < 3 {
		q.shift[freedom] += complex(0, exact.Step)
		return q
	}
	axis := freedom - 3
	next, last := (axis+1)%3, (axis+2)%3 // (1 + [axis])·turn: row next −= last, row last += next
	for c := range 3 {
		q.turn[next][c] -= complex(0, exact.Step*p.turn[last][c])
		q.turn[last][c] += complex(0, exact.Step*p.turn[next][c])
	}
	return q
}

// lifted is a pose without derivatives.
func lifted(p *pose[float64]) pose[complex128] {
	q := pose[complex128]{shift: exact.LiftVec[complex128](p.shift)}
	for r := range 3 {
		q.turn[r] = exact.LiftVec[complex128](p.turn[r])
	}
	return q
}

// posture is where the whole axle has moved. Rotations are unit quaternions, so
// that any number of increments keeps them rotations.
type posture struct {
	shifts []vec
	turns  []quat.Number
	warp   []float64  // rates of twist, rad/mm
	pads   [2]float64 // N, change of the pads' forces
}

func newPosture(bodies, warps int) posture {
	p := posture{shifts: make([]vec, bodies), turns: make([]quat.Number, bodies), warp: make([]float64, warps)}
	p.reset()
	return p
}

// reset goes back to the design position.
func (p *posture) reset() {
	clear(p.shifts)
	for i := range p.turns {
		p.turns[i] = quat.Number{Real: 1}
	}
	clear(p.warp)
	p.pads = [2]float64{}
}

// copyFrom takes over another posture of the same axle.
func (p *posture) copyFrom(other *posture) {
	copy(p.shifts, other.shifts)
	copy(p.turns, other.turns)
	copy(p.warp, other.warp)
	p.pads = other.pads
}

// clone is a copy in memory of its own.
func (p *posture) clone() posture {
	q := newPosture(len(p.shifts), len(p.warp))
	q.copyFrom(p)
	return q
}

// move adds factor times an increment over the unknowns: displacements and
// rotations about fixed axes of each body, rates of twist, pad forces. A body
// moves along the screw of its increment, so that a point which the increment
// leaves in place, as a stiff pivot, stays there at any size of it.
func (p *posture) move(d []float64, factor float64) {
	n := len(p.shifts)
	for b := range p.shifts {
		spin := vec(d[6*b+3 : 6*b+6]).Scale(factor)
		p.shifts[b] = p.shifts[b].Add(spinTranspose(spin.Scale(-1), vec(d[6*b:6*b+3]).Scale(factor)))
		half := spin.Scale(0.5)
		turn := quat.Mul(quat.Exp(quat.Number{Imag: half[0], Jmag: half[1], Kmag: half[2]}), p.turns[b])
		p.turns[b] = quat.Scale(1/quat.Abs(turn), turn)
	}
	for i := range p.warp {
		p.warp[i] += factor * d[6*n+i]
	}
	for i := range p.pads {
		p.pads[i] += factor * d[6*n+len(p.warp)+i]
	}
}

// body is the pose of one body.
func (p *posture) body(b int) pose[float64] {
	return pose[float64]{shift: p.shifts[b], turn: quaternionMatrix(p.turns[b])}
}

// quaternionMatrix is the rotation matrix of a unit quaternion.
func quaternionMatrix(q quat.Number) exact.Mat3[float64] {
	w, x, y, z := q.Real, q.Imag, q.Jmag, q.Kmag
	return exact.Mat3[float64]{
		{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
	}
}

// nearZero is the squared sine under which the functions of a rotation vector
// use their series, exact there to double precision.
const nearZero = 1e-4

// turnVector is the rotation vector of a rotation by less than half a turn.
func turnVector[T exact.Number](q *exact.Mat3[T]) exact.Vec[T] {
	v := exact.Vec[T]{q[2][1] - q[1][2], q[0][2] - q[2][0], q[1][0] - q[0][1]}.Scale(0.5)
	s2 := v.Dot(v) // sin²
	cos := (q[0][0] + q[1][1] + q[2][2] - 1) / 2
	if exact.Real(s2) < nearZero && exact.Real(cos) > 0 {
		return v.Scale(1 + s2*(1.0/6+s2*(3.0/40+s2*(15.0/336+s2*(105.0/3456))))) // asin(s)/s
	}
	s := exact.Sqrt(s2)
	return v.Scale(exact.Atan2(s, cos) / s)
}

// turnOf is the rotation of a rotation vector (Rodrigues).
func turnOf[T exact.Number](v exact.Vec[T]) exact.Mat3[T] {
	a, b := rodrigues(v.Dot(v))
	var m exact.Mat3[T]
	for r := range 3 {
		for c := range 3 {
			m[r][c] = b * v[r] * v[c]
		}
		m[r][r] += 1 - b*v.Dot(v)
	}
	m[0][1], m[0][2] = m[0][1]-a*v[2], m[0][2]+a*v[1]
	m[1][0], m[1][2] = m[1][0]+a*v[2], m[1][2]-a*v[0]
	m[2][0], m[2][1] = m[2][0]-a*v[1], m[2][1]+a*v[0]
	return m
}

// rodrigues is sin θ/θ and (1 − cos θ)/θ² for θ².
func rodrigues[T exact.Number](t2 T) (a, b T) {
	if exact.Real(t2) < nearZero {
		return 1 - t2/6*(1-t2/20*(1-t2/42)), 0.5 - t2/24*(1-t2/30*(1-t2/56))
	}
	t := exact.Sqrt(t2)
	sin, cos := exact.Sincos(t)
	return sin / t, (1 - cos) / t2
}

// spinTranspose is Jᵀ·c, with J·dv the spin of turnOf(v) about fixed axes:
// J = 1 + b·[v] + (1 − a)/θ²·[v]².
func spinTranspose[T exact.Number](v, c exact.Vec[T]) exact.Vec[T] {
	t2 := v.Dot(v)
	a, b := rodrigues(t2)
	third := exact.Lift[T](1.0 / 6)
	if exact.Real(t2) >= nearZero {
		third = (1 - a) / t2
	} else {
		third -= t2 / 120 * (1 - t2/42)
	}
	vc := v.Cross(c)
	return c.Sub(vc.Scale(b)).Add(v.Cross(vc).Scale(third))
}

// inverseSpinTranspose is J⁻ᵀ·c with J as in spinTranspose:
// J⁻¹ = 1 − ½[v] + (1 − ½θ·cot ½θ)/θ²·[v]².
func inverseSpinTranspose[T exact.Number](v, c exact.Vec[T]) exact.Vec[T] {
	t2 := v.Dot(v)
	k := 1.0/12 + t2/720*(1+t2/42*(1+t2/40))
	if exact.Real(t2) >= nearZero {
		t := exact.Sqrt(t2)
		sin, cos := exact.Sincos(t / 2)
		k = (1 - t/2*cos/sin) / t2
	}
	vc := v.Cross(c)
	return c.Add(vc.Scale(0.5)).Add(v.Cross(vc).Scale(k))
}
