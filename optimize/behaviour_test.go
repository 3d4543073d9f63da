package optimize_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

var errOutside = errors.New("outside the domain")

// Every evaluation of every published problem stays inside the box, exactly.
func TestBoundsHoldAtEveryEvaluation(t *testing.T) {
	for _, h := range hockSchittkowski() {
		p := h.problem()
		inner, calls := p.Evaluate, 0
		p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
			calls++
			for i, q := range p.Parameters {
				if !(x[i] >= q.Lower && x[i] <= q.Upper) {
					t.Errorf("%s: x[%d] = %v outside %v to %v", h.name, i, x[i], q.Lower, q.Upper)
				}
			}
			return inner(x, values, jacobian)
		}
		r := solve(t, p, optimize.Options{Seed: 17})
		if calls != r.Count.Values+r.Count.Gradients || calls == 0 {
			t.Errorf("%s: %d calls, %+v counted", h.name, calls, r.Count)
		}
	}
}

func TestSameSeedSameResult(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, h := range hockSchittkowski() {
		runtime.GOMAXPROCS(1)
		one := solve(t, h.problem(), optimize.Options{Seed: 11})
		runtime.GOMAXPROCS(4)
		four := solve(t, h.problem(), optimize.Options{Seed: 11})
		if !reflect.DeepEqual(one, four) {
			t.Errorf("%s: %+v on one processor, %+v on four", h.name, one, four)
		}
	}
}

func TestSeedMovesTheStarts(t *testing.T) {
	var first [2][]float64
	for seed := range first {
		p := neutralAngle(5, 90)
		inner := p.Evaluate
		p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
			first[seed] = append(first[seed], x[0])
			return inner(x, values, jacobian)
		}
		solve(t, p, optimize.Options{Seed: uint64(seed)})
	}
	if reflect.DeepEqual(first[0], first[1]) {
		t.Error("two seeds gave the same evaluations")
	}
}

// Impossible points: an error or a NaN where x > 0.8 and in a gap beside the
// way; the optimum 0.7 lies in between.
func TestImpossiblePointsShortenTheStep(t *testing.T) {
	for name, fail := range map[string]func(values []float64, jacobian *mat.Dense) error{
		"error": func([]float64, *mat.Dense) error { return errOutside },
		"NaN":   func(values []float64, _ *mat.Dense) error { values[0] = math.NaN(); return nil },
		"NaN slope": func(_ []float64, jacobian *mat.Dense) error {
			if jacobian != nil {
				jacobian.Set(0, 0, math.NaN())
			}
			return nil
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := numbers(func(x []complex128) []complex128 { return []complex128{sq(sq(x[0] - 0.7))} },
				[]optimize.Parameter{between("x", 0, 1)}, optimize.Want{Kind: optimize.MakeSmall, Scale: 1e-3})
			inner, failures := p.Evaluate, 0
			p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
				err := inner(x, values, jacobian)
				if x[0] > 0.8 || (x[0] > 0.5 && x[0] < 0.52) {
					failures++
					return fail(values, jacobian)
				}
				return err
			}
			r := solve(t, p, optimize.Options{Seed: 2})
			if r.Status != optimize.Converged || math.Abs(r.X[0]-0.7) > 0.01 {
				t.Errorf("%v at %v: %s", r.Status, r.X, r.Reason)
			}
			if failures == 0 {
				t.Error("the impossible region was never met")
			}
		})
	}
}

// The best point touches the impossible region: that is no optimum, and said so.
func TestStoppedByImpossibleRegion(t *testing.T) {
	p := numbers(func(x []complex128) []complex128 { return []complex128{x[0]} },
		[]optimize.Parameter{{Name: "x", Lower: 0, Upper: 1, Start: 0.9}}, optimize.Want{Kind: optimize.MakeSmall, Scale: 1})
	inner := p.Evaluate
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		if x[0] < 0.5 {
			return errOutside
		}
		return inner(x, values, jacobian)
	}
	r := solve(t, p, optimize.Options{Seed: 1})
	if r.Status != optimize.StoppedEarly || !errors.Is(r.Status.Err(), optimize.ErrStoppedEarly) || r.X[0] < 0.5 || r.X[0] > 0.51 {
		t.Errorf("%v at %v: %s", r.Status, r.X, r.Reason)
	}
	if r.Agreement.Failed == 0 {
		t.Error("no start fell into the impossible half")
	}
	if r.Prices.Given {
		t.Error("prices given without an optimum")
	}
}

func TestImpossibleStartIsAnError(t *testing.T) {
	p := neutralAngle(5, 90)
	p.Evaluate = func([]float64, []float64, *mat.Dense) error { return errOutside }
	if _, err := optimize.Solve(context.Background(), p, optimize.Options{}); !errors.Is(err, errOutside) {
		t.Errorf("error %v", err)
	}
}

