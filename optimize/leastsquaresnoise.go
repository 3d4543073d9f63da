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

// back writes how far the coordinates move along directions of unit standard error.
func (f *influence) back(along, out []float64) {
	for k := range f.columns {
		out[k] = 0
		for i, a := range along {
			out[k] += f.toward.At(k, i) * a
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
	left := m.leftOver(m.leverages(end, s.influence(m.free(end.at, s.gradient))))
	sums, sum := make([]float64, len(m.factors)), 0.0
	least := m.roundingFactor()
	for i, o := range m.Observations {
		r := end.at.residuals[i] * m.factors[o.Group] // over the given deviation
		sums[o.Group] += r * r
		sum += r * r
	}
	common := 1.0 // where nothing is left over that would tell
	if left.all >= fewestFreedom {
		common = math.Max(math.Sqrt(sum/left.all), least)
	}
	worst := 0.0
	for g, before := range m.factors {
		m.factors[g] = common
		if left.own(g) {
			m.factors[g] = math.Max(math.Sqrt(sums[g]/left.groups[g]), least)
		}
		worst = math.Max(worst, math.Abs(m.factors[g]/before-1))
	}
	return worst
}

// leftOver counts degrees of freedom: rows less their leverages.
type leftOver struct {
	groups []float64
	all    float64
}

func (m *squares) leftOver(leverages []float64) leftOver {
	l := leftOver{groups: make([]float64, len(m.factors))}
	for i, h := range leverages {
		l.groups[m.Observations[i].Group] += 1 - h
		l.all += 1 - h
	}
	return l
}

// own tells whether a group has a factor of its own; else it takes the common one.
func (l *leftOver) own(group int) bool {
	return len(l.groups) > 1 && l.groups[group] >= fewestRows
}

// freedoms are the degrees of freedom of the standard error of each of the columns:
// that of a sum of variances, of which each group brings its part with the freedom of
// its factor, a prior with an infinite one (Satterthwaite, Biometrics Bulletin 2, 1946,
// 110–114).
func (m *squares) freedoms(end *fitDescent, f *influence, left leftOver) []float64 {
	n := len(f.columns)
	parts := mat.NewDense(len(m.factors), max(n, 1), nil) // variances
	along, moves := make([]float64, n), make([]float64, n)
	for i, o := range m.Observations {
		f.of(end.jacobian.RawRowView(i), along)
		f.back(along, moves)
		for k, move := range moves {
			parts.Set(o.Group, k, parts.At(o.Group, k)+move*move)
		}
	}
	covariance, all := f.covariance(), make([]float64, n)
	for k := range all {
		shared, sum := 0.0, 0.0 // groups without a factor of their own count as one
		for g := range m.factors {
			part := parts.At(g, k) / covariance.At(k, k)
			if left.own(g) {
				sum += part * part / left.groups[g]
			} else {
				shared += part
			}
		}
		if shared > 0 {
			sum += shared * shared / left.all
		}
		all[k] = 1 / sum
	}
	return all
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
