package rubber

import "bushtune/bushing/exact"

// sleeved tells whether a rigid intermediate sleeve splits the rubber in two rings.
func (b *Bush[T]) sleeved() bool { return exact.Real(b.SleeveDiameter) != 0 }

// ring is the rubber between two diameters.
func (b *Bush[T]) ring(inner, outer T, m *Moduli[T]) Cylinder[T] {
	return Cylinder[T]{Inside: inner / 2, Outside: outer / 2, Length: b.Length, G: m.G, Bulk: m.Bulk}
}

// outerRing is the rubber in the outer sleeve, which holds the voids: all of it
// if there is no intermediate sleeve.
func (b *Bush[T]) outerRing(m *Moduli[T]) Cylinder[T] {
	if !b.sleeved() {
		return b.ring(b.Inner, b.Outer, m)
	}
	return b.ring(b.SleeveDiameter+b.SleeveWall, b.Outer, m)
}

// innerRing is the rubber inside the intermediate sleeve.
func (b *Bush[T]) innerRing(m *Moduli[T]) Cylinder[T] {
	return b.ring(b.Inner, b.SleeveDiameter-b.SleeveWall, m)
}

// series is the rate of two springs one behind the other.
func series[T exact.Number](a, b T) T { return a * b / (a + b) }

// inside puts an inner ring in series with the outer ring. The sleeve between
// them is free and takes its equilibrium. All three planes through the middle are
// planes of symmetry, so no direction pulls it along another and each rate is a
// plain series. The void stays open until the outer ring alone has moved its gap.
func (outer Rates[T]) inside(inner *Rates[T]) Rates[T] {
	r := Rates[T]{
		Soft:      series(outer.Soft, inner.Soft),
		Axial:     series(outer.Axial, inner.Axial),
		Stiff:     series(outer.Stiff, inner.Stiff),
		ConeSoft:  series(outer.ConeSoft, inner.ConeSoft),
		Torsion:   series(outer.Torsion, inner.Torsion),
		ConeStiff: series(outer.ConeStiff, inner.ConeStiff),
	}
	if exact.Real(outer.VoidGap) != 0 {
		r.VoidGap = outer.VoidGap * (1 + outer.Soft/inner.Soft)
		r.VoidSnubber = series(outer.Soft+outer.VoidSnubber, inner.Soft) - r.Soft
	}
	return r
}

// voidRadius is the radius in mm of the corners of the voids in their ring: as large as
// fits unless it is given, since a core with sharp corners tears the rubber as it is
// drawn and where it works (common practice, no source).
func (b *Bush[T]) voidRadius(ring *Cylinder[T]) T {
	if exact.Real(b.VoidRadius) != 0 {
		return b.VoidRadius
	}
	return ring.FullRound(b.VoidArc, b.VoidDepth)
}

// CornerRadius is the radius in mm of the corners of the voids, given or as round as fits.
func (b *Bush[T]) CornerRadius() T {
	ring := b.outerRing(&Moduli[T]{})
	return b.voidRadius(&ring)
}
