package optimize

import "math"

// snap is the fraction of a range within which a coordinate is put exactly on
// its bound: the quadratic subproblem meets bounds to rounding only.
const snap = 1e-12

// box maps the search coordinates z, one per free parameter and each in [0, 1],
// to the parameters x in the caller's units. It is affine in x on a Linear
// scale and in ln x on a Log scale; z = 0 and z = 1 give the bounds exactly.
type box struct {
	parameters []Parameter
	free       []int // indices of the parameters that may move
}

func newBox(parameters []Parameter) box {
	b := box{parameters: parameters}
	for i, p := range parameters {
		if p.Lower < p.Upper {
			b.free = append(b.free, i)
		}
	}
	return b
}

// point returns the parameters at z, never outside the bounds.
func (b box) point(z []float64) []float64 {
	x := make([]float64, len(b.parameters))
	for i, p := range b.parameters {
		x[i] = p.Lower
	}
	for k, i := range b.free {
		x[i] = b.parameters[i].at(z[k])
	}
	return x
}

// coordinates returns the z of the parameters x.
func (b box) coordinates(x []float64) []float64 {
	z := make([]float64, len(b.free))
	for k, i := range b.free {
		z[k] = clampUnit(b.parameters[i].fraction(x[i]))
	}
	return z
}

// slope returns dx/dz of free parameter k at the parameter value x.
func (b box) slope(k int, x float64) float64 {
	p := b.parameters[b.free[k]]
	if p.Scale == Log {
		return x * math.Log(p.Upper/p.Lower)
	}
	return p.Upper - p.Lower
}

// at returns the value at fraction z of the parameter's range.
func (p Parameter) at(z float64) float64 {
	switch {
	case z <= 0:
		return p.Lower
	case z >= 1:
		return p.Upper
	}
	v := p.Lower + z*(p.Upper-p.Lower)
	if p.Scale == Log {
		v = p.Lower * math.Exp(z*math.Log(p.Upper/p.Lower))
	}
	return math.Min(math.Max(v, p.Lower), p.Upper)
}

// fraction is the inverse of at.
func (p Parameter) fraction(v float64) float64 {
	if p.Scale == Log {
		return math.Log(v/p.Lower) / math.Log(p.Upper/p.Lower)
	}
	return (v - p.Lower) / (p.Upper - p.Lower)
}

// clampUnit puts z into [0, 1], and onto an end that it nearly touches.
func clampUnit(z float64) float64 {
	switch {
	case z < snap:
		return 0
	case z > 1-snap:
		return 1
	}
	return z
}
