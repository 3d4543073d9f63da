package optimize

import "math"

// penalty charges the shortfall t of every limit, in scales, with
// linear·t + ½·square·t². With linear = 0 it is the violation (stage 1). With
// linear above the limit's multiplier it is exact: its minimum meets the limit
// (stage 2; Nocedal & Wright section 15.4).
type penalty struct {
	linear, square []float64
}

const (
	// squareShare is the quadratic part of an exact penalty, as a share of the
	// linear part, that keeps the elastic subproblem strictly convex.
	squareShare = 0.1
	// priceMargin is how far a penalty stays above the multiplier.
	priceMargin = 1.1
)

func violationPenalty(limits []Want) penalty {
	p := penalty{linear: make([]float64, len(limits)), square: make([]float64, len(limits))}
	for j, w := range limits {
		p.square[j] = 2 * w.weight()
	}
	return p
}

func exactPenalty(limits int) penalty {
	return penalty{linear: make([]float64, limits), square: make([]float64, limits)}
}

// of is the charge for the given slacks.
func (p penalty) of(slacks []float64) float64 {
	var sum float64
	for j, c := range slacks {
		if c < 0 {
			sum += c * (p.square[j]*c/2 - p.linear[j])
		}
	}
	return sum
}

// follow moves an exact penalty after the multipliers: at once upwards, by
// halves downwards (Powell 1978).
func (p penalty) follow(multipliers []float64) {
	for j, l := range multipliers {
		l *= priceMargin
		p.set(j, math.Max(l, (p.linear[j]+l)/2))
	}
}

// raise lifts every charge of an exact penalty to at least least.
func (p penalty) raise(least float64) {
	for j := range p.linear {
		p.set(j, math.Max(p.linear[j], least))
	}
}

func (p penalty) set(j int, linear float64) {
	p.linear[j], p.square[j] = linear, squareShare*linear
}
