package exact

import (
	"math"
	"math/cmplx"
	"testing"
)

const (
	// rounding is a few units in the last place of double precision.
	rounding = 4e-16
	// differences is what central differences with Richardson's step leave.
	differences = 1e-10
	// visibleStep is an imaginary step, as a share of the number, so small that
	// what it adds in second order is below libraryShare and so large that
	// math/cmplx keeps it.
	visibleStep  = 1e-6
	libraryShare = 1e-9
)

// function is one function of one number: over both scalars, and the same from
// math/cmplx, an independent continuation into the complex plane.
type function struct {
	name    string
	real    func(float64) float64
	complex func(complex128) complex128
	library func(complex128) complex128
	at      []float64
}

func functions() []function {
	around := []float64{-2.3, -0.7, -1e-9, 0, 1e-9, 0.4, 1, 2.9}
	positive := []float64{1e-12, 0.3, 1, 7.5, 1e12}
	return []function{
		{"Sqrt", Sqrt[float64], Sqrt[complex128], cmplx.Sqrt, positive},
		{"Sin", Sin[float64], Sin[complex128], cmplx.Sin, around},
		{"Cos", Cos[float64], Cos[complex128], cmplx.Cos, around},
		{"Tan", Tan[float64], Tan[complex128], cmplx.Tan, around},
		{"Atan", Atan[float64], Atan[complex128], cmplx.Atan, around},
		{"Exp", Exp[float64], Exp[complex128], cmplx.Exp, around},
		{"Log", Log[float64], Log[complex128], cmplx.Log, positive},
		{"Tanh", Tanh[float64], Tanh[complex128], cmplx.Tanh, append(around, 30, -400)},
		{"Abs", Abs[float64], Abs[complex128], func(x complex128) complex128 {
			if real(x) < 0 {
				return -x
			}
			return x
		}, []float64{-3, -1e-9, 2, 5}},
	}
}

// Values are those of float64; derivatives those of math/cmplx to first order,
// and of central differences.
func TestFunctionsOfOneNumber(t *testing.T) {
	for _, f := range functions() {
		for _, x := range f.at {
			value := f.complex(Seed(x))
			want := f.real(x)
			if real(value) != want {
				t.Errorf("%s(%g): value %g in complex, %g in real", f.name, x, real(value), want)
			}
			step := visibleStep * math.Abs(x)
			if f.at[0] < 0 { // smooth through zero
				step = visibleStep * max(math.Abs(x), 1)
			}
			library := f.library(complex(x, step))
			if math.Abs(real(library)-want) > libraryShare*max(1, math.Abs(want)) {
				t.Errorf("%s(%g) = %.15g, library %.15g", f.name, x, want, real(library))
			}
			slope := imag(library) / step
			if got := Derivative(value); math.Abs(got-slope) > libraryShare*max(math.Abs(slope), 1) {
				t.Errorf("%s'(%g) = %.12g, library %.12g", f.name, x, got, slope)
			}
			if math.Abs(x) > 1e-3 && math.Abs(x) < 20 {
				slope := richardson(f.real, x)
				if got := Derivative(value); math.Abs(got-slope) > differences*max(1, math.Abs(slope)) {
					t.Errorf("%s'(%g) = %.12g, differences %.12g", f.name, x, got, slope)
				}
			}
		}
	}
}

// richardson is the derivative by central differences extrapolated twice.
func richardson(f func(float64) float64, x float64) float64 {
	h := 0.005 * math.Abs(x)
	d := func(h float64) float64 { return (f(x+h) - f(x-h)) / (2 * h) }
	first, second := (4*d(h/2)-d(h))/3, (4*d(h/4)-d(h/2))/3
	return (16*second - first) / 15
}

