package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// ShortRadial is the radial rate in N/mm of a bush much shorter than its wall:
// plane stress (a problem in Barber, Elasticity, 3rd ed. 2010, with κ = 5/3;
// the same from memory in Adkins & Gent, Brit. J. Appl. Phys. 5, 1954).
func (c *Cylinder[T]) ShortRadial() T {
	sum, ratio := c.radii()
	return 80 * math.Pi * c.G * c.Length / (25*sum - 9*ratio)
}

// LongRadial is the radial rate in N/mm of an incompressible bush much longer
// than its diameter: plane strain (same sources, κ = 1).
func (c *Cylinder[T]) LongRadial() T {
	sum, ratio := c.radii()
	return 4 * math.Pi * c.G * c.Length / (sum - ratio)
}

// radii returns ln(b/a) and (b² − a²)/(b² + a²).
func (c *Cylinder[T]) radii() (logarithm, ratio T) {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return exact.Log(c.Outside / c.Inside), (b - a) / (b + a)
}

// film describes how pressure in the rubber of a thin wall falls to nothing at
// its free faces: along the axis it follows 1 − cosh(z/λ)/cosh(L/2λ).
type film[T exact.Number] struct {
	share T // of the pressure of an endless incompressible bush that is left in the middle
	x     T // half the length over the decay length λ
}

// film is the pressure of the wall when its decay length without compression is
// spread (mm). A bulk modulus acts as a bed under the film: 1/λ² = 1/spread² + 12 G/(B t²).
func (c *Cylinder[T]) film(spread T) film[T] {
	wall := c.Outside - c.Inside
	bed := 12 * c.G / (c.Bulk * wall * wall)
	inverse := 1/(spread*spread) + bed
	return film[T]{share: 1 / (spread * spread * inverse), x: c.Length / 2 * exact.Sqrt(inverse)}
}

// force is the share of the endless bush's film force that is left.
func (f film[T]) force() T { return f.share * (1 - exact.Tanh(f.x)/f.x) }

// moment is the share of the film's moment about the middle that is left when
// the wall's approach grows with z.
func (f film[T]) moment() T {
	return f.share * (1 - 3*(f.x/exact.Tanh(f.x)-1)/(f.x*f.x))
}

// meanRadius is the radius of mean square of the wall, mm.
func (c *Cylinder[T]) meanRadius() T {
	return exact.Sqrt((c.Inside*c.Inside + c.Outside*c.Outside) / 2)
}

// radialFilm is the part of the radial rate that pressure carries: a bridge
// between the two limits, derived here from the flow of a thin film.
func (c *Cylinder[T]) radialBridge() T {
	short := c.ShortRadial()
	return short + (c.LongRadial()-short)*c.film(c.meanRadius()).force()
}

// Radial is the rate in N/mm across the axis, of finite length and bulk modulus.
func (c *Cylinder[T]) Radial() T { return c.radialBridge() }
