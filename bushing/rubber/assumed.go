package rubber

import (
	"fmt"

	"bushtune/bushing"
)

// RoundAssumed says which radius the corners of the voids are taken to have where none is
// given, and what square corners would change; empty where nothing is assumed.
func (b *Bush[T]) RoundAssumed(c Choice) string {
	v := b.values()
	if c.Free || v.VoidArc == 0 || v.VoidDepth == 0 || v.VoidRadius != 0 {
		return ""
	}
	m := v.Moduli(c)
	ring := v.outerRing(&m)
	full := ring.FullRound(v.VoidArc, v.VoidDepth)
	square := v
	square.VoidRadius = full * almostSquare
	round, sharp := v.Rates(c), square.Rates(c)
	own, other := round.Six(), sharp.Six()
	softer := func(d bushing.Direction) string { return fmt.Sprintf("%.0f %%", 100*(1-other[d]/own[d])) }
	return fmt.Sprintf("void_radius is not given: the corners of the voids are taken as round as fits, %.3g mm; square ones would make soft %s, stiff %s and torsion %s softer",
		full, softer(bushing.Soft), softer(bushing.Stiff), softer(bushing.Torsion))
}

// almostSquare is a radius, by the largest one, that changes no rate that is told.
const almostSquare = 1e-9
