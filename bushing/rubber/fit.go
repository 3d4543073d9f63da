package rubber

import (
	"math"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// The rates that are derived leave out what happens near edges and corners. What
// finite elements say over what is derived is fitted by least squares on its
// logarithm (own finite elements, not published; package crosscheck), so a
// corrected rate is the derived one times the exponential of a polynomial: smooth,
// and never of the wrong sign.

// VoidRange and PlainRange are the bushes that the corrections were fitted to: from
// and to of the inner by the outer radius, the length by the wall, the arc of each
// void in degrees, its depth by the wall, the bulk by the shear modulus. Outside
// of them a polynomial says nothing. More bulk modulus than the last is as good as none.
var (
	VoidRange  = [5][2]float64{{0.35, 0.8}, {1.5, 10}, {40, 140}, {0.2, 0.9}, {200, 5000}}
	PlainRange = [5][2]float64{{0.3, 0.9}, {1, 20}, {0, 0}, {0, 0}, {200, 5000}}
)

// RoundRange is the radius of the corners of a void, as a share of FullRound, of the
// bushes to which the rounding of corners was fitted. Square corners have data of their
// own, so that shares below lie between two that are known.
var RoundRange = [2]float64{0.3, 1}

// Degrees of the polynomials.
const (
	plainDegree  = 5 // of all variables together
	radiusDegree = 3 // of the ratio of the radii alone
	plainTerms   = 18
	voidTerms    = 35 // of degree 3 in four variables
	roundTerms   = 30 // of degree 2 in the same four, times the roundness, and times its square
)

// centred maps the range to −1…1.
func centred[T exact.Number](x T, limits [2]float64) T {
	middle, half := (limits[0]+limits[1])/2, (limits[1]-limits[0])/2
	return (x - exact.Lift[T](middle)) * exact.Lift[T](1/half)
}

// centredLogarithm maps the range of a ratio to −1…1 by its logarithm.
func centredLogarithm[T exact.Number](x T, limits [2]float64) T {
	return centred(exact.Log(x), [2]float64{math.Log(limits[0]), math.Log(limits[1])})
}

// plainTerms are the powers of both variables, rᵢlʲ: radii and length.
func (c *Cylinder[T]) plainTerms() (terms [plainTerms]T) {
	radii := centred(c.Inside/c.Outside, PlainRange[0])
	long := centredLogarithm(c.Length/c.wall(), PlainRange[1])
	n := 0
	first := exact.Lift[T](1)
	for i := 0; i <= radiusDegree; i++ {
		term := first
		for j := 0; i+j <= plainDegree; j++ {
			terms[n] = term
			term *= long
			n++
		}
		first *= radii
	}
	return terms
}

// voidVariables map radii, length, arc and depth to −1…1.
func (c *Cylinder[T]) voidVariables(arc, depth T) [4]T {
	wall := c.wall()
	return [4]T{
		centred(c.Inside/c.Outside, VoidRange[0]), centredLogarithm(c.Length/wall, VoidRange[1]),
		centred(arc*exact.Lift[T](1/quantity.Degree.Factor), VoidRange[2]), centred(depth/wall, VoidRange[3]),
	}
}

// voidTermsOf are the products of up to three of four variables.
func voidTermsOf[T exact.Number](variables [4]T) (terms [voidTerms]T) {
	terms[0] = exact.Lift[T](1)
	n := 1
	for i, x := range variables {
		terms[n] = x
		n++
		for j, y := range variables[:i+1] {
			terms[n] = x * y
			n++
			for _, z := range variables[:j+1] {
				terms[n] = x * y * z
				n++
			}
		}
	}
	return terms
}

// roundTermsOf are the products of up to two of four variables, times the radius of the
// corners by the largest one and times its square, so that square corners have none.
func roundTermsOf[T exact.Number](variables [4]T, share T) (terms [roundTerms]T) {
	n := 0
	add := func(term T) {
		terms[n], terms[n+1] = term*share, term*share*share
		n += 2
	}
	add(exact.Lift[T](1))
	for i, x := range variables {
		add(x)
		for _, y := range variables[:i+1] {
			add(x * y)
		}
	}
	return terms
}

// correction is the exponential of a polynomial.
func correction[T exact.Number](terms []T, coefficients []float64) T {
	var sum T
	for i, k := range coefficients {
		sum += exact.Lift[T](k) * terms[i]
	}
	return exact.Exp(sum)
}
