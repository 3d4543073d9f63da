package optimize

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// ended makes a finish with the given outcome.
func ended(violation, aim float64, first, second ending) finish {
	f := finish{at: &evaluation{aim: aim}, violation: violation, first: first, second: second}
	if violation > 0 {
		f.unmet = []float64{math.Sqrt(violation)}
	}
	return f
}

// Every case names the better of two finishes first; with the pair the other way
// round the answer must be no.
func TestBetter(t *testing.T) {
	cases := []struct {
		name      string
		good, bad finish
	}{
		{"could be evaluated", ended(9, 9, stalled, stalled), finish{}},
		{"limits held before a lower aim", ended(0, -15, settled, stalled), ended(0.04, -17, settled, settled)},
		{"a miss of a millionth of a step is a miss", ended(0, 5, settled, settled), ended(1e-12, 1, settled, settled)},
		{"smaller violation before a lower aim", ended(0.04, -7, stalled, settled), ended(0.8, -17, settled, settled)},
		{"lower aim", ended(0, 1, settled, settled), ended(0, 1.1, settled, settled)},
		{"lower aim, though unsettled", ended(0, 1, settled, exhausted), ended(0, 1.1, settled, settled)},
		{"settled, of one cost", ended(0, 1, settled, settled), ended(0, 1-1e-8, settled, exhausted)},
		{"settled, of one violation", ended(45, 1, settled, stalled), ended(45-1e-8, 0.5, stalled, settled)},
	}
	for _, c := range cases {
		if !c.good.better(c.bad) {
			t.Errorf("%s: not preferred", c.name)
		}
		if c.bad.better(c.good) {
			t.Errorf("%s: preferred the other way round", c.name)
		}
	}
	same := ended(0, 1, settled, settled)
	if same.better(ended(0, 1+tie/2, settled, settled)) {
		t.Error("the later of two equal ends is preferred")
	}
}

// beside makes a problem of one limit, shortfall ≤ 0.5 in steps of 0.1, and an aim
// that grows with y, from formulas of the shortfall and its derivatives.
func beside(lower, upper float64, shortfall func(x, y float64) (value, byX, byY float64)) *Problem {
	return &Problem{Numbers: 2,
		Parameters: []Parameter{{Lower: -2, Upper: 2, Start: 0.5}, {Lower: lower, Upper: upper, Start: lower}},
		Wants:      []Want{{Kind: AtMost, Value: 0.5, Scale: 0.1}, {Number: 1, Kind: MakeLarge, Scale: 1}},
		Evaluate: func(x, values []float64, jacobian *mat.Dense) error {
			value, byX, byY := shortfall(x[0], x[1])
			values[0], values[1] = value, x[1]
			if jacobian != nil {
				jacobian.SetRow(0, []float64{byX, byY})
				jacobian.SetRow(1, []float64{0, 1})
			}
			return nil
		}}
}

// bowl is (1 + x²)·(1 + curve·y²).
func bowl(curve float64) func(x, y float64) (value, byX, byY float64) {
	return func(x, y float64) (value, byX, byY float64) {
		a, b := 1+x*x, 1+curve*y*y
		return a * b, 2 * x * b, 2 * curve * y * a
	}
}

// gutter is 1 + (x + y/3)².
func gutter(x, y float64) (value, byX, byY float64) {
	s := x + y/3
	return 1 + s*s, 2 * s, 2 * s / 3
}

// Where the limits cannot hold, the aim decides among points of least violation
// only: along a line that the limits do not see, and nowhere else.
func TestAimAmongLeastViolations(t *testing.T) {
	for _, c := range []struct {
		name     string
		p        *Problem
		isolated bool
		x, y     float64
	}{
		{"single point", beside(-1, 1, bowl(1)), true, 0, 0},
		{"weakly curved", beside(-1, 1, bowl(0.01)), true, 0, 0},
		{"pushed against a bound", beside(0.2, 1, bowl(1)), true, 0, 0.2},
		{"pushed against a bound, curved downwards", beside(-1, 0, bowl(-0.1)), true, 0, -1},
		{"just touching a lower bound", beside(0, 1, bowl(1)), true, 0, 0},
		{"just touching an upper bound", beside(-1, 0, bowl(1)), true, 0, 0},
		{"line along an axis", beside(-1, 1, bowl(0)), false, 0, 1},
		{"line across the axes", beside(-1, 1, gutter), false, -1.0 / 3, 1},
	} {
		m := newModel(c.p)
		f := m.tune(context.Background(), []float64{0.7, 0.4}, defaultIterations)
		if f.unmet == nil || !f.settled() {
			t.Fatalf("%s: %+v", c.name, f)
		}
		if got := m.isolated(f.at); got != c.isolated {
			t.Errorf("%s: isolated %v", c.name, got)
		}
		// the gradient of the violation is met to 1e-9 over a curvature of 0.1 or more
		if math.Abs(f.at.x[0]-c.x) > 1e-7 || math.Abs(f.at.x[1]-c.y) > 1e-7 {
			t.Errorf("%s: ended at %v, want %g, %g", c.name, f.at.x, c.x, c.y)
		}
	}
}

// Both gradients of the violation against central differences, whose error is of
// the order of the square of their step.
func TestViolationGradients(t *testing.T) {
	const h = 1e-5
	m := newModel(beside(-1, 1, bowl(0.7)))
	z := []float64{0.3, 0.9}
	e, err := m.gradients(z)
	if err != nil {
		t.Fatal(err)
	}
	whole, root := m.violationGradient(e), m.rootViolationGradient(e)
	for i := range z {
		var v [2]float64
		for k, side := range []float64{1, -1} {
			moved := clone(z)
			moved[i] += side * h
			e, err := m.values(moved)
			if err != nil {
				t.Fatal(err)
			}
			v[k] = m.violation(e.slacks)
		}
		if d := (v[0] - v[1]) / (2 * h); math.Abs(whole[i]/d-1) > 1e-7 {
			t.Errorf("∂violation/∂z[%d] = %g, differences %g", i, whole[i], d)
		}
		if d := (math.Sqrt(v[0]) - math.Sqrt(v[1])) / (2 * h); math.Abs(root[i]/d-1) > 1e-7 {
			t.Errorf("∂√violation/∂z[%d] = %g, differences %g", i, root[i], d)
		}
	}
}
