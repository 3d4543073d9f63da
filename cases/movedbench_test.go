package cases

import "testing"

// inBaselines is the least time of f in multiples of the baseline for the
// freedoms of a study.
func inBaselines(s *Study, f func()) float64 {
	ratio, _ := compareIn(20, [2]int{1000, 1}, baseline(s.Solver().Freedoms()), f)
	return ratio
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
}
