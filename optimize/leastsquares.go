package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Observation is one measured value of a number.
type Observation struct {
	Value     float64 // measured, in the number's unit
	Deviation float64 // its standard deviation, or that up to the factor of its group; positive
	// Group numbers the observations whose deviations share one unknown factor,
	// from 0: one gauge, one channel. The factors are estimated with the rest.
	Group int
}

// Prior is what is known of a parameter before the measurement.
type Prior struct {
	Mean float64 // in the parameter's unit
	// Deviation is a standard deviation: in the parameter's unit on a Linear
	// scale, as a share of the value on a Log scale. Zero: nothing is known.
	Deviation float64
}

// FitProblem is what Fit works on: bounded parameters, observations, and the
// function that computes what should be observed.
type FitProblem struct {
	Parameters   []Parameter // bounds may be infinite
	Observations []Observation
	Priors       []Prior   // none, or one for each parameter
	Evaluate     Evaluator // fills one value for each observation
}

// FitOptions steers Fit. In every field 0 means the default.
type FitOptions struct {
	Seed       uint64 // of the extra starts
	Starts     int    // starts spread over finite bounds besides the present values; negative: none
	Iterations int    // for each start
	// From is where the first start is, nil for the present values. A parameter that
	// is not seen stands at its present value all the same.
	From []float64
}

const (
	defaultFitStarts     = 6
	defaultFitIterations = 3000
)

// FitStatus says how a fit ended.
type FitStatus int

const (
	// FitConverged: the first-order conditions hold at the estimate.
	FitConverged FitStatus = iota
	// FitStalled: no step lowers the sum of squares, yet the first-order
	// conditions do not hold to the tolerance; rounding or wrong derivatives.
	FitStalled
	// FitStopped: out of iterations, or the context ended.
	FitStopped
)

// String names the status in words.
func (s FitStatus) String() string {
	return [...]string{"converged", "stalled", "stopped early"}[s]
}

// Validate returns every mistake in the problem, joined, or nil.
func (p *FitProblem) Validate() error {
	var errs []error
	add := func(format string, a ...any) { errs = append(errs, fmt.Errorf("optimize: "+format, a...)) }
	if p.Evaluate == nil {
		add("no Evaluate function")
	}
	if len(p.Parameters) == 0 || len(p.Observations) == 0 {
		add("%d parameters, %d observations", len(p.Parameters), len(p.Observations))
	}
	for i, q := range p.Parameters {
		if err := q.validateFit(); err != nil {
			add("parameter %d (%s): %w", i, q.Name, err)
		}
	}
	for i, o := range p.Observations {
		if !finite(o.Value) || !finite(o.Deviation) || o.Deviation <= 0 || o.Group < 0 {
			add("observation %d: value %v, deviation %v, group %d", i, o.Value, o.Deviation, o.Group)
		}
	}
	if p.Priors != nil && len(p.Priors) != len(p.Parameters) {
		add("%d priors for %d parameters", len(p.Priors), len(p.Parameters))
		return errors.Join(errs...)
	}
	for i, k := range p.Priors {
		if !finite(k.Mean) || !finite(k.Deviation) || k.Deviation < 0 || k.Deviation > 0 && p.Parameters[i].Scale == Log && k.Mean <= 0 {
			add("prior %d: mean %v, deviation %v", i, k.Mean, k.Deviation)
		}
	}
	return errors.Join(errs...)
}

// validateFit is validate with infinite bounds allowed.
func (q Parameter) validateFit() error {
	if !finite(q.Start) {
		return fmt.Errorf("start %v is not finite", q.Start)
	}
	for _, bound := range []*float64{&q.Lower, &q.Upper} {
		if math.IsInf(*bound, 0) && !(q.Scale == Log && *bound < 0) {
			*bound = math.Copysign(math.MaxFloat64/4, *bound)
		}
	}
	return q.validate()
}

