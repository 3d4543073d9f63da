package optimize_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// profileMet is how near the end of a profile interval is met, as a share of its
// half-width: τ is met to two thousandths, twice over for the curvature.
const profileMet = 0.004

// nearTo tells whether two ends of intervals agree.
func nearTo(got, want, halfWidth float64) bool { return math.Abs(got-want) <= profileMet*halfWidth }

// TestProfileOfALineIsWald: where the model is linear the interval is that of the closed
// form to the last digit, and no profile is followed.
func TestProfileOfALineIsWald(t *testing.T) {
	x, y := scattered(20, 1, 0.1)
	f := fit(t, fitOf(line(x), []float64{0, 0}, y))
	const student = 2.100922 // t of 97.5 % at 18 degrees of freedom, printed in every table of it
	for j, e := range f.Estimates {
		low, high := e.Interval(0.95)
		if e.Profiled() || math.Abs(low-(e.Value-student*e.Error)) > 1e-6*e.Error || math.Abs(high-(e.Value+student*e.Error)) > 1e-6*e.Error {
			t.Errorf("parameter %d: %v to %v, profiled %v", j, low, high, e.Profiled())
		}
	}
}

// TestProfileDoesNotDependOnHowAParameterIsWritten: the line in cubes and exponentials of
// its parameters has the intervals of the line in those, which are Wald's of the line in
// closed form, at any probability up to 95 %.
func TestProfileDoesNotDependOnHowAParameterIsWritten(t *testing.T) {
	x, y := scattered(20, 1, 0.8)
	plain := fit(t, fitOf(line(x), []float64{0, 0}, y))
	bent := fitOf(func(b []complex128) []complex128 {
		return line(x)([]complex128{b[0] * b[0] * b[0], cexp(b[1])})
	}, []float64{1, 1}, y)
	bent.Parameters[0].Lower, bent.Parameters[0].Upper = 0.01, 10
	bent.Parameters[1].Lower, bent.Parameters[1].Upper = -10, 10
	f := fit(t, bent)
	for j, written := range []func(float64) float64{math.Cbrt, math.Log} {
		for _, probability := range []float64{0.68, 0.95} {
			low, high := plain.Estimates[j].Interval(probability)
			gotLow, gotHigh := f.Estimates[j].Interval(probability)
			half := (written(high) - written(low)) / 2
			if !f.Estimates[j].Profiled() || !nearTo(gotLow, written(low), half) || !nearTo(gotHigh, written(high), half) {
				t.Errorf("parameter %d at %v: %v to %v, closed form %v to %v", j, probability, gotLow, gotHigh, written(low), written(high))
			}
		}
	}
}

func cexp(z complex128) complex128 {
	e := math.Exp(real(z))
	return complex(e*math.Cos(imag(z)), e*math.Sin(imag(z)))
}

// TestTwoIntervals: of a parameter that acts by its square the interval is two, the roots
// of Wald's in closed form, and at a bound of one sign only one of them.
func TestTwoIntervals(t *testing.T) {
	x, y := scattered(20, 1, 0.8)
	plain := fit(t, fitOf(line(x), []float64{0, 0}, y))
	low, high := plain.Estimates[1].Interval(0.95)
	square := fitOf(func(b []complex128) []complex128 { return line(x)([]complex128{b[0], b[1] * b[1]}) }, []float64{0, 1}, y)
	square.Parameters[1].Lower, square.Parameters[1].Upper = -4, 4
	all := fit(t, square).Estimates[1].Spans(0.95)
	half := (math.Sqrt(high) - math.Sqrt(low)) / 2
	if len(all) != 2 || !nearTo(all[0].Low, -math.Sqrt(high), half) || !nearTo(all[0].High, -math.Sqrt(low), half) || !nearTo(all[1].Low, math.Sqrt(low), half) || !nearTo(all[1].High, math.Sqrt(high), half) {
		t.Errorf("%+v, closed form ±(%v to %v)", all, math.Sqrt(low), math.Sqrt(high))
	}
	bounded := (math.Sqrt(low) + math.Sqrt(plain.Estimates[1].Value)) / 2
	square.Parameters[1].Lower, square.Parameters[1].Upper = 0.1, 2*math.Sqrt(plain.Estimates[1].Value)-bounded
	if all = fit(t, square).Estimates[1].Spans(0.95); len(all) != 1 || all[0].LowBound || !all[0].HighBound || all[0].High != square.Parameters[1].Upper || !nearTo(all[0].Low, math.Sqrt(low), half) {
		t.Errorf("between bounds: %+v, from %v", all, math.Sqrt(low))
	}
}

// published is a regression whose profile intervals are printed in the literature.
type publishedProfile struct {
	name  string
	x, y  []float64
	model func(b []complex128, x complex128) complex128
	// shape is the model of unit first parameter, in which it is linear.
	shape        func(second, x float64) float64
	start        []float64
	student      float64       // t of 97.5 % at n − 2 degrees of freedom
	printed      [2][2]float64 // 95 % profile likelihood intervals, from memory: brute force decides
	digits       float64       // to which they are remembered, or were read off a trace
	lower, upper []float64
}

