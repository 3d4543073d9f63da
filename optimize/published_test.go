package optimize_test

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// formulas computes numbers over complex arguments, so that exact derivatives
// come from the complex step (Squire & Trapp, SIAM Review 40, 1998).
type formulas func(x []complex128) []complex128

// tinyStep is so small that its square vanishes.
const tinyStep = 1e-100

func (f formulas) evaluate(x, values []float64, jacobian *mat.Dense) error {
	c := make([]complex128, len(x))
	for i, v := range x {
		c[i] = complex(v, 0)
	}
	for i, v := range f(c) {
		values[i] = real(v)
	}
	if jacobian == nil {
		return nil
	}
	for j := range c {
		c[j] += complex(0, tinyStep)
		for i, v := range f(c) {
			jacobian.Set(i, j, imag(v)/tinyStep)
		}
		c[j] = complex(x[j], 0)
	}
	return nil
}

// published is a test problem: minimise the first number of f subject to the
// others ≥ 0, the last `equalities` of them = 0, and the bounds.
type published struct {
	name         string
	f            formulas
	start        []float64
	lower, upper []float64 // where the source has no bound: a wide one
	equalities   int
	best         float64
	at           []float64 // nil where the optimum is not a single point
}

func (p published) problem() *optimize.Problem {
	q := &optimize.Problem{Evaluate: p.f.evaluate}
	for i := range p.start {
		q.Parameters = append(q.Parameters, optimize.Parameter{Name: "x", Lower: p.lower[i], Upper: p.upper[i],
			Start: math.Min(math.Max(p.start[i], p.lower[i]), p.upper[i])})
	}
	c := make([]complex128, len(p.start))
	for i := range c {
		c[i] = complex(q.Parameters[i].Start, 0)
	}
	q.Numbers = len(p.f(c))
	q.Wants = []optimize.Want{{Name: "f", Number: 0, Kind: optimize.MakeSmall, Scale: 1}}
	for i := 1; i < q.Numbers; i++ {
		q.Wants = append(q.Wants, optimize.Want{Name: "c", Number: i, Kind: optimize.AtLeast, Scale: 1})
		if i >= q.Numbers-p.equalities {
			q.Wants = append(q.Wants, optimize.Want{Name: "c", Number: i, Kind: optimize.AtMost, Scale: 1})
		}
	}
	return q
}

func all(n int, v float64) []float64 {
	a := make([]float64, n)
	for i := range a {
		a[i] = v
	}
	return a
}

func rosenbrock(x []complex128) complex128 {
	return 100*(x[1]-x[0]*x[0])*(x[1]-x[0]*x[0]) + (1-x[0])*(1-x[0])
}

func sq(x complex128) complex128 { return x * x }

func sumSquares(x []complex128) complex128 {
	var s complex128
	for _, v := range x {
		s += v * v
	}
	return s
}

// threeEqualities are the constraints shared by problems 78 and 80.
func threeEqualities(x []complex128) []complex128 {
	return []complex128{sumSquares(x) - 10, x[1]*x[2] - 5*x[3]*x[4], x[0]*x[0]*x[0] + x[1]*x[1]*x[1] + 1}
}

