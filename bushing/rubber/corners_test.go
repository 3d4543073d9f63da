package rubber

import (
	"fmt"
	"testing"
)

func TestCornersVisitsEachOnce(t *testing.T) {
	for _, c := range []struct {
		low, high []float64
		count     int
	}{
		{nil, nil, 1},
		{[]float64{1, 2, 3}, []float64{1, 2, 3}, 1},
		{[]float64{1, 2, 3}, []float64{2, 2, 4}, 4},
		{[]float64{0, 0, 0, 0}, []float64{1, 1, 1, 1}, 16},
	} {
		seen := map[string]bool{}
		Corners(c.low, c.high, func(x []float64) bool {
			for i := range x {
				if x[i] != c.low[i] && x[i] != c.high[i] {
					t.Errorf("%v is no corner of %v to %v", x, c.low, c.high)
				}
			}
			seen[fmt.Sprint(x)] = true
			return true
		})
		if len(seen) != c.count {
			t.Errorf("%d corners of %v to %v, want %d", len(seen), c.low, c.high, c.count)
		}
	}
}

func TestCornersStops(t *testing.T) {
	calls := 0
	Corners([]float64{0, 0}, []float64{1, 1}, func([]float64) bool { calls++; return calls < 2 })
	if calls != 2 {
		t.Errorf("%d calls after the second was refused", calls)
	}
}
