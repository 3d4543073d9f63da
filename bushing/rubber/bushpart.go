package rubber

import "bushtune/bushing/exact"

func bushNumbers[T exact.Number](s []T, c Choice, into []T) {
	b := New(s)
	r := b.Rates(c)
	six := r.Six()
	copy(into, six[:])
	into[6], into[7], into[8], into[9] = r.VoidGap, r.VoidSnubber, r.EndGap, r.EndSnubber
}

// bushBands are those of the six rates, of a closed void and of the collar; a gap is
// a dimension.
func bushBands(s []float64, c Choice, class Class) [][]Band {
	b := New(s)
	six := Bands(&b, c, class)
	bands := append(six[:], nil, nil, nil, nil)
	if b.VoidArc != 0 {
		bands[7] = closedBands(&b, c, class)
	}
	if b.StopThick != 0 && b.StopGap != 0 {
		collar := b.collar()
		bands[9] = padBands(&collar, s[len(s)-len(compoundFields):], c, class, ringFilm(b.StopDiameter, b.Inner))[0]
	}
	return bands
}

func bushLimits(s []float64, c Choice) []Between {
	b := New(s)
	six := Limits(&b, c)
	limits := append(six[:], make([]Between, 4)...)
	if b.StopThick != 0 && b.StopGap != 0 {
		collar, m := b.collar(), b.Moduli(c)
		limits[9] = padLimits(&collar, &m, c)[0]
	}
	return limits
}

func bushWarnings(s []float64, c Choice) []string {
	var warnings []string
	b := New(s)
	if assumed := b.RoundAssumed(c); assumed != "" {
		warnings = append(warnings, assumed)
	}
	if c.Free {
		warnings = append(warnings, "not bonded: about and along its axis the bush is held by friction, which is no stiffness; its other rates hold while the rubber touches both sleeves all round")
	}
	if c.Compound == Polyurethane {
		warnings = append(warnings, "the hardness of a polyurethane tells a range of moduli, no single one: range_share is a choice within it")
	}
	return warnings
}
