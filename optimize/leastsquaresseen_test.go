package optimize_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/optimize"
)

// TestPriorInClosedForm: data of known weight and a prior give the weighted mean.
func TestPriorInClosedForm(t *testing.T) {
	same := func(b []complex128) []complex128 { return []complex128{b[0], b[0], b[0], b[0], b[0]} }
	p := fitOf(same, []float64{0}, []float64{9, 10, 11, 12, 8})
	p.Priors = []optimize.Prior{{Mean: 14, Deviation: 0.5}}
	f := fit(t, p)
	s := f.Factors[0]
	want := (50/s/s + 14/0.25) / (5/s/s + 1/0.25)
	if e := f.Estimates[0]; math.Abs(e.Value-want) > exactly || math.Abs(e.Error-1/math.Sqrt(5/s/s+4)) > exactly {
		t.Errorf("%v ± %v, closed form %v", e.Value, e.Error, want)
	}
	if left := 5 - f.Freedom; left <= 0 || left >= 1 {
		t.Errorf("the data give %v of one parameter", left)
	}
}

// TestTwoGauges: the noise of each group is found, and the better gauge decides.
func TestTwoGauges(t *testing.T) {
	x, y := scattered(200, 6, 0.01)
	random := rand.New(rand.NewPCG(6, 6))
	p := fitOf(line(x), []float64{0, 0}, y)
	for i := range p.Observations {
		if i%2 == 1 {
			p.Observations[i].Group = 1
			p.Observations[i].Value += 0.5 * random.NormFloat64()
		}
	}
	f := fit(t, p)
	// A standard deviation from 100 values is off by 1/√200 = 7 %; three of that.
	for g, want := range []float64{0.01, 0.5} {
		if math.Abs(f.Factors[g]/want-1) > 0.21 {
			t.Errorf("group %d: factor %v, noise %v", g, f.Factors[g], want)
		}
	}
	if e := f.Estimates[1]; e.Error > 0.003 || math.Abs(e.Value-3) > 4*e.Error {
		t.Errorf("slope %v ± %v", e.Value, e.Error)
	}
}

// TestNotSeen: what the data cannot tell is reported and stays at its start.
func TestNotSeen(t *testing.T) {
	x, y := scattered(30, 9, 0.1)
	through := func(b []complex128) []complex128 { // b1 + b2 together, b3 alone, b4 nowhere
		return line(x)([]complex128{b[0] + b[1], b[2]})
	}
	p := fitOf(through, []float64{5, 1, 0, 7}, y)
	f := fit(t, p)
	standings := map[optimize.Standing]int{}
	for _, e := range f.Estimates {
		standings[e.Standing]++
	}
	if standings[optimize.NotSeen] != 2 || standings[optimize.Tangled] != 1 || f.Estimates[2].Standing != optimize.Estimated {
		t.Errorf("standings %v", standings)
	}
	if e := f.Estimates[3]; e.Value != 7 || e.Standing != optimize.NotSeen {
		t.Errorf("parameter without effect: %v, %v", e.Value, e.Standing)
	}
	a, b := f.Estimates[0], f.Estimates[1]
	if kept := a.Standing == optimize.NotSeen && a.Value == 5 || b.Standing == optimize.NotSeen && b.Value == 1; !kept {
		t.Errorf("one of %v, %v should stand at its start", a.Value, b.Value)
	}
	if math.Abs(a.Value+b.Value-2) > 0.1 || a.HasInterval() || b.HasInterval() {
		t.Errorf("sum %v", a.Value+b.Value)
	}
	together := false
	for _, d := range f.Unseen {
		together = together || len(d.Parameters) == 2 && math.Abs(d.Shares[0]+d.Shares[1]) < 1e-6
	}
	if len(f.Unseen) != 2 || !together {
		t.Errorf("directions %v", f.Unseen)
	}
	p.Priors = make([]optimize.Prior, 4)
	p.Priors[1], p.Priors[3] = optimize.Prior{Mean: 1.5, Deviation: 0.1}, optimize.Prior{Mean: 8, Deviation: 1}
	f = fit(t, p)
	if e := f.Estimates[3]; e.Standing != optimize.FromPrior || math.Abs(e.Value-8) > exactly || math.Abs(e.Error-1) > exactly {
		t.Errorf("a prior alone: %v ± %v, %v", e.Value, e.Error, e.Standing)
	}
	if e := f.Estimates[0]; !e.HasInterval() || math.Abs(e.Value-0.5) > 0.1 || math.Abs(e.Error-0.1) > 0.01 {
		t.Errorf("told apart by a prior: %v ± %v, %v", e.Value, e.Error, e.Standing)
	}
}

