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
	var rows [][]float64
	for k, sigma := range d.sigma {
		if sigma < seen {
			rows = append(rows, mat.Col(nil, k, &d.v))
		}
	}
	return d.directions(rows)
}

// width is the range of a coordinate.
func (m *squares) width(j int, s *reduced) float64 {
	if w := m.upper[j] - m.lower[j]; finite(w) {
		return w
	}
	return seen * numericRange / s.columnNorm(j)
}

// directions describes the span of rows, each over all columns, by as few parameters
// in each direction as may be. Those that span it best are chosen (subset selection:
// Golub, Klema & Stewart 1976; Golub & Van Loan, section 5.5.8), and each direction
// moves one of them alone, with what of the others must go along.
func (d *decomposed) directions(rows [][]float64) []Direction {
	if len(rows) == 0 {
		return nil
	}
	n := len(d.columns)
	all := mat.NewDense(len(rows), n, nil)
	for k, row := range rows {
		all.SetRow(k, row)
	}
	var chosen []int
	for range rows {
		chosen = append(chosen, pivot(rows))
	}
	part := mat.NewDense(len(rows), len(rows), nil)
	for k, j := range chosen {
		part.SetCol(k, mat.Col(nil, j, all))
	}
	var alone mat.Dense
	if alone.Solve(part, all) != nil {
		alone = *all // chosen columns span the rows; only rounding could spoil that
	}
	out := make([]Direction, len(rows))
	for k, j := range chosen {
		out[k] = d.direction(alone.RawRowView(k))
		out[k].chosen = d.columns[j]
	}
	return out
}

// direction is a unit vector along v with the parameters that take part.
func (d *decomposed) direction(v []float64) Direction {
	norm := math.Sqrt(dot(v, v))
	var order []int
	for i := range v {
		if math.Abs(v[i]) >= partShare*norm {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(v[b]), math.Abs(v[a])) })
	norm = math.Copysign(norm, v[order[0]])
	var out Direction
	for _, i := range order {
		out.Parameters = append(out.Parameters, d.columns[i])
		out.Shares = append(out.Shares, v[i]/norm)
	}
	change := 0.0 // of the data along it, in deviations
	for k, sigma := range d.sigma {
		along := 0.0
		for i := range v {
			along += d.v.At(i, k) * v[i] / norm
		}
		change = math.Hypot(change, sigma*along)
	}
	out.Spread = 1 / change
	return out
}

// hold keeps the chosen parameter of every unseen direction at its start, or leaves
// it to its prior. Others that take part are tangled. It tells whether the fit must
// be made anew.
func (m *squares) hold(directions []Direction, standing []Standing) bool {
	again := false
	for _, d := range directions {
		for _, j := range d.Parameters {
			if standing[j] == Estimated {
				standing[j] = Tangled
			}
		}
	}
	for _, d := range directions {
		standing[d.chosen] = NotSeen
		if slices.Contains(m.priors, d.chosen) {
			standing[d.chosen] = FromPrior
			continue
		}
		m.held[d.chosen], again = true, true
	}
	for _, d := range directions {
		for _, j := range d.Parameters {
			if standing[j] == Tangled && !tangledAnyway(j, directions, standing) {
				standing[j] = Estimated
			}
		}
	}
	return again
}

// tangledAnyway tells whether one of the unseen parameters that take part with j
// has no prior to tell it apart.
func tangledAnyway(j int, directions []Direction, standing []Standing) bool {
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