// Fit estimates the parameters of p by least squares: it minimises
//
//	Σ ((value − observed)/(factor of the group · deviation))² + Σ ((parameter − mean)/deviation)²
//
// within the bounds. The error is for a problem that is wrong or cannot be
// evaluated at its start; how the fit ended is in the result's Status.
//
// # Method
//
// Levenberg–Marquardt in the trust-region form of Moré (The Levenberg–Marquardt
// algorithm: implementation and theory, Lecture Notes in Mathematics 630, 1978,
// 105–116), from one QR and singular values of small matrices, never the normal
// equations. Bounds are kept by an active set: what pushes against its bound is
// left out of the step (Bertsekas, SIAM J. Control Optim. 20, 1982, 221–246),
// what a step would carry across stops at the bound and the rest is solved anew.
// The fit ends by the relative offset of Bates & Watts (Technometrics 23, 1981,
// 179–183), or where rounding hides all progress. A parameter on a Log scale is
// fitted by its logarithm.
//
// The factors of the groups follow by iterated weighting: each is the root of
// the group's sum of squares over its number of rows less their leverages
// (Carroll & Ruppert, Transformation and Weighting in Regression, 1988, ch. 2–3).
func Fit(ctx context.Context, p *FitProblem, o FitOptions) (*Fitted, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	m := newSquares(p)
	if _, err := m.at(m.coordinates(o.From)); err != nil {
		return nil, fmt.Errorf("optimize: cannot evaluate the start: %w", err)
	}
	o.Starts = defaulted(o.Starts, defaultFitStarts)
	o.Iterations = defaulted(o.Iterations, defaultFitIterations)
	return m.conclude(ctx, o)
}

// squares is a fit problem in coordinates: a parameter itself, or its logarithm.
type squares struct {
	*FitProblem
	lower, upper []float64   // of the coordinates
	held         []bool      // parameters kept at their start
	factors      []float64   // of the groups
	priors       []int       // parameters that have a prior
	anchored     bool        // every parameter is drawn to its start a little: see anchor
	better       [][]float64 // starts besides those asked for: below what a fit before had ended at
	slopes       *mat.Dense
	values       []float64
}

func newSquares(p *FitProblem) *squares {
	n := len(p.Parameters)
	m := &squares{FitProblem: p, lower: make([]float64, n), upper: make([]float64, n), held: make([]bool, n),
		slopes: mat.NewDense(len(p.Observations), n, nil), values: make([]float64, len(p.Observations))}
	for i, q := range p.Parameters {
		m.lower[i], m.upper[i] = q.coordinate(q.Lower), q.coordinate(q.Upper)
		m.held[i] = q.Lower == q.Upper
	}
	for _, o := range p.Observations {
		for len(m.factors) <= o.Group {
			m.factors = append(m.factors, 1)
		}
	}
	for i, k := range p.Priors {
		if k.Deviation > 0 {
			m.priors = append(m.priors, i)
		}
	}
	return m
}

// coordinate is the value by which a parameter is fitted.
func (q Parameter) coordinate(x float64) float64 {
	if q.Scale == Log {
		return math.Log(x)
	}
	return x
}

// value is the inverse of coordinate, inside the bounds.
func (q Parameter) value(y float64) float64 {
	if q.Scale == Log {
		y = math.Exp(y)
	}
	return math.Min(math.Max(y, q.Lower), q.Upper)
}

// gain is d(parameter)/d(coordinate) at the parameter's value.
func (q Parameter) gain(x float64) float64 {
	if q.Scale == Log {
		return x
	}
	return 1
}

// coordinates are those of the first start.
func (m *squares) coordinates(from []float64) []float64 {
	y := make([]float64, len(m.Parameters))
	for i, q := range m.Parameters {
		y[i] = q.coordinate(q.Start)
		if from != nil && !m.held[i] {
			y[i] = q.coordinate(from[i])
		}
	}
	return y
}

