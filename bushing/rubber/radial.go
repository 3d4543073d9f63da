package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// ShortRadial is the radial rate in N/mm of a bush much shorter than its wall:
// plane stress (a problem in Barber, Elasticity, 3rd ed. 2010, with κ = 5/3; the
// same from memory in Adkins & Gent, Brit. J. Appl. Phys. 5, 1954).
func (c *Cylinder[T]) ShortRadial() T {
	logarithm, ratio := c.radii()
	return 80 * math.Pi * c.G * c.Length / (25*logarithm - 9*ratio)
}

// LongRadial is the radial rate in N/mm of an incompressible bush much longer
// than its diameter: plane strain (same sources, κ = 1).
func (c *Cylinder[T]) LongRadial() T {
	logarithm, ratio := c.radii()
	return 4 * math.Pi * c.G * c.Length / (logarithm - ratio)
}

// radii returns ln(b/a) and (b² − a²)/(b² + a²).
func (c *Cylinder[T]) radii() (logarithm, ratio T) {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return c.logarithm(), (b - a) / (b + a)
}

// film describes how the pressure of the rubber in a thin wall falls to nothing at
// its free ends: along the axis it follows 1 − cosh(z/λ)/cosh(L/2λ).
type film[T exact.Number] struct {
	share T // of the pressure of an endless incompressible wall that is left in the middle
	x     T // half the length over the decay length λ
}

// film is that of pressure which spreads over the given length (mm) along the
// circumference. Rubber in a thin wall moves as a viscous film would flow
// (Reynolds); volume that it gives up is a bed under the film, so
// 1/λ² = 1/spread² + 12 G/(B t²).
func (c *Cylinder[T]) film(spread T) film[T] {
	wall := c.wall()
	free := 1 / (spread * spread)
	held := free + 12*c.G/(c.Bulk*wall*wall)
	return film[T]{share: free / held, x: c.Length / 2 * exact.Sqrt(held)}
}

// force is the share of the endless wall's force per length that is left.
func (f film[T]) force() T { return f.share * (1 - exact.Tanh(f.x)/f.x) }

// moment is the share of ∫p·z over that of the endless wall, where the walls
// approach in proportion to z: tilting.
func (f film[T]) moment() T {
	return f.share * (1 - 3*(f.x/exact.Tanh(f.x)-1)/(f.x*f.x))
}

// meanRadius is the radius of mean square of the wall, mm.
func (c *Cylinder[T]) meanRadius() T {
	return exact.Sqrt((c.Inside*c.Inside + c.Outside*c.Outside) / 2)
}

// pressed is what pressure adds to the radial rate of an endless bush, N/mm.
func (c *Cylinder[T]) pressed() T { return c.LongRadial() - c.ShortRadial() }

// radialBridge is the radial rate between both limits: what the short bush has, and
// the film's share of the rest. Pressure p ~ cos φ spreads over the mean radius.
func (c *Cylinder[T]) radialBridge() T {
	f := c.film(c.meanRadius())
	return c.ShortRadial() + c.pressed()*f.force()
}

// Radial is the rate in N/mm across the axis, of finite length and bulk modulus.
func (c *Cylinder[T]) Radial() T {
	terms := c.plainTerms()
	return c.radialBridge() * correction(terms[:], radialCoefficients[:])
}
