package rubber

import "bushtune/bushing/quantity"

// WorkshopStep is the step, in written units, in which a dimension in a unit is
// drawn or a compound is ordered: common practice, no source. It is 0 for units
// in which nothing is ordered.
func WorkshopStep(u quantity.Unit) float64 {
	switch u {
	case quantity.Millimetre:
		return 0.1
	case quantity.Degree, quantity.Hardness:
		return 1
	}
	return 0
}