// Every function carries the derivative that its argument already has: chain
// rule, f(g(x)) with g = x² + 3x.
func TestChainRule(t *testing.T) {
	for _, f := range functions() {
		for _, x := range []float64{0.3, 1.1} {
			inner := Seed(x)*Seed(x) + 3*Seed(x)
			got := Derivative(f.complex(inner))
			want := Derivative(f.complex(Seed(x*x+3*x))) * (2*x + 3)
			if math.Abs(got-want) > rounding*8*math.Abs(want) {
				t.Errorf("%s of x²+3x at %g: %.15g, chain rule %.15g", f.name, x, got, want)
			}
		}
	}
}

// Atan2 in all four quadrants and on the axes, by each argument.
func TestAtan2(t *testing.T) {
	for _, p := range [][2]float64{{1, 2}, {1, -2}, {-1, -2}, {-1, 2}, {0, 1}, {1, 0}, {-1, 0}, {0, -1}, {3e-9, 1}, {1e8, 1}} {
		y, x := p[0], p[1]
		byY, byX := Atan2(Seed(y), complex(x, 0)), Atan2(complex(y, 0), Seed(x))
		if real(byY) != math.Atan2(y, x) || real(byX) != math.Atan2(y, x) || Atan2(y, x) != math.Atan2(y, x) {
			t.Errorf("Atan2(%g, %g): value %g", y, x, real(byY))
		}
		square := x*x + y*y
		if got, want := Derivative(byY), x/square; math.Abs(got-want) > rounding*math.Abs(want) {
			t.Errorf("∂Atan2/∂y at (%g, %g) = %g, want %g", y, x, got, want)
		}
		if got, want := Derivative(byX), -y/square; math.Abs(got-want) > rounding*math.Abs(want) {
			t.Errorf("∂Atan2/∂x at (%g, %g) = %g, want %g", y, x, got, want)
		}
	}
	// a turn of the point turns the angle: total derivative along (−y, x) is one
	const angle = 2.7
	s, c := Sincos(Seed(angle))
	if got := Derivative(Atan2(s, c)); math.Abs(got-1) > 2*rounding {
		t.Errorf("d(atan2(sin, cos)) = %.17g, want 1", got)
	}
}

// Products and quotients carry derivatives by Go's own complex arithmetic.
func TestArithmeticOfSeeds(t *testing.T) {
	for _, x := range []float64{-1e6, -2.5, 3e-7, 1, 4e5} {
		s := Seed(x)
		for name, c := range map[string]struct {
			got  complex128
			want float64
		}{
			"1/x":         {1 / s, -1 / (x * x)},
			"x³":          {s * s * s, 3 * x * x},
			"x/(1+x²)":    {s / (1 + s*s), (1 - x*x) / ((1 + x*x) * (1 + x*x))},
			"(x−2)/(x+3)": {(s - 2) / (s + 3), 5 / ((x + 3) * (x + 3))},
		} {
			if got, size := Derivative(c.got), math.Abs(real(c.got)/x); math.Abs(got-c.want) > 20*rounding*max(math.Abs(c.want), size) {
				t.Errorf("(%s)' at %g = %.15g, want %.15g", name, x, got, c.want)
			}
		}
	}
}

func TestLiftRealSeed(t *testing.T) {
	if Lift[float64](1.5) != 1.5 || Lift[complex128](1.5) != complex(1.5, 0) {
		t.Error("Lift changes its number or gives it a derivative")
	}
	if Real(2.5) != 2.5 || Real(complex(2.5, 7)) != 2.5 {
		t.Error("Real is not the real part")
	}
	if Derivative(Seed(1e9)) != 1 || real(Seed(1e9)) != 1e9 {
		t.Error("Seed does not carry the derivative one")
	}
	if step := Step; 1-1e20*step*step != 1 {
		t.Error("the square of the step, even times large numbers, must vanish against one")
	}
}

// A comparison looks at the real part: the branch of a negative number with any
// derivative.
func TestAbsKeepsDerivative(t *testing.T) {
	for _, x := range []complex128{complex(-2, Step), complex(-2, -Step), complex(2, -Step)} {
		got := Abs(x)
		if real(got) != 2 || math.Abs(Derivative(got)) != 1 {
			t.Errorf("Abs(%v) = %v", x, got)
		}
	}
}
