package rubber

// Coefficients of the corrections, for the test that fits them again: radial,
// conical, then the six rates with voids.
func Coefficients() [][]float64 {
	all := [][]float64{radialCoefficients[:], conicalCoefficients[:]}
	for i := range voidCoefficients {
		all = append(all, voidCoefficients[i][:])
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
	t := c.voidTerms(arc, depth)
	r := c.ofLegs(c.legsOf(arc, depth), depth)
	return r.Six(), t[:]
}

// VoidPressed is the rate in N/mm of one closed void.
func VoidPressed(c *Cylinder[float64], arc, depth float64) float64 { return c.voidSnubber(arc, depth) }
