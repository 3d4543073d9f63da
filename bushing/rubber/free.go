package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// A free ring is pressed in without bond and kept in touch with both sleeves all
// round by its precompression. If it slides without friction it has no rate
// about and along the axis, and its radial rate follows from Michell's solution
// for one wave around (Barber, Elasticity) with the radial way given and no
// shear on both faces:
//
//	K = 4πGL(κ+1) / [2κ·ln(b/a) + ½(κ−1)²(b²−a²)/(b²+a²)]
//
// with κ = 5/3 for a short ring and κ = 1 for a long one: 3π to 4π·GL/ln(b/a)
// for a thin wall. Friction adds stiffness, at most up to the bonded bush.

// Plane solutions of an incompressible solid: κ of Kolosov.
const (
	planeStress = 5. / 3 // short
	planeStrain = 1.     // long
)

// slidingRadial is the radial rate in N/mm of a ring that slides on both sleeves.
func (c *Cylinder[T]) slidingRadial(kappa T) T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	ends := (kappa - 1) * (kappa - 1) / 2 * (b - a) / (b + a)
	return 4 * math.Pi * c.G * c.Length * (kappa + 1) / (2*kappa*c.logarithm() + ends)
}

// slidingTilt is the most that shear inside a long sliding ring adds to its rate
// of tilting, in N·mm/rad: the plane strain field v, growing along the axis, with
// the axial way c·cos φ that makes ∫|v + ∇w|² least.
func (c *Cylinder[T]) slidingTilt() T {
	a, b, n := c.Inside*c.Inside, c.Outside*c.Outside, c.logarithm()
	return math.Pi * c.G * c.Length * ((b-a)/(2*n*n) - a - a/n)
}

// free is the full set of rates of a ring that is not bonded: without friction,
// in the middle (by ratio) between short and long.
func (c *Cylinder[T]) free() Rates[T] {
	short, long := c.slidingRadial(planeStress), c.slidingRadial(planeStrain)
	arm := c.Length * c.Length / 12
	radial := exact.Sqrt(short * long)
	cone := exact.Sqrt(short * arm * (long*arm + c.slidingTilt()))
	return Rates[T]{Soft: radial, Stiff: radial, ConeSoft: cone, ConeStiff: cone}
}
