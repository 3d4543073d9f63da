package rubber

import "bushtune/bushing"

// Rates returns the rates of a bush at small strain, and where its voids and end
// stops close. Zero, of a free bush, is a direction held by friction alone.
func (b *Bush[T]) Rates(c Choice) Rates[T] {
	m := b.Moduli(c)
	return b.ratesOf(&m, c)
}

// ratesOf are the rates with given moduli.
func (b *Bush[T]) ratesOf(m *Moduli[T], c Choice) Rates[T] {
	r := b.rubberRates(m, c)
	b.addEndStops(&r, m, c)
	return r
}

// rubberRates are the rates of the rubber between the sleeves.
func (b *Bush[T]) rubberRates(m *Moduli[T], c Choice) Rates[T] {
	outer := b.outerRing(m)
	if c.Free {
		return outer.free()
	}
	r := outer.Voided(b.VoidArc, b.VoidDepth, b.voidRadius(&outer))
	if !b.sleeved() {
		return r
	}
	inner := b.innerRing(m)
	plain := inner.plain()
	return r.inside(&plain)
}

// Six returns the six rates in the order of bushing.Direction.
func (r *Rates[T]) Six() [6]T {
	return [6]T{
		bushing.Soft: r.Soft, bushing.Axial: r.Axial, bushing.Stiff: r.Stiff,
		bushing.ConeSoft: r.ConeSoft, bushing.Torsion: r.Torsion, bushing.ConeStiff: r.ConeStiff,
	}
}
