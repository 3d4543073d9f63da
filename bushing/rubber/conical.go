package rubber

import "math"

// conicalBridge is the rate in N·mm/rad of tilting about the middle: the ring in
// shear along the axis, and a beam on the bed of the radial rate.
func (c *Cylinder[T]) conicalBridge() T {
	short := c.ShortRadial()
	bed := short + (c.LongRadial()-short)*c.film(c.meanRadius()).moment()
	return c.tiltShear() + bed*c.Length*c.Length/12
}

// tiltShear is the moment per angle of rubber sheared along the axis by a tilting
// sleeve: ∇²w = 0 with w = r·sin θ inside and nothing outside.
func (c *Cylinder[T]) tiltShear() T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return math.Pi * c.G * c.Length * a * (a + b) / (b - a)
}

// Conical is the rate in N·mm/rad of tilting the sleeves about the middle.
func (c *Cylinder[T]) Conical() T { return c.conicalBridge() }
