package rubber

import (
	"math"
	"testing"
)

// Rubber Manufacturers Association, load–deflection tolerances, table 10, read in a
// reproduction: percent by class, hardness and wall.
func TestRateToleranceIsRMAs(t *testing.T) {
	for _, c := range []struct {
		class          Class
		hardness, wall float64
		low, high      float64 // percent
	}{
		{D1, 65, 6, 10, 10}, {D1, 65, 5.99, 15, 15}, {D1, 65.1, 6, 15, 15}, {D1, 65.1, 5.99, 20, 20},
		{D2, 65, 6, 11, 14}, {D2, 65, 5.99, 16, 20}, {D2, 65.1, 6, 16, 19}, {D2, 65.1, 5.99, 21, 26},
		{D3, 65, 6, 15, 15}, {D3, 65, 5.99, 20, 20}, {D3, 65.1, 6, 20, 20}, {D3, 65.1, 5.99, 25, 25},
		{D1, 40, 16, 10, 10}, {D3, 80, 2, 25, 25},
	} {
		low, high := RateTolerance(c.class, c.hardness, c.wall)
		if !near(100*low, c.low, digits) || !near(100*high, c.high, digits) {
			t.Errorf("%s, %g Shore A, wall %g mm: %g to %g, table %g to %g %%", ClassNames[c.class], c.hardness, c.wall, 100*low, 100*high, c.low, c.high)
		}
	}
	if len(ClassNames) != len(rateTolerances) {
		t.Error("a class without a name or a row")
	}
}

// In every column a coarser class is no tighter; a harder or thinner part has no
// tighter tolerance.
func TestRateToleranceGrows(t *testing.T) {
	for class := D1; class <= D3; class++ {
		for _, part := range [][2]float64{{55, 10}, {55, 3}, {70, 10}, {70, 3}} {
			low, high := RateTolerance(class, part[0], part[1])
			if low > high {
				t.Errorf("%s: %g above %g", ClassNames[class], low, high)
			}
			if class == D3 {
				if fine, _ := RateTolerance(D1, part[0], part[1]); fine >= low {
					t.Errorf("%v: D1 %g, D3 %g", part, fine, low)
				}
			}
			soft, _ := RateTolerance(class, 55, part[1])
			thick, _ := RateTolerance(class, part[0], 10)
			if soft > low || thick > low {
				t.Errorf("%s %v: %g, softer %g, thicker %g", ClassNames[class], part, low, soft, thick)
			}
		}
	}
}

// Same table: damping ±25 % up to 65 Shore A, ±30 % above.
func TestDampingTolerance(t *testing.T) {
	for hardness, want := range map[float64]float64{40: 0.25, 65: 0.25, 65.1: 0.30, 80: 0.30} {
		if got := DampingTolerance(hardness); got != want {
			t.Errorf("%g Shore A: %g, want %g", hardness, got, want)
		}
	}
}

// ISO 3302-1 in mm, fixed and closure of M1, M2, M3 and the one number of M4; read in
// a reproduction, columns M3 in a second one. The last row is percent.
var iso3302 = []struct {
	over, upTo float64
	tolerance  [7]float64
}{
	{0, 4, [7]float64{0.08, 0.10, 0.10, 0.15, 0.25, 0.40, 0.50}},
	{4, 6.3, [7]float64{0.10, 0.12, 0.15, 0.20, 0.25, 0.40, 0.50}},
	{6.3, 10, [7]float64{0.10, 0.15, 0.20, 0.20, 0.30, 0.50, 0.70}},
	{10, 16, [7]float64{0.15, 0.20, 0.20, 0.25, 0.40, 0.60, 0.80}},
	{16, 25, [7]float64{0.20, 0.20, 0.25, 0.35, 0.50, 0.80, 1.00}},
	{25, 40, [7]float64{0.20, 0.25, 0.35, 0.40, 0.60, 1.00, 1.30}},
	{40, 63, [7]float64{0.25, 0.35, 0.40, 0.50, 0.80, 1.30, 1.60}},
	{63, 100, [7]float64{0.35, 0.40, 0.50, 0.70, 1.00, 1.60, 2.00}},
	{100, 160, [7]float64{0.40, 0.50, 0.70, 0.80, 1.30, 2.00, 2.50}},
	{160, math.Inf(1), [7]float64{0.3, 0.4, 0.5, 0.7, 0.8, 1.3, 1.5}},
}

// Every row and class, just over its lower bound, in its middle and at its upper
// bound, which belongs to it.
func TestMouldToleranceIsISO3302(t *testing.T) {
	for _, row := range iso3302 {
		sizes := []float64{math.Nextafter(row.over, 1e9), (row.over + row.upTo) / 2, row.upTo}
		scale := 1.0
		if math.IsInf(row.upTo, 1) {
			sizes = []float64{math.Nextafter(160, 1e9), 200, 1000}
		}
		for _, size := range sizes {
			if math.IsInf(row.upTo, 1) {
				scale = size / 100
			}
			for class := M1; class <= M4; class++ {
				fixed, closure := MouldTolerance(class, size)
				wantFixed, wantClosure := row.tolerance[2*class]*scale, row.tolerance[min(2*int(class)+1, 6)]*scale
				if !near(fixed, wantFixed, digits) || !near(closure, wantClosure, digits) {
					t.Errorf("%s at %g mm: %g and %g, table %g and %g", MouldClassNames[class], size, fixed, closure, wantFixed, wantClosure)
				}
			}
		}
	}
}

// A finer class is never coarser, a part across the parting never tighter than one
// fixed by the mould, a larger size never tighter up to 160 mm. (Just above it the
// shares of M3 and M4 give up to 4 % less than the row below.)
func TestMouldToleranceGrows(t *testing.T) {
	for class := M1; class <= M4; class++ {
		before := [2]float64{}
		for size := 0.5; size <= 160; size += 0.5 {
			fixed, closure := MouldTolerance(class, size)
			if fixed > closure || fixed < before[0] || closure < before[1] {
				t.Errorf("%s at %g mm: %g, %g after %v", MouldClassNames[class], size, fixed, closure, before)
			}
			before = [2]float64{fixed, closure}
			if class == M1 {
				continue
			}
			if finer, finerClosure := MouldTolerance(class-1, size); finer > fixed || finerClosure > closure {
				t.Errorf("%s is finer than the class before it at %g mm", MouldClassNames[class], size)
			}
		}
	}
}
