package optimize_test

import (
	"fmt"
	"hash/fnv"
	"math"
	"testing"

	"bushtune/optimize"

	"gonum.org/v1/gonum/mat"
)

// The printed optima are found with every seed, and whatever the scale of the
// wants: it changes the measure of costs, not the best point of problems without
// targets.
func TestOptimumIndependentOfSeedAndScale(t *testing.T) {
	for k, scale := range []float64{1e-4, 1e-2, 1, 1e3} {
		t.Run(fmt.Sprint("scale ", scale), func(t *testing.T) {
			t.Parallel()
			for _, h := range hockSchittkowski() {
				checkOptimum(t, h, scale, uint64(k))
			}
		})
	}
}

func checkOptimum(t *testing.T, h published, scale float64, seed uint64) {
	t.Helper()
	p := h.problem()
	for i := range p.Wants {
		p.Wants[i].Scale = scale
	}
	r := solve(t, p, optimize.Options{Seed: seed})
	// A limit kept within keptLimit of its scale moves the cost by that times its
	// price, some hundred at most.
	room := printedCost*math.Max(1, math.Abs(h.best)) + 100*keptLimit*scale
	if r.Status != optimize.Converged || math.Abs(r.After.Values[0]-h.best) > room {
		t.Errorf("%s, seed %d: %v (%s), %.10g, printed %.10g", h.name, seed, r.Status, r.Reason, r.After.Values[0], h.best)
	}
}

// noise is the relative rounding of a model that solves an ill-conditioned
// system for its numbers.
const noise = 1e-10

// noisy adds to every value a rounding that depends on x alone.
func noisy(p *optimize.Problem) *optimize.Problem {
	q := *p
	q.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		err := p.Evaluate(x, values, jacobian)
		digest := fnv.New64a()
		for i := range x {
			bits := math.Float64bits(x[i])
			digest.Write([]byte{byte(bits), byte(bits >> 8), byte(bits >> 16), byte(bits >> 24), byte(bits >> 32), byte(bits >> 40), byte(bits >> 48)})
		}
		for i := range values {
			values[i] *= 1 + noise*(2*float64(digest.Sum64()>>11)/(1<<53)-1)
			digest.Write([]byte{byte(i)})
		}
		return err
	}
	return &q
}

// Noise far above that of float64 costs digits, not the optimum or its proof.
func TestPublishedUnderNoise(t *testing.T) {
	for _, h := range hockSchittkowski() {
		r := solve(t, noisy(h.problem()), optimize.Options{Seed: 1})
		if r.Status != optimize.Converged || math.Abs(r.After.Values[0]-h.best) > printedCost*math.Max(1, math.Abs(h.best)) {
			t.Errorf("%s: %v (%s), %.10g, printed %.10g", h.name, r.Status, r.Reason, r.After.Values[0], h.best)
		}
	}
}

// conflict has limits that cannot all hold and an aim that pulls aside: a disc of
// radius 1 about the origin and a half-plane beyond it. By symmetry the least
// violation is at x = y = s with s³ = ½, nowhere else; the aim cannot move it.
func conflict() *optimize.Problem {
	return numbers(func(x []complex128) []complex128 { return []complex128{sumSquares(x), x[0] + x[1], x[0] - x[1]} },
		[]optimize.Parameter{between("x", -3, 3), between("y", -3, 3)},
		optimize.Want{Kind: optimize.AtMost, Value: 1, Scale: 0.01},
		optimize.Want{Number: 1, Kind: optimize.AtLeast, Value: 2, Scale: 0.01},
		optimize.Want{Number: 2, Kind: optimize.MakeLarge, Scale: 0.01})
}

const (
	// noisyPoint: the gradient of the violation is uncertain by the noise of the
	// shortfalls, over curvatures of its own size.
	noisyPoint = 100 * noise
	// effort is how many evaluations a start may take in two unknowns.
	effort = 100
)

// The least violation is reached to the noise of the numbers, the aim does not
// drag the point off it, and no start dithers in the noise.
func TestLeastViolationUnderNoise(t *testing.T) {
	s := math.Cbrt(0.5)
	for name, p := range map[string]*optimize.Problem{"exact": conflict(), "noisy": noisy(conflict())} {
		for seed := range uint64(10) {
			r := solve(t, p, optimize.Options{Seed: seed, GlobalEvaluations: -1})
			if r.Status != optimize.NotReached {
				t.Errorf("%s, seed %d: %v: %s", name, seed, r.Status, r.Reason)
			}
			if math.Abs(r.X[0]-s) > noisyPoint || math.Abs(r.X[1]-s) > noisyPoint {
				t.Errorf("%s, seed %d: %.10f, closed form %.10f", name, seed, r.X, s)
			}
			if r.Agreement.SamePoint != r.Agreement.Starts {
				t.Errorf("%s, seed %d: %d of %d starts agree", name, seed, r.Agreement.SamePoint, r.Agreement.Starts)
			}
			if n := r.Count.Values + r.Count.Gradients; n > effort*r.Agreement.Starts {
				t.Errorf("%s, seed %d: %+v for %d starts", name, seed, r.Count, r.Agreement.Starts)
			}
			t.Logf("%s: %+v, off by %.1g %.1g, residual %.1g", name, r.Count, r.X[0]-s, r.X[1]-s, r.ViolationResidual)
		}
	}
}

// maratosSteps bounds the gradients over all starts of TestMaratosEffect: 44 are
// taken, 58 without the second-order correction.
const maratosSteps = 50

// Powell's example of the Maratos effect (Nocedal & Wright, example 15.4, from
// memory): on the circle full steps raise both cost and shortfall, so that a
// penalty alone cuts them.
func TestMaratosEffect(t *testing.T) {
	steps := 0
	for _, degrees := range []float64{5, 20, 45, 90, 130} {
		s, c := math.Sincos(degrees * math.Pi / 180)
		p := numbers(func(x []complex128) []complex128 { return []complex128{2*(sumSquares(x)-1) - x[0], sumSquares(x)} },
			[]optimize.Parameter{{Name: "x", Lower: -2, Upper: 2, Start: c}, {Name: "y", Lower: -2, Upper: 2, Start: s}},
			optimize.Want{Kind: optimize.MakeSmall, Scale: 1},
			optimize.Want{Number: 1, Kind: optimize.AtLeast, Value: 1, Scale: 1},
			optimize.Want{Number: 1, Kind: optimize.AtMost, Value: 1, Scale: 1})
		r := solve(t, p, optimize.Options{Starts: -1, GlobalEvaluations: -1})
		if r.Status != optimize.Converged || math.Abs(r.X[0]-1) > closedForm || math.Abs(r.X[1]) > closedForm {
			t.Errorf("from %g deg: %v at %v", degrees, r.Status, r.X)
		}
		steps += r.Count.Gradients
	}
	if steps > maratosSteps {
		t.Errorf("%d gradients, more than %d", steps, maratosSteps)
	}
}
