package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// worker tunes combinations one after the other on its own bench.
type worker struct {
	choice  *Choice
	bench   *Bench
	model   *model
	o       ChoiceOptions
	looks   [][]float64 // coordinates at which every combination is looked at
	linkage float64     // distance within which a better look makes a start needless
}

// looksEach is at how many points a combination is looked at, per free parameter:
// an evaluation without gradients costs a small share of a descent.
const looksEach = 16

// mostStarts is from how many points a combination is tuned at most: the present
// values, the end of the combination before, and the best of the looks.
const mostStarts = 6

func newWorker(c *Choice, o ChoiceOptions) (*worker, error) {
	b, err := c.Bench()
	if err != nil {
		return nil, err
	}
	if err := b.Problem.validateRest(); err != nil {
		return nil, err
	}
	w := &worker{choice: c, bench: b, model: newModel(b.Problem), o: o}
	free := len(w.model.box.free)
	w.looks = lowDiscrepancy(free, looksEach*free, o.Seed)
	w.linkage = criticalDistance(free, len(w.looks))
	return w, nil
}

// tune puts a combination on the bench and tunes it; near, which may be nil, are
// coordinates that suit a similar one. It returns the end's coordinates too.
func (w *worker) tune(ctx context.Context, options []int, near []float64) (*Chosen, []float64, error) {
	if err := w.bench.Put(options); err != nil {
		return nil, nil, err
	}
	best := finish{}
	for _, z := range w.starts(near) {
		f := w.finish(ctx, z)
		if best.at == nil && f.err != nil {
			best.err = f.err
		}
		if f.better(best) {
			best = f
		}
	}
	if best.at == nil {
		return nil, nil, best.err
	}
	return &Chosen{
		Options: slices.Clone(options), Price: w.choice.price(options),
		X: best.at.x, Values: best.at.values, Aim: best.at.aim, Violation: best.violation,
		Held: best.unmet == nil, Settled: best.settled(),
	}, best.at.z, nil
}

// finish tunes from z; without a free parameter it only evaluates.
func (w *worker) finish(ctx context.Context, z []float64) finish {
	if len(z) > 0 {
		return w.model.tune(ctx, z, w.o.Iterations)
	}
	e, err := w.model.values(z)
	if err != nil {
		return finish{err: err}
	}
	f := finish{first: settled, second: settled}
	f.settle(w.model, e)
	return f
}

// starts lists from where a combination is tuned: the present values, near, and
// the looks that have no better one within the critical distance, the best first
// (multi-level single linkage; Rinnooy Kan & Timmer, Mathematical Programming 39,
// 1987, 27–78, here with one sample).
func (w *worker) starts(near []float64) [][]float64 {
	starts := [][]float64{w.model.presentCoordinates()}
	if near != nil && !slices.Equal(near, starts[0]) {
		starts = append(starts, near)
	}
	looked := w.look()
	for i, l := range looked {
		better := func(o look) bool { return apart(o.z, l.z) < w.linkage }
		if len(starts) < mostStarts && !slices.ContainsFunc(looked[:i], better) {
			starts = append(starts, l.z)
		}
	}
	return starts
}

// look is a point looked at.
type look struct {
	z    []float64
	rank float64
}

// look evaluates the looks of a combination and returns those that can be, the
// best first.
func (w *worker) look() []look {
	looked := make([]look, 0, len(w.looks))
	for _, z := range w.looks {
		if rank := w.model.rank(z); rank < impossible {
			looked = append(looked, look{z, rank})
		}
	}
	slices.SortStableFunc(looked, func(a, b look) int { return cmp.Compare(a.rank, b.rank) })
	return looked
}

// linkageFactor is σ of Rinnooy Kan & Timmer: above 2 the number of needless
// descents stays finite however large the sample.
const linkageFactor = 4

// criticalDistance is that of multi-level single linkage for a sample in the unit
// box of dimension n: π^(−1/2)·(Γ(1 + n/2)·σ·ln(sample)/sample)^(1/n).
func criticalDistance(n, sample int) float64 {
	share := linkageFactor * math.Log(float64(sample)) / float64(sample)
	return math.Pow(math.Gamma(1+float64(n)/2)*share, 1/float64(n)) / math.Sqrt(math.Pi)
}

// apart is the distance of two points.
func apart(a, b []float64) float64 { return floats.Distance(a, b, 2) }

// presentCoordinates are the coordinates of the parameters' starts.
func (m *model) presentCoordinates() []float64 {
	x := make([]float64, len(m.problem.Parameters))
	for i, q := range m.problem.Parameters {
		x[i] = q.Start
	}
	return m.box.coordinates(x)
}
