package cases

import (
	"slices"
	"testing"
	"time"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/compliance"
)

// sixNumbers are the numbers an engineer would tune for.
var sixNumbers = [][3]string{
	{"lateral_force_steer", "cornering", ""}, {"longitudinal_compliance", "impact", ""}, {"lateral_compliance", "cornering", "centre"},
	{"brake_steer", "braking", ""}, {"roll_steer", "roll", ""}, {"total_outer_toe", "state_cornering", ""},
}

// toeLinkedBeam is a twist beam of two arms with toe-control links: 12 freedoms.
func toeLinkedBeam(t testing.TB) *compliance.Axle {
	axle := twistBeam(t)
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Link, "toe", values{"inner.x": 40, "inner.y": 230, "inner.z": 260,
		"outer.x": 90, "outer.y": 520, "outer.z": 280, "inner_rate": 2000, "outer_rate": 3000})...)
	return axle
}

// tenParameters are ten values of the pivot bush and the toe link, each on both
// sides: a parameter that names no side moves two slots.
func tenParameters(axle *compliance.Axle) []compliance.Slot {
	wanted := map[*compliance.Kind][]string{
		compliance.Bush: {"plan", "lift", "soft", "axial", "stiff"},
		compliance.Link: {"inner.x", "inner.y", "outer.x", "outer.y", "inner_rate"},
	}
	var slots []compliance.Slot
	for i, e := range axle.Elements {
		for _, name := range wanted[e.Kind] {
			slots = append(slots, compliance.Slot{Element: i, Index: e.Kind.FieldIndex(name)})
		}
	}
	return slots
}

// baseline is gonum's Cholesky factorisation and one solve with six right-hand
// sides for n freedoms.
func baseline(n int) func() {
	full := make([]float64, n*n)
	for i := range n {
		for j := range n {
			full[i*n+j] = 1 / float64(1+i+j)
		}
		full[i*n+i] += float64(n)
	}
	work := make([]float64, n*n)
	right := make([]float64, n*6)
	return func() {
		copy(work, full)
		u, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Data: work, Uplo: blas.Upper})
		if !ok {
			panic("baseline matrix is not positive definite")
		}
		for i := range right {
			right[i] = 1
		}
		lapack64.Potrs(u, blas64.General{Rows: n, Cols: 6, Stride: 6, Data: right})
	}
}

// compare is the shortest time of f over that of the baseline. Both run in turns,
// many times, because other work on the machine only ever adds.
func compare(base, f func()) (ratio float64, baseTime time.Duration) {
	const batches, calls = 500, 50
	return compareIn(batches, [2]int{calls, calls}, base, f)
}

// compareIn does so in batches of calls of each.
func compareIn(batches int, calls [2]int, base, f func()) (ratio float64, baseTime time.Duration) {
	least := [2]time.Duration{1 << 62, 1 << 62}
	for range batches {
		for i, run := range [2]func(){base, f} {
			start := time.Now()
			for range calls[i] {
				run()
			}
			least[i] = min(least[i], time.Since(start)/time.Duration(calls[i]))
		}
	}
	return float64(least[1]) / float64(least[0]), least[0]
}

// BenchmarkRatios prints, as multiples of the baseline, what the values of all
// built-in cases, gradients and parts cost on a twist beam with toe links.
func BenchmarkRatios(b *testing.B) {
	s := studyOf(b, toeLinkedBeam(b), vehicleWith(b, carValues))
	slots := tenParameters(s.Solver().Axle())
	turnParameters := func(n int) {
		for k, slot := range slots {
			s.Set(slot, s.Solver().Axle().Value(slot)+1e-6*float64((n+k)%2*2-1))
		}
		if err := s.Update(); err != nil {
			b.Fatal(err)
		}
	}
	linear := slices.Clone(sixNumbers)
	linear[5] = [3]string{"roll_camber", "roll", ""} // in place of the state, which is found at its size
	indices, gradient := make([]int, len(linear)), make([][]float64, len(linear))
	for i, n := range linear {
		indices[i], _ = s.Find(n[0], n[1], n[2])
		gradient[i] = make([]float64, len(slots))
	}
	n := 0
	values := func() { n++; turnParameters(n) }
	sum := 0.0
	bushes := make([]BushLoad, 0, 64)
	s.prepareParts()
	var named, inStates []int
	for i := range s.numbers {
		switch n := &s.numbers[i]; {
		case n.Generic:
		case n.state >= 0:
			inStates = append(inStates, i)
		default:
			named = append(named, i)
		}
	}
	for b.Loop() {
		values()
	}
	base := baseline(s.Solver().Freedoms())
	for _, work := range []struct {
		name string
		do   func()
	}{
		{"values/baseline", values},
		{"values+numbers/baseline", func() {
			values()
			for _, i := range named {
				sum += s.Value(i)
			}
		}},
		{"states/baseline", func() {
			values()
			for _, i := range inStates {
				sum += s.Value(i)
			}
		}},
		{"gradients/baseline", func() { values(); s.Gradient(indices, slots, gradient) }},
		{"parts+bushes/baseline", func() { values(); bushes = allParts(s, named, bushes[:0]) }},
	} {
		ratio, least := compare(base, work.do)
		b.ReportMetric(ratio, work.name)
		b.ReportMetric(float64(least.Nanoseconds()), "baseline-ns")
	}
	b.ReportMetric(testing.AllocsPerRun(100, values), "allocs/values")
}

// allParts splits every named number but those of states, and reads every bush in
// every case.
func allParts(s *Study, named []int, bushes []BushLoad) []BushLoad {
	for _, i := range named {
		s.splitInto(i, s.parts.values)
	}
	for _, l := range s.loads[:s.firstState] {
		bushes = s.appendBushesUnder(l, bushes)
	}
	return bushes
}
