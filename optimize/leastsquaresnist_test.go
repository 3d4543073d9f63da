package optimize_test

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bushtune/optimize"
)

// model is a formula of the parameters b at the predictor x.
type model func(b []complex128, x []float64) complex128

func real1(x []float64) complex128 { return complex(x[0], 0) }

// nistModels are the formulas printed in the files.
var nistModels = map[string]model{
	"Bennett5": func(b []complex128, x []float64) complex128 { return b[0] * cmplx.Pow(b[1]+real1(x), -1/b[2]) },
	"BoxBOD":   saturating,
	"Chwirut1": decaying,
	"Chwirut2": decaying,
	"DanWood":  func(b []complex128, x []float64) complex128 { return b[0] * cmplx.Pow(real1(x), b[1]) },
	"ENSO": func(b []complex128, x []float64) complex128 {
		turn := func(period complex128) complex128 { return 2 * math.Pi * real1(x) / period }
		return b[0] + b[1]*cmplx.Cos(turn(12)) + b[2]*cmplx.Sin(turn(12)) + b[4]*cmplx.Cos(turn(b[3])) + b[5]*cmplx.Sin(turn(b[3])) +
			b[7]*cmplx.Cos(turn(b[6])) + b[8]*cmplx.Sin(turn(b[6]))
	},
	"Eckerle4": func(b []complex128, x []float64) complex128 {
		q := (real1(x) - b[2]) / b[1]
		return b[0] / b[1] * cmplx.Exp(-0.5*q*q)
	},
	"Gauss1": peaks, "Gauss2": peaks, "Gauss3": peaks,
	"Hahn1": rational(4), "Thurber": rational(4), "Kirby2": rational(3),
	"Lanczos1": decays, "Lanczos2": decays, "Lanczos3": decays,
	"MGH09": func(b []complex128, x []float64) complex128 {
		u := real1(x)
		return b[0] * (u*u + u*b[1]) / (u*u + u*b[2] + b[3])
	},
	"MGH10": func(b []complex128, x []float64) complex128 { return b[0] * cmplx.Exp(b[1]/(real1(x)+b[2])) },
	"MGH17": func(b []complex128, x []float64) complex128 {
		return b[0] + b[1]*cmplx.Exp(-real1(x)*b[3]) + b[2]*cmplx.Exp(-real1(x)*b[4])
	},
	"Misra1a": saturating,
	"Misra1b": func(b []complex128, x []float64) complex128 { return b[0] * (1 - cmplx.Pow(1+b[1]*real1(x)/2, -2)) },
	"Misra1c": func(b []complex128, x []float64) complex128 { return b[0] * (1 - cmplx.Pow(1+2*b[1]*real1(x), -0.5)) },
	"Misra1d": func(b []complex128, x []float64) complex128 { return b[0] * b[1] * real1(x) / (1 + b[1]*real1(x)) },
	"Nelson": func(b []complex128, x []float64) complex128 { // of the logarithm of y
		return b[0] - b[1]*complex(x[0], 0)*cmplx.Exp(-b[2]*complex(x[1], 0))
	},
	"Rat42": func(b []complex128, x []float64) complex128 { return b[0] / (1 + cmplx.Exp(b[1]-b[2]*real1(x))) },
	"Rat43": func(b []complex128, x []float64) complex128 {
		return b[0] / cmplx.Pow(1+cmplx.Exp(b[1]-b[2]*real1(x)), 1/b[3])
	},
	"Roszman1": func(b []complex128, x []float64) complex128 {
		return b[0] - b[1]*real1(x) - arctan(b[2]/(real1(x)-b[3]))/math.Pi
	},
}

// arctan keeps an imaginary step that cmplx.Atan loses in rounding.
func arctan(z complex128) complex128 {
	return complex(math.Atan(real(z)), imag(z)/(1+real(z)*real(z)))
}

func saturating(b []complex128, x []float64) complex128 {
	return b[0] * (1 - cmplx.Exp(-b[1]*real1(x)))
}

func decaying(b []complex128, x []float64) complex128 {
	return cmplx.Exp(-b[0]*real1(x)) / (b[1] + b[2]*real1(x))
}

// peaks is an exponential with two Gaussian peaks.
func peaks(b []complex128, x []float64) complex128 {
	peak := func(height, at, width complex128) complex128 {
		q := (real1(x) - at) / width
		return height * cmplx.Exp(-q*q)
	}
	return b[0]*cmplx.Exp(-b[1]*real1(x)) + peak(b[2], b[3], b[4]) + peak(b[5], b[6], b[7])
}

// decays is the sum of three exponentials.
func decays(b []complex128, x []float64) complex128 {
	var sum complex128
	for k := 0; k < len(b); k += 2 {
		sum += b[k] * cmplx.Exp(-b[k+1]*real1(x))
	}
	return sum
}

// rational is a polynomial of n coefficients over one of n that starts with 1.
func rational(n int) model {
	return func(b []complex128, x []float64) complex128 {
		above, below := complex128(0), complex128(0)
		for k := n - 1; k >= 0; k-- {
			above = above*real1(x) + b[k]
		}
		for k := len(b) - 1; k >= n; k-- {
			below = (below + b[k]) * real1(x)
		}
		return above / (1 + below)
	}
}

