package rubber

import "bushtune/bushing/exact"

// InclinedPair is two equal mounts side by side whose axes of compression lean
// towards each other at the top (Lewis & Unholtz 1947; Crede 1951; Harris, Shock
// and Vibration Handbook: from memory).
type InclinedPair[T exact.Number] struct {
	HalfSpacing        T // mm: each mount from the middle
	Tilt               T // rad: axis of compression from the upright
	Compression, Shear T // N/mm of one mount along and across its axis
}

// squares returns cos² and sin² of the tilt.
func (p *InclinedPair[T]) squares() (cos, sin T) {
	s, c := exact.Sincos(p.Tilt)
	return c * c, s * s
}

// Vertical is the rate in N/mm of the pair up and down.
func (p *InclinedPair[T]) Vertical() T {
	cos, sin := p.squares()
	return 2 * (p.Compression*cos + p.Shear*sin)
}

// Lateral is the rate in N/mm of the pair sideways at the elastic centre.
func (p *InclinedPair[T]) Lateral() T {
	cos, sin := p.squares()
	return 2 * (p.Compression*sin + p.Shear*cos)
}

// Along is the rate in N/mm of the pair square to the plane of both axes.
func (p *InclinedPair[T]) Along() T { return 2 * p.Shear }

// Centre is the height in mm above the mounts where a side force does not roll.
func (p *InclinedPair[T]) Centre() T {
	tan, ratio := exact.Tan(p.Tilt), p.Compression/p.Shear
	return p.HalfSpacing * (ratio - 1) * tan / (ratio*tan*tan + 1)
}

// Crossing is the height in mm where the axes of compression meet, always above
// the elastic centre.
func (p *InclinedPair[T]) Crossing() T { return p.HalfSpacing / exact.Tan(p.Tilt) }

// Highest is the highest that the elastic centre gets, mm, at tan tilt = √(shear/compression).
func (p *InclinedPair[T]) Highest() T {
	ratio := p.Compression / p.Shear
	return p.HalfSpacing * (ratio - 1) / (2 * exact.Sqrt(ratio))
}

// Roll is the rate in N·mm/rad of the pair about the elastic centre.
func (p *InclinedPair[T]) Roll() T {
	cos, sin := p.squares()
	return 2 * p.HalfSpacing * p.HalfSpacing * p.Compression * p.Shear / (p.Compression*sin + p.Shear*cos)
}
