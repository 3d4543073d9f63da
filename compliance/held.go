package compliance

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// Whether the axle is held is judged by the least eigenvalue λ of A = D^-½·K·D^-½,
// D being the absolute terms that make up the diagonal of K: A has ones on its
// diagonal at most, so that λ is a pure number, the same in any units.
const (
	// freeEnergy is the λ below which a motion costs no energy. Rounding leaves
	// mechanisms 7e-16; soft but sound axles have 3e-10 and more.
	freeEnergy = 1e-12
	// largestResidual is |K·u − f| over |f|, both with D^-½, above which an answer is
	// no answer.
	largestResidual = 1e-4
	// roundOff is the unit roundoff of double precision.
	roundOff = 0x1p-53
)

// InexactAnswer is the error of an axle that is held so softly beside its stiff
// parts that rounding spoils its answer.
type InexactAnswer struct {
	Residual    float64 // |K·u − f| over |f|
	WhileStatic bool    // in the loads at rest
}

// Error says what does not fit.
func (e *InexactAnswer) Error() string {
	what := "the movement"
	if e.WhileStatic {
		what = "the loads at rest"
	}
	return fmt.Sprintf("%s cannot be told: stiff and soft parts are too far apart for the arithmetic (%.2g of the load is left over); no figure is shown; give the stiffest parts a smaller rate", what, e.Residual)
}

// certain is the λ above which neither the verdict nor the answer can be in doubt.
// Rounding in Cholesky's method moves λ by n(n+1)·roundOff, far less, and leaves at
// most 2n(n+2)·roundOff/λ of a load (Higham, Accuracy and Stability of Numerical
// Algorithms, 2nd ed., 2002, theorems 10.3 and 10.4).
func certain(n int) float64 { return float64(2*n*(n+2)) * roundOff / largestResidual }

// keepDiagonal stores D of a stiffness k that is a sum of squares.
func (s *Solver) keepDiagonal(k []float64) {
	for i := range s.diagonal {
		s.diagonal[i] = k[i*s.size+i]
	}
}

// certainly tells in n² operations at most whether λ is large enough beyond doubt,
// from the upper factor of K and D; room is of the same length. With the factor R of
// A = RᵀR, |R⁻¹| is nowhere above the inverse of its comparison matrix M, which has
// the pivots and minus the absolute entries beside them (Higham 2002, ch. 8), so that
// 1/λ = ‖R⁻¹‖₂² ≤ ‖M⁻¹‖∞·‖M⁻¹‖₁: two triangular solves with ones. Mostly the first
// norm is enough, as the other is at most n times as large.
func certainly(u blas64.Triangular, diagonal, room []float64) bool {
	n := u.N
	limit := certain(n)
	rows, byRow := room, 0.0 // the square of ‖M⁻¹‖∞
	for i := n - 1; i >= 0; i-- {
		row, sum := u.Data[i*n:i*n+n], 1.0
		for j := i + 1; j < n; j++ {
			sum += math.Abs(row[j]) * rows[j]
		}
		rows[i] = sum / row[i]
		byRow = max(byRow, rows[i]*rows[i]*diagonal[i])
	}
	if byRow*float64(n)*limit <= 1 {
		return true
	}
	columns, byColumn := room, 0.0
	for i, d := range diagonal {
		columns[i] = math.Sqrt(d)
	}
	for i := range n {
		row := u.Data[i*n : i*n+n]
		sum := columns[i] / row[i]
		byColumn = max(byColumn, sum)
		for j := i + 1; j < n; j++ {
			columns[j] += math.Abs(row[j]) * sum
		}
	}
	return math.Sqrt(byRow)*byColumn*limit <= 1
}

// doubt judges what the bound leaves in doubt: an axle by λ itself, and its answer
// by what it leaves over of the loads. k is the stiffness whose factor it is.
func (s *Solver) doubt(k []float64, factored, whileStatic bool) error {
	if !factored || len(s.softest(k, freeEnergy)) > 0 {
		return s.freeMotion(k, whileStatic)
	}
	var r float64
	if whileStatic {
		r = s.residual(k, s.restLoads(make([]float64, s.size)), s.rest, 1)
	} else {
		r = s.residual(k, s.portLoads(make([]float64, s.size*Ports)), s.motions(), Ports)
	}
	if !(r <= largestResidual) {
		return &InexactAnswer{Residual: r, WhileStatic: whileStatic}
	}
	return nil
}

// Rounding is what rounding leaves of the sum of the parts of a number, as a share
// of the largest: some unit roundoffs over λ (measured: up to six).
func (s *Solver) Rounding() float64 {
	return min(16*roundOff/leastEigenvalue(s.stiffness, s.diagonal), largestResidual)
}

// HardlyHeld lists the motions of an axle that is held whose eigenvalue of D^-½·K·D^-½
// lies below a limit: what costs next to no energy.
func (s *Solver) HardlyHeld(limit float64) (motions []Motion) {
	basis := s.softest(s.stiffness, limit)
	separate(basis)
	for _, v := range basis {
		motions = append(motions, s.describe(v))
	}
	return motions
}

// leastEigenvalue is λ of a stiffness k with D.
func leastEigenvalue(k, diagonal []float64) float64 {
	var eigen mat.EigenSym
	if !eigen.Factorize(unitDiagonal(k, diagonal), false) {
		return math.NaN()
	}
	return eigen.Values(nil)[0]
}

// unitDiagonal is A of a stiffness k with D. A freedom without any stiffness has
// zeros.
func unitDiagonal(k, diagonal []float64) *mat.SymDense {
	n := len(diagonal)
	a := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			if scale := math.Sqrt(diagonal[i] * diagonal[j]); scale > 0 {
				a.SetSym(i, j, k[i*n+j]/scale)
			}
		}
	}
	return a
}

// residual is the largest |K·u − f| over |f| of the columns of u and f, both n×m
// by rows, with D^-½.
func (s *Solver) residual(k []float64, f, u []float64, m int) float64 {
	n := s.size
	left := blas64.General{Rows: n, Cols: m, Stride: m, Data: append([]float64(nil), f...)}
	blas64.Symm(blas.Left, 1, blas64.Symmetric{N: n, Stride: n, Data: k, Uplo: blas.Upper}, blas64.General{Rows: n, Cols: m, Stride: m, Data: u}, -1, left)
	worst := 0.0
	for column := range m {
		rest, load := 0.0, 0.0
		for i, d := range s.diagonal {
			rest += left.Data[i*m+column] * left.Data[i*m+column] / d
			load += f[i*m+column] * f[i*m+column] / d
		}
		if rest > 0 {
			worst = max(worst, math.Sqrt(rest/load))
		}
	}
	return worst
}
