package compliance

import (
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

func benchUpdate(b *testing.B, axle *Axle) {
	s := newSolver(b, axle)
	slot := Slot{0, 3}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Set(slot, float64(i%100)*1e-3)
		s.Set(Slot{1, 3}, float64(i%100)*1e-3)
		if err := s.Update(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUpdate(b *testing.B) {
	axles := testAxles(b)
	b.Run("plain", func(b *testing.B) { benchUpdate(b, axles["twist beam"]) })
	b.Run("loaded", func(b *testing.B) { benchUpdate(b, axles["loaded twist beam"]) })
}

// BenchmarkBaseline is what the ratios refer to: Potrf and one Potrs with six
// right-hand sides at the twist beam's size.
func BenchmarkBaseline(b *testing.B) {
	s := newSolver(b, twistBeam(b))
	n := s.size
	k := append([]float64(nil), s.stiffness...)
	a := blas64.Symmetric{N: n, Stride: n, Data: make([]float64, n*n), Uplo: blas.Upper}
	x := blas64.General{Rows: n, Cols: 6, Stride: 6, Data: make([]float64, n*6)}
	b.ReportAllocs()
	for b.Loop() {
		copy(a.Data, k)
		for i := range x.Data {
			x.Data[i] = float64(i)
		}
		t, _ := lapack64.Potrf(a)
		lapack64.Potrs(t, x)
	}
}
