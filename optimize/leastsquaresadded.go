package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// judged is what a fit keeps of its observations at the estimate.
type judged struct {
	rows       *mat.Dense // of the Jacobian, in directions of unit standard error
	residuals  []float64  // over the deviations found
	deviations []float64  // found
	groups     []int      // of the observations
	leverages  []float64
	left       leftOver
	rounding   float64 // norm of residuals that are rounding of the values
}

// Added is what a linear term would be that the model does not have, to first order.
type Added struct {
	Value   float64 // in the unit of the observations over that of the term's slopes
	Error   float64 // standard error, by the scatter that is left with the term in the model
	Freedom float64 // of that scatter
	// Chance is the probability of so large a value without the term.
	Chance float64
	// Explains is by how much the sum of squares in deviations found would fall.
	Explains float64
}

// hidden is the share of a term's sum of squares from which the parameters do not do
// what it does: below, their standard errors would grow ten thousandfold with it.
const hidden = 1e-8

// Added tests a term with the given slope of each observation against nothing: the F
// test of the model with it against that without, with one degree of freedom, in the
// linear model at the estimate (added variable: Cook & Weisberg, Residuals and Influence
// in Regression, 1982, section 2.3.2). Where groups have factors of their own, the scatter
// is that of the term's group; all observations with a slope must be of one group. False
// if the parameters do what the term does, or nothing is left that tells the scatter.
func (f *Fitted) Added(slopes []float64) (Added, bool) {
	term, along := make([]float64, len(slopes)), make([]float64, len(f.columns))
	group, whole, meets := 0, 0.0, 0.0
	for i, slope := range slopes {
		if slope == 0 {
			continue
		}
		group = f.groups[i]
		term[i] = slope / f.deviations[i]
		whole += term[i] * term[i]
		meets += term[i] * f.residuals[i]
		addScaled(along, term[i], f.rows.RawRowView(i)[:len(along)])
	}
	across := whole - dot(along, along) // square of what the parameters do not do
	if across <= hidden*whole {
		return Added{}, false
	}
	a := Added{Value: -meets / across, Explains: meets * meets / across}
	scatter := 0.0
	for i, r := range f.residuals {
		if f.left.own(group) && f.groups[i] != group {
			continue
		}
		u := term[i] - dot(along, f.rows.RawRowView(i)[:len(along)])
		factor := f.Factors[f.groups[i]] / f.Factors[group]
		scatter += math.Pow((r+a.Value*u)*factor, 2)
		a.Freedom += 1 - f.leverages[i] - u*u/across
	}
	if a.Freedom < fewestFreedom {
		return Added{}, false
	}
	a.Error = math.Sqrt(math.Max(scatter/a.Freedom, math.SmallestNonzeroFloat64) / across)
	a.Chance = studentChance(a.Value/a.Error, a.Freedom)
	if math.Sqrt(a.Explains) <= f.rounding {
		a.Chance = 1
	}
	return a, true
}

// Explains is by how much the sum of squares in deviations found would fall without an
// observation, to first order.
func (f *Fitted) Explains(observation int) float64 {
	r, h := f.residuals[observation], f.leverages[observation]
	if h >= followed {
		return 0
	}
	return r * r / (1 - h)
}
