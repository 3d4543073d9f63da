package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// legs are the two columns of rubber that the voids leave, of half angle ψ about
// the stiff radial: what share of the full ring's rates they keep.
type legs[T exact.Number] struct {
	half     T // ψ, rad
	sin, cos T
}

func newLegs[T exact.Number](arc T) legs[T] {
	half := (math.Pi - arc) / 2
	s, c := exact.Sincos(half)
	return legs[T]{half, s, c}
}

// angle is the share of the circumference.
func (l legs[T]) angle() T { return 2 / math.Pi * l.half }

// along and across are the shares of ∫cos² and ∫sin² over the circumference,
// angles from the stiff radial.
func (l legs[T]) along() T  { return 2 / math.Pi * (l.half + l.sin*l.cos) }
func (l legs[T]) across() T { return 2 / math.Pi * (l.half - l.sin*l.cos) }

// stiffFilm is the pressure of a leg that is pressed along the stiff radial,
// P = cos φ − cos ψ, without pressure on its sides: its force as a share of the
// whole ring's, and how far it spreads along the circumference, as an angle.
func (l legs[T]) stiffFilm() (share, spread T) {
	force := l.half - l.sin*l.cos
	square := l.half - 3*l.sin*l.cos + 2*l.half*l.cos*l.cos
	return 2 / math.Pi * force, exact.Sqrt(square / force)
}

// softFilm is the same of a leg moved along the soft radial, which presses one
// half of it and draws the other: P = sin φ − φ sin ψ/ψ.
func (l legs[T]) softFilm() (share, spread T) {
	s, c, h := l.sin, l.cos, l.half
	force := h + s*c - 2*s*s/h
	square := h + 3*s*c - 4*s*s/h + 2*s*s*h/3
	return 2 / math.Pi * force, exact.Sqrt(square / force)
}

// Voided is the full set of rates with two kidney voids of the given arc (rad)
// and depth (mm); no arc, no depth: the plain rates exactly.
func (c *Cylinder[T]) Voided(arc, depth T) Rates[T] {
	if exact.Real(arc) == 0 || exact.Real(depth) == 0 {
		return c.plain()
	}
	l := newLegs(arc)
	stiffShare, stiffSpread := l.stiffFilm()
	softShare, softSpread := l.softFilm()
	stiffFilm, softFilm := c.film(stiffSpread*c.meanRadius()), c.film(softSpread*c.meanRadius())
	short := c.ShortRadial()
	pressure := c.LongRadial() - short
	stiffShort := short * (4*l.along() + l.across()) / 5
	softShort := short * (4*l.across() + l.along()) / 5
	arm := c.Length * c.Length / 12
	return Rates[T]{
		Soft:      softShort + pressure*softShare*softFilm.force(),
		Axial:     c.Axial() * l.angle(),
		Stiff:     stiffShort + pressure*stiffShare*stiffFilm.force(),
		ConeSoft:  c.tiltShear()*l.along() + arm*(stiffShort+pressure*stiffShare*stiffFilm.moment()),
		Torsion:   c.Torsion() * l.angle(),
		ConeStiff: c.tiltShear()*l.across() + arm*(softShort+pressure*softShare*softFilm.moment()),
		VoidGap:   depth, VoidSnubber: c.voidSnubber(arc, depth),
	}
}

// plain is the full set of rates without voids.
func (c *Cylinder[T]) plain() Rates[T] {
	radial, conical := c.Radial(), c.Conical()
	return Rates[T]{
		Soft: radial, Axial: c.Axial(), Stiff: radial,
		ConeSoft: conical, Torsion: c.Torsion(), ConeStiff: conical,
	}
}

// voidSnubber is the rate in N/mm that one void adds once the middle half of its
// arc is closed: both skins, pressed on each other, are one film of their joint
// thickness over that arc. It is nothing when the void first touches, and grows.
func (c *Cylinder[T]) voidSnubber(arc, depth T) T {
	skins := c.Outside - c.Inside - depth
	radius := c.meanRadius()
	pressed := Cylinder[T]{
		Inside: radius - skins/2, Outside: radius + skins/2, Length: c.Length, G: c.G, Bulk: c.Bulk,
	}
	l := newLegs(math.Pi - arc/2)
	share, spread := l.stiffFilm()
	short := pressed.ShortRadial()
	return (short*(4*l.along()+l.across())/5 +
		(pressed.LongRadial()-short)*share*pressed.film(spread*pressed.meanRadius()).force()) / 2
}
