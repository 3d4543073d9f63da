package rubber

import (
	"math"

	"bushtune/bushing/exact"
)

// Pad is a flat piece of rubber between two rigid plates that it is bonded to,
// by what its rates depend on.
type Pad[T exact.Number] struct {
	Area      T    // mm²: one loaded face
	Thickness T    // mm between the plates
	Shape     T    // shape factor: one loaded area over the free area of the sides
	Long      bool // bulges across its width only: a strip, or one bent to a ring
	Span      T    // mm: length of the free sides as seen along the plates, at most
	Least     T    // mm: least dimension along the plates
}

// NewBlock is a rectangular block.
func NewBlock[T exact.Number](length, width, thickness T) Pad[T] {
	area := length * width
	return Pad[T]{
		Area: area, Thickness: thickness, Shape: area / (2 * thickness * (length + width)),
		Span: larger(length, width), Least: length + width - larger(length, width),
	}
}

// NewDisc is a round block.
func NewDisc[T exact.Number](diameter, thickness T) Pad[T] {
	return Pad[T]{
		Area: math.Pi / 4 * diameter * diameter, Thickness: thickness, Shape: diameter / (4 * thickness),
		Span: diameter, Least: diameter,
	}
}

// NewStrip is a block so long that its ends do not count.
func NewStrip[T exact.Number](length, width, thickness T) Pad[T] {
	return Pad[T]{
		Area: length * width, Thickness: thickness, Shape: width / (2 * thickness), Long: true,
		Span: length, Least: width,
	}
}

// NewRing is a flat ring, a strip bent round.
func NewRing[T exact.Number](outer, inner, thickness T) Pad[T] {
	return NewStrip(math.Pi/2*(outer+inner), (outer-inner)/2, thickness)
}

func larger[T exact.Number](x, y T) T {
	if exact.Real(x) > exact.Real(y) {
		return x
	}
	return y
}

// Modulus is the compression modulus in MPa. Bonded: E0(1 + 2kS²), or of a strip
// 4/3·E0(1 + kS²), with the bulk modulus in series (Gent & Lindley, Proc. IMechE
// 173, 1959; Lindley, Engineering Design with Natural Rubber). Free and without
// friction the sides do not bulge: E0.
func (p *Pad[T]) Modulus(m *Moduli[T], c Choice) T {
	if c.Free {
		return m.E
	}
	kSS := m.Factor * p.Shape * p.Shape
	modulus := m.E * (1 + 2*kSS)
	if p.Long {
		modulus = 4 * m.E / 3 * (1 + kSS)
	}
	return modulus / (1 + modulus/m.Bulk)
}

// Compression is the rate in N/mm square to the plates.
func (p *Pad[T]) Compression(m *Moduli[T], c Choice) T {
	return p.Modulus(m, c) * p.Area / p.Thickness
}

// Shear is the rate in N/mm along the plates, which do not tilt; nothing but
// friction if the rubber is free.
func (p *Pad[T]) Shear(m *Moduli[T], c Choice) T {
	if c.Free {
		return 0
	}
	return m.G * p.Area / p.Thickness
}