func (m *squares) parameters(y []float64) []float64 {
	x := make([]float64, len(y))
	for i, q := range m.Parameters {
		x[i] = q.value(y[i])
		if y[i] == q.coordinate(q.Start) {
			x[i] = q.Start // not what exp(ln) makes of it
		}
	}
	return x
}

// fitPoint is one point of the search.
type fitPoint struct {
	y, x      []float64
	residuals []float64 // of observations, then of priors, in deviations, then of the anchor
	cost      float64   // their sum of squares
	size      float64   // norm of all values in deviations: what rounding is a share of
}

var errNotFinite = errors.New("a value is not finite")

// deviation is the standard deviation of observation i as it is taken now.
func (m *squares) deviation(i int) float64 {
	o := &m.Observations[i]
	return o.Deviation * m.factors[o.Group]
}

// at evaluates the residuals.
func (m *squares) at(y []float64) (*fitPoint, error) {
	f := &fitPoint{y: clone(y), x: m.parameters(y)}
	if err := m.Evaluate(f.x, m.values, nil); err != nil {
		return nil, err
	}
	f.residuals = make([]float64, m.rows())
	for i, v := range m.values {
		d := m.deviation(i)
		f.residuals[i] = (v - m.Observations[i].Value) / d
		f.size = math.Hypot(f.size, math.Abs(v/d)+math.Abs(m.Observations[i].Value/d))
	}
	for k, j := range m.priors {
		prior, q := &m.Priors[j], m.Parameters[j]
		f.residuals[len(m.Observations)+k] = (y[j] - q.coordinate(prior.Mean)) / prior.Deviation
	}
	for j := range m.anchors() {
		f.residuals[len(m.Observations)+len(m.priors)+j] = m.anchor(j) * (y[j] - m.Parameters[j].coordinate(m.Parameters[j].Start))
	}
	f.cost = dot(f.residuals, f.residuals)
	if !finite(f.cost) {
		return nil, errNotFinite
	}
	return f, nil
}

// jacobian is the derivative of the residuals of a point by the coordinates.
func (m *squares) jacobian(f *fitPoint) (*mat.Dense, error) {
	rows, n := len(f.residuals), len(f.y)
	if err := m.Evaluate(f.x, m.values, m.slopes); err != nil {
		return nil, err
	}
	j := mat.NewDense(rows, n, nil)
	for i := range m.Observations {
		from, to, d := m.slopes.RawRowView(i), j.RawRowView(i), m.deviation(i)
		for k, q := range m.Parameters {
			if !m.held[k] {
				to[k] = from[k] * q.gain(f.x[k]) / d
			}
			if !finite(to[k]) {
				return nil, errNotFinite
			}
		}
	}
	for k, i := range m.priors {
		if !m.held[i] {
			j.Set(len(m.Observations)+k, i, 1/m.Priors[i].Deviation)
		}
	}
	for k := range m.anchors() {
		if !m.held[k] {
			j.Set(len(m.Observations)+len(m.priors)+k, k, m.anchor(k))
		}
	}
	return j, nil
}

// pull is by how many standard deviations of the data the anchor holds a parameter at
// the other end of its bounds: far less than what counts as seen.
const pull = 0.1

// anchors is the number of rows of the anchor: one a parameter while the fit is
// anchored.
func (m *squares) anchors() int {
	if !m.anchored {
		return 0
	}
	return len(m.Parameters)
}

// anchor is how strongly a coordinate is drawn to its start. The anchor decides where
// the data do not: without it a descent ends anywhere in a flat valley, by rounding, and
// what is told unseen there would depend on the processor. Nothing without bounds is
// anchored, and no value that is told.
func (m *squares) anchor(j int) float64 {
	if width := m.upper[j] - m.lower[j]; width > 0 && finite(width) && width < math.MaxFloat64/8 {
		return pull / width
	}
	return 0
}

// rows is the number of residuals.
func (m *squares) rows() int { return len(m.Observations) + len(m.priors) + m.anchors() }
