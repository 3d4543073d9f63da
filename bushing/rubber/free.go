package rubber

import (
	"math"
)

// A free ring is pressed in without bond and kept in touch with both sleeves all
// round by its precompression. If it slides without friction it has no rate
// about and along the axis, and its radial rate follows from Michell's solution
// for one wave around (Barber, Elasticity) with the radial way given and no
// shear on both faces:
//
//	K = 4πGL(κ+1) / [2κ·ln(b/a) + ½(κ−1)²(b²−a²)/(b²+a²)]
//
// with κ = 5/3 for a short ring and κ = 1 for an endless one: 3π to 4π·GL/ln(b/a)
// for a thin wall. Friction adds stiffness, at most up to the bonded bush.

// Kolosov's κ of the plane states of an incompressible solid.
const (
	planeStress = 5. / 3 // short
	planeStrain = 1.     // endless
)

// slidingRadial is the radial rate in N/mm of a ring in a plane state that slides
// on both sleeves.
func (c *Cylinder[T]) slidingRadial(kappa T) T {
	n, q := c.radii()
	return 4 * math.Pi * c.G * c.Length * (kappa + 1) / (2*kappa*n + (kappa-1)*(kappa-1)/2*q)
}

// How a free ring goes from short to endless and what shear adds to its tilting,
// fitted to own Ritz series, not published: freeSpread is the length over the mean
// radius in which the ends lose their influence, freeShear the share that a short
// ring gains in tilting, lost over freeShearWalls times its wall.
const (
	freeSpread     = 3.9
	freeShear      = 0.12
	freeShearWalls = 1.7
)

// FreeError is the largest error of a free ring's rates against those series, for
// radii of 0.3 to 0.9 and lengths of 1 to 20 walls, if there is no friction.
const FreeError = 0.05

// free is the full set of rates of a ring that slides without friction.
func (c *Cylinder[T]) free() Rates[T] {
	short := c.slidingRadial(planeStress)
	rest := c.slidingRadial(planeStrain) - short
	ends := film[T]{share: 1, x: c.Length / (freeSpread * c.meanRadius())}
	walls := c.Length / (freeShearWalls * c.wall())
	radial := short + rest*ends.force()
	cone := c.Length * c.Length / 12 * (short + rest*ends.moment()) * (1 + freeShear/(1+walls*walls))
	return Rates[T]{Soft: radial, Stiff: radial, ConeSoft: cone, ConeStiff: cone}
}
