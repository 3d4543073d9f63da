package optimize

import "math"

// Residual is what one observation has left over.
type Residual struct {
	Value      float64 // of the number at the estimate
	Difference float64 // value less observed, in the number's unit
	Leverage   float64 // 0 to 1: how far the estimate follows this observation alone
	// Studentised is the difference over its standard error from a fit without
	// this observation, distributed as Student's t with Freedom − 1 (Belsley, Kuh &
	// Welsch, Regression Diagnostics, 1980, section 2.1: RSTUDENT). Not a number
	// where the estimate follows the observation alone.
	Studentised float64
	// Outlier: so large a studentised residual is less likely than 5 % among all
	// observations together (Bonferroni; Cook & Weisberg, Residuals and Influence
	// in Regression, 1982, section 2.2.2).
	Outlier bool
	// Moves is by how many standard errors each parameter would move without this
	// observation, to first order (DFBETAS up to the factor s/s₍ᵢ₎); zero for
	// parameters without a standard error.
	Moves []float64
}

const (
	outlierRisk = 0.05
	// followed is the leverage from which an observation has no residual of its own.
	followed = 1 - 1e-9
)

// judge makes the residuals and the degrees of freedom that are left.
func (m *squares) judge(end *fitDescent, f *influence) ([]Residual, float64) {
	h := m.leverages(end, f)
	freedom := 0.0
	for i := range h {
		freedom += 1 - h[i]
	}
	limit := math.Inf(1)
	if freedom > 1 {
		limit = studentQuantile(1-outlierRisk/2/float64(len(h)), freedom-1)
	}
	rounding := rounded * end.at.size / math.Sqrt(float64(len(h)))
	all := make([]Residual, len(h))
	for i := range all {
		own := end.at.residuals[i] // over the deviation found
		all[i] = Residual{Difference: own * m.deviation(i), Leverage: h[i], Studentised: math.NaN(), Moves: make([]float64, len(m.Parameters))}
		all[i].Value = m.Observations[i].Value + all[i].Difference
		if h[i] < followed && freedom > 1 {
			all[i].Studentised = studentised(own, h[i], freedom)
			all[i].Outlier = math.Abs(all[i].Studentised) > limit && math.Abs(own) > rounding
			m.moves(end, f, i, own/(1-h[i]), all[i].Moves)
		}
	}
	return all, freedom
}

// studentised is the externally studentised residual where the standard deviation
// of all is 1.
func studentised(r, leverage, freedom float64) float64 {
	without := (freedom - r*r/(1-leverage)) / (freedom - 1)
	return r / math.Sqrt(math.Max(without, math.SmallestNonzeroFloat64)*(1-leverage))
}

// moves writes by how many standard errors the parameters move when an
// observation of residual r₍ᵢ₎ is left out: C·jᵢ·r₍ᵢ₎ over the roots of C's diagonal.
func (m *squares) moves(end *fitDescent, f *influence, i int, without float64, out []float64) {
	n := len(f.columns)
	along := make([]float64, n)
	f.of(end.jacobian.RawRowView(i), along)
	for a, j := range f.columns {
		move, own := 0.0, 0.0
		for k := range n {
			t := f.toward.At(a, k)
			move += t * along[k]
			own += t * t
		}
		out[j] = move * without / math.Sqrt(own)
	}
}