// The problems, starts and printed optima of W. Hock & K. Schittkowski, Test
// Examples for Nonlinear Programming Codes, Lecture Notes in Economics and
// Mathematical Systems 187, Springer 1981, by their numbers there. Formulas and
// figures were written down from memory; where the source gives a closed form
// it stands here.
func hockSchittkowski() []published {
	s2, s3, s7 := math.Sqrt2, math.Sqrt(3), math.Sqrt(7)
	a2 := math.Sqrt(598.0 / 1200)
	x2 := 2 * a2 * math.Cos(math.Acos(1/(400*a2*a2*a2))/3)
	return []published{
		{"1", func(x []complex128) []complex128 { return []complex128{rosenbrock(x)} },
			[]float64{-2, 1}, []float64{-10, -1.5}, []float64{10, 10}, 0, 0, []float64{1, 1}},
		{"2", func(x []complex128) []complex128 { return []complex128{rosenbrock(x)} },
			[]float64{-2, 1}, []float64{-10, 1.5}, []float64{10, 10}, 0, 0.0504261879, []float64{x2, 1.5}},
		{"3", func(x []complex128) []complex128 { return []complex128{x[1] + 1e-5*sq(x[1]-x[0])} },
			[]float64{10, 1}, []float64{-20, 0}, []float64{20, 20}, 0, 0, nil},
		{"4", func(x []complex128) []complex128 {
			return []complex128{(x[0]+1)*(x[0]+1)*(x[0]+1)/3 + x[1]}
		}, []float64{1.125, 0.125}, []float64{1, 0}, []float64{10, 10}, 0, 8.0 / 3, []float64{1, 0}},
		{"5", func(x []complex128) []complex128 {
			return []complex128{cmplx.Sin(x[0]+x[1]) + sq(x[0]-x[1]) - 1.5*x[0] + 2.5*x[1] + 1}
		}, []float64{0, 0}, []float64{-1.5, -3}, []float64{4, 3}, 0,
			-s3/2 - math.Pi/3, []float64{-math.Pi/3 + 0.5, -math.Pi/3 - 0.5}},
		{"6", func(x []complex128) []complex128 { return []complex128{sq(1 - x[0]), 10 * (x[1] - x[0]*x[0])} },
			[]float64{-1.2, 1}, all(2, -10), all(2, 10), 1, 0, []float64{1, 1}},
		{"7", func(x []complex128) []complex128 {
			return []complex128{cmplx.Log(1+x[0]*x[0]) - x[1], sq(1+x[0]*x[0]) + x[1]*x[1] - 4}
		}, []float64{2, 2}, all(2, -10), all(2, 10), 1, -s3, []float64{0, s3}},
		{"10", func(x []complex128) []complex128 {
			return []complex128{x[0] - x[1], -3*x[0]*x[0] + 2*x[0]*x[1] - x[1]*x[1] + 1}
		}, []float64{-10, 10}, all(2, -20), all(2, 20), 0, -1, []float64{0, 1}},
		{"11", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-5) + x[1]*x[1] - 25, -x[0]*x[0] + x[1]}
		}, []float64{4.9, 0.1}, all(2, -10), all(2, 10), 0, -8.498464223, nil},
		{"12", func(x []complex128) []complex128 {
			return []complex128{0.5*x[0]*x[0] + x[1]*x[1] - x[0]*x[1] - 7*x[0] - 7*x[1], 25 - 4*x[0]*x[0] - x[1]*x[1]}
		}, []float64{0, 0}, all(2, -10), all(2, 10), 0, -30, []float64{2, 3}},
		{"14", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-2) + sq(x[1]-1), -0.25*x[0]*x[0] - x[1]*x[1] + 1, x[0] - 2*x[1] + 1}
		}, []float64{2, 2}, all(2, -10), all(2, 10), 1, 9 - 2.875*s7, []float64{(s7 - 1) / 2, (s7 + 1) / 4}},
		{"21", func(x []complex128) []complex128 {
			return []complex128{0.01*x[0]*x[0] + x[1]*x[1] - 100, 10*x[0] - x[1] - 10}
		}, []float64{-1, -1}, []float64{2, -50}, []float64{50, 50}, 0, -99.96, []float64{2, 0}},
		{"22", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-2) + sq(x[1]-1), 2 - x[0] - x[1], x[1] - x[0]*x[0]}
		}, []float64{2, 2}, all(2, -10), all(2, 10), 0, 1, []float64{1, 1}},
		{"24", func(x []complex128) []complex128 {
			return []complex128{(sq(x[0]-3) - 9) * x[1] * x[1] * x[1] / complex(27*s3, 0),
				x[0]/complex(s3, 0) - x[1], x[0] + complex(s3, 0)*x[1], 6 - x[0] - complex(s3, 0)*x[1]}
		}, []float64{1, 0.5}, all(2, 0), all(2, 10), 0, -1, []float64{3, s3}},
		{"26", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-x[1]) + sq(sq(x[1]-x[2])), (1+x[1]*x[1])*x[0] + sq(x[2]*x[2]) - 3}
		}, []float64{-2.6, 2, 2}, all(3, -10), all(3, 10), 1, 0, nil},
		{"28", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]+x[1]) + sq(x[1]+x[2]), x[0] + 2*x[1] + 3*x[2] - 1}
		}, []float64{-4, 1, 1}, all(3, -10), all(3, 10), 1, 0, []float64{0.5, -0.5, 0.5}},
		{"29", func(x []complex128) []complex128 {
			return []complex128{-x[0] * x[1] * x[2], 48 - x[0]*x[0] - 2*x[1]*x[1] - 4*x[2]*x[2]}
		}, []float64{1, 1, 1}, all(3, -10), all(3, 10), 0, -16 * s2, nil},
		{"30", func(x []complex128) []complex128 {
			return []complex128{sumSquares(x), x[0]*x[0] + x[1]*x[1] - 1}
		}, []float64{1, 1, 1}, []float64{1, -10, -10}, all(3, 10), 0, 1, []float64{1, 0, 0}},
		{"31", func(x []complex128) []complex128 {
			return []complex128{9*x[0]*x[0] + x[1]*x[1] + 9*x[2]*x[2], x[0]*x[1] - 1}
		}, []float64{1, 1, 1}, []float64{-10, 1, -10}, []float64{10, 10, 1}, 0, 6, []float64{1 / s3, s3, 0}},
		{"33", func(x []complex128) []complex128 {
			return []complex128{(x[0]-1)*(x[0]-2)*(x[0]-3) + x[2], x[2]*x[2] - x[1]*x[1] - x[0]*x[0], sumSquares(x) - 4}
		}, []float64{0, 0, 3}, all(3, 0), []float64{10, 10, 5}, 0, s2 - 6, []float64{0, s2, s2}},
		{"34", func(x []complex128) []complex128 {
			return []complex128{-x[0], x[1] - cmplx.Exp(x[0]), x[2] - cmplx.Exp(x[1])}
		}, []float64{0, 1.05, 2.9}, all(3, 0), []float64{100, 100, 10}, 0,
			-math.Log(math.Log(10)), []float64{math.Log(math.Log(10)), math.Log(10), 10}},
		{"35", func(x []complex128) []complex128 {
			return []complex128{9 - 8*x[0] - 6*x[1] - 4*x[2] + 2*x[0]*x[0] + 2*x[1]*x[1] + x[2]*x[2] + 2*x[0]*x[1] + 2*x[0]*x[2],
				3 - x[0] - x[1] - 2*x[2]}
		}, all(3, 0.5), all(3, 0), all(3, 10), 0, 1.0 / 9, []float64{4.0 / 3, 7.0 / 9, 4.0 / 9}},
		{"36", func(x []complex128) []complex128 {
			return []complex128{-x[0] * x[1] * x[2], 72 - x[0] - 2*x[1] - 2*x[2]}
		}, all(3, 10), all(3, 0), []float64{20, 11, 42}, 0, -3300, []float64{20, 11, 15}},
		{"37", func(x []complex128) []complex128 {
			return []complex128{-x[0] * x[1] * x[2], 72 - x[0] - 2*x[1] - 2*x[2], x[0] + 2*x[1] + 2*x[2]}
		}, all(3, 10), all(3, 0), all(3, 42), 0, -3456, []float64{24, 12, 12}},
		{"38", func(x []complex128) []complex128 {
			return []complex128{100*sq(x[1]-x[0]*x[0]) + sq(1-x[0]) + 90*sq(x[3]-x[2]*x[2]) + sq(1-x[2]) +
				10.1*(sq(x[1]-1)+sq(x[3]-1)) + 19.8*(x[1]-1)*(x[3]-1)}
		}, []float64{-3, -1, -3, -1}, all(4, -10), all(4, 10), 0, 0, all(4, 1)},
		{"39", func(x []complex128) []complex128 {
			return []complex128{-x[0], x[1] - x[0]*x[0]*x[0] - x[2]*x[2], x[0]*x[0] - x[1] - x[3]*x[3]}
		}, all(4, 2), all(4, -10), all(4, 10), 2, -1, []float64{1, 1, 0, 0}},
		{"40", func(x []complex128) []complex128 {
			return []complex128{-x[0] * x[1] * x[2] * x[3], x[0]*x[0]*x[0] + x[1]*x[1] - 1, x[0]*x[0]*x[3] - x[2], x[3]*x[3] - x[1]}
		}, all(4, 0.8), all(4, -2), all(4, 2), 3, -0.25, nil},
		{"41", func(x []complex128) []complex128 {
			return []complex128{2 - x[0]*x[1]*x[2], x[0] + 2*x[1] + 2*x[2] - x[3]}
		}, all(4, 2), all(4, 0), []float64{1, 1, 1, 2}, 1, 52.0 / 27, []float64{2.0 / 3, 1.0 / 3, 1.0 / 3, 2}},
		{"42", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-1) + sq(x[1]-2) + sq(x[2]-3) + sq(x[3]-4), x[0] - 2, x[2]*x[2] + x[3]*x[3] - 2}
		}, all(4, 1), all(4, -10), all(4, 10), 2, 28 - 10*s2, []float64{2, 2, 0.6 * s2, 0.8 * s2}},
		{"43", func(x []complex128) []complex128 {
			q := []complex128{x[0] * x[0], x[1] * x[1], x[2] * x[2], x[3] * x[3]}
			return []complex128{q[0] + q[1] + 2*q[2] + q[3] - 5*x[0] - 5*x[1] - 21*x[2] + 7*x[3],
				8 - q[0] - q[1] - q[2] - q[3] - x[0] + x[1] - x[2] + x[3],
				10 - q[0] - 2*q[1] - q[2] - 2*q[3] + x[0] + x[3],
				5 - 2*q[0] - q[1] - q[2] - 2*x[0] + x[1] + x[3]}
		}, all(4, 0), all(4, -10), all(4, 10), 0, -44, []float64{0, 1, 2, -1}},
		{"44", func(x []complex128) []complex128 {
			return []complex128{x[0] - x[1] - x[2] - x[0]*x[2] + x[0]*x[3] + x[1]*x[2] - x[1]*x[3],
				8 - x[0] - 2*x[1], 12 - 4*x[0] - x[1], 12 - 3*x[0] - 4*x[1],
				8 - 2*x[2] - x[3], 8 - x[2] - 2*x[3], 5 - x[2] - x[3]}
		}, all(4, 0), all(4, 0), all(4, 10), 0, -15, []float64{0, 3, 0, 4}},
		{"45", func(x []complex128) []complex128 { return []complex128{2 - x[0]*x[1]*x[2]*x[3]*x[4]/120} },
			all(5, 2), all(5, 0), []float64{1, 2, 3, 4, 5}, 0, 1, []float64{1, 2, 3, 4, 5}},
		{"48", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-1) + sq(x[1]-x[2]) + sq(x[3]-x[4]),
				x[0] + x[1] + x[2] + x[3] + x[4] - 5, x[2] - 2*(x[3]+x[4]) + 3}
		}, []float64{3, 5, -3, 2, -2}, all(5, -10), all(5, 10), 2, 0, all(5, 1)},
		{"52", func(x []complex128) []complex128 {
			return []complex128{sq(4*x[0]-x[1]) + sq(x[1]+x[2]-2) + sq(x[3]-1) + sq(x[4]-1),
				x[0] + 3*x[1], x[2] + x[3] - 2*x[4], x[1] - x[4]}
		}, all(5, 2), all(5, -10), all(5, 10), 3, 1859.0 / 349, []float64{-33.0 / 349, 11.0 / 349, 180.0 / 349, -158.0 / 349, 11.0 / 349}},
		{"53", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-x[1]) + sq(x[1]+x[2]-2) + sq(x[3]-1) + sq(x[4]-1),
				x[0] + 3*x[1], x[2] + x[3] - 2*x[4], x[1] - x[4]}
		}, all(5, 2), all(5, -10), all(5, 10), 3, 176.0 / 43, []float64{-33.0 / 43, 11.0 / 43, 27.0 / 43, -5.0 / 43, 11.0 / 43}},
		{"60", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-1) + sq(x[0]-x[1]) + sq(sq(x[1]-x[2])),
				x[0]*(1+x[1]*x[1]) + sq(x[2]*x[2]) - complex(4+3*s2, 0)}
		}, all(3, 2), all(3, -10), all(3, 10), 1, 0.03256820025, []float64{1.104859024, 1.196674194, 1.535262257}},
		{"63", func(x []complex128) []complex128 {
			return []complex128{1000 - x[0]*x[0] - 2*x[1]*x[1] - x[2]*x[2] - x[0]*x[1] - x[0]*x[2],
				8*x[0] + 14*x[1] + 7*x[2] - 56, sumSquares(x) - 25}
		}, all(3, 2), all(3, 0), all(3, 10), 2, 961.7151721, []float64{3.512118414, 0.2169881741, 3.552174034}},
		{"65", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-x[1]) + sq(x[0]+x[1]-10)/9 + sq(x[2]-5), 48 - sumSquares(x)}
		}, []float64{-5, 5, 0}, []float64{-4.5, -4.5, -5}, []float64{4.5, 4.5, 5}, 0,
			0.9535288567, []float64{3.65046182, 3.65046168, 4.62041750}},
		{"66", func(x []complex128) []complex128 {
			return []complex128{0.2*x[2] - 0.8*x[0], x[1] - cmplx.Exp(x[0]), x[2] - cmplx.Exp(x[1])}
		}, []float64{0, 1.05, 2.9}, all(3, 0), []float64{100, 100, 10}, 0,
			0.5181632741, []float64{0.1841264879, 1.202167873, 3.327322322}},
		{"71", func(x []complex128) []complex128 {
			return []complex128{x[0]*x[3]*(x[0]+x[1]+x[2]) + x[2], x[0]*x[1]*x[2]*x[3] - 25, sumSquares(x) - 40}
		}, []float64{1, 5, 5, 1}, all(4, 1), all(4, 5), 1, 17.0140173, []float64{1, 4.7429994, 3.8211503, 1.3794082}},
		{"73", func(x []complex128) []complex128 {
			return []complex128{24.55*x[0] + 26.75*x[1] + 39*x[2] + 40.5*x[3],
				2.3*x[0] + 5.6*x[1] + 11.1*x[2] + 1.3*x[3] - 5,
				12*x[0] + 11.9*x[1] + 41.8*x[2] + 52.1*x[3] - 21 -
					1.645*cmplx.Sqrt(0.28*x[0]*x[0]+0.19*x[1]*x[1]+20.5*x[2]*x[2]+0.62*x[3]*x[3]),
				x[0] + x[1] + x[2] + x[3] - 1}
		}, all(4, 1), all(4, 0), all(4, 1), 1, 29.89437816, nil},
		{"76", func(x []complex128) []complex128 {
			return []complex128{x[0]*x[0] + 0.5*x[1]*x[1] + x[2]*x[2] + 0.5*x[3]*x[3] - x[0]*x[2] + x[2]*x[3] - x[0] - 3*x[1] + x[2] - x[3],
				5 - x[0] - 2*x[1] - x[2] - x[3], 4 - 3*x[0] - x[1] - 2*x[2] + x[3], x[1] + 4*x[2] - 1.5}
		}, all(4, 0.5), all(4, 0), all(4, 10), 0, -4.681818181, []float64{0.2727273, 2.090909, 0, 0.5454545}},
		{"80", func(x []complex128) []complex128 {
			return append([]complex128{cmplx.Exp(x[0] * x[1] * x[2] * x[3] * x[4])}, threeEqualities(x)...)
		}, []float64{-2, 2, 2, -1, -1}, []float64{-2.3, -2.3, -3.2, -3.2, -3.2}, []float64{2.3, 2.3, 3.2, 3.2, 3.2}, 3,
			0.0539498478, nil},
		{"93", func(x []complex128) []complex128 {
			a, b := x[0]*x[3]*(x[0]+x[1]+x[2]), x[1]*x[2]*(x[0]+1.57*x[1]+x[3])
			return []complex128{0.0204*a + 0.0187*b + 0.0607*a*x[4]*x[4] + 0.0437*b*x[5]*x[5],
				0.001*x[0]*x[1]*x[2]*x[3]*x[4]*x[5] - 2.07, 1 - 0.00062*a*x[4]*x[4] - 0.00058*b*x[5]*x[5]}
		}, []float64{5.54, 4.4, 12.02, 11.82, 0.702, 0.852}, all(6, 0), all(6, 20), 0,
			135.075961, []float64{5.332666, 4.656744, 10.43299, 12.08230, 0.7526074, 0.87865084}},
		{"100", func(x []complex128) []complex128 {
			return []complex128{sq(x[0]-10) + 5*sq(x[1]-12) + sq(x[2]*x[2]) + 3*sq(x[3]-11) + 10*sq(x[4]*x[4]*x[4]) +
				7*x[5]*x[5] + sq(x[6]*x[6]) - 4*x[5]*x[6] - 10*x[5] - 8*x[6],
				127 - 2*x[0]*x[0] - 3*sq(x[1]*x[1]) - x[2] - 4*x[3]*x[3] - 5*x[4],
				282 - 7*x[0] - 3*x[1] - 10*x[2]*x[2] - x[3] + x[4],
				196 - 23*x[0] - x[1]*x[1] - 6*x[5]*x[5] + 8*x[6],
				-4*x[0]*x[0] - x[1]*x[1] + 3*x[0]*x[1] - 2*x[2]*x[2] - 5*x[5] + 11*x[6]}
		}, []float64{1, 2, 0, 4, 0, 1, 1}, all(7, -10), all(7, 10), 0,
			680.6300573, []float64{2.330499, 1.951372, -0.4775414, 4.365726, -0.6244870, 1.038131, 1.594227}},
		{"110", func(x []complex128) []complex128 {
			var f, product complex128 = 0, 1
			for _, v := range x {
				f += sq(cmplx.Log(v-2)) + sq(cmplx.Log(10-v))
				product *= v
			}
			return []complex128{f - cmplx.Exp(0.2*cmplx.Log(product))}
		}, all(10, 9), all(10, 2.001), all(10, 9.999), 0, -45.77846971, all(10, 9.350266)},
		{"113", func(x []complex128) []complex128 {
			return []complex128{x[0]*x[0] + x[1]*x[1] + x[0]*x[1] - 14*x[0] - 16*x[1] + sq(x[2]-10) + 4*sq(x[3]-5) + sq(x[4]-3) +
				2*sq(x[5]-1) + 5*x[6]*x[6] + 7*sq(x[7]-11) + 2*sq(x[8]-10) + sq(x[9]-7) + 45,
				105 - 4*x[0] - 5*x[1] + 3*x[6] - 9*x[7],
				-10*x[0] + 8*x[1] + 17*x[6] - 2*x[7],
				8*x[0] - 2*x[1] - 5*x[8] + 2*x[9] + 12,
				-3*sq(x[0]-2) - 4*sq(x[1]-3) - 2*x[2]*x[2] + 7*x[3] + 120,
				-5*x[0]*x[0] - 8*x[1] - sq(x[2]-6) + 2*x[3] + 40,
				-0.5*sq(x[0]-8) - 2*sq(x[1]-4) - 3*x[4]*x[4] + x[5] + 30,
				-x[0]*x[0] - 2*sq(x[1]-2) + 2*x[0]*x[1] - 14*x[4] + 6*x[5],
				3*x[0] - 6*x[1] - 12*sq(x[8]-8) + 7*x[9]}
		}, []float64{2, 3, 5, 5, 1, 2, 7, 3, 6, 10}, all(10, -20), all(10, 20), 0,
			24.3062091, []float64{2.171996, 2.363683, 8.773926, 5.095984, 0.9906548, 1.430574, 1.321644, 9.828726, 8.280092, 8.375927}},
	}
}

