package optimize

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// The limits of iterated weighting.
const (
	weighings = 30
	// sameFactor is the share by which a factor may still change at the end: a
	// thousandth of the error that 500 rows leave in it.
	sameFactor = 3e-5
	// fewestRows is what a group must have left over to have a factor of its own;
	// else it takes the common one.
	fewestRows = 3
)

// influence tells how a small change of the residuals moves the coordinates.
type influence struct {
	columns []int
	toward  *mat.Dense // (columns×columns) V·Σ⁻¹ in coordinates
}

// influence inverts the free columns by their singular values.
func (s *reduced) influence(free []int) *influence {
	n := len(free)
	f := &influence{columns: free, toward: mat.NewDense(max(n, 1), max(n, 1), nil)}
	if n == 0 {
		return f
	}
	d := s.decompose(free, s.columnNorm, s.r)
	for i := range n {
		for k := range n {
			f.toward.Set(i, k, d.v.At(i, k)/d.sigma[k]/d.scale[i])
		}
	}
	return f
}

// columnNorm is the length of a column, 1 if it is zero.
func (s *reduced) columnNorm(j int) float64 {
	if norm := mat.Norm(s.t.ColView(j), 2); norm > 0 {
		return norm
	}
	return 1
}

// covariance is (JᵀJ)⁻¹ of the free coordinates.
func (f *influence) covariance() *mat.Dense {
	var c mat.Dense
	c.Mul(f.toward, f.toward.T())
	return &c
}

// of writes the row of a Jacobian in directions of unit standard error: its
// length squared is the leverage, and toward times it moves the coordinates.
func (f *influence) of(row, out []float64) {
	for k := range f.columns {
		out[k] = 0
		for i, j := range f.columns {
			out[k] += row[j] * f.toward.At(i, k)
		}
	}
}

// leverages are the diagonal of the hat matrix, one for each observation.
func (m *squares) leverages(end *fitDescent, f *influence) []float64 {
	h, room := make([]float64, len(m.Observations)), make([]float64, len(f.columns))
	for i := range h {
		f.of(end.jacobian.RawRowView(i), room)
		h[i] = math.Min(dot(room, room), 1)
	}
	return h
}

// weigh finds the factors of the groups and fits again with them until both
// settle, nearly first, then to the end.
func (m *squares) weigh(ctx context.Context, end fitDescent, limit int) (fitDescent, error) {
	for range weighings {
		changed := m.refactor(&end)
		if err := m.goOn(ctx, &end, limit, offsetNear); err != nil {
			return end, err
		}
		if changed <= sameFactor {
			break
		}
	}
	if err := m.goOn(ctx, &end, limit, offsetDone); err != nil {
		return end, err
	}
	m.refactor(&end)
	err := m.goOn(ctx, &end, limit, offsetDone)
	return end, err
}

// goOn goes further down from where a descent has ended.
func (m *squares) goOn(ctx context.Context, end *fitDescent, limit int, done float64) error {
	next := m.descend(ctx, end.at.y, limit, done)
	if next.err != nil {
		return next.err
	}
	next.iterations += end.iterations
	*end = next
	return nil
}

// refactor sets the factors anew and returns the largest share by which one changed.
func (m *squares) refactor(end *fitDescent) float64 {
	s := m.reduce(end.at, end.jacobian)
	h := m.leverages(end, s.influence(m.free(end.at, s.gradient)))
	sums, left := make([]float64, len(m.factors)), make([]float64, len(m.factors))
	sum, all := 0.0, 0.0
	least := m.roundingFactor()
	for i, o := range m.Observations {
		r := end.at.residuals[i] * m.factors[o.Group] // over the given deviation
		sums[o.Group] += r * r
		left[o.Group] += 1 - h[i]
		sum += r * r
		all += 1 - h[i]
	}
	common := 1.0
	if all > 0 {
		common = math.Max(math.Sqrt(sum/all), least)
	}
	worst := 0.0
	for g, before := range m.factors {
		m.factors[g] = common
		if len(m.factors) > 1 && left[g] >= fewestRows {
			m.factors[g] = math.Max(math.Sqrt(sums[g]/left[g]), least)
		}
		worst = math.Max(worst, math.Abs(m.factors[g]/before-1))
	}
	return worst
}

// roundingFactor is the least factor that data can have: the rounding of the
// observed values. It keeps data without noise from dividing by zero.
func (m *squares) roundingFactor() float64 {
	size := 0.0
	for _, o := range m.Observations {
		size = math.Hypot(size, o.Value/o.Deviation)
	}
	return math.Max(epsilon*size/math.Sqrt(float64(len(m.Observations))), math.SmallestNonzeroFloat64)
}
