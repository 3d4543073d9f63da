package compliance

import (
	"math"

	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// stable tells whether every small movement that the held pads allow costs
// energy: the symmetric part of the tangent, with a stiff spring or the tyre at
// each held pad, is positive definite, by the same measure as that of the linear
// axle. The sign of the determinant alone would
// miss two directions that give way together. Forces without potential make the
// tangent unsymmetric; then that condition is more than enough, and what counts
// is that no eigenvalue is negative (Ziegler, Principles of Structural
// Stability, 1968).
func (m *Mover) stable() bool {
	n := m.solver.size
	m.straighten()
	for i := range n {
		m.diagonal[i] = math.Abs(m.upright.Data[i*n+i])
	}
	factor, factored := lapack64.Potrf(m.upright)
	switch {
	case factored && certainly(factor, m.diagonal, m.room[:n]):
		return true
	case factored:
		m.straighten()
		return leastEigenvalue(m.upright.Data, m.diagonal) >= freeEnergy
	}
	k := mat.NewDense(n, n, nil)
	for i := range n {
		for j := range n {
			k.Set(i, j, m.restoring(i, j)/(m.solver.freedomLength(i)*m.solver.freedomLength(j)))
		}
	}
	var eigen mat.Eigen
	if !eigen.Factorize(k, mat.EigenNone) {
		return false
	}
	for _, v := range eigen.Values(nil) {
		if real(v) <= 0 {
			return false
		}
	}
	return true
}

// straighten writes the symmetric part of the tangent.
func (m *Mover) straighten() {
	n := m.solver.size
	for i := range n {
		for j := i; j < n; j++ {
			m.upright.Data[i*n+j] = 0.5 * (m.restoring(i, j) + m.restoring(j, i))
		}
	}
}

// padSpring is the rate in N/mm that stands for a rigid pad.
const padSpring = 1e6

// restoring is an entry of the tangent with held pads as springs, in series with
// the tyre.
func (m *Mover) restoring(i, j int) float64 {
	k := m.tangent.Data[i*m.size+j]
	for wheel := range m.wheels {
		row := m.size - 2 + wheel
		if m.held.Pads[wheel].Held && i/6 == m.wheels[wheel].body && j/6 == m.wheels[wheel].body {
			k += m.tangent.Data[row*m.size+i] * m.tangent.Data[row*m.size+j] / (m.tangent.Data[row*m.size+row] + 1/padSpring)
		}
	}
	return k
}
