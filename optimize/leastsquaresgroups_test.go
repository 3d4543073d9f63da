package optimize_test

import (
	"math"
	"testing"

	"bushtune/optimize"
)

// gauges is a line read by a coarse gauge of 60 rows and a fine one of a few.
func gauges(few int, seed uint64) *optimize.FitProblem {
	x, y := scattered(60, seed, 0.5)
	fineX, fineY := scattered(few, seed+1000, 0.01)
	p := fitOf(line(append(x, fineX...)), []float64{0, 0}, append(y, fineY...))
	for i := 60; i < len(p.Observations); i++ {
		p.Observations[i].Group = 1
	}
	return p
}

// TestFewRowsOfAGroup: with a fine gauge of nine rows, whose scatter nine rows tell
// only roughly, 95 % intervals hold the truth in 272 to 297 of 300 sets and 15 sets
// have an outlier named, both within 3.3 standard deviations of the binomial
// distribution. A false reading of a few is named, though it makes the scatter of its
// own group look large.
func TestFewRowsOfAGroup(t *testing.T) {
	const sets = 300
	var held [2]int
	alarms := 0
	for seed := range uint64(sets) {
		p := gauges(9, seed)
		f := fit(t, p)
		for j, truth := range []float64{2, 3} {
			if low, high := f.Estimates[j].Interval(0.95); low <= truth && truth <= high {
				held[j]++
			}
			if free := f.Estimates[j].Freedom; free > f.Freedom || free < 5 {
				t.Errorf("seed %d: freedom %v of %v", seed, free, f.Freedom)
			}
		}
		if outliers(f) > 0 {
			alarms++
		}
		if seed >= 40 {
			continue
		}
		p.Observations[63].Value += 1
		if f = fit(t, p); !f.Residuals[63].Outlier {
			t.Errorf("seed %d: a reading 100 standard deviations off is not named: %+v", seed, f.Residuals[63])
		}
	}
	if held[0] < 272 || held[1] < 272 || held[0] > 297 || held[1] > 297 {
		t.Errorf("intervals hold the truth in %v of %d sets", held, sets)
	}
	if alarms < 3 || alarms > 27 {
		t.Errorf("%d of %d clean sets have an outlier", alarms, sets)
	}
}

func outliers(f *optimize.Fitted) (count int) {
	for _, r := range f.Residuals {
		if r.Outlier {
			count++
		}
	}
	return count
}

// TestAsManyRowsAsParameters: nothing is left over, so nothing is known of the scatter.
func TestAsManyRowsAsParameters(t *testing.T) {
	f := fit(t, fitOf(line([]float64{0.3, 1.1}), []float64{0, 0}, []float64{1.9, 4.3})) // leverages of 1 up to rounding
	e := &f.Estimates[1]
	low, high := e.Interval(0.95)
	if math.Abs(e.Value-3) > exactly || e.Standing != optimize.Estimated || f.Factors[0] != 1 || e.HasInterval() || !math.IsNaN(low) || !math.IsNaN(high) {
		t.Errorf("slope %v, %v, interval %v to %v", e.Value, e.Standing, low, high)
	}
	for i, r := range f.Residuals {
		if r.Outlier || !math.IsNaN(r.Studentised) {
			t.Errorf("observation %d: %+v", i, r)
		}
	}
}
