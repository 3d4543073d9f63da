package quantity

import (
	"math"
	"slices"
	"testing"
)

// TestTiesAreNotDecidedByRounding: numbers that differ in their last digits are one,
// whichever way they differ, and keep the order of their list.
func TestTiesAreNotDecidedByRounding(t *testing.T) {
	const x, up = 1357.9, 1 + 4e-16
	for _, pair := range [][2]float64{{x, x * up}, {x * up, x}, {-x, -x * up}, {0, 0}, {x, x}} {
		if Exceeds(pair[0], pair[1]) || Exceeds(pair[1], pair[0]) {
			t.Errorf("%v: not one", pair)
		}
	}
	for _, pair := range [][2]float64{{x * (1 + 1e-6), x}, {0, -1e-300}, {1e-300, 0}, {x, math.Inf(-1)}, {math.Inf(1), x}, {-x, -x * (1 + 1e-6)}} {
		if !Exceeds(pair[0], pair[1]) || Exceeds(pair[1], pair[0]) {
			t.Errorf("%v: not more", pair)
		}
	}
	if Exceeds(math.NaN(), 1) || Exceeds(1, math.NaN()) {
		t.Error("what is not a number exceeds")
	}
	for _, way := range []float64{1, -1} {
		list := []int{0, 1, 2, 3, 4}
		sizes := []float64{2, 5, 2 * (1 + way*3e-16), 9, 5 * (1 - way*2e-16)}
		GreatestFirst(list, func(i int) float64 { return sizes[i] })
		if !slices.Equal(list, []int{3, 1, 4, 0, 2}) {
			t.Errorf("order %v", list)
		}
	}
}
