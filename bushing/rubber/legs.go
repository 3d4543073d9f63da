package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// legs are the two columns of rubber that the voids leave, of half angle ψ about
// the stiff radial. Their methods are shares of the full ring. φ counts from the
// stiff radial.
type legs[T exact.Number] struct {
	half     T // ψ, rad
	sin, cos T
}

func newLegs[T exact.Number](half T) legs[T] {
	s, c := exact.Sincos(half)
	return legs[T]{half, s, c}
}

// perQuarter turns an integral over half a leg into a share of the full ring.
const perQuarter = 2 / math.Pi

// angle is the share of the circumference.
func (l legs[T]) angle() T { return perQuarter * l.half }

// along and across are the shares of ∫cos²φ and ∫sin²φ.
func (l legs[T]) along() T  { return perQuarter * (l.half + l.sin*l.cos) }
func (l legs[T]) across() T { return perQuarter * (l.half - l.sin*l.cos) }

// stiffFilm is the pressure in legs that are pressed along the stiff radial, with
// none on their sides: P = cos φ − cos ψ solves d²P/dφ² = −cos φ. It returns ∫P·cos φ as
// a share of the full ring's, and the angle over which P spreads, of √(∫P²/∫P'²),
// with which the pressure falls towards the free ends (Kantorovich's method).
func (l legs[T]) stiffFilm() (share, spread T) {
	h, s, c := l.half, l.sin, l.cos
	force := h - s*c
	square := h - 3*s*c + 2*h*c*c
	return perQuarter * force, exact.Sqrt(square / force)
}

// softFilm is the same for legs moved along the soft radial, which presses one half
// of each and draws the other: P = sin φ − φ·sin ψ/ψ.
func (l legs[T]) softFilm() (share, spread T) {
	h, s, c := l.half, l.sin, l.cos
	force := h + s*c - 2*s*s/h
	square := h + 3*s*c - 4*s*s/h + 2*h*s*s/3
	return perQuarter * force, exact.Sqrt(square / force)
}
