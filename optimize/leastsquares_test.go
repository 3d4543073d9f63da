package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// exactly is how far two fits that are the same in exact arithmetic may lie apart,
// in standard errors: the offset at which a fit ends, and rounding.
const exactly = 1e-7

func fit(t *testing.T, p *optimize.FitProblem) *optimize.Fitted {
	t.Helper()
	f, err := optimize.Fit(context.Background(), p, optimize.FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// fitOf makes a problem with a parameter for each start, all within wide bounds.
func fitOf(f formulas, start, observed []float64) *optimize.FitProblem {
	p := &optimize.FitProblem{Evaluate: f.evaluate}
	for i, v := range start {
		p.Parameters = append(p.Parameters, optimize.Parameter{Name: fmt.Sprintf("p%d", i), Lower: -1e3, Upper: 1e3, Start: v})
	}
	for _, v := range observed {
		p.Observations = append(p.Observations, optimize.Observation{Value: v, Deviation: 1})
	}
	return p
}

// line is a straight line through places x.
func line(x []float64) formulas {
	return func(b []complex128) []complex128 {
		out := make([]complex128, len(x))
		for i := range x {
			out[i] = b[0] + b[1]*complex(x[i], 0)
		}
		return out
	}
}

// scattered are places from −1 to 1 and values of the line 2 + 3x with noise.
func scattered(n int, seed uint64, noise float64) (x, y []float64) {
	random := rand.New(rand.NewPCG(seed, 7))
	for i := range n {
		x = append(x, -1+2*float64(i)/float64(n-1))
		y = append(y, 2+3*x[i]+noise*random.NormFloat64())
	}
	return x, y
}

// TestLineInClosedForm: slope and its error from the sums of a straight line.
func TestLineInClosedForm(t *testing.T) {
	x, y := scattered(20, 1, 0.1)
	f := fit(t, fitOf(line(x), []float64{0, 0}, y))
	var xx, xy, my float64 // the mean of x is zero
	for i := range x {
		xx += x[i] * x[i]
		xy += x[i] * y[i]
		my += y[i] / float64(len(x))
	}
	sum := 0.0
	for i := range x {
		sum += math.Pow(y[i]-my-xy/xx*x[i], 2)
	}
	s := math.Sqrt(sum / 18)
	for j, want := range [][2]float64{{my, s / math.Sqrt(20)}, {xy / xx, s / math.Sqrt(xx)}} {
		e := f.Estimates[j]
		if math.Abs(e.Value-want[0]) > exactly*want[1] || math.Abs(e.Error/want[1]-1) > exactly {
			t.Errorf("parameter %d: %v ± %v, closed form %v", j, e.Value, e.Error, want)
		}
	}
	const student = 2.100922 // t of 97.5 % at 18 degrees of freedom, printed in every table of it
	if low, high := f.Estimates[1].Interval(0.95); math.Abs((high-low)/2/f.Estimates[1].Error-student) > 1e-6 {
		t.Errorf("95 %% interval %v to %v", low, high)
	}
	if math.Abs(f.Freedom-18) > exactly || math.Abs(f.Correlation(0, 1)) > exactly || f.Agree != f.Starts {
		t.Errorf("freedom %v, correlation %v, %d of %d starts", f.Freedom, f.Correlation(0, 1), f.Agree, f.Starts)
	}
}

// TestLeavingOneOut: studentised residual and movement of the parameters are those
// of a fit without the observation; exact where the model is linear.
func TestLeavingOneOut(t *testing.T) {
	x, y := scattered(12, 3, 0.3)
	y[4] += 5
	all := fit(t, fitOf(line(x), []float64{0, 0}, y))
	for i, r := range all.Residuals {
		rest := func(v []float64) []float64 { return append(append([]float64(nil), v[:i]...), v[i+1:]...) }
		without := fit(t, fitOf(line(rest(x)), []float64{0, 0}, rest(y)))
		a, b := without.Estimates[0], without.Estimates[1]
		there := math.Sqrt(a.Error*a.Error + 2*x[i]*without.Correlation(0, 1)*a.Error*b.Error + x[i]*x[i]*b.Error*b.Error)
		want := (a.Value + b.Value*x[i] - y[i]) / math.Hypot(without.Factors[0], there)
		if math.Abs(r.Studentised-want) > exactly*math.Abs(want) {
			t.Errorf("observation %d: studentised %v, refit says %v", i, r.Studentised, want)
		}
		for j := range all.Estimates {
			moved := (without.Estimates[j].Value - all.Estimates[j].Value) / all.Estimates[j].Error
			if math.Abs(r.Moves[j]-moved) > exactly {
				t.Errorf("observation %d moves parameter %d by %v, refit says %v", i, j, r.Moves[j], moved)
			}
		}
		if r.Outlier != (i == 4) {
			t.Errorf("observation %d: outlier %v, studentised %v", i, r.Outlier, r.Studentised)
		}
	}
}

// TestFewFalseOutliers: of 400 clean sets 5 % should have an outlier named; 20 ± 3
// standard deviations of the binomial distribution.
func TestFewFalseOutliers(t *testing.T) {
	named := 0
	for seed := range uint64(400) {
		x, y := scattered(15, seed, 0.2)
		for _, r := range fit(t, fitOf(line(x), []float64{0, 0}, y)).Residuals {
			if r.Outlier {
				named++
				break
			}
		}
	}
	if named < 7 || named > 33 {
		t.Errorf("%d of 400 clean sets have an outlier", named)
	}
}

// TestWeights: an observation of half the variance counts as two.
func TestWeights(t *testing.T) {
	x, y := scattered(9, 5, 0.2)
	twice := fitOf(line(append(x, x[2])), []float64{0, 0}, append(y, y[2]))
	once := fitOf(line(x), []float64{0, 0}, y)
	once.Observations[2].Deviation = math.Sqrt(0.5)
	a, b := fit(t, twice), fit(t, once)
	for j := range a.Estimates {
		if math.Abs(a.Estimates[j].Value-b.Estimates[j].Value) > exactly*a.Estimates[j].Error {
			t.Errorf("parameter %d: %v and %v", j, a.Estimates[j].Value, b.Estimates[j].Value)
		}
	}
}

// growth is a saturating exponential, as of a rubber bush that creeps.
func growth(b []complex128) []complex128 {
	out := make([]complex128, 12)
	for i := range out {
		q := b[1] * complex(float64(i+1), 0)
		out[i] = b[0] * q / (1 + q)
	}
	return out
}

// TestFitByRatios: the optimum is the same, and so are the standard errors; the
// interval is a ratio to both sides.
func TestFitByRatios(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	var y []float64
	for _, v := range growth([]complex128{10, 0.2}) {
		y = append(y, real(v)+0.05*random.NormFloat64())
	}
	plain, ratio := fitOf(growth, []float64{5, 1}, y), fitOf(growth, []float64{5, 1}, y)
	for j := range plain.Parameters {
		plain.Parameters[j].Lower, ratio.Parameters[j].Lower = 1e-3, 1e-3
		ratio.Parameters[j].Scale = optimize.Log
	}
	a, b := fit(t, plain), fit(t, ratio)
	for j := range a.Estimates {
		p, q := a.Estimates[j], b.Estimates[j]
		if math.Abs(p.Value-q.Value) > exactly*p.Error || math.Abs(p.Error/q.Error-1) > exactly {
			t.Errorf("parameter %d: %v ± %v, by ratios %v ± %v", j, p.Value, p.Error, q.Value, q.Error)
		}
		if low, high := q.Interval(0.95); math.Abs(low*high/q.Value/q.Value-1) > exactly || low >= q.Value {
			t.Errorf("parameter %d: interval %v to %v around %v", j, low, high, q.Value)
		}
	}
}

// TestUnitsDoNotMatter: a parameter in other units has the same value in them.
func TestUnitsDoNotMatter(t *testing.T) {
	x, y := scattered(9, 8, 0.2)
	a := fit(t, fitOf(line(x), []float64{0, 0}, y))
	scaled := fitOf(func(b []complex128) []complex128 { return line(x)([]complex128{b[0] * 1e-6, b[1] * 1e5}) }, []float64{0, 0}, y)
	scaled.Parameters[0].Lower, scaled.Parameters[0].Upper = -1e9, 1e9
	scaled.Parameters[1].Lower, scaled.Parameters[1].Upper = -1e-2, 1e-2
	b := fit(t, scaled)
	for j, unit := range []float64{1e-6, 1e5} {
		if e := a.Estimates[j]; math.Abs(b.Estimates[j].Value*unit-e.Value) > exactly*e.Error || math.Abs(b.Estimates[j].Error*unit/e.Error-1) > exactly {
			t.Errorf("parameter %d: %v and %v", j, b.Estimates[j], e)
		}
	}
}

// openProblems is how many of the random problems may leave a direction open: with
// as few rows as these have, what the truth beyond the bounds leaves over is scatter.
const openProblems = 4

// TestBoundsAgainstProgramming: on random curved problems in tight bounds the fit
// ends where sequential quadratic programming ends, and says which bounds hold. What
// is not seen stands at its start, so such problems are no comparison.
func TestBoundsAgainstProgramming(t *testing.T) {
	random, held, open := rand.New(rand.NewPCG(4, 4)), 0, 0
	for trial := range 40 {
		n := 2 + trial%4
		curve := curved(random, 3*n, n)
		truth := make([]complex128, n) // half of them outside the bounds
		for j := range truth {
			truth[j] = complex(1.4*random.Float64()-0.7, 0)
		}
		var y []float64
		for _, v := range curve(truth) {
			y = append(y, real(v)+0.05*random.NormFloat64())
		}
		p := fitOf(curve, make([]float64, n), y)
		q := &optimize.Problem{Evaluate: curve.evaluate, Numbers: 3 * n}
		for j := range p.Parameters {
			p.Parameters[j].Lower, p.Parameters[j].Upper = -0.3, 0.4
		}
		q.Parameters = p.Parameters
		for i, v := range y {
			q.Wants = append(q.Wants, optimize.Want{Name: "y", Number: i, Value: v, Scale: 1})
		}
		f := fit(t, p)
		if len(f.Unseen) > 0 {
			open++
			continue
		}
		r := solve(t, q, optimize.Options{Starts: 6, GlobalEvaluations: -1})
		if math.Abs(f.SumOfSquares-r.After.Aim) > 1e-8*r.After.Aim || f.Status != optimize.FitConverged {
			t.Errorf("trial %d: sum of squares %v %v, programming %v", trial, f.SumOfSquares, f.Status, r.After.Aim)
		}
		for j, e := range f.Estimates {
			on := e.Standing == optimize.OnLowerBound || e.Standing == optimize.OnUpperBound
			if at := e.Value == -0.3 || e.Value == 0.4; on != at || on == e.HasInterval() {
				t.Errorf("trial %d, parameter %d: %v is %v", trial, j, e.Value, e.Standing)
			}
			if on {
				held++
			}
		}
	}
	if held < 20 || open > openProblems {
		t.Errorf("only %d bounds hold, %d problems are open", held, open)
	}
}

// curved is a random linear model with squares.
func curved(random *rand.Rand, rows, n int) formulas {
	a, b := make([]float64, rows*n), make([]float64, rows*n)
	for i := range a {
		a[i], b[i] = random.NormFloat64(), 0.3*random.NormFloat64()
	}
	return func(x []complex128) []complex128 {
		out := make([]complex128, rows)
		for i := range out {
			for j := range x {
				out[i] += complex(a[i*n+j], 0)*x[j] + complex(b[i*n+j], 0)*x[j]*x[j]
			}
		}
		return out
	}
}

// TestImpossibleOnTheWay: where the model cannot be evaluated steps are shortened;
// at the start it is an error.
func TestImpossibleOnTheWay(t *testing.T) {
	errNo := errors.New("no")
	p := fitOf(nil, []float64{3}, []float64{math.Log(0.5), math.Log(0.5)})
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		if x[0] <= 0 {
			return errNo
		}
		values[0], values[1] = math.Log(x[0]), math.Log(x[0])
		if jacobian != nil {
			jacobian.Set(0, 0, 1/x[0])
			jacobian.Set(1, 0, 1/x[0])
		}
		return nil
	}
	if e := fit(t, p).Estimates[0]; math.Abs(e.Value-0.5) > 1e-9 {
		t.Errorf("value %v", e.Value)
	}
	p.Parameters[0].Start = -1
	if _, err := optimize.Fit(context.Background(), p, optimize.FitOptions{}); !errors.Is(err, errNo) {
		t.Errorf("impossible start: %v", err)
	}
}

// TestWrongFits lists all mistakes of a problem at once.
func TestWrongFits(t *testing.T) {
	p := fitOf(nil, []float64{0, math.NaN()}, []float64{1, math.Inf(1)})
	p.Observations[0].Deviation = 0
	p.Priors = []optimize.Prior{{}, {Deviation: -1}}
	p.Evaluate = nil
	p.Parameters[0].Lower = 1
	_, err := optimize.Fit(context.Background(), p, optimize.FitOptions{})
	if err == nil {
		t.Fatal("no error")
	}
	for _, word := range []string{"no Evaluate", "parameter 0", "parameter 1", "observation 0", "observation 1", "prior 1"} {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("%v does not tell of %s", err, word)
		}
	}
	p.Priors = p.Priors[:1]
	if err := p.Validate(); err == nil || !strings.Contains(err.Error(), "1 priors for 2 parameters") {
		t.Errorf("priors: %v", err)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	x, y := scattered(5, 1, 0.1)
	if f, err := optimize.Fit(stopped, fitOf(line(x), []float64{0, 0}, y), optimize.FitOptions{}); err != nil || f.Status != optimize.FitStopped {
		t.Errorf("a context that has ended: %v, %v", f, err)
	}
}
