package optimize

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Standing says what an estimate is worth.
type Standing int

const (
	// Estimated: the data tell the value; it has a standard error.
	Estimated Standing = iota
	// OnLowerBound and OnUpperBound: the data push the value against a bound. There
	// is no interval, and the other standard errors hold with the value kept there.
	OnLowerBound
	OnUpperBound
	// NotSeen: the data do not tell the value. It stands at its start.
	NotSeen
	// Tangled: the data tell only a combination with parameters that are NotSeen;
	// the value holds as long as those are right. It has no interval.
	Tangled
	// FromPrior: the data do not tell the value, its prior does.
	FromPrior
	// Fixed: both bounds are the same.
	Fixed
)

// String names the standing in words.
func (s Standing) String() string {
	return [...]string{"estimated", "on its lower bound", "on its upper bound", "not seen", "not told apart", "from its prior", "fixed"}[s]
}

// Estimate is one parameter as fitted, in its unit.
type Estimate struct {
	Value    float64
	Error    float64 // standard error, by the given deviations if nothing is left over; not a number without one
	Standing Standing

	// Freedom is that of the standard error: of the groups that it comes from, each as
	// far as it does. Infinite where a prior alone tells.
	Freedom float64

	parameter Parameter
	spread    float64 // standard error of the coordinate
	centre    float64 // the coordinate
	pieces    []piece // of the profile, where it was followed
}

// Profiled tells whether the interval is that of the profile likelihood, because the
// model curves where it ends, and not of the slopes at the estimate.
func (e *Estimate) Profiled() bool { return e.pieces != nil }

// HasInterval tells whether the data, with a prior if there is one, give an interval:
// with as many parameters as observations nothing tells the scatter.
func (e *Estimate) HasInterval() bool {
	return (e.Standing == Estimated || e.Standing == FromPrior) && e.Freedom >= fewestFreedom
}

// Interval is the least that holds all of Spans. Without an interval both ends are not a
// number.
func (e *Estimate) Interval(probability float64) (low, high float64) {
	all := e.Spans(probability)
	if len(all) == 0 {
		return math.NaN(), math.NaN()
	}
	return all[0].Low, all[len(all)-1].High
}

// Spans hold the true value together with the given probability, up to 95 % where the
// profile was followed. They are cut at the bounds. Where the model is as good as linear
// there is one, by Student's t: even to both sides of the value, or of its logarithm on a
// Log scale. None without an interval.
func (e *Estimate) Spans(probability float64) []Span {
	if !e.HasInterval() {
		return nil
	}
	reach := studentQuantile(0.5+probability/2, e.Freedom)
	all := []Span{{Low: e.centre - reach*e.spread, High: e.centre + reach*e.spread}}
	if e.pieces != nil {
		all = spans(e.pieces, reach*reach)
	}
	for i := range all {
		all[i] = e.parameter.span(all[i])
	}
	return all
}

// span is that of a parameter for one of its coordinate, cut at the bounds.
func (q Parameter) span(s Span) Span {
	s.LowBound = s.LowBound || s.Low < q.coordinate(q.Lower)
	s.HighBound = s.HighBound || s.High > q.coordinate(q.Upper)
	s.Low, s.High = q.value(s.Low), q.value(s.High)
	return s
}

// Chance is the probability that an estimate lies so far from a value, to either side,
// if that is the truth: Student's t of the distance in standard errors. Not a number
// without an interval.
func (e *Estimate) Chance(value float64) float64 {
	if !e.HasInterval() {
		return math.NaN()
	}
	return studentChance((e.Value-value)/e.Error, e.Freedom)
}

// studentChance is the probability of |t| or more.
func studentChance(t, freedom float64) float64 {
	if math.IsInf(freedom, 1) {
		return 2 * distuv.UnitNormal.Survival(math.Abs(t))
	}
	return 2 * distuv.StudentsT{Sigma: 1, Nu: freedom}.Survival(math.Abs(t))
}

