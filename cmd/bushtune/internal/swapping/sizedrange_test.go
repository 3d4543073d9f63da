package swapping

import (
	"math"
	"testing"

	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// TestRangesThatAreLostInPart: the least and the largest of what is held, whichever
// place is not; better, worse or both against an axle that holds the load or does not.
func TestRangesThatAreLostInPart(t *testing.T) {
	lost := math.NaN()
	a := &tuning.Asked{Name: "limit", Want: optimize.Want{Kind: optimize.AtMost, Value: 2, Scale: 1}}
	for _, test := range []struct {
		places  []float64
		want    Sized
		held    Verdict // by an axle at 3, which misses the want by 1
		notHeld Verdict // by an axle that does not hold the load
	}{
		{[]float64{3, 5, 4}, Sized{Low: 3, High: 5}, Worse, Better},
		{[]float64{1, 2.5}, Sized{Low: 1, High: 2.5}, Better, Better},
		{[]float64{lost, 5, 4}, Sized{Low: 4, High: 5, Lost: true}, Worse, Better},
		{[]float64{1, lost, 2}, Sized{Low: 1, High: 2, Lost: true}, Depends, Better},
		{[]float64{1, 2, lost}, Sized{Low: 1, High: 2, Lost: true}, Depends, Better},
		{[]float64{lost, lost}, Sized{Low: lost, High: lost, Lost: true}, Worse, Open},
	} {
		var z Sized
		for i, v := range test.places {
			z.add(v, i == 0)
		}
		same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
		if !same(z.Low, test.want.Low) || !same(z.High, test.want.High) || z.Lost != test.want.Lost {
			t.Errorf("%v: %+v", test.places, z)
		}
		after := func(before float64) Verdict {
			return byWant(a, &Change{Before: before, Low: z.Low, High: z.High, Lost: z.Lost})
		}
		if held, notHeld := after(3), after(lost); held != test.held || notHeld != test.notHeld {
			t.Errorf("%v is %q and %q, want %q and %q", test.places, held, notHeld, test.held, test.notHeld)
		}
	}
}
