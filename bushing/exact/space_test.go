package exact

import (
	"math"
	"math/rand/v2"
	"testing"
)

// vectorRounding bounds identities on vectors with components up to ten.
const vectorRounding = 1e-13

func randomVec(rng *rand.Rand) Vec[float64] {
	return Vec[float64]{20 * (rng.Float64() - 0.5), 20 * (rng.Float64() - 0.5), 20 * (rng.Float64() - 0.5)}
}

// Identities of vector algebra, for random vectors.
func TestVectorIdentities(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	for range 30 {
		a, b, c := randomVec(rng), randomVec(rng), randomVec(rng)
		lagrange := a.Cross(b).Dot(a.Cross(b)) - (a.Dot(a)*b.Dot(b) - a.Dot(b)*a.Dot(b))
		jacobi := a.Cross(b.Cross(c)).Add(b.Cross(c.Cross(a))).Add(c.Cross(a.Cross(b)))
		triple := a.Cross(b.Cross(c)).Sub(b.Scale(a.Dot(c)).Sub(c.Scale(a.Dot(b))))
		if math.Abs(lagrange) > 1e4*vectorRounding || jacobi.Norm() > 100*vectorRounding || triple.Norm() > 100*vectorRounding {
			t.Errorf("identities of %v, %v, %v fail by %g, %g, %g", a, b, c, lagrange, jacobi.Norm(), triple.Norm())
		}
		if math.Abs(a.Unit().Norm()-1) > rounding*4 || a.Unit().Cross(a).Norm() > vectorRounding {
			t.Errorf("unit of %v", a)
		}
	}
	x, y, z := Vec[float64]{1, 0, 0}, Vec[float64]{0, 1, 0}, Vec[float64]{0, 0, 1}
	if x.Cross(y) != z || y.Cross(z) != x || z.Cross(x) != y {
		t.Error("the cross product is not right-handed")
	}
}

// A force at r does on a rigid motion (u, θ) the work f·(u + θ×r).
func TestWrenchDoesTheWorkOfItsForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(53, 54))
	for range 20 {
		f, r, u, turn, m := randomVec(rng), randomVec(rng), randomVec(rng), randomVec(rng), randomVec(rng)
		motion := Wrench[float64]{u[0], u[1], u[2], turn[0], turn[1], turn[2]}
		force, moment := Force(f, r), Moment(m)
		if want := f.Dot(u.Add(turn.Cross(r))); math.Abs(force.Dot(&motion)-want) > 100*vectorRounding {
			t.Errorf("work %g, want %g", force.Dot(&motion), want)
		}
		if want := m.Dot(turn); math.Abs(moment.Dot(&motion)-want) > 100*vectorRounding {
			t.Errorf("work of a moment %g, want %g", moment.Dot(&motion), want)
		}
	}
}

// Rotations: sense, orthogonality, derivative = axis × turned vector.
func TestRotations(t *testing.T) {
	quarter := math.Pi / 2
	for _, c := range []struct {
		name      string
		got, want Vec[float64]
	}{
		{"x takes y to z", RotX(quarter).Apply(Vec[float64]{0, 1, 0}), Vec[float64]{0, 0, 1}},
		{"y takes z to x", RotY(quarter).Apply(Vec[float64]{0, 0, 1}), Vec[float64]{1, 0, 0}},
		{"z takes x to y", RotZ(quarter).Apply(Vec[float64]{1, 0, 0}), Vec[float64]{0, 1, 0}},
	} {
		if c.got.Sub(c.want).Norm() > rounding {
			t.Errorf("%s: %v", c.name, c.got)
		}
	}
	v := Vec[float64]{1, -2, 3}
	for axis, rot := range []func(complex128) Mat3[complex128]{RotX[complex128], RotY[complex128], RotZ[complex128]} {
		turned := rot(Seed(0.7)).Apply(LiftVec[complex128](v))
		var along, value Vec[float64]
		along[axis] = 1
		for i := range value {
			value[i] = real(turned[i])
		}
		for i, want := range along.Cross(value) {
			if got := Derivative(turned[i]); math.Abs(got-want) > 10*rounding {
				t.Errorf("rotation about axis %d: derivative %d = %g, want %g", axis, i, got, want)
			}
		}
		m := rot(Seed(0.7))
		both := m.Mul(rot(Seed(-0.7))) // derivatives add: twice the rate at no rotation
		for i := range 3 {
			if c := both.Column(i); math.Abs(real(c[i])-1) > 2*rounding {
				t.Errorf("rotation about axis %d there and back: %v", axis, both)
			}
		}
	}
}

// (a·b)·v = a·(b·v), and columns are columns.
func TestMatrixProduct(t *testing.T) {
	rng := rand.New(rand.NewPCG(55, 56))
	var a, b Mat3[float64]
	for i := range 3 {
		a[i], b[i] = randomVec(rng), randomVec(rng)
	}
	v := randomVec(rng)
	if d := a.Mul(b).Apply(v).Sub(a.Apply(b.Apply(v))).Norm(); d > 1e4*vectorRounding {
		t.Errorf("associativity fails by %g", d)
	}
	for j := range 3 {
		var unit Vec[float64]
		unit[j] = 1
		if a.Column(j) != a.Apply(unit) {
			t.Errorf("column %d is %v, want %v", j, a.Column(j), a.Apply(unit))
		}
	}
}

// The derivative of a norm and of a unit vector: û·dv, and (dv − û·(û·dv))/|v|.
func TestNormDerivative(t *testing.T) {
	v := Vec[float64]{3, -4, 12}
	for axis := range 3 {
		seeded := LiftVec[complex128](v)
		seeded[axis] = Seed(v[axis])
		if got, want := Derivative(seeded.Norm()), v[axis]/13; math.Abs(got-want) > rounding {
			t.Errorf("norm by component %d: %g, want %g", axis, got, want)
		}
		unit := seeded.Unit()
		for i := range 3 {
			want := -v[i] * v[axis] / (13 * 13 * 13)
			if i == axis {
				want += 1.0 / 13
			}
			if got := Derivative(unit[i]); math.Abs(got-want) > rounding {
				t.Errorf("unit %d by component %d: %g, want %g", i, axis, got, want)
			}
		}
	}
}
