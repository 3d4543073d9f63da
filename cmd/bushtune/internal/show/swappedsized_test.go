package show

import (
	"math"
	"testing"

	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// TestWantsAtSizeInWords: the number with its verdict, both ends of a range, and loads
// that are not held anywhere or only in part of the range.
func TestWantsAtSizeInWords(t *testing.T) {
	v := demoView(t)
	index, err := v.study.Find("longitudinal_compliance", "", "")
	if err != nil {
		t.Fatal(err)
	}
	n := &v.numbers[index]
	lost := math.NaN()
	for _, test := range []struct {
		kind          optimize.Kind
		low, high     float64
		lost          bool
		text, changed string
		tone          tone
	}{
		{optimize.AtMost, 1.5, 1.5, false, "1.50: met", "1.50 mm/kN (5 steps; want strip).", good},
		{optimize.AtMost, 1.5, 2.25, false, "1.50 to 2.25: met to over by 0.25", "1.50 to 2.25 mm/kN (up to 5 steps; want strip).", bad},
		{optimize.MakeSmall, 1.5, 1.5, false, "1.50", "1.50 mm/kN (5 steps; want strip).", plain},
		{optimize.AtMost, 1.5, 1.75, true, "1.50 to 1.75 where the axle holds this load: met; over part of the range it does not",
			"1.50 to 1.75 mm/kN where the axle holds this load (want strip).", bad},
		{optimize.AtMost, lost, lost, true, "the axle cannot hold this load", "the axle cannot hold this load (want strip).", bad},
		{optimize.MakeSmall, lost, lost, true, "the axle cannot hold this load", "the axle cannot hold this load (want strip).", bad},
	} {
		inside := func(x float64) float64 { return x * n.Unit.Factor }
		a := tuning.Asked{Name: "strip", Index: index, Unit: n.Unit, Want: optimize.Want{Kind: test.kind, Value: 2, Scale: n.Step}}
		a.Goal.Number, a.Goal.Size = index, 3000
		after := swapping.Sized{Low: inside(test.low), High: inside(test.high), Lost: test.lost}
		s := &Swapped{Comparison: &swapping.Comparison{Asked: []tuning.Asked{a}, AtSize: []swapping.Sized{{Low: inside(2), High: inside(2)}},
			Columns: []swapping.Column{{AtSize: []swapping.Sized{after}}}}}
		if c := s.sizedVerdict(v, 0, after); c != (cell{test.text, test.tone}) {
			t.Errorf("got %+v, want %q in tone %v", c, test.text, test.tone)
		}
		ch := swapping.Change{AtSize: true, Want: "strip", Low: test.low, High: test.high, Steps: 5}
		if test.lost {
			ch.Steps = math.Inf(1)
		}
		if got, want := s.sizedSentence(v, &ch, 0), "Longitudinal compliance, at 3 kN: 2.00 → "+test.changed; got != want {
			t.Errorf("got:  %s\nwant: %s", got, want)
		}
	}
}
