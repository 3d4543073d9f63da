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
		if !c.good.better(c.bad, tie) {
			t.Errorf("%s: not preferred", c.name)
		}
		if c.bad.better(c.good, tie) {
			t.Errorf("%s: preferred the other way round", c.name)
		}
	}
	same := ended(0, 1, settled, settled)
	if same.better(ended(0, 1+tie/2, settled, settled), tie) {
		t.Error("the later of two equal ends is preferred")
	}
}

// twoNumbers has a limit of 1 on (1 + x²)·(1 + curve·y²), which is missed least
// at x = 0, and an aim that grows with y.
func twoNumbers(curve, lower float64) *Problem {
	return &Problem{Numbers: 2,
		Parameters: []Parameter{{Lower: -1, Upper: 1, Start: 0.5}, {Lower: lower, Upper: 1, Start: 0.5}},
		Wants:      []Want{{Kind: AtMost, Value: 0.5, Scale: 0.1}, {Number: 1, Kind: MakeLarge, Scale: 1}},
		Evaluate: func(x, values []float64, jacobian *mat.Dense) error {
			a, b := 1+x[0]*x[0], 1+curve*x[1]*x[1]
			values[0], values[1] = a*b, x[1]
			if jacobian != nil {
				jacobian.Set(0, 0, 2*x[0]*b)
				jacobian.Set(0, 1, 2*curve*x[1]*a)
				jacobian.Set(1, 0, 0)
				jacobian.Set(1, 1, 1)
			}
			return nil
		}}
}

// Where the limits cannot hold, the aim decides among points of least violation
// only: along a direction that the limits do not see, and nowhere else.
func TestAimAmongLeastViolations(t *testing.T) {
	for _, c := range []struct {
		name         string
		curve, lower float64
		isolated     bool
		y            float64
	}{
		{"single point", 1, -1, true, 0},
		{"single point, weakly curved", 0.01, -1, true, 0},
		{"on a bound that it pushes against", 1, 0.2, true, 0.2},
		{"on a bound that just touches", 1, 0, true, 0},
		{"whole line", 0, -1, false, 1},
	} {
		m := newModel(twoNumbers(c.curve, c.lower))
		f := m.tune(context.Background(), []float64{0.7, 0.9}, defaultIterations)
		if f.unmet == nil || !f.settled() {
			t.Fatalf("%s: %+v", c.name, f)
		}
		if got := m.isolated(f.at); got != c.isolated {
			t.Errorf("%s: isolated %v", c.name, got)
		}
		// the gradient of the violation is met to 1e-9 over a curvature of 0.1 or more
		if math.Abs(f.at.x[0]) > 1e-8 || math.Abs(f.at.x[1]-c.y) > 1e-7 {
			t.Errorf("%s: ended at %v, want 0 and %g", c.name, f.at.x, c.y)
		}
	}
}
