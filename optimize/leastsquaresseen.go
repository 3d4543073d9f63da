package optimize

import (
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
	// driven is from how many standard deviations of the data on a push against a bound
	// is no chance, which brings more once in 400 cases: the bound is told then.
	driven = 3
	// partShare is the least share with which a parameter takes part in a direction.
	partShare = 0.1
)

// unseen lists the directions, of the parameters not yet judged, that the
// observations alone do not tell: singular vectors of J scaled by the ranges
// (Golub & Van Loan, Matrix Computations, 4th ed., section 5.5). A parameter on a
// bound is judged with the others unless the data drive it there: noise alone brings
// there what is hardly seen.
func (m *squares) unseen(end *fitDescent, standing []Standing) []Direction {
	alone := *m
	alone.priors = nil
	data := mat.DenseCopyOf(end.jacobian.Slice(0, len(m.Observations), 0, len(m.Parameters)))
	at := *end.at
	at.residuals = at.residuals[:len(m.Observations)]
	s := alone.reduce(&at, data)
	var columns []int
	whole := m.reduce(end.at, end.jacobian)
	free := m.free(end.at, whole.gradient)
	for j := range standing {
		if standing[j] == Estimated && (slices.Contains(free, j) || whole.push(j, free) < driven) {
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
	return d.directions(rows, func(k int) bool { return slices.Contains(m.priors, d.columns[k]) })
}

// push is by how many standard deviations the data push a coordinate that is not
// free: its gradient over the length of what its column has across the free columns,
// as in the score test (Rao 1948).
func (s *reduced) push(j int, free []int) float64 {
	column := mat.Col(nil, j, s.t)
	f := s.influence(free)
	across := clone(column)
	for k := range free {
		direction := make([]float64, len(column)) // of unit length in the span
		for i, c := range free {
			addScaled(direction, f.toward.At(i, k), mat.Col(nil, c, s.t))
		}
		addScaled(across, -dot(direction, column), direction)
	}
	length := math.Sqrt(dot(across, across))
	if length <= rounded*math.Sqrt(dot(column, column)) {
		return 0 // the free columns do what it does
	}
	return math.Abs(s.gradient[j]) / length
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
// moves one of them alone, with what of the others must go along. Where several do
// equally well, one that is preferred is chosen, else the first.
func (d *decomposed) directions(rows [][]float64, preferred func(column int) bool) []Direction {
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
		chosen = append(chosen, pivot(rows, preferred))
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
	greatestFirst(order, func(i int) float64 { return math.Abs(v[i]) })
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
func pivot(rows [][]float64, preferred func(column int) bool) int {
	best, norm := 0, 0.0
	for j := range rows[0] {
		sum := 0.0
		for _, row := range rows {
			sum += row[j] * row[j]
		}
		if exceeds(sum, norm) || !exceeds(norm, sum) && preferred(j) && !preferred(best) {
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
