package optimize_test

import (
	"reflect"
	"testing"

	"bushtune/optimize"
)

func warned(r *optimize.Result, kind optimize.WarningKind) [][]int {
	var found [][]int
	for _, w := range r.Warnings {
		if w.Kind == kind {
			found = append(found, w.Parameters)
		}
	}
	return found
}

func TestWarnings(t *testing.T) {
	target := func(number int, value float64) optimize.Want {
		return optimize.Want{Number: number, Kind: optimize.Target, Value: value, Scale: 1}
	}
	cases := []struct {
		name string
		f    formulas
		n    int
		want []optimize.Want
		kind optimize.WarningKind
		find [][]int
	}{
		{"no effect", func(x []complex128) []complex128 { return []complex128{sq(x[0] - 0.3)} }, 2,
			[]optimize.Want{{Kind: optimize.MakeSmall, Scale: 1}}, optimize.NoEffect, [][]int{{1}}},
		{"on its bound", func(x []complex128) []complex128 { return []complex128{x[0] + sq(x[1]-0.5)} }, 2,
			[]optimize.Want{{Kind: optimize.MakeLarge, Scale: 1}, {Kind: optimize.AtMost, Value: 5, Scale: 1}}, optimize.OnBound, [][]int{{0}, {1}}},
		{"same effect", func(x []complex128) []complex128 { return []complex128{x[0] + 2*x[1], sq(x[0]+2*x[1]) + x[2]} }, 3,
			[]optimize.Want{target(0, 1), target(1, 1.5)}, optimize.SameEffect, [][]int{{0, 1}}},
		{"different effect", func(x []complex128) []complex128 { return []complex128{x[0] * x[1], x[0] - x[1]} }, 2,
			[]optimize.Want{target(0, 0.2), target(1, 0.1)}, optimize.SameEffect, nil},
		{"flat direction", func(x []complex128) []complex128 { return []complex128{x[0] * x[1]} }, 2,
			[]optimize.Want{target(0, 0.25)}, optimize.FlatDirection, [][]int{{0, 1}}},
		{"as many as parameters", func(x []complex128) []complex128 { return []complex128{x[0] * x[1], x[0] - x[1]} }, 2,
			[]optimize.Want{target(0, 0.2), target(1, 0.1)}, optimize.FlatDirection, nil},
		{"one point all the same", func(x []complex128) []complex128 { return []complex128{sq(x[0]-0.5) + sq(x[1]-0.5)} }, 2,
			[]optimize.Want{target(0, 0)}, optimize.FlatDirection, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var parameters []optimize.Parameter
			for range c.n {
				parameters = append(parameters, unit("q"))
			}
			r := solve(t, numbers(c.f, parameters, c.want...), optimize.Options{Seed: 1})
			if got := warned(r, c.kind); !reflect.DeepEqual(got, c.find) {
				t.Errorf("%v, want %v; all: %+v (%v at %v)", got, c.find, r.Warnings, r.Status, r.X)
			}
		})
	}
}

// Two wells, f = (x² − 1)² + x/10: both ends are listed, the deeper one is the
// result.
func TestAgreement(t *testing.T) {
	p := numbers(func(x []complex128) []complex128 { return []complex128{sq(x[0]*x[0]-1) + 0.1*x[0]} },
		[]optimize.Parameter{{Name: "x", Lower: -2, Upper: 2, Start: 1.9}}, optimize.Want{Kind: optimize.MakeSmall, Scale: 1})
	r := solve(t, p, optimize.Options{Seed: 1})
	a := r.Agreement
	if len(a.Ends) != 2 || r.X[0] > 0 || a.Ends[0].X[0] != r.X[0] || a.Ends[1].X[0] < 0 {
		t.Fatalf("%+v", a)
	}
	if a.Ends[0].Starts != a.SamePoint || a.SamePoint != a.SameCost || a.Ends[0].Starts+a.Ends[1].Starts != a.Starts {
		t.Errorf("%+v", a)
	}
	if a.CostSpread != a.Ends[1].Aim-a.Ends[0].Aim {
		t.Errorf("spread %g", a.CostSpread)
	}
}
