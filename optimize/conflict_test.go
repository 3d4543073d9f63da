package optimize_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bushtune/optimize"
)

func conflictOf(t *testing.T, p *optimize.Problem) (*optimize.Result, *optimize.Conflict) {
	t.Helper()
	o := optimize.Options{Seed: 1}
	r, err := optimize.Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return r, r.Conflict(context.Background(), p, o)
}

// Conflicts whose smallest set and whose ends are known by hand.
func TestConflict(t *testing.T) {
	plane := func(x []complex128) []complex128 { return []complex128{x[0], x[1], x[0] + x[1], sq(x[0]) + sq(x[1])} }
	square := []optimize.Parameter{unit("x"), unit("y")}
	limit := func(number int, kind optimize.Kind, value float64) optimize.Want {
		return optimize.Want{Number: number, Kind: kind, Value: value, Scale: 0.1}
	}
	large := optimize.Want{Number: 1, Kind: optimize.MakeLarge, Scale: 0.1}
	for _, test := range []struct {
		name  string
		wants []optimize.Want
		set   []int
		alone []float64
	}{
		{"one that no corner meets", []optimize.Want{limit(0, optimize.AtLeast, 0.2), limit(2, optimize.AtLeast, 3), large}, []int{1}, []float64{2}},
		{"two on one number, others easy", []optimize.Want{limit(1, optimize.AtLeast, 0.5), limit(0, optimize.AtLeast, 0.6), limit(2, optimize.AtMost, 1.9), limit(0, optimize.AtMost, 0.4), large},
			[]int{1, 3}, []float64{0.4, 0.6}},
		{"three, any two of which can be", []optimize.Want{limit(0, optimize.AtLeast, 0.6), limit(3, optimize.AtMost, 1.5), limit(1, optimize.AtLeast, 0.6), limit(2, optimize.AtMost, 1)},
			[]int{0, 2, 3}, []float64{0.4, 0.4, 1.2}},
		{"a circle and a line", []optimize.Want{limit(0, optimize.AtLeast, 0.1), limit(3, optimize.AtMost, 0.25), limit(2, optimize.AtLeast, 1)},
			[]int{1, 2}, []float64{0.5, math.Sqrt(0.5)}},
		{"a target out of reach", []optimize.Want{limit(0, optimize.AtMost, 0.5), limit(2, optimize.Target, 1.8)},
			[]int{0, 1}, []float64{0.799, 1.5}},
	} {
		p := numbers(plane, square, test.wants...)
		r, c := conflictOf(t, p)
		if r.Status.Err() == nil || c == nil {
			t.Errorf("%s: %v, %v", test.name, r.Status, c)
			continue
		}
		if !slices.Equal(c.Wants, test.set) {
			t.Errorf("%s: wants %v, want %v", test.name, c.Wants, test.set)
			continue
		}
		for k, value := range c.Alone {
			if math.Abs(value-test.alone[k]) > 1e-5 {
				t.Errorf("%s: want %d alone comes to %g, want %g", test.name, c.Wants[k], value, test.alone[k])
			}
		}
	}
	if _, c := conflictOf(t, numbers(plane, square, limit(0, optimize.AtLeast, 0.6), large)); c != nil {
		t.Errorf("wants that are met conflict: %v", c)
	}
}

// halfPlane is a·x ≥ b.
type halfPlane struct{ a, b, c float64 }

// corners are the corners of the unit square cut by half planes: where two edges
// meet and nothing is missed.
func corners(cuts []halfPlane) (all [][2]float64) {
	edges := append(slices.Clone(cuts), halfPlane{1, 0, 0}, halfPlane{-1, 0, -1}, halfPlane{0, 1, 0}, halfPlane{0, -1, -1})
	for i, e := range edges {
		for _, f := range edges[:i] {
			det := e.a*f.b - e.b*f.a
			if math.Abs(det) < 1e-9 {
				continue
			}
			x, y := (e.c*f.b-e.b*f.c)/det, (e.a*f.c-e.c*f.a)/det
			if !slices.ContainsFunc(edges, func(g halfPlane) bool { return g.a*x+g.b*y < g.c-1e-9 }) {
				all = append(all, [2]float64{x, y})
			}
		}
	}
	return all
}

// Random half planes in the unit square, against its corners: the set found cannot be
// met, without any one of it the rest can, and each goes as far as the best corner of
// the others.
func TestConflictAgainstCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	found := map[int]int{}
	for n := range 120 {
		var cuts []halfPlane
		var wants []optimize.Want
		for i := range 6 {
			angle := 2 * math.Pi * rng.Float64()
			h := halfPlane{a: math.Cos(angle), b: math.Sin(angle)}
			h.c = h.a*0.5 + h.b*0.5 + 0.6*rng.Float64() - 0.25
			cuts = append(cuts, h)
			wants = append(wants, optimize.Want{Number: i, Kind: optimize.AtLeast, Value: h.c, Scale: 0.05})
		}
		p := numbers(func(x []complex128) (all []complex128) {
			for _, h := range cuts {
				all = append(all, complex(h.a, 0)*x[0]+complex(h.b, 0)*x[1])
			}
			return all
		}, []optimize.Parameter{unit("x"), unit("y")}, wants...)
		r, c := conflictOf(t, p)
		if feasible := len(corners(cuts)) > 0; feasible != (r.Status.Err() == nil) || feasible != (c == nil) {
			t.Errorf("problem %d: can be met %v, ended %v, conflict %v", n, feasible, r.Status, c)
			continue
		} else if feasible {
			continue
		}
		found[len(c.Wants)]++
		var set []halfPlane
		for _, i := range c.Wants {
			set = append(set, cuts[i])
		}
		if len(corners(set)) > 0 {
			t.Errorf("problem %d: %v can be met together", n, c.Wants)
		}
		for k, i := range c.Wants {
			best := math.Inf(-1)
			for _, at := range corners(slices.Delete(slices.Clone(set), k, k+1)) {
				best = max(best, cuts[i].a*at[0]+cuts[i].b*at[1])
			}
			if math.Abs(best-c.Alone[k]) > 1e-5 {
				t.Errorf("problem %d: want %d of %v comes to %g, the best corner to %g", n, i, c.Wants, c.Alone[k], best)
			}
		}
	}
	if found[2] < 10 || found[3] < 10 {
		t.Errorf("sizes of the sets: %v", found)
	}
}
