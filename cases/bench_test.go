package cases

import (
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

// tenParameters are five values of the pivot bush on each side.
func tenParameters(axle *compliance.Axle) []compliance.Slot {
	var slots []compliance.Slot
	for _, name := range []string{"plan", "lift", "soft", "axial", "stiff"} {
		slots = append(slots, compliance.Slot{Element: 0, Index: axle.Elements[0].Kind.FieldIndex(name)})
	}
	for _, name := range []string{"plan", "lift", "soft", "axial", "stiff"} {
		slots = append(slots, compliance.Slot{Element: 1, Index: axle.Elements[1].Kind.FieldIndex(name)})
	}
	return slots
}

// ratioBench times one thing against the baseline in the same run.
type ratioBench struct {
	baseline time.Duration // of one solve, best of several
}

// newBaseline times gonum's Cholesky factorisation and one solve with six
// right-hand sides at the size of a twist beam of two arms, 12 freedoms.
func newBaseline(n int) ratioBench {
	full := make([]float64, n*n)
	for i := range n {
		for j := range n {
			full[i*n+j] = 1 / float64(1+i+j)
		}
		full[i*n+i] += float64(n)
	}
	work := make([]float64, n*n)
	right := make([]float64, n*6)
	return ratioBench{best(func() {
		copy(work, full)
		u, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Data: work, Uplo: blas.Upper})
		if !ok {
			panic("baseline matrix is not positive definite")
		}
		for i := range right {
			right[i] = 1
		}
		lapack64.Potrs(u, blas64.General{Rows: n, Cols: 6, Stride: 6, Data: right})
	})}
}

// best is the shortest time per call over many batches: other work on the
// machine only ever adds.
func best(f func()) time.Duration {
	const batches, calls = 300, 100
	least := time.Duration(1 << 62)
	for range batches {
		start := time.Now()
		for range calls {
			f()
		}
		least = min(least, time.Since(start)/calls)
	}
	return least
}

func (r ratioBench) report(b *testing.B, name string, f func()) {
	b.ReportMetric(float64(best(f))/float64(r.baseline), name)
}

// BenchmarkRatios prints, as multiples of the baseline, what the values of all
// built-in cases, gradients and parts cost on a twist beam of two arms.
func BenchmarkRatios(b *testing.B) {
	s := newStudy(b, twistBeam(b), vehicleWith(b, carValues))
	slots := tenParameters(s.Solver().Axle())
	turnParameters := func(n int) {
		for k, slot := range slots {
			s.Set(slot, s.Solver().Axle().Value(slot)+1e-6*float64((n+k)%2*2-1))
		}
		if err := s.Update(); err != nil {
			b.Fatal(err)
		}
	}
	indices := make([]int, len(sixNumbers))
	gradient := make([][]float64, len(sixNumbers))
	for i, n := range sixNumbers {
		indices[i], _ = s.Find(n[0], n[1], n[2])
		gradient[i] = make([]float64, len(slots))
	}
	n := 0
	values := func() { n++; turnParameters(n) }
	sum := 0.0
	bushes := make([]BushLoad, 0, 64)
	s.prepareParts()
	for b.Loop() {
		values()
	}
	base := newBaseline(s.Solver().Freedoms())
	base.report(b, "values/baseline", values)
	base.report(b, "values+numbers/baseline", func() {
		values()
		for i := range s.numbers {
			if !s.numbers[i].Generic {
				sum += s.Value(i)
			}
		}
	})
	base.report(b, "gradients/baseline", func() { values(); s.Gradient(indices, slots, gradient) })
	base.report(b, "parts+bushes/baseline", func() { values(); bushes = allParts(s, bushes[:0]) })
	b.ReportMetric(float64(base.baseline.Nanoseconds()), "baseline-ns")
	b.ReportMetric(testing.AllocsPerRun(100, values), "allocs/values")
}

// allParts splits every named number and reads every bush in every case.
func allParts(s *Study, bushes []BushLoad) []BushLoad {
	for i := range s.numbers {
		if !s.numbers[i].Generic {
			s.splitInto(i, s.parts.values)
		}
	}
	return s.appendBushLoads(bushes)
}
