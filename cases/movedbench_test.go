package cases

import (
	"math"
	"syscall"
	"testing"
	"time"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// inBaselines is the least processor time of f in multiples of the baseline for
// the freedoms of a study: other work on the machine stops a run of milliseconds,
// yet takes nothing of its own time.
func inBaselines(s *Study, f func()) float64 {
	_, base := compareIn(200, [2]int{100, 1}, baseline(s.Solver().Freedoms()), func() {})
	least := time.Duration(math.MaxInt64)
	for range 30 {
		before := processorTime()
		f()
		least = min(least, processorTime()-before)
	}
	return float64(least) / float64(base)
}

// processorTime is what the process has used so far.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// BenchmarkTravel prints what a bump and a roll of 41 points each cost on a twist
// beam with toe links, in multiples of the baseline, and how many evaluations of
// residual and tangent a point takes.
func BenchmarkTravel(b *testing.B) {
	s := studyOf(b, toeLinkedBeam(b), vehicleWith(b, carValues))
	f := fullSize(b, s)
	evaluations, points := 0, 0
	both := func() {
		for _, mode := range []Mode{Heave, RollBody} {
			r, err := f.Travel(Travel{Mode: mode, From: -80, To: 80, Points: 41})
			if err != nil {
				b.Fatal(err)
			}
			evaluations, points = evaluations+r.Evaluations, points+41
		}
	}
	for b.Loop() {
		both()
	}
	b.ReportMetric(float64(evaluations)/float64(points), "evaluations/point")
	b.ReportMetric(inBaselines(s, both), "travel/baseline")
	s = studyOf(b, twistBeam(b), vehicleWith(b, carValues))
	f = fullSize(b, s)
	b.ReportMetric(inBaselines(s, both), "travel-without-links/baseline")
}

// BenchmarkOuterToe prints what the toe of the outer wheel from 0 to 1 g in 21
// points with its causes costs, and the plain sweep of the same state.
func BenchmarkOuterToe(b *testing.B) {
	s := studyOf(b, toeLinkedBeam(b), vehicleWith(b, carValues))
	f := fullSize(b, s)
	evaluations, points := 0, 0
	causes := func() {
		c, err := f.OuterToe("state_cornering", quantity.StandardGravity, 21)
		if err != nil {
			b.Fatal(err)
		}
		evaluations, points = evaluations+c.Evaluations, points+21
	}
	plain := func() {
		if _, err := f.Sweep(Sweep{Case: "state_cornering", To: quantity.StandardGravity, Points: 21}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		causes()
	}
	b.ReportMetric(float64(evaluations)/float64(points), "evaluations/point")
	b.ReportMetric(inBaselines(s, causes), "causes/baseline")
	b.ReportMetric(inBaselines(s, plain), "sweep/baseline")
}

// TestSolvingDoesNotAllocate: a posture and all tangents there need no memory.
func TestSolvingDoesNotAllocate(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), vehicleWith(t, carValues))
	f := fullSize(t, s)
	x := 0.0
	n := testing.AllocsPerRun(50, func() {
		x += 0.5
		var d compliance.Demand
		f.holdPads(&d, x, x)
		if err := f.solve(&d); err != nil {
			t.Fatal(err)
		}
		for i := range s.numbers {
			f.Tangent(i)
		}
	})
	if n != 0 {
		t.Errorf("%g allocations for one posture", n)
	}
}
