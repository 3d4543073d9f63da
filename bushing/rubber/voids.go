package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// skinSpread is how far a leg reaches into the skins that the voids leave on both
// sleeves, as a share of the skin; chosen for the least that is left to the fit.
const skinSpread = 0.7

// legsOf are the legs between two voids of an arc (rad) and a depth (mm).
func (c *Cylinder[T]) legsOf(arc, depth T) legs[T] {
	skin := (c.wall() - depth) / 2
	return newLegs((math.Pi-arc)/2 + exact.Lift[T](skinSpread)*skin/c.meanRadius())
}

// cornerShare is how far the rubber in rounded corners widens a leg: by this share of
// the square of their radius over the depth of the void. That rubber has the area of
// (4 − π)/2 = 0.43 of it, and more effect than its area where it ties leg and skin;
// chosen for the least that is left to the fit.
const cornerShare = 0.6

// filled is by how much rounded corners narrow a void of a depth (mm) as its legs see it,
// rad.
func (c *Cylinder[T]) filled(depth, radius T) T {
	return 2 * exact.Lift[T](cornerShare) * radius * radius / (depth * c.meanRadius())
}

// leaning is the factor on the shear rate of a leg because it also bends, as a
// beam that is built in at both sleeves and free over the depth of the void:
// 1/K = t/(G w) + d³/(4 G w³), plane strain, w the width of the leg.
func (c *Cylinder[T]) leaning(l legs[T], depth T) T {
	width := 2 * l.half * c.meanRadius()
	return 1 / (1 + depth*depth*depth/(4*width*width*c.wall()))
}

// FullRound is the largest radius in mm of the corners of a void of an arc (rad) and a
// depth (mm): half of the depth, so that the ends of the void are half circles, or in
// a narrow void as much as touches both flanks and the inner face.
func (c *Cylinder[T]) FullRound(arc, depth T) T {
	sin, _ := exact.Sincos(arc / 2)
	round, wedged := depth/2, (c.Inside+c.Outside-depth)/2*sin/(1-sin)
	if exact.Real(wedged) < exact.Real(round) {
		return wedged
	}
	return round
}

// Voided is the full set of rates with two kidney voids through the whole length,
// opposite each other along the soft radial: each of the given arc (rad) about the
// axis and depth (mm) in the middle of the wall, its corners rounded with a radius
// (mm) of up to FullRound; 0: square. Without arc or depth they are the plain rates
// exactly. Its errors are FitErrors. A void closes after its whole depth: its skins
// carry next to nothing, so they go with their sleeves.
func (c *Cylinder[T]) Voided(arc, depth, radius T) Rates[T] {
	if exact.Real(arc) == 0 || exact.Real(depth) == 0 {
		return c.plain()
	}
	r := c.ofLegs(c.legsOf(arc-c.filled(depth, radius), depth), depth)
	variables := c.voidVariables(arc, depth)
	terms, round := voidTermsOf(variables), roundTermsOf(variables, radius/c.FullRound(arc, depth))
	for i, rate := range []*T{&r.Soft, &r.Axial, &r.Stiff, &r.ConeSoft, &r.Torsion, &r.ConeStiff} {
		*rate *= correction(terms[:], voidCoefficients[i][:]) * correction(round[:], roundCoefficients[i][:])
	}
	r.VoidGap, r.VoidSnubber = depth, c.voidSnubber(arc, depth)
	return r
}

// plain is the full set of rates without voids.
func (c *Cylinder[T]) plain() Rates[T] {
	radial, conical := c.Radial(), c.Conical()
	return Rates[T]{
		Soft: radial, Axial: c.Axial(), Stiff: radial,
		ConeSoft: conical, Torsion: c.Torsion(), ConeStiff: conical,
	}
}

// ofLegs are the rates of the legs alone, each between free sides. Of a short
// bush's radial rate a thin wall owes four parts to rubber pressed between the
// sleeves (modulus 4 G) and one to rubber sheared (G); along and across the leg
// they weigh with cos²φ and sin²φ. To that comes the film of each leg. Torsion and
// the shear of a leg are weakened by its leaning.
func (c *Cylinder[T]) ofLegs(l legs[T], depth T) Rates[T] {
	terms := c.plainTerms()
	radial, conical := correction(terms[:], radialCoefficients[:]), correction(terms[:], conicalCoefficients[:])
	short, pressed, shear := c.ShortRadial(), c.pressed(), c.tiltShear()
	lean := c.leaning(l, depth)
	softShort := short * (4*l.across() + l.along()*lean) / 5
	stiffShort := short * (4*l.along() + l.across()*lean) / 5
	share, spread := l.softFilm()
	softPressed, soft := pressed*share, c.film(spread*c.meanRadius())
	share, spread = l.stiffFilm()
	stiffPressed, stiff := pressed*share, c.film(spread*c.meanRadius())
	return Rates[T]{
		Soft:      radial * (softShort + softPressed*soft.force()),
		Axial:     c.Axial() * l.angle(),
		Stiff:     radial * (stiffShort + stiffPressed*stiff.force()),
		ConeSoft:  conical * (shear*l.along() + c.tiltBed(stiffShort+stiffPressed*stiff.moment())),
		Torsion:   c.Torsion() * l.angle() * lean,
		ConeStiff: conical * (shear*l.across() + c.tiltBed(softShort+softPressed*soft.moment())),
	}
}
