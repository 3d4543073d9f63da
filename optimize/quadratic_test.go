package optimize

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

const (
	// quadraticTolerance: random programmes of up to six unknowns with a
	// condition below 1e4 lose at most that of sixteen digits, and some.
	quadraticTolerance = 1e-9
	programmes         = 1000
	// vertexTolerance: a normal that counts as dependent though it is tilted by
	// dependenceTolerance may stay missed by that, over tilts down to 1e-6.
	vertexTolerance = 1e-7
)

// randomQuadratic has n unknowns, a definite Hessian, m random constraints,
// some of them repeated or turned round, and bounds on all unknowns.
func randomQuadratic(r *rand.Rand, n, m int) quadratic {
	a := mat.NewDense(n, n, nil)
	for i := range n {
		for j := range n {
			a.Set(i, j, r.NormFloat64())
		}
	}
	var h mat.Dense
	h.Mul(a.T(), a)
	q := quadratic{hessian: square(n, 0.05), gradient: make([]float64, n)}
	for i := range n {
		addScaled(q.hessian[i], 1, h.RawRowView(i))
		q.gradient[i] = 3 * r.NormFloat64()
	}
	for k := range m {
		row := make([]float64, n)
		for i := range row {
			row[i] = r.NormFloat64()
		}
		offset := r.NormFloat64() - 1
		if k > 0 && r.IntN(4) == 0 {
			row, offset = clone(q.normals[k-1]), q.offsets[k-1]
			if r.IntN(2) == 0 {
				for i := range row {
					row[i] *= -1
				}
				offset = -offset
			}
		}
		q.constrain(row, offset)
	}
	z := make([]float64, n)
	for i := range z {
		z[i] = r.Float64()
	}
	q.constrainToBox(z, 0)
	return q
}

// enumerate solves q by trying every set of at most n active constraints: the
// optimum is the one that meets all constraints with multipliers ≥ 0.
func enumerate(q quadratic) ([]float64, bool) {
	n := len(q.gradient)
	var best []float64
	var try func(next int, active []int)
	try = func(next int, active []int) {
		if best != nil {
			return
		}
		if d, ok := stationary(q, active); ok {
			best = d
			return
		}
		if len(active) == n {
			return
		}
		for i := next; i < len(q.normals); i++ {
			try(i+1, append(active[:len(active):len(active)], i))
		}
	}
	try(0, nil)
	return best, best != nil
}

// stationary solves the equality-constrained programme by its full linear
// system and says whether the answer is feasible with multipliers ≥ 0.
func stationary(q quadratic, active []int) ([]float64, bool) {
	n, size := len(q.gradient), len(q.gradient)+len(active)
	system, right := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for i := range n {
		for j := range n {
			system.Set(i, j, q.hessian[i][j])
		}
		right.SetVec(i, -q.gradient[i])
	}
	for k, c := range active {
		for i := range n {
			system.Set(i, n+k, -q.normals[c][i])
			system.Set(n+k, i, q.normals[c][i])
		}
		right.SetVec(n+k, q.offsets[c])
	}
	var x mat.VecDense
	if err := x.SolveVec(system, right); err != nil {
		return nil, false
	}
	d := clone(x.RawVector().Data[:n])
	for k := range active {
		if x.AtVec(n+k) < -quadraticTolerance {
			return nil, false
		}
	}
	for i, normal := range q.normals {
		if dot(normal, d) < q.offsets[i]-quadraticTolerance {
			return nil, false
		}
	}
	return d, true
}

func TestQuadraticAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	solved, inconsistent := 0, 0
	for range programmes {
		q := randomQuadratic(r, 1+r.IntN(3), r.IntN(5))
		want, feasible := enumerate(q)
		got, err := q.solve()
		switch {
		case !feasible:
			inconsistent++
			if !errors.Is(err, errInconsistent) {
				t.Fatalf("no active set fits, yet solve gives %v, %v for %+v", got, err, q)
			}
		case err != nil:
			t.Fatalf("%v for %+v, enumeration gives %v", err, q, want)
		default:
			solved++
			for i := range want {
				if math.Abs(got.step[i]-want[i]) > 1e3*quadraticTolerance {
					t.Fatalf("d = %v, enumeration %v", got.step, want)
				}
			}
		}
	}
	t.Logf("%d solved, %d inconsistent", solved, inconsistent)
	if solved < programmes/3 || inconsistent < programmes/50 {
		t.Errorf("too one-sided: %d solved, %d inconsistent", solved, inconsistent)
	}
}

func TestQuadraticFirstOrderConditions(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for range programmes {
		q := randomQuadratic(r, 1+r.IntN(12), r.IntN(10))
		o, err := q.solve()
		if errors.Is(err, errInconsistent) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		left := multiply(q.hessian, o.step)
		addScaled(left, 1, q.gradient)
		size := 1 + largest(left)
		for i, m := range o.multipliers {
			slack := dot(q.normals[i], o.step) - q.offsets[i]
			size = math.Max(size, m)
			if m < 0 || slack < -quadraticTolerance || m*slack > quadraticTolerance*size {
				t.Fatalf("constraint %d: multiplier %g, slack %g", i, m, slack)
			}
			addScaled(left, -m, q.normals[i])
		}
		if largest(left) > quadraticTolerance*size {
			t.Fatalf("gradient left %g of %g", largest(left), size)
		}
	}
}