func TestLogScale(t *testing.T) {
	var seen []float64
	p := numbers(func(x []complex128) []complex128 { return []complex128{x[0] * x[1], x[0] / x[1]} },
		[]optimize.Parameter{{Name: "a", Lower: 1e-3, Upper: 1e5, Start: 1e-3, Scale: optimize.Log},
			{Name: "b", Lower: 1e-2, Upper: 1e4, Start: 1e4, Scale: optimize.Log}},
		optimize.Want{Number: 0, Kind: optimize.Target, Value: 6000, Scale: 1},
		optimize.Want{Number: 1, Kind: optimize.Target, Value: 15, Scale: 0.01})
	inner := p.Evaluate
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		seen = append(seen, x[0])
		return inner(x, values, jacobian)
	}
	r := solve(t, p, optimize.Options{Seed: 1})
	if r.Status != optimize.Converged || math.Abs(r.X[0]/300-1) > closedForm || math.Abs(r.X[1]/20-1) > closedForm {
		t.Errorf("%v at %v: %s", r.Status, r.X, r.Reason)
	}
	if seen[0] != 1e-3 {
		t.Errorf("first evaluation at %v, want the lower bound exactly", seen[0])
	}
}

func TestFixedParameters(t *testing.T) {
	p := numbers(func(x []complex128) []complex128 { return []complex128{sq(x[0]-2) + sq(x[1]-2)} },
		[]optimize.Parameter{between("fixed", 1.25, 1.25), between("free", 0, 5)}, optimize.Want{Kind: optimize.MakeSmall, Scale: 1})
	r := solve(t, p, optimize.Options{Seed: 1})
	if r.Status != optimize.Converged || r.X[0] != 1.25 || math.Abs(r.X[1]-2) > closedForm {
		t.Errorf("%v at %v", r.Status, r.X)
	}
	p.Parameters[1] = between("fixed too", 3, 3)
	p.Wants = []optimize.Want{{Kind: optimize.AtMost, Value: 1, Scale: 1}}
	r = solve(t, p, optimize.Options{Seed: 1})
	if r.Status.Err() == nil || r.X[1] != 3 || r.Wants[0].Met {
		t.Errorf("nothing may move and the limit fails, yet %v at %v", r.Status, r.X)
	}
	p.Wants[0].Value = 10
	if r = solve(t, p, optimize.Options{Seed: 1}); r.Status != optimize.Converged {
		t.Errorf("nothing may move and the limit holds, yet %v", r.Status)
	}
}

func TestCompromise(t *testing.T) {
	// cost (x − 1)² + x has its minimum at ½
	p := numbers(func(x []complex128) []complex128 { return []complex128{x[0]} }, []optimize.Parameter{between("x", -3, 3)},
		optimize.Want{Kind: optimize.Target, Value: 1, Scale: 1}, optimize.Want{Kind: optimize.MakeSmall, Scale: 1})
	r := solve(t, p, optimize.Options{Seed: 1})
	if r.Status != optimize.Compromise || r.Status.Err() != nil || r.Wants[0].Met || math.Abs(r.X[0]-0.5) > closedForm {
		t.Errorf("%v at %v", r.Status, r.X)
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	p := hockSchittkowski()[0].problem()
	r, err := optimize.Solve(ctx, p, optimize.Options{Seed: 1, Progress: func(optimize.Progress) { cancel() }})
	if err != nil || r.Status != optimize.StoppedEarly || r.Agreement.Starts != 1 || !strings.Contains(r.Reason, "cancel") {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestIterationLimit(t *testing.T) {
	p := hockSchittkowski()[0].problem()
	r := solve(t, p, optimize.Options{Seed: 1, Iterations: 2, Starts: -1, GlobalEvaluations: -1})
	if r.Status != optimize.StoppedEarly || !strings.Contains(r.Reason, "iteration limit") {
		t.Errorf("%v: %s", r.Status, r.Reason)
	}
}

func TestProgress(t *testing.T) {
	var seen []optimize.Progress
	r := solve(t, neutralAngle(5, 90), optimize.Options{Seed: 1, Progress: func(p optimize.Progress) { seen = append(seen, p) }})
	if len(seen) != r.Agreement.Starts || seen[0].Start != 1 || seen[len(seen)-1].Start != seen[0].Starts {
		t.Errorf("%+v", seen)
	}
}

func TestValidate(t *testing.T) {
	bad := optimize.Problem{
		Parameters: []optimize.Parameter{
			{Name: "crossed", Lower: 2, Upper: 1, Start: 1}, {Name: "outside", Lower: 0, Upper: 1, Start: 2},
			{Name: "log", Lower: -1, Upper: 1, Scale: optimize.Log}, {Name: "infinite", Upper: math.Inf(1)},
			{Name: "nan", Upper: 1, Start: math.NaN()}},
		Wants: []optimize.Want{{Name: "nowhere", Number: 3, Scale: 1}, {Name: "flat", Kind: optimize.AtLeast},
			{Name: "light", Scale: 1, Weight: -1}, {Name: "odd", Kind: 9, Scale: 1}, {Name: "nan value", Scale: 1, Value: math.NaN()}},
		Numbers: 1,
	}
	_, err := optimize.Solve(context.Background(), &bad, optimize.Options{})
	if err == nil {
		t.Fatal("no error")
	}
	for _, name := range []string{"Evaluate", "crossed", "outside", "log", "infinite", "nan", "nowhere", "flat", "light", "odd", "nan value"} {
		if !strings.Contains(err.Error(), name) {
			t.Errorf("%q not mentioned in: %v", name, err)
		}
	}
}

func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for s := optimize.StoppedEarly; s <= optimize.AtCorner+1; s++ {
		seen[s.String()] = true
	}
	for k := optimize.Target; k <= optimize.MakeSmall+1; k++ {
		seen[k.String()] = true
	}
	if len(seen) != 12 {
		t.Errorf("words are missing or used twice: %v", seen)
	}
}