// TestHardlySeen: what changes the data by less than their scatter over its whole
// range is driven to a bound by noise; it is not seen all the same and stands at its
// start. What the data do drive to a bound is on it, however little it can change.
func TestHardlySeen(t *testing.T) {
	for seed := range uint64(40) {
		x, y := scattered(30, seed, 0.1)
		p := fitOf(func(b []complex128) []complex128 {
			out := line(x)(b)
			for i := range out {
				out[i] += 5e-4 * b[2] * complex(x[i]*x[i], 0) // over the range, beside the line: 0.8 deviations of all data
			}
			return out
		}, []float64{0, 0, 1}, y)
		p.Parameters[2].Lower, p.Parameters[2].Upper = -50, 50
		if e := fit(t, p).Estimates[2]; e.Standing != optimize.NotSeen || e.Value != 1 {
			t.Errorf("seed %d: hardly seen: %v, %v", seed, e.Value, e.Standing)
		}
		for i := range x {
			p.Observations[i].Value += x[i] * x[i] // as if the parameter were 2000
		}
		if e := fit(t, p).Estimates[2]; e.Standing != optimize.OnUpperBound || e.Value != 50 {
			t.Errorf("seed %d: driven to its bound: %v, %v", seed, e.Value, e.Standing)
		}
	}
	x, y := scattered(30, 1, 0.1)
	p := fitOf(func(b []complex128) []complex128 { return line(x)(b[:2]) }, []float64{0, 0, 5}, y)
	p.Parameters[2].Lower = 5
	if e := fit(t, p).Estimates[2]; e.Standing != optimize.NotSeen {
		t.Errorf("without effect, at a bound from the start: %v", e.Standing)
	}
}

// TestAdditions: the best third place for a line known at −1 and 1 is an end, not
// the middle (D-optimal designs of a line have only its ends: Atkinson, Donev &
// Tobias 2007, ch. 11), and the error foretold is that of a fit with it.
func TestAdditions(t *testing.T) {
	x, y := scattered(10, 1, 0.1)
	f := fit(t, fitOf(line(x), []float64{0, 0}, y))
	var candidates []optimize.Candidate
	for _, at := range []float64{0, 0.5, 1, -0.5} {
		candidates = append(candidates, optimize.Candidate{Slopes: []float64{1, at}, Deviation: f.Factors[0]})
	}
	a := f.Additions(candidates, 2)
	if len(a) != 2 || a[0].Candidate != 2 || a[0].Gain <= a[1].Gain {
		t.Fatalf("additions %+v", a)
	}
	more := fit(t, fitOf(line(append(x, 1)), []float64{0, 0}, append(y, y[9])))
	for j := range f.Estimates {
		want := more.Estimates[j].Error / more.Factors[0] / (f.Estimates[j].Error / f.Factors[0])
		if got := a[0].After[j] / a[0].Before[j]; math.Abs(got-want) > 1e-6 { // the bounds of ±1000 count as 1e-8 of the information
			t.Errorf("parameter %d: error foretold to fall by %v, fell by %v", j, got, want)
		}
	}
	unseen := fitOf(func(b []complex128) []complex128 { return line(x)([]complex128{b[0] + b[1], b[2]}) }, []float64{0, 0, 0}, y)
	candidates = []optimize.Candidate{{[]float64{1, 1, 1}, 0.1}, {[]float64{1, 0, 0}, 0.1}, {[]float64{0, 0, 1}, 0.001}}
	if a := fit(t, unseen).Additions(candidates, 1); len(a) != 1 || a[0].Candidate != 1 || a[0].After[0] > 0.2 || a[0].Before[0] < 100 {
		t.Errorf("what tells apart: %+v", a)
	}
}