const (
	// printedCost: the book prints ten digits of the optimum; seven of them and
	// 1e-7 near zero leave room for its own rounding.
	printedCost = 1e-7
	// printedPoint: the book prints six to seven digits of x; flat optima
	// (38, 100) settle x to about the root of the cost.
	printedPoint = 1e-5
	// keptLimit is how far a limit may be missed, in its scale.
	keptLimit = 1e-8
)

func TestHockSchittkowski(t *testing.T) {
	for _, p := range hockSchittkowski() {
		t.Run(p.name, func(t *testing.T) {
			r, err := optimize.Solve(context.Background(), p.problem(), optimize.Options{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			if err := r.Status.Err(); err != nil {
				t.Errorf("%v: %s", err, r.Reason)
			}
			if math.Abs(r.After.Values[0]-p.best) > printedCost*math.Max(1, math.Abs(p.best)) {
				t.Errorf("cost %.10g, printed %.10g", r.After.Values[0], p.best)
			}
			for i := range p.at {
				if math.Abs(r.X[i]-p.at[i]) > printedPoint*math.Max(1, math.Abs(p.at[i])) {
					t.Errorf("x[%d] = %.8g, printed %.8g", i, r.X[i], p.at[i])
				}
			}
			for i, w := range r.Wants {
				if i > 0 && w.Miss > keptLimit {
					t.Errorf("limit %d missed by %g", i, w.Miss)
				}
			}
			t.Logf("f %.10g, residual %.1g, %d/%d starts, %d values, %d gradients", r.After.Values[0], r.AimResidual,
				r.Agreement.SameCost, r.Agreement.Starts, r.Count.Values, r.Count.Gradients)
		})
	}
}
