package rubber

// Wall is the thickness of rubber in mm by which the tolerance of rates goes: that
// of the thinner ring where an intermediate sleeve parts the rubber.
func Wall(b *Bush[float64]) float64 { return thinnest(b) }
