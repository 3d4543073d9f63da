package exact

// Vec is a vector in space: x forward, y left, z up (ISO 8855).
type Vec[T Number] [3]T

// Wrench is a force and a moment about one agreed point, or, in the same
// order, a displacement of that point and a rotation: components 0 to 2 and
// 3 to 5.
type Wrench[T Number] [6]T

// Mat3 is a 3×3 matrix by rows.
type Mat3[T Number] [3][3]T

// Add returns a + b.
func (a Vec[T]) Add(b Vec[T]) Vec[T] { return Vec[T]{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Sub returns a − b.
func (a Vec[T]) Sub(b Vec[T]) Vec[T] { return Vec[T]{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// Scale returns s·a.
func (a Vec[T]) Scale(s T) Vec[T] { return Vec[T]{s * a[0], s * a[1], s * a[2]} }

// Dot returns a·b without conjugation.
func (a Vec[T]) Dot(b Vec[T]) T { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross returns a × b.
func (a Vec[T]) Cross(b Vec[T]) Vec[T] {
	return Vec[T]{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Norm returns the length of a.
func (a Vec[T]) Norm() T { return Sqrt(a.Dot(a)) }

// Unit returns a over its length; a must not be zero.
func (a Vec[T]) Unit() Vec[T] { return a.Scale(1 / a.Norm()) }

// LiftVec turns a plain vector into one without derivatives.
func LiftVec[T Number](a Vec[float64]) Vec[T] {
	return Vec[T]{Lift[T](a[0]), Lift[T](a[1]), Lift[T](a[2])}
}

// Force is the wrench of a force f acting at r, about the origin of r.
func Force[T Number](f, r Vec[T]) Wrench[T] {
	m := r.Cross(f)
	return Wrench[T]{f[0], f[1], f[2], m[0], m[1], m[2]}
}

// Moment is the wrench of a pure moment m.
func Moment[T Number](m Vec[T]) Wrench[T] { return Wrench[T]{0, 0, 0, m[0], m[1], m[2]} }

// Dot is the work of a wrench on a displacement, or of a displacement on a wrench.
func (a *Wrench[T]) Dot(b *Wrench[T]) T {
	return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3] + a[4]*b[4] + a[5]*b[5]
}

// Mul returns the matrix product a·b.
func (a Mat3[T]) Mul(b Mat3[T]) Mat3[T] {
	var c Mat3[T]
	for i := range c {
		for j := range c {
			c[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j] + a[i][2]*b[2][j]
		}
	}
	return c
}

// Apply returns a·v.
func (a Mat3[T]) Apply(v Vec[T]) Vec[T] {
	return Vec[T]{Vec[T](a[0]).Dot(v), Vec[T](a[1]).Dot(v), Vec[T](a[2]).Dot(v)}
}

// Column returns column j of a.
func (a Mat3[T]) Column(j int) Vec[T] { return Vec[T]{a[0][j], a[1][j], a[2][j]} }

// RotX is the right-handed rotation by an angle in radians about x.
func RotX[T Number](angle T) Mat3[T] {
	s, c := Sincos(angle)
	return Mat3[T]{{1, 0, 0}, {0, c, -s}, {0, s, c}}
}

// RotY is the right-handed rotation by an angle in radians about y.
func RotY[T Number](angle T) Mat3[T] {
	s, c := Sincos(angle)
	return Mat3[T]{{c, 0, s}, {0, 1, 0}, {-s, 0, c}}
}

// RotZ is the right-handed rotation by an angle in radians about z.
func RotZ[T Number](angle T) Mat3[T] {
	s, c := Sincos(angle)
	return Mat3[T]{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}
}
