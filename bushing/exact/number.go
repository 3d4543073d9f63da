// Package exact holds the small algebra in which every mechanical formula of
// bushtune is written once, over float64 for values and over complex128 for
// exact first derivatives.
//
// A derivative is taken by the complex step (Squire & Trapp, SIAM Review 40,
// 1998): one input is raised by Step·i and the imaginary part of the result
// over Step is the derivative, free of subtractive cancellation. Step is so
// small that its square vanishes in double precision, so the functions below
// carry first-order terms only: f(a + b·i) = f(a) + b·f'(a)·i.
//
// Rules for code written over Number: comparisons, minima and absolute values
// look at the real part (Real); norms and products never conjugate.
package exact

import "math"

// Number is the scalar of every formula: float64 gives values, complex128
// gives values with one exact derivative in the imaginary part.
type Number interface {
	float64 | complex128
}

// Step is the imaginary step: its square underflows against one.
const Step = 1e-30

// Seed returns x raised by one imaginary step: the input to differentiate by.
func Seed(x float64) complex128 { return complex(x, Step) }

// Derivative reads the derivative carried by x with respect to the seeded input.
func Derivative(x complex128) float64 { return imag(x) / Step }

// Lift turns a plain value into a Number without a derivative.
func Lift[T Number](x float64) T {
	var t T
	switch p := any(&t).(type) {
	case *float64:
		*p = x
	case *complex128:
		*p = complex(x, 0)
	}
	return t
}

// Real is the value of x without its derivative.
func Real[T Number](x T) float64 {
	switch v := any(x).(type) {
	case float64:
		return v
	case complex128:
		return real(v)
	}
	panic("exact: not a Number")
}

// chain returns a Number with value f whose derivative is slope times that of x.
func chain[T Number](x T, f, slope float64) T {
	switch v := any(x).(type) {
	case complex128:
		return any(complex(f, slope*imag(v))).(T)
	}
	return Lift[T](f)
}

// Sqrt is the square root; the real part of x must be positive.
func Sqrt[T Number](x T) T {
	r := math.Sqrt(Real(x))
	return chain(x, r, 0.5/r)
}

// Sincos returns the sine and cosine of an angle in radians.
func Sincos[T Number](x T) (sin, cos T) {
	s, c := math.Sincos(Real(x))
	return chain(x, s, c), chain(x, c, -s)
}

// Sin is the sine of an angle in radians.
func Sin[T Number](x T) T { s, _ := Sincos(x); return s }

// Cos is the cosine of an angle in radians.
func Cos[T Number](x T) T { _, c := Sincos(x); return c }

// Tan is the tangent of an angle in radians.
func Tan[T Number](x T) T {
	t := math.Tan(Real(x))
	return chain(x, t, 1+t*t)
}

// Atan is the inverse tangent in radians.
func Atan[T Number](x T) T {
	r := Real(x)
	return chain(x, math.Atan(r), 1/(1+r*r))
}

// Atan2 is the angle in radians of the point (x, y), as math.Atan2.
func Atan2[T Number](y, x T) T {
	a, b := Real(y), Real(x)
	s := a*a + b*b
	return chain(y, math.Atan2(a, b), b/s) + chain(x, 0, -a/s)
}

// Exp is the exponential function.
func Exp[T Number](x T) T {
	e := math.Exp(Real(x))
	return chain(x, e, e)
}

// Log is the natural logarithm; the real part of x must be positive.
func Log[T Number](x T) T {
	r := Real(x)
	return chain(x, math.Log(r), 1/r)
}

// Tanh is the hyperbolic tangent.
func Tanh[T Number](x T) T {
	t := math.Tanh(Real(x))
	return chain(x, t, 1-t*t)
}

// Abs is x or −x, whichever has a real part of at least zero.
func Abs[T Number](x T) T {
	if Real(x) < 0 {
		return -x
	}
	return x
}