func studentQuantile(p, freedom float64) float64 {
	if math.IsInf(freedom, 1) {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(p)
}

// Fitted is the outcome of Fit.
type Fitted struct {
	Status     FitStatus
	Offset     float64 // relative offset at the end: how far off the estimate is, in standard errors
	Iterations int     // of the best start

	Estimates []Estimate
	Residuals []Residual // one for each observation
	Factors   []float64  // of the groups: standard deviation found over that given
	// Freedom is the number of observations less what the parameters take of it.
	Freedom      float64
	SumOfSquares float64 // of residuals over given deviations, without priors
	Unseen       []Direction

	Starts, Agree int // starts tried, and those that ended at the same sum of squares

	columns     []int      // parameters with a standard error
	covariance  *mat.Dense // of their coordinates
	information *mat.Dense // JᵀJ of all coordinates, in final deviations, priors included
	judged
}

// Direction is one combination of parameters that the data do not tell: along
// Shares, in ranges of the parameters, the values could change by Spread ranges
// within a standard error.
type Direction struct {
	Parameters []int // that take part, the largest share first
	Shares     []float64
	Spread     float64 // may be infinite

	chosen int // the parameter that stands at its start
}

// Correlation is that of two estimates, 0 if one of them has no standard error.
func (f *Fitted) Correlation(i, j int) float64 {
	a, b := f.column(i), f.column(j)
	if a < 0 || b < 0 {
		return 0
	}
	return f.covariance.At(a, b) / math.Sqrt(f.covariance.At(a, a)*f.covariance.At(b, b))
}

func (f *Fitted) column(parameter int) int {
	for k, j := range f.columns {
		if j == parameter {
			return k
		}
	}
	return -1
}

const (
	// sameShare is the share of the sum of squares by which ends count as the same.
	sameShare = 1e-6
	// rounded is the share of the values below which a residual is their rounding: a
	// model that solves ill-conditioned equations loses seven digits.
	rounded = 1e-9
)

// fitAll goes down from every start: the present values, then points spread over
// the finite bounds.
func (m *squares) fitAll(ctx context.Context, start []float64, o FitOptions) []fitDescent {
	starts := append([][]float64{start}, m.better...)
	for _, z := range lowDiscrepancy(len(start), o.Starts, o.Seed) {
		y, moves := clone(start), false
		for j := range y {
			if width := m.upper[j] - m.lower[j]; !m.held[j] && finite(width) {
				y[j], moves = m.lower[j]+z[j]*width, true
			}
		}
		if moves {
			starts = append(starts, y)
		}
	}
	var ends []fitDescent
	for k, y := range starts {
		if k > 0 && ctx.Err() != nil {
			break
		}
		ends = append(ends, m.descend(ctx, y, o.Iterations, offsetNear))
	}
	return ends
}

var errNoJacobian = errors.New("optimize: no start can be evaluated")

// settle fits the problem as it stands: the best of all starts, with the factors
// of the groups.
func (m *squares) settle(ctx context.Context, o FitOptions) (best fitDescent, ends []fitDescent, f *Fitted, err error) {
	best.err = errNoJacobian
	ends = m.fitAll(ctx, m.coordinates(o.From), o)
	for _, e := range ends {
		if e.err == nil && (best.err != nil || exceeds(best.at.cost, e.at.cost)) {
			best = e
		}
	}
	if best.err != nil {
		return best, nil, nil, best.err
	}
	f = &Fitted{Starts: len(ends)}
	for _, e := range ends {
		if e.err == nil && e.at.cost-best.at.cost <= sameShare*best.at.cost+math.Pow(rounded*best.at.size, 2) {
			f.Agree++
		}
	}
	ends = slices.DeleteFunc(ends, func(e fitDescent) bool { return e.err != nil || e.at.cost > worthTrying*best.at.cost })
	best, err = m.weigh(ctx, best, o.Iterations)
	return best, ends, f, err
}

// conclude fits until every parameter that is not held is told by the data, then
// gathers what is known of the estimate.
func (m *squares) conclude(ctx context.Context, o FitOptions) (*Fitted, error) {
	var unseen []Direction
	standing := make([]Standing, len(m.Parameters))
	for j := range standing {
		if m.held[j] {
			standing[j] = Fixed
		}
	}
	for {
		m.anchored = true
		end, ends, f, err := m.settle(ctx, o)
		if err != nil {
			return nil, err
		}
		more := m.unseen(&end, standing)
		m.anchored = false
		unseen = append(unseen, more...)
		if m.hold(more, standing) {
			continue
		}
		if end, err = m.letGo(ctx, end, o); err != nil {
			return nil, err
		}
		f.Unseen = unseen
		f.Status, f.Offset, f.Iterations = end.status, end.offset, end.iterations
		m.describe(f, &end, standing)
		if better := m.profiles(ctx, f, &end, ends); better != nil && len(m.better) < mostBetter {
			m.better = append(m.better, better)
			continue
		}
		return f, m.keepInformation(f, &end)
	}
}

// letGo goes on without the anchor from where the anchored fit has ended.
func (m *squares) letGo(ctx context.Context, end fitDescent, o FitOptions) (fitDescent, error) {
	if err := m.goOn(ctx, &end, o.Iterations, offsetDone); err != nil {
		return end, err
	}
	return m.weigh(ctx, end, o.Iterations)
}

// describe fills in estimates, residuals and what they are worth.
func (m *squares) describe(f *Fitted, end *fitDescent, standing []Standing) {
	s := m.reduce(end.at, end.jacobian)
	f.columns = m.free(end.at, s.gradient)
	f.Factors = clone(m.factors)
	influence := s.influence(f.columns)
	f.covariance = influence.covariance()
	f.Residuals, f.judged = m.judge(end, influence)
	for i := range m.Observations {
		f.deviations = append(f.deviations, m.deviation(i))
		f.groups = append(f.groups, m.Observations[i].Group)
	}
	f.Freedom = f.left.all
	freedoms := m.freedoms(end, influence, f.left)
	for j, q := range m.Parameters {
		e := Estimate{Value: end.at.x[j], Error: math.NaN(), Standing: standing[j], parameter: q, spread: math.NaN(), Freedom: math.NaN(), centre: end.at.y[j]}
		if k := f.column(j); k >= 0 {
			e.spread = math.Sqrt(f.covariance.At(k, k))
			e.Error = e.spread * q.gain(e.Value)
			e.Freedom = freedoms[k]
		} else if !m.held[j] {
			e.Standing = OnLowerBound
			if end.at.y[j] >= m.upper[j] {
				e.Standing = OnUpperBound
			}
		}
		f.Estimates = append(f.Estimates, e)
	}
	for i := range f.Residuals {
		scaled := f.Residuals[i].Difference / m.Observations[i].Deviation
		f.SumOfSquares += scaled * scaled
	}
}

// keepInformation keeps JᵀJ of observations and priors for all coordinates, those
// that are not seen and stand at their start among them.
func (m *squares) keepInformation(f *Fitted, end *fitDescent) error {
	all := *m
	all.held = make([]bool, len(m.held))
	for j, q := range m.Parameters {
		all.held[j] = q.Lower == q.Upper
	}
	jacobian, err := all.jacobian(end.at)
	if err != nil {
		return err
	}
	f.information = mat.NewDense(len(m.held), len(m.held), nil)
	f.information.Mul(jacobian.T(), jacobian)
	return nil
}