func publishedProfiles() []publishedProfile {
	return []publishedProfile{
		{ // Bates & Watts 1988, table A1.4 and section 6.1.1
			name: "biochemical oxygen demand", x: []float64{1, 2, 3, 4, 5, 7}, y: []float64{8.3, 10.3, 19, 16, 15.6, 19.8},
			model:   func(b []complex128, x complex128) complex128 { return b[0] * (1 - cexp(-b[1]*x)) },
			shape:   func(second, x float64) float64 { return 1 - math.Exp(-second*x) },
			start:   []float64{20, 0.24},
			student: 2.776445, printed: [2][2]float64{{14.05, 37.77}, {0.132, 1.77}}, digits: 0.025,
			lower: []float64{0, 0}, upper: []float64{1e4, 20},
		},
		{ // Bates & Watts 1988, table A1.3, treated; the intervals are those of textbooks on S
			name: "puromycin", x: []float64{0.02, 0.02, 0.06, 0.06, 0.11, 0.11, 0.22, 0.22, 0.56, 0.56, 1.1, 1.1},
			y:       []float64{76, 47, 97, 107, 123, 139, 159, 152, 191, 201, 207, 200},
			model:   func(b []complex128, x complex128) complex128 { return b[0] * x / (b[1] + x) },
			shape:   func(second, x float64) float64 { return x / (second + x) },
			start:   []float64{205, 0.08},
			student: 2.228139, printed: [2][2]float64{{197.302, 229.290}, {0.04693, 0.08616}}, digits: 0.001,
			lower: []float64{1, 1e-3}, upper: []float64{1e3, 10},
		},
	}
}

// TestPublishedProfiles: the intervals are those of a profile made here by brute force,
// the first parameter in closed form and the second on a grid made finer, and the printed
// ones; Wald's are far off.
func TestPublishedProfiles(t *testing.T) {
	for _, c := range publishedProfiles() {
		p := fitOf(func(b []complex128) []complex128 {
			out := make([]complex128, len(c.x))
			for i, x := range c.x {
				out[i] = c.model(b, complex(x, 0))
			}
			return out
		}, c.start, c.y)
		for j := range p.Parameters {
			p.Parameters[j].Lower, p.Parameters[j].Upper = c.lower[j], c.upper[j]
		}
		f := fit(t, p)
		want := c.brute()
		for j, e := range f.Estimates {
			spans := e.Spans(0.95)
			half := (want[j][1] - want[j][0]) / 2
			if len(spans) != 1 || !nearTo(spans[0].Low, want[j][0], half) || !nearTo(spans[0].High, want[j][1], half) {
				t.Errorf("%s, parameter %d: %+v, by brute force %v", c.name, j, spans, want[j])
			}
			for side, printed := range c.printed[j] {
				if math.Abs(want[j][side]/printed-1) > c.digits {
					t.Errorf("%s, parameter %d: brute force %v, printed %v", c.name, j, want[j], c.printed[j])
				}
			}
			if wald := e.Value + c.student*e.Error; nearTo(wald, want[j][1], half) {
				t.Errorf("%s, parameter %d: Wald's interval would do: the test shows nothing", c.name, j)
			}
		}
	}
}

// sums returns the least sum of squares over the first parameter at a second one, and
// where; and the sum at both.
func (c *publishedProfile) sums(second float64) (least, first float64, at func(first float64) float64) {
	var gg, gy, yy float64
	for i, x := range c.x {
		g := c.shape(second, x)
		gg, gy, yy = gg+g*g, gy+g*c.y[i], yy+c.y[i]*c.y[i]
	}
	return yy - gy*gy/gg, gy / gg, func(first float64) float64 { return yy - 2*first*gy + first*first*gg }
}

// brute finds both intervals on a grid of the second parameter, even in its logarithm.
func (c *publishedProfile) brute() (want [2][2]float64) {
	const points = 400000
	from, to := math.Log(1e-3), math.Log(20)
	second := func(k int) float64 { return math.Exp(from + (to-from)*float64(k)/points) }
	least := math.Inf(1)
	for k := range points + 1 {
		s, _, _ := c.sums(second(k))
		least = min(least, s)
	}
	limit := least * (1 + c.student*c.student/float64(len(c.x)-2))
	want = [2][2]float64{{math.Inf(1), math.Inf(-1)}, {math.Inf(1), math.Inf(-1)}}
	for k := range points + 1 {
		s, first, at := c.sums(second(k))
		if s > limit {
			continue
		}
		want[1][0], want[1][1] = min(want[1][0], second(k)), max(want[1][1], second(k))
		curvature := at(first+1) - s // the sum is a parabola in the first
		reach := math.Sqrt((limit - s) / curvature)
		want[0][0], want[0][1] = min(want[0][0], first-reach), max(want[0][1], first+reach)
	}
	return want
}

// TestProfileFindsABetterFit: the only start goes down into the higher of two minima; its
// profile comes upon the lower one, and the fit is made anew from there.
func TestProfileFindsABetterFit(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	var y []float64
	for range 20 {
		y = append(y, 0.05*random.NormFloat64())
	}
	p := fitOf(nil, []float64{0.1}, y)
	p.Parameters[0].Lower, p.Parameters[0].Upper = -3, 3
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		bump := math.Exp(-math.Pow(x[0]-1.2, 2) / 0.03)
		for i := range values {
			values[i] = 0.4 * x[0]
			slope := 0.4
			if i%2 == 1 {
				values[i], slope = 1-bump, 2*(x[0]-1.2)/0.03*bump
			}
			if jacobian != nil {
				jacobian.Set(i, 0, slope)
			}
		}
		return nil
	}
	f, err := optimize.Fit(context.Background(), p, optimize.FitOptions{Starts: -1})
	if err != nil {
		t.Fatal(err)
	}
	if e := f.Estimates[0]; math.Abs(e.Value-1.2) > 0.1 {
		t.Errorf("%v ± %v, %v", e.Value, e.Error, e.Standing)
	}
}