// certified is one problem as its file has it.
type certified struct {
	name           string
	starts         [2][]float64
	values, errors []float64
	sum, deviation float64 // of the residuals
	observed       []float64
	predictors     [][]float64
}

const nistFolder = "../testdata/published/nist"

// readNIST reads a file of the Statistical Reference Datasets: starts and certified
// values stand from line 41, the data from line 61.
func readNIST(t *testing.T, path string) *certified {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := &certified{name: strings.TrimSuffix(filepath.Base(path), ".dat")}
	for i, line := range strings.Split(strings.ReplaceAll(string(text), "\r", ""), "\n") {
		label, after, found := strings.Cut(line, "=")
		if i >= 40 && found && strings.HasPrefix(strings.TrimSpace(label), "b") {
			v := floatsOf(t, after)
			c.starts[0], c.starts[1] = append(c.starts[0], v[0]), append(c.starts[1], v[1])
			c.values, c.errors = append(c.values, v[2]), append(c.errors, v[3])
		}
		label, after, _ = strings.Cut(line, ":")
		switch {
		case label == "Residual Sum of Squares":
			c.sum = floatsOf(t, after)[0]
		case label == "Residual Standard Deviation":
			c.deviation = floatsOf(t, after)[0]
		case i >= 60 && strings.TrimSpace(line) != "":
			v := floatsOf(t, line)
			c.observed, c.predictors = append(c.observed, v[0]), append(c.predictors, v[1:])
		}
	}
	if c.name == "Nelson" { // its formula is of log y
		for i, y := range c.observed {
			c.observed[i] = math.Log(y)
		}
	}
	return c
}

func floatsOf(t *testing.T, text string) []float64 {
	t.Helper()
	var all []float64
	for _, word := range strings.Fields(text) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	return all
}

// problem is the fit from one of the published starts, without bounds.
func (c *certified) problem(start int) *optimize.FitProblem {
	p := &optimize.FitProblem{}
	for j, v := range c.starts[start] {
		p.Parameters = append(p.Parameters, optimize.Parameter{Name: fmt.Sprintf("b%d", j+1), Lower: math.Inf(-1), Upper: math.Inf(1), Start: v})
	}
	for _, y := range c.observed {
		p.Observations = append(p.Observations, optimize.Observation{Value: y, Deviation: 1})
	}
	p.Evaluate = formulas(func(b []complex128) []complex128 {
		out := make([]complex128, len(c.observed))
		for i, x := range c.predictors {
			out[i] = nistModels[c.name](b, x)
		}
		return out
	}).evaluate
	return p
}

// The digits to which certified values are held: eleven are printed, and the fit
// ends where its values are off by 1e-10 standard errors or by rounding. Measured:
// 9.5 and more.
const (
	nistDigits = 9
	// lanczosDigits is for what the residuals of Lanczos1 decide: they are 1e-13 of
	// the values, so that the rounding of the values is a thousandth of them.
	lanczosDigits = 2.5
)

// matching is the number of digits in which two values agree.
func matching(got, want float64) float64 { return -math.Log10(math.Abs(got/want - 1)) }

// TestCertifiedRegressions fits all 27 problems of the NIST Statistical Reference
// Datasets for non-linear regression from both published starts, without bounds:
// parameters, their standard deviations and the residual standard deviation are
// certified (source in testdata/published/nist).
func TestCertifiedRegressions(t *testing.T) {
	paths, err := filepath.Glob(nistFolder + "/*.dat")
	if err != nil || len(paths) != 27 {
		t.Fatalf("%d problems found, %v", len(paths), err)
	}
	for _, path := range paths {
		c := readNIST(t, path)
		for start := range c.starts {
			f, err := optimize.Fit(context.Background(), c.problem(start), optimize.FitOptions{})
			if err != nil {
				t.Errorf("%s from start %d: %v", c.name, start+1, err)
				continue
			}
			c.compare(t, start, f)
		}
	}
}

// compare holds a fit against the certified values.
func (c *certified) compare(t *testing.T, start int, f *optimize.Fitted) {
	t.Helper()
	digits := float64(nistDigits)
	if c.name == "Lanczos1" {
		digits = lanczosDigits
	}
	wrong := func(what string, got, want, digits float64) {
		if !(matching(got, want) >= digits) {
			t.Errorf("%s from start %d: %s %.11e, certified %.11e", c.name, start+1, what, got, want)
		}
	}
	// Rat43 prints 9 degrees of freedom, yet its residual standard deviation is that
	// of 15 observations less 4 parameters: so they are counted here.
	freedom := float64(len(c.observed) - len(c.values))
	if f.Status != optimize.FitConverged || math.Abs(f.Freedom-freedom) > 1e-6 {
		t.Errorf("%s from start %d: %v after %d iterations, %g degrees of freedom", c.name, start+1, f.Status, f.Iterations, f.Freedom)
	}
	for j, e := range f.Estimates {
		wrong(e.Standing.String(), e.Value, c.values[j], nistDigits)
		wrong("standard deviation", e.Error, c.errors[j], digits)
	}
	wrong("residual standard deviation", f.Factors[0], c.deviation, digits)
	wrong("residual sum of squares", f.SumOfSquares, c.sum, digits-0.5) // a square: one digit in three is lost
}
