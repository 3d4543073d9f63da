package rubber

// Coefficients of the corrections, for the test that fits them again: radial,
// conical, then the six rates with voids, then what rounding their corners changes.
func Coefficients() [][]float64 {
	all := [][]float64{radialCoefficients[:], conicalCoefficients[:]}
	for i := range voidCoefficients {
		all = append(all, voidCoefficients[i][:])
	}
	for i := range roundCoefficients {
		all = append(all, roundCoefficients[i][:])
	}
	return all
}

// PlainDerived are the radial and the conical rate before correction, and the
// terms of the polynomial.
func PlainDerived(c *Cylinder[float64]) (rates [2]float64, terms []float64) {
	t := c.plainTerms()
	return [2]float64{c.radialBridge(), c.conicalBridge()}, t[:]
}

// VoidDerived are the six rates with voids before correction, and the terms.
func VoidDerived(c *Cylinder[float64], arc, depth float64) (rates [6]float64, terms []float64) {
	t := voidTermsOf(c.voidVariables(arc, depth))
	r := c.ofLegs(c.legsOf(arc, depth), depth)
	return r.Six(), t[:]
}

// RoundDerived are the six rates before what rounding the corners of voids changes, and
// its terms.
func RoundDerived(c *Cylinder[float64], arc, depth, radius float64) (rates [6]float64, terms []float64) {
	v := c.voidVariables(arc, depth)
	square, t := voidTermsOf(v), roundTermsOf(v, radius/c.FullRound(arc, depth))
	r := c.ofLegs(c.legsOf(arc-c.filled(depth, radius), depth), depth)
	rates = r.Six()
	for i := range rates {
		rates[i] *= correction(square[:], voidCoefficients[i][:])
	}
	return rates, t[:]
}

// VoidPressed is the rate in N/mm of one closed void.
func VoidPressed(c *Cylinder[float64], arc, depth float64) float64 { return c.voidSnubber(arc, depth) }
