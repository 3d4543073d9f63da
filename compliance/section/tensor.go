package section

import (
	"math"

	"bushtune/bushing/exact"
)

// Tensor is a symmetric tensor in the section's plane.
type Tensor[T exact.Number] struct{ FF, UU, FU T }

// flatness bounds the determinant of a tensor over the square of half its
// trace: below it the tensor counts as singular. The thinnest profile that
// passes is a million times as wide as high.
const flatness = 1e-12

// add adds weight·a⊗a.
func (m *Tensor[T]) add(a Point[T], weight T) {
	m.FF += weight * a.F * a.F
	m.UU += weight * a.U * a.U
	m.FU += weight * a.F * a.U
}

// inverse returns the inverse of a positive definite tensor, or false.
func (m Tensor[T]) inverse() (inverse Tensor[T], ok bool) {
	determinant := m.FF*m.UU - m.FU*m.FU
	half := exact.Real(m.FF+m.UU) / 2
	if !(exact.Real(determinant) > flatness*half*half) {
		return m, false
	}
	by := 1 / determinant
	return Tensor[T]{FF: m.UU * by, UU: m.FF * by, FU: -m.FU * by}, true
}

// apply returns m·a.
func (m Tensor[T]) apply(a Point[T]) Point[T] {
	return Point[T]{m.FF*a.F + m.FU*a.U, m.FU*a.F + m.UU*a.U}
}

// congruent returns m·b·m.
func (m Tensor[T]) congruent(b Tensor[T]) Tensor[T] {
	f := m.apply(b.apply(Point[T]{m.FF, m.FU}))
	u := m.apply(b.apply(Point[T]{m.FU, m.UU}))
	return Tensor[T]{FF: f.F, UU: u.U, FU: f.U}
}

// Principal returns the principal values, the larger first, and the direction
// of the larger in rad from f towards u, between −π/2 and π/2: values without
// derivatives, for printing. For second moments it is the direction in which
// the section spreads most, so the axis of its stiffer bending lies across it.
func (m Tensor[T]) Principal() (larger, smaller, angle float64) {
	ff, uu, fu := exact.Real(m.FF), exact.Real(m.UU), exact.Real(m.FU)
	mean, radius := (ff+uu)/2, math.Hypot((ff-uu)/2, fu)
	return mean + radius, mean - radius, math.Atan2(2*fu, ff-uu) / 2
}
