package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Candidate is an observation that could be made next.
type Candidate struct {
	Slopes    []float64 // of its number by every parameter, at the estimate, in their units
	Deviation float64   // standard deviation to be expected
}

// Addition is a candidate that is worth adding to the data.
type Addition struct {
	Candidate int
	// Gain is the logarithm of the ratio by which the volume of all that is still
	// possible shrinks (half of it is the D-criterion).
	Gain float64
	// Before and After are standard errors of all parameters without and with it,
	// in their units; what the additions before it bring is in both. That a value
	// lies within its bounds counts as knowledge here, spread evenly over them.
	Before, After []float64
}

// evenVariance is the variance of an even distribution over a unit range.
const evenVariance = 1.0 / 12

// Additions chooses up to count candidates one after the other, each the one that
// shrinks the volume of the confidence region most: D-optimality by greatest
// variance of the predicted value (Fedorov, Theory of Optimal Experiments, 1972;
// Atkinson, Donev & Tobias, Optimum Experimental Designs, 2007, ch. 11). The same
// candidate may be worth adding twice.
func (f *Fitted) Additions(candidates []Candidate, count int) []Addition {
	c := f.possible()
	if c == nil {
		return nil
	}
	var all []Addition
	for range count {
		best, variance := -1, 0.0
		for k := range candidates {
			if v := f.predicted(c, &candidates[k]); exceeds(v, variance) {
				best, variance = k, v
			}
		}
		if best < 0 {
			break
		}
		a := Addition{Candidate: best, Gain: math.Log1p(variance), Before: f.errorsOf(c)}
		f.learn(c, &candidates[best], variance)
		a.After = f.errorsOf(c)
		all = append(all, a)
	}
	return all
}

// possible is the covariance of the coordinates with the bounds counted as
// knowledge; nil if a parameter without bounds is not seen.
func (f *Fitted) possible() *mat.SymDense {
	n := len(f.Estimates)
	sum := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sum.SetSym(i, j, f.information.At(i, j))
		}
		p := f.Estimates[i].parameter
		switch width := p.coordinate(p.Upper) - p.coordinate(p.Lower); {
		case width == 0:
			sum.SetSym(i, i, 1) // fixed: alone, and learn does not touch it
		case finite(width):
			sum.SetSym(i, i, sum.At(i, i)+1/(width*width*evenVariance))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(sum) {
		return nil
	}
	var inverse mat.SymDense
	if factor.InverseTo(&inverse) != nil {
		return nil
	}
	return &inverse
}

// row is the slope of a candidate by the coordinates, in its deviations.
func (f *Fitted) row(c *Candidate) *mat.VecDense {
	row := mat.NewVecDense(len(f.Estimates), nil)
	for j := range f.Estimates {
		if e := &f.Estimates[j]; e.Standing != Fixed {
			row.SetVec(j, c.Slopes[j]*e.parameter.gain(e.Value)/c.Deviation)
		}
	}
	return row
}

// predicted is the variance of what a candidate would show, in its deviations.
func (f *Fitted) predicted(c *mat.SymDense, candidate *Candidate) float64 {
	row := f.row(candidate)
	return mat.Inner(row, c, row)
}

// learn adds a candidate to what is known (Sherman & Morrison).
func (f *Fitted) learn(c *mat.SymDense, candidate *Candidate, variance float64) {
	var along mat.VecDense
	along.MulVec(c, f.row(candidate))
	c.SymRankOne(c, -1/(1+variance), &along)
}

// errorsOf are the standard errors of all parameters in their units.
func (f *Fitted) errorsOf(c *mat.SymDense) []float64 {
	all := make([]float64, len(f.Estimates))
	for j := range all {
		if e := &f.Estimates[j]; e.Standing != Fixed {
			all[j] = math.Sqrt(c.At(j, j)) * e.parameter.gain(e.Value)
		}
	}
	return all
}
