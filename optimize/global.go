package optimize

import (
	"context"
	"math"
	"math/rand/v2"

	gonumopt "gonum.org/v1/gonum/optimize"
)

const (
	globalStep = 0.3  // first standard deviation, per range (Hansen: a third of the box)
	infeasible = 1000 // rank of any violation above any aim: asinh of a float64 stays below 711
	impossible = 1e6  // rank of a point that cannot be evaluated
	populate   = 3    // times the usual population of 4 + ⌊3 ln n⌋: made to search, not to converge
)

// globalStart searches the whole box with a seeded CMA-ES (gonum's CmaEsChol;
// Krause, Arbonès & Igel, NIPS 2016) for about the given number of evaluations
// and returns the best coordinates met, or nil if none could be evaluated.
// Samples outside the box are evaluated at the nearest point inside and pay for
// the distance. One worker and a fixed number of generations keep the sequence
// of evaluations, and so the answer, the same on every machine.
func (m *model) globalStart(ctx context.Context, evaluations int, seed uint64) []float64 {
	n := len(m.box.free)
	population := populate * (4 + int(3*math.Log(float64(n))))
	generations := max(1, evaluations/population)
	left := generations * population
	bestRank := float64(impossible)
	var best []float64
	rank := func(sample []float64) float64 {
		z, outside := clamped(sample)
		if left--; left < 0 || ctx.Err() != nil {
			return impossible + outside
		}
		r := m.rank(z)
		if r < bestRank {
			bestRank, best = r, z
		}
		return r + outside
	}
	centre := make([]float64, n)
	for i := range centre {
		centre[i] = 0.5
	}
	settings := &gonumopt.Settings{MajorIterations: generations, Converger: gonumopt.NeverTerminate{}, Concurrent: 1}
	method := &gonumopt.CmaEsChol{InitStepSize: globalStep, Population: population, Src: rand.NewPCG(seed, seed+1)}
	// The outcome is in best: a stop at the limit, or a covariance that has
	// collapsed onto one point, is no failure of a start.
	_, _ = gonumopt.Minimize(gonumopt.Problem{Func: rank}, centre, settings, method)
	return best
}

// clamped returns the point of the unit box nearest to a sample and the squared
// distance to it.
func clamped(sample []float64) (z []float64, outside float64) {
	z = clone(sample)
	for i, v := range sample {
		z[i] = math.Min(math.Max(v, 0), 1)
		outside += (v - z[i]) * (v - z[i])
	}
	return z, outside
}

// rank orders points as the two stages do, by the sketch: smaller violation first,
// then the smaller aim.
func (m *model) rank(z []float64) float64 {
	e, err := m.sketched(z)
	if err != nil {
		return impossible
	}
	return m.rankOf(e)
}

func (m *model) rankOf(e *evaluation) float64 {
	if !hold(e.slacks) {
		return infeasible + math.Asinh(m.violation(e.slacks))
	}
	return math.Asinh(e.aim)
}