// Programmes that can be solved by eye.
func TestQuadraticSmallCases(t *testing.T) {
	identity := square(2, 1)
	cases := []struct {
		name string
		q    quadratic
		step []float64
		err  error
	}{
		{"unconstrained", quadratic{hessian: identity, gradient: []float64{1, -2}}, []float64{-1, 2}, nil},
		{"equality as two", quadratic{identity, []float64{0, 0}, [][]float64{{1, 1}, {-1, -1}}, []float64{2, -2}}, []float64{1, 1}, nil},
		{"contradiction", quadratic{identity, []float64{0, 0}, [][]float64{{1, 0}, {-1, 0}}, []float64{1, 0}}, nil, errInconsistent},
		{"impossible row", quadratic{identity, []float64{0, 0}, [][]float64{{0, 0}}, []float64{1}}, nil, errInconsistent},
		{"empty row", quadratic{identity, []float64{0, 0}, [][]float64{{0, 0}}, []float64{-1}}, []float64{0, 0}, nil},
		{"indefinite", quadratic{[][]float64{{1, 2}, {2, 1}}, []float64{0, 0}, nil, nil}, nil, errNotConvex},
		{"three lines through one corner", quadratic{identity, []float64{0, 0},
			[][]float64{{1, 0}, {0, 1}, {1, 1}}, []float64{1, 1, 2}}, []float64{1, 1}, nil},
		{"no unknowns", quadratic{}, nil, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			o, err := c.q.solve()
			if !errors.Is(err, c.err) {
				t.Fatalf("error %v, want %v", err, c.err)
			}
			for i := range c.step {
				if math.Abs(o.step[i]-c.step[i]) > quadraticTolerance {
					t.Errorf("d = %v, want %v", o.step, c.step)
				}
			}
		})
	}
}

// A Hessian that is almost of rank one sends the unconstrained optimum far out of
// the box; the box must hold as exactly as if it had never been there.
func TestQuadraticNearlySingular(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 10))
	for range programmes {
		n := 2 + r.IntN(5)
		q := quadratic{hessian: square(n, 1e-8), gradient: make([]float64, n)}
		v, z := make([]float64, n), make([]float64, n)
		for i := range v {
			v[i], q.gradient[i] = 100*r.NormFloat64(), 100*r.NormFloat64()
			z[i] = math.Max(0, 1.2*r.Float64()-0.1)
			z[i] = math.Min(z[i], 1)
		}
		for i := range v {
			addScaled(q.hessian[i], v[i], v)
		}
		q.constrainToBox(z, 0)
		o, err := q.solve()
		if err != nil {
			t.Fatal(err)
		}
		left := multiply(q.hessian, o.step)
		addScaled(left, 1, q.gradient)
		for i, m := range o.multipliers {
			if slack := dot(q.normals[i], o.step) - q.offsets[i]; slack < -10*meetTolerance {
				t.Fatalf("bound %d missed by %g, step %v", i, -slack, o.step)
			}
			addScaled(left, -m, q.normals[i])
		}
		// the Hessian is of size 1e4 and one coordinate may be left to move freely
		if largest(left) > 1e4*quadraticTolerance {
			t.Fatalf("gradient left %g, step %v", largest(left), o.step)
		}
	}
}

// Where more constraints meet than there are unknowns, some nearly along or
// against each other, and all hold the optimum back, only rounding is left of the
// step: that must not count as a violation.
func TestQuadraticDegenerateVertex(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for range 5 * programmes {
		n := 1 + r.IntN(6)
		q := quadratic{hessian: square(n, 1), gradient: make([]float64, n)}
		for k := range 2*n + 1 {
			normal := make([]float64, n)
			for i := range normal {
				normal[i] = r.NormFloat64()
			}
			if k > 0 && r.IntN(2) == 0 {
				tilt, side := math.Pow(10, -6-10*r.Float64()), float64(1-2*r.IntN(2))
				for i, v := range q.normals[k-1] {
					normal[i] = side*v + tilt*normal[i]
				}
			}
			q.constrain(normal, 0)
			addScaled(q.gradient, math.Exp(3*r.NormFloat64()), normal)
		}
		o, err := q.solve()
		if err != nil {
			t.Fatal(err)
		}
		if largest(o.step) > vertexTolerance*largest(q.gradient) {
			t.Fatalf("step %v from a vertex, gradient %v", o.step, q.gradient)
		}
	}
}

// Two opposite normals that differ by less than counts as independent: no step
// along one of them may be called impossible.
func TestQuadraticOppositeNormals(t *testing.T) {
	for _, tilt := range []float64{0, -1e-15, -1e-13, -3e-12, -1e-11, 1e-11, -1e-10, 1e-10, -1e-8, -1e-6} {
		q := quadratic{hessian: square(2, 1), gradient: []float64{1, -0.3}}
		q.constrain([]float64{3, 1}, 0)
		q.constrain([]float64{-3, -1 + tilt}, 0)
		o, err := q.solve()
		if err != nil {
			t.Errorf("tilt %g: %v", tilt, err)
			continue
		}
		for i := range q.normals {
			if s := dot(q.normals[i], o.step); s < -10*dependenceTolerance {
				t.Errorf("tilt %g: slack %g", tilt, s)
			}
		}
	}
}

func BenchmarkQuadratic(b *testing.B) {
	r := rand.New(rand.NewPCG(9, 9))
	q := randomQuadratic(r, 10, 5)
	for b.Loop() {
		if _, err := q.solve(); err != nil {
			b.Fatal(err)
		}
	}
}
