package section

import "bushtune/bushing/exact"

// seriesLimit in rad: below it the closed forms of the Stumpff functions lose
// digits by cancellation and the power series takes over. At the limit the
// closed form of c3 loses a factor of six, the series' first missing term is
// below 1e-18.
const seriesLimit = 1

// stumpff returns the Stumpff functions of x²
//
//	c1 = sin x / x    c2 = (1 − cos x) / x²    c3 = (x − sin x) / x³
//
// (Stumpff 1959; c_k = 1/k! − x²·c_(k+2)). They are smooth through x = 0, so
// one formula describes a straight wall and an arc, and the derivative with
// respect to the arc's angle exists at a straight wall too.
func stumpff[T exact.Number](x T) (c1, c2, c3 T) {
	z := x * x
	if r := exact.Real(x); r < seriesLimit && r > -seriesLimit {
		c2, c3 = stumpffSeries(z)
		return 1 - z*c3, c2, c3
	}
	sin, cos := exact.Sincos(x)
	c1 = sin / x
	return c1, (1 - cos) / z, (1 - c1) / z
}

// stumpffSeries sums the power series of c2 and c3 in z = x², whose
// coefficients are ±1/2!, 1/4!, … 1/18! and ±1/3!, 1/5!, … 1/19!.
func stumpffSeries[T exact.Number](z T) (c2, c3 T) {
	if z == 0 {
		return 1. / 2, 1. / 6
	}
	c2 = 1./2 - z*(1./24-z*(1./720-z*(1./40320-z*(1./3628800-z*(1./479001600-z*(1./87178291200-z*(1./20922789888000-z*(1./6402373705728000))))))))
	c3 = 1./6 - z*(1./120-z*(1./5040-z*(1./362880-z*(1./39916800-z*(1./6227020800-z*(1./1307674368000-z*(1./355687428096000-z*(1./121645100408832000))))))))
	return c2, c3
}
