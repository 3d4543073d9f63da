package cases

// readStress reads the nominal stresses at the ends of the beams.
func (f *FullSize) readStress(caseName string, x float64, c *curves) {}
