package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Residual is what one observation has left over.
type Residual struct {
	Value      float64 // of the number at the estimate
	Difference float64 // value less observed, in the number's unit
	Leverage   float64 // 0 to 1: how far the estimate follows this observation alone
	// Studentised is the difference over its standard error from a fit without
	// this observation (Belsley, Kuh & Welsch, Regression Diagnostics, 1980, section
	// 2.1: RSTUDENT), by the scatter of the rest of its own group, so that one false
	// reading of a few does not hide behind itself. Distributed as Student's t with the
	// freedom of that rest. Not a number where the estimate follows the observation
	// alone or nothing is left.
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
	// fewestFreedom is the least freedom of what is left of a group from which its
	// scatter is known: a single observation leaves 1, up to rounding.
	fewestFreedom = 0.9
)

// judge makes the residuals and what the degrees of freedom are.
func (m *squares) judge(end *fitDescent, f *influence) ([]Residual, judged) {
	rows := mat.NewDense(len(m.Observations), max(len(f.columns), 1), nil)
	for i := range m.Observations {
		f.of(end.jacobian.RawRowView(i), rows.RawRowView(i)[:len(f.columns)])
	}
	h := m.leverages(end, f)
	left := m.leftOver(h)
	known := judged{rows: rows, residuals: clone(end.at.residuals[:len(h)]), leverages: h, left: left, rounding: rounded * end.at.size}
	rounding := rounded * end.at.size / math.Sqrt(float64(len(h)))
	all := make([]Residual, len(h))
	for i := range all {
		own := end.at.residuals[i] // over the deviation found
		all[i] = Residual{Difference: own * m.deviation(i), Leverage: h[i], Studentised: math.NaN(), Moves: make([]float64, len(m.Parameters))}
		all[i].Value = m.Observations[i].Value + all[i].Difference
		if h[i] >= followed {
			continue
		}
		scatter, freedom := m.without(i, end, rows, h, &left)
		if freedom < fewestFreedom {
			continue
		}
		all[i].Studentised = own / math.Sqrt(math.Max(scatter, math.SmallestNonzeroFloat64)*(1-h[i]))
		chance := studentChance(all[i].Studentised, freedom)
		all[i].Outlier = chance < outlierRisk/float64(len(h)) && math.Abs(own) > rounding
		f.moves(rows.RawRowView(i)[:len(f.columns)], own/(1-h[i]), all[i].Moves)
	}
	return all, known
}

// without is the variance that the rows scaled like observation i have without it,
// in deviations found, and its degrees of freedom. Leaving i out moves residual k by
// hₖᵢ·rᵢ/(1 − hᵢ) and its leverage by hₖᵢ²/(1 − hᵢ).
func (m *squares) without(i int, end *fitDescent, rows *mat.Dense, h []float64, left *leftOver) (variance, freedom float64) {
	group := m.Observations[i].Group
	own, sum := left.own(group), 0.0
	for k, o := range m.Observations {
		if k == i || own && o.Group != group {
			continue
		}
		cross := dot(rows.RawRowView(i), rows.RawRowView(k))
		factor := m.factors[o.Group] / m.factors[group]
		r := (end.at.residuals[k] + cross*end.at.residuals[i]/(1-h[i])) * factor
		sum += r * r
		freedom += 1 - h[k] - cross*cross/(1-h[i])
	}
	return sum / freedom, freedom
}

// moves writes by how many standard errors the parameters move when an observation
// is left out, of which along is the row in directions of unit standard error, and
// whose residual is r₍ᵢ₎ without it: C·jᵢ·r₍ᵢ₎ over the roots of C's diagonal.
func (f *influence) moves(along []float64, without float64, out []float64) {
	move := make([]float64, len(along))
	f.back(along, move)
	for k, j := range f.columns {
		row := f.toward.RawRowView(k)
		out[j] = move[k] * without / math.Sqrt(dot(row, row))
	}
}
