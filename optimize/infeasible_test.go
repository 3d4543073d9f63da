package optimize_test

import (
	"math"
	"testing"

	"bushtune/optimize"
)

// numbers makes a problem from formulas, with one name per parameter.
func numbers(f formulas, parameters []optimize.Parameter, wants ...optimize.Want) *optimize.Problem {
	p := &optimize.Problem{Parameters: parameters, Wants: wants, Evaluate: f.evaluate}
	c := make([]complex128, len(parameters))
	for i, q := range parameters {
		c[i] = complex(q.Start, 0)
	}
	p.Numbers = len(f(c))
	return p
}

func unit(name string) optimize.Parameter {
	return optimize.Parameter{Name: name, Lower: 0, Upper: 1, Start: 0.5}
}

func between(name string, lower, upper float64) optimize.Parameter {
	return optimize.Parameter{Name: name, Lower: lower, Upper: upper, Start: lower}
}

// closedForm: answers known exactly, limited by the stopping rule: a gradient
// of 1e-9 over curvatures near 1.
const closedForm = 1e-7

// Problems whose limits contradict each other or the bounds, with the least
// violation by hand.
func TestInfeasible(t *testing.T) {
	third := math.Cbrt(2)
	cases := []struct {
		name      string
		p         *optimize.Problem
		status    optimize.Status
		violation float64
		x         []float64
	}{
		{"beyond the corner", // x + y ≤ 2 in the unit square
			numbers(func(x []complex128) []complex128 { return []complex128{x[0] + x[1]} },
				[]optimize.Parameter{unit("x"), unit("y")},
				optimize.Want{Kind: optimize.AtLeast, Value: 3, Scale: 0.5}),
			optimize.AtCorner, 4, []float64{1, 1}},
		{"two limits on one number", // min (2 − x)² + 3(x − 1)²; y is free to serve the aim
			numbers(func(x []complex128) []complex128 { return []complex128{x[0], sq(x[1] - 0.3)} },
				[]optimize.Parameter{between("x", 0, 10), unit("y")},
				optimize.Want{Kind: optimize.AtLeast, Value: 2, Scale: 1},
				optimize.Want{Kind: optimize.AtMost, Value: 1, Scale: 1, Weight: 3},
				optimize.Want{Number: 1, Kind: optimize.MakeSmall, Scale: 1}),
			optimize.NotReached, 0.75, []float64{1.25, 0.3}},
		{"an aim that would trade the limits", // the aim, 0 on y = x, may not move x off 1.25
			numbers(func(x []complex128) []complex128 { return []complex128{x[0], sq(x[1] - x[0])} },
				[]optimize.Parameter{between("x", 0, 10), between("y", 0, 10)},
				optimize.Want{Kind: optimize.AtLeast, Value: 2, Scale: 1},
				optimize.Want{Kind: optimize.AtMost, Value: 1, Scale: 1, Weight: 3},
				optimize.Want{Number: 1, Kind: optimize.MakeSmall, Scale: 1}),
			optimize.NotReached, 0.75, []float64{1.25, 1.25}},
		{"inside the box", // −(x − 0.4)² never reaches 1
			numbers(func(x []complex128) []complex128 { return []complex128{-sq(x[0] - 0.4)} },
				[]optimize.Parameter{unit("x")},
				optimize.Want{Kind: optimize.AtLeast, Value: 1, Scale: 1}),
			optimize.NotReached, 1, []float64{0.4}},
		{"disc and line", // x² + y² ≤ 1, x + y ≥ 2: by symmetry x = y = s with s³ = ½
			numbers(func(x []complex128) []complex128 { return []complex128{sumSquares(x), x[0] + x[1]} },
				[]optimize.Parameter{between("x", -3, 3), between("y", -3, 3)},
				optimize.Want{Kind: optimize.AtMost, Value: 1, Scale: 1},
				optimize.Want{Number: 1, Kind: optimize.AtLeast, Value: 2, Scale: 1}),
			optimize.NotReached, sqr(third-1) + sqr(2-third*third), []float64{1 / third, 1 / third}},
		{"along a face, aim beside", // x pushed to its bound; y balances the aim under no limit
			numbers(func(x []complex128) []complex128 { return []complex128{x[0], sq(x[1]-0.7) + x[0]} },
				[]optimize.Parameter{unit("x"), unit("y")},
				optimize.Want{Kind: optimize.AtLeast, Value: 2, Scale: 1},
				optimize.Want{Number: 1, Kind: optimize.MakeSmall, Scale: 1}),
			optimize.NotReached, 1, []float64{1, 0.7}},
		{"targets that disagree", // least squares of x = 0 and x = 1 with weights 1 and 3
			numbers(func(x []complex128) []complex128 { return []complex128{x[0], 2 * x[0]} },
				[]optimize.Parameter{between("x", -5, 5)},
				optimize.Want{Kind: optimize.Target, Value: 0, Scale: 1},
				optimize.Want{Number: 1, Kind: optimize.Target, Value: 2, Scale: 2, Weight: 3}),
			optimize.NotReached, 0, []float64{0.75}},
		{"target beyond the corner",
			numbers(func(x []complex128) []complex128 { return []complex128{x[0] * x[0] * x[0]} },
				[]optimize.Parameter{unit("x")},
				optimize.Want{Kind: optimize.Target, Value: 2, Scale: 1}),
			optimize.AtCorner, 0, []float64{1}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := solve(t, c.p, optimize.Options{Seed: 3})
			if r.Status != c.status || r.Status.Err() == nil {
				t.Errorf("%v: %s", r.Status, r.Reason)
			}
			if math.Abs(r.After.Violation-c.violation) > closedForm {
				t.Errorf("violation %.9g, closed form %.9g", r.After.Violation, c.violation)
			}
			for i := range c.x {
				if math.Abs(r.X[i]-c.x[i]) > 10*closedForm {
					t.Errorf("x = %v, closed form %v", r.X, c.x)
				}
			}
			if c.violation > 0 && r.Prices.Given {
				t.Error("prices given though the limits are not reached")
			}
			t.Logf("%s; residuals %.1g, %.1g; %d/%d", r.Reason, r.AimResidual, r.ViolationResidual, r.Agreement.SameCost, r.Agreement.Starts)
		})
	}
}

func sqr(v float64) float64 { return v * v }

// A start that is feasible only far away, through a narrow curved valley.
func TestFeasibilityFirst(t *testing.T) {
	p := numbers(func(x []complex128) []complex128 { return []complex128{rosenbrock(x), x[0]} },
		[]optimize.Parameter{between("x", -2, 2), between("y", -2, 2)},
		optimize.Want{Kind: optimize.AtMost, Value: 1e-4, Scale: 1},
		optimize.Want{Number: 1, Kind: optimize.MakeSmall, Scale: 1})
	r := solve(t, p, optimize.Options{Seed: 1, Starts: -1, GlobalEvaluations: -1})
	// On the valley's floor (1 − x)² = 1e-4.
	if r.Status != optimize.Converged || math.Abs(r.X[0]-0.99) > closedForm {
		t.Errorf("%v at %v: %s", r.Status, r.X, r.Reason)
	}
}
