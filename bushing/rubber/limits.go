package rubber

import "math"

// Two theorems bound every rate of a linear elastic body. A displacement field
// that fits the sleeves holds at least the energy of the true one, so its rate is
// an upper limit. A stress field in equilibrium that leaves the free faces free
// holds at least the energy of the true one under the same load, so its rate is a
// lower limit (Sokolnikoff, Mathematical Theory of Elasticity, from memory). The
// fields below are chosen for this file.

// kolosov returns κ for a short ring in plane stress and for a long one in plane
// strain, with the bulk modulus of the rubber.
func (c *Cylinder[T]) kolosov() (short, long T) {
	poisson := (3*c.Bulk - 2*c.G) / (2 * (3*c.Bulk + c.G))
	return (3 - poisson) / (1 + poisson), 3 - 4*poisson
}

// planeRadial is the radial rate in N/mm of a bonded ring in a plane state (a
// problem in Barber, Elasticity, 3rd ed. 2010).
func (c *Cylinder[T]) planeRadial(kappa T) T {
	n, q := c.radii()
	return 2 * math.Pi * c.G * c.Length * kappa * (kappa + 1) / (kappa*kappa*n - q)
}

// squeeze is 1 + G/3B: how much more a rod of the rubber yields than an
// incompressible one.
func squeeze(c *Cylinder[float64]) float64 { return 1 + c.G/(3*c.Bulk) }

// young is Young's modulus of the linear solid with the ring's G and B, MPa.
func young(c *Cylinder[float64]) float64 { return 3 * c.G / squeeze(c) }

// less is what is left of a length when a load that spreads evenly over it must
// vanish at both ends within a depth m.
func less(length, m float64) float64 { return length - 2*m*math.Tanh(length/(2*m)) }

// spokes is the variance ∫(r − r0)²/r dr, least for the best r0: the energy of
// radial stress that lets shear along the axis vanish at the ends.
func spokes(c *Cylinder[float64]) float64 {
	t := c.wall()
	return (c.Outside*c.Outside-c.Inside*c.Inside)/2 - t*t/c.logarithm()
}

// endDepth is how deep the free ends reach, mm: shear f(z)/r with radial stress
// f'(z)(1 − r0/r) has the energy ∫ f² + m²·f'².
func endDepth(c *Cylinder[float64]) float64 {
	return math.Sqrt(spokes(c) / (3 * c.logarithm()) * squeeze(c))
}

// legWidth is the angle of both legs between the voids that no void reaches, rad.
func legWidth(arc float64) float64 { return 2 * (math.Pi - arc) }

// axialLimits: shear f(z)/r in the legs with f = 0 at the free ends; and the ring
// without voids in plain shear.
func axialLimits(c *Cylinder[float64], arc float64) (low, high float64) {
	per := c.G / c.logarithm()
	return legWidth(arc) * per * less(c.Length, endDepth(c)), 2 * math.Pi * per * c.Length
}

// torsionLimits: shear T(φ)/r² in the legs with T = 0 at the voids, let go by
// radial stress; and the ring without voids, exact. Without voids both meet.
func torsionLimits(c *Cylinder[float64], arc float64) (low, high float64) {
	high = c.Torsion()
	if arc == 0 {
		return high, high
	}
	a, b := 1/c.Inside, 1/c.Outside
	shear, radial := (a*a-b*b)/2, (a-b)*(a-b)/c.logarithm()
	m := math.Sqrt((shear - radial) / (3 * shear) * squeeze(c))
	return 2 * c.G * c.Length / shear * less(legWidth(arc)/2, m), high
}

// radialLimits: plane stress, or with voids radial stress cos φ/r in the legs,
// whose ∫cos² is given; and plane strain without voids.
func radialLimits(c *Cylinder[float64], arc, cosines float64) (low, high float64) {
	short, long := c.kolosov()
	high = c.planeRadial(long)
	low = cosines * young(c) * c.Length / c.logarithm()
	if arc == 0 {
		low = c.planeRadial(short)
	}
	return low, high
}

// conicalLimits: radial stress and shear in the legs, or without voids plane stress
// that grows along the axis, whichever is more; and plane strain that does.
func conicalLimits(c *Cylinder[float64], arc, cosines float64) (low, high float64) {
	high = conicalLong(c)
	low = conicalLegs(c, cosines)
	if arc == 0 {
		short, _ := c.kolosov()
		low = max(low, c.planeRadial(short)*c.Length*c.Length/12)
	}
	return low, high
}

// conicalLegs is a lower limit of tilting: radial stress q(z)·cos φ/r and shear
// f(z)·cos φ/r in the legs, whose ∫cos² is given, with the best q and f: strips that
// are pressed each for itself, and a shear term.
func conicalLegs(c *Cylinder[float64], cosines float64) float64 {
	n, t := c.logarithm(), c.wall()
	strips := young(c) * math.Pow(c.Length, 3) / (12 * n)
	return cosines * (strips + t*t/(n*n*n)*c.G*less(c.Length, endDepth(c)))
}

// conicalLong is an upper limit of tilting: plane strain that grows along the
// axis, with an axial way w = −a²(b²/r − r)/(b² − a²)·cos φ that fits the sleeves.
func conicalLong(c *Cylinder[float64]) float64 {
	_, kappa := c.kolosov()
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	across := planeWays(c, kappa)
	shear := simpson(c.Inside, c.Outside, func(r float64) float64 {
		radial, around := across(r)
		radial += a * (b/(r*r) + 1) / (b - a)
		around += a * (b/(r*r) - 1) / (b - a)
		return (radial*radial + around*around) * r
	})
	return c.planeRadial(kappa)*c.Length*c.Length/12 + math.Pi*c.G*c.Length*shear
}

// planeWays returns the ways in a bonded ring whose inside moves by one along
// φ = 0: the radial one over cos φ and the one around over sin φ.
func planeWays(c *Cylinder[float64], kappa float64) func(r float64) (radial, around float64) {
	sum := c.Inside*c.Inside + c.Outside*c.Outside
	logs := 2 * kappa / (kappa + 1)
	cubic := 1 / (kappa * (kappa + 1) * sum)
	inverse := kappa * cubic * c.Inside * c.Inside * c.Outside * c.Outside
	raw := func(r float64) (radial, around float64) {
		even := -1/(kappa+1) + inverse/(r*r)
		return even + logs*math.Log(r/c.Outside) + (kappa-2)*cubic*r*r,
			even - logs*math.Log(r/c.Outside) + (kappa+2)*cubic*r*r
	}
	rest, _ := raw(c.Outside)
	whole, _ := raw(c.Inside)
	whole -= rest
	return func(r float64) (radial, around float64) {
		radial, around = raw(r)
		return (radial - rest) / whole, (around + rest) / whole
	}
}

// simpson integrates a smooth function.
func simpson(from, to float64, f func(float64) float64) float64 {
	const intervals = 64
	h := (to - from) / intervals
	sum := f(from) + f(to)
	for i := 1; i < intervals; i++ {
		sum += float64(2+2*(i%2)) * f(from+float64(i)*h)
	}
	return sum * h / 3
}
