package rubber

import "math"

// Conical is the rate in N·mm/rad of tilting the sleeves about the middle.
func (c *Cylinder[T]) Conical() T {
	terms := c.plainTerms()
	return c.conicalBridge() * correction(terms[:], conicalCoefficients[:])
}

// conicalBridge is the ring in shear along the axis, and a rigid sleeve that tilts
// on the bed of the radial rate.
func (c *Cylinder[T]) conicalBridge() T {
	f := c.film(c.meanRadius())
	return c.tiltShear() + c.tiltBed(c.ShortRadial()+c.pressed()*f.moment())
}

// tiltShear is the moment per angle of rubber sheared along the axis by a tilting
// sleeve, N·mm/rad: ∇²w = 0 with w = r·sin φ inside and nothing outside.
func (c *Cylinder[T]) tiltShear() T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return math.Pi * c.G * c.Length * a * (a + b) / (b - a)
}

// tiltBed is the moment per angle of a bed of the given rate (N/mm over the whole
// length), N·mm/rad.
func (c *Cylinder[T]) tiltBed(rate T) T { return rate * c.Length * c.Length / 12 }
