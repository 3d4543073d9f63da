package optimize_test

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// A spring of rate k shall give way as far as possible under 1000 N, but not be
// softer than 250 N/mm.
func ExampleSolve() {
	problem := &optimize.Problem{
		Parameters: []optimize.Parameter{{Name: "rate", Lower: 100, Upper: 1000, Start: 500, Scale: optimize.Log}},
		Wants: []optimize.Want{
			{Name: "travel, mm", Number: 0, Kind: optimize.MakeLarge, Scale: 0.1},
			{Name: "rate, N/mm", Number: 1, Kind: optimize.AtLeast, Value: 250, Scale: 1},
		},
		Numbers: 2,
		Evaluate: func(x, values []float64, jacobian *mat.Dense) error {
			values[0], values[1] = 1000/x[0], x[0]
			if jacobian != nil {
				jacobian.Set(0, 0, -1000/(x[0]*x[0]))
				jacobian.Set(1, 0, 1)
			}
			return nil
		},
	}
	result, err := optimize.Solve(context.Background(), problem, optimize.Options{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(result.Status)
	fmt.Printf("rate %.1f N/mm, travel %.3f mm\n", result.X[0], result.After.Values[0])
	fmt.Printf("each further N/mm costs %.3f mm\n", -result.Limits[0].Price)
	// Output:
	// converged
	// rate 250.0 N/mm, travel 4.000 mm
	// each further N/mm costs 0.016 mm
}

// evaluationTime stands for a mechanical model: 10 µs for the values, and three
// times that with gradients.
const evaluationTime = 10 * time.Microsecond

// axleSized has ten parameters and six numbers that bend and compete.
func axleSized() *optimize.Problem {
	f := func(x []complex128) []complex128 {
		v := make([]complex128, 6)
		for i := range v {
			for j := range x {
				v[i] += complex(math.Sin(float64(1+i+3*j)), 0) * x[j] * (1 + 0.3*x[(j+i)%len(x)])
			}
			v[i] += 0.2 * sq(x[i])
		}
		return v
	}
	var parameters []optimize.Parameter
	for range 10 {
		parameters = append(parameters, optimize.Parameter{Name: "p", Lower: -1, Upper: 1, Start: 0.2})
	}
	return numbers(f, parameters,
		optimize.Want{Number: 0, Kind: optimize.MakeLarge, Scale: 0.05},
		optimize.Want{Number: 1, Kind: optimize.AtLeast, Value: 0.5, Scale: 0.05},
		optimize.Want{Number: 2, Kind: optimize.AtMost, Value: 0.3, Scale: 0.05},
		optimize.Want{Number: 3, Kind: optimize.Target, Value: 0.1, Scale: 0.05},
		optimize.Want{Number: 4, Kind: optimize.AtMost, Value: 0.2, Scale: 0.05},
		optimize.Want{Number: 5, Kind: optimize.MakeSmall, Scale: 0.05})
}

func BenchmarkSolve(b *testing.B) {
	p := axleSized()
	inner := p.Evaluate
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		until := time.Now().Add(evaluationTime)
		if jacobian != nil {
			until = until.Add(2 * evaluationTime)
		}
		err := inner(x, values, jacobian)
		for time.Now().Before(until) {
		}
		return err
	}
	var r *optimize.Result
	for b.Loop() {
		var err error
		if r, err = optimize.Solve(context.Background(), p, optimize.Options{Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(r.Count.Values), "values/op")
	b.ReportMetric(float64(r.Count.Gradients), "gradients/op")
}

func BenchmarkOneStart(b *testing.B) {
	p := axleSized()
	for b.Loop() {
		if _, err := optimize.Solve(context.Background(), p, optimize.Options{Starts: -1, GlobalEvaluations: -1}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestAxleSized(t *testing.T) {
	r := solve(t, axleSized(), optimize.Options{Seed: 1})
	if r.Status.Err() != nil {
		t.Errorf("%v: %s", r.Status, r.Reason)
	}
	t.Logf("%v, %+v, residual %.1g, %d/%d starts, ends %d", r.Status, r.Count, r.AimResidual, r.Agreement.SameCost, r.Agreement.Starts, len(r.Agreement.Ends))
	for _, e := range r.Agreement.Ends {
		t.Logf("%d starts: aim %.6g, violation %.3g", e.Starts, e.Aim, e.Violation)
	}
}
