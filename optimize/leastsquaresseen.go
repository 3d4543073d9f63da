package optimize

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	// seen is the least singular value, in ranges of the parameters and standard
	// deviations of the data, of a direction that counts as seen. Below, the 95 %
	// interval (two standard errors) is as wide to each side as the whole range:
	// it holds every allowed value wherever the estimate falls.
	seen = 2
	// numericRange stands in for the range of a parameter without bounds: so many
	// times what moves the data by a standard deviation. Past it, rounding decides.
	numericRange = 1e12
	// partShare is the least share with which a parameter takes part in a direction.
	partShare = 0.1
)

// unseen lists the directions, of the parameters not yet judged, that the
// observations alone do not tell: singular vectors of J scaled by the ranges
// (Golub & Van Loan, Matrix Computations, 4th ed., section 5.5).
func (m *squares) unseen(end *fitDescent, standing []Standing) []Direction {
	alone := *m
	alone.priors = nil
	data := mat.DenseCopyOf(end.jacobian.Slice(0, len(m.Observations), 0, len(m.Parameters)))
	at := *end.at
	at.residuals = at.residuals[:len(m.Observations)]
	s := alone.reduce(&at, data)
	var columns []int
	for _, j := range m.free(end.at, m.reduce(end.at, end.jacobian).gradient) {
		if standing[j] == Estimated {
			columns = append(columns, j)
		}
	}
	if len(columns) == 0 {
		return nil
	}
	d := s.decompose(columns, func(j int) float64 { return 1 / m.width(j, s) }, s.r)
	var all []Direction
	for k, sigma := range d.sigma {
		if sigma < seen {
			all = append(all, newDirection(columns, &d.v, k, sigma))
		}
	}
	return all
}

// width is the range of a coordinate.
func (m *squares) width(j int, s *reduced) float64 {
	if w := m.upper[j] - m.lower[j]; finite(w) {
		return w
	}
	return seen * numericRange / s.columnNorm(j)
}

// newDirection reads column k of V.
func newDirection(columns []int, v *mat.Dense, k int, sigma float64) Direction {
	order := make([]int, 0, len(columns))
	for i := range columns {
		if math.Abs(v.At(i, k)) >= partShare {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(v.At(b, k)), math.Abs(v.At(a, k))) })
	d := Direction{Spread: 1 / sigma}
	sign := math.Copysign(1, v.At(order[0], k))
	for _, i := range order {
		d.Parameters = append(d.Parameters, columns[i])
		d.Shares = append(d.Shares, sign*v.At(i, k))
	}
	return d
}

// hold keeps one parameter of every unseen direction at its start, those that
// span the directions best (subset selection: Golub, Klema & Stewart 1976; Golub
// & Van Loan, section 5.5.8), or leaves it to its prior. Others that take part
// are tangled. It tells whether the fit must be made anew.
func (m *squares) hold(directions []Direction, standing []Standing) bool {
	again := false
	rows := make([][]float64, len(directions))
	for k, d := range directions {
		rows[k] = make([]float64, len(standing))
		for i, j := range d.Parameters {
			rows[k][j] = d.Shares[i]
			if standing[j] == Estimated {
				standing[j] = Tangled
			}
		}
	}
	for range directions {
		j := pivot(rows)
		standing[j] = NotSeen
		if slices.Contains(m.priors, j) {
			standing[j] = FromPrior
			continue
		}
		m.held[j], again = true, true
	}
	for j := range standing {
		if standing[j] == Tangled && len(m.priors) > 0 && !m.tangledAnyway(j, directions, standing) {
			standing[j] = Estimated
		}
	}
	return again
}

// tangledAnyway tells whether one of the unseen parameters that take part with j
// has no prior to tell it apart.
func (m *squares) tangledAnyway(j int, directions []Direction, standing []Standing) bool {
	for _, d := range directions {
		if !slices.Contains(d.Parameters, j) {
			continue
		}
		for _, other := range d.Parameters {
			if standing[other] == NotSeen {
				return true
			}
		}
	}
	return false
}

// pivot finds the column with the largest norm and takes its span out of the rows.
func pivot(rows [][]float64) int {
	best, norm := 0, 0.0
	for j := range rows[0] {
		sum := 0.0
		for _, row := range rows {
			sum += row[j] * row[j]
		}
		if sum > norm {
			best, norm = j, sum
		}
	}
	column := make([]float64, len(rows))
	for k, row := range rows {
		column[k] = row[best]
	}
	for j := range rows[0] {
		along := 0.0
		for k, row := range rows {
			along += column[k] * row[j]
		}
		for k := range rows {
			rows[k][j] -= column[k] * along / norm
		}
	}
	return best
}
