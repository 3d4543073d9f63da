package rubber

import "math"

// padLimits are the limits of a pad's compression, shear and shape factor, the
// last exact. The fields: see limits.go. Compression: even stress with sides free
// to bulge, and even strain without any bulge. Shear: shear stress f(x) that
// vanishes at the free sides with σ = −z·f'(x) across, which reach h/6 deep; and
// even shear.
func padLimits(p *Pad[float64], m *Moduli[float64], c Choice) []Between {
	low, high := p.compressionLimits(m)
	shear := m.G / p.Thickness
	depth := p.Thickness / 6 * math.Sqrt(1+m.G/(3*m.Bulk))
	limits := []Between{
		{low, high, "sides free to bulge", "no bulge at all"},
		{shear * max(0, p.Area-2*depth*p.Span), shear * p.Area, "shear that vanishes at the free sides", "even shear"},
		{p.Shape, p.Shape, "exact", "exact"},
	}
	if c.Free {
		limits[1].Low, limits[1].LowIs = 0, "no friction"
		limits[1].HighIs = "held by friction as if bonded"
	}
	return limits
}

// compressionLimits are limits of the rate in N/mm square to the plates.
func (p *Pad[T]) compressionLimits(m *Moduli[T]) (low, high T) {
	per := p.Area / p.Thickness
	return m.E * per, (m.Bulk + 4*m.E/9) * per
}
