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
const looksEach = 12

// mostStarts is from how many points a combination is tuned at most.
const mostStarts = 4

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
	if free > 0 {
		w.looks = lowDiscrepancy(free, looksEach*free, o.Seed)
		w.linkage = criticalDistance(free, len(w.looks))
	}
	return w, nil
}

// tune puts a combination on the bench and tunes it; near, which may be nil, are
// coordinates that suit a similar one. It returns the end's coordinates too.
func (w *worker) tune(ctx context.Context, options []int, near []float64) (*Chosen, []float64, error) {
	if err := w.bench.Put(options); err != nil {
		return nil, nil, err
	}
	best := w.finishBest(ctx, near)
	if best.at == nil {
		return nil, nil, best.err
	}
	c := w.chosen(options, &best)
	return c, best.at.z, nil
}

// chosen is a combination that ended in f.
func (w *worker) chosen(options []int, f *finish) *Chosen {
	w.restIdle(f)
	return &Chosen{
		Options: slices.Clone(options), Price: w.choice.price(options),
		X: f.at.x, Values: f.at.values, Aim: f.at.aim, Violation: f.violation,
		Held: f.unmet == nil, Settled: f.settled(),
	}
}

// again tunes a combination from all the starts that Solve takes, and returns the
// better of that end and the one known.
func (w *worker) again(ctx context.Context, c *Chosen) Chosen {
	free := len(w.model.box.free)
	if free == 0 || w.bench.Put(c.Options) != nil {
		return *c
	}
	o := Options{Seed: w.o.Seed, Iterations: w.o.Iterations}.withDefaults(free)
	best := *c
	for _, f := range w.model.tuneAll(ctx, w.model.presentCoordinates(), o) {
		if f.at == nil {
			continue
		}
		if next := w.chosen(c.Options, &f); next.compare(&best) < 0 {
			best = *next
		}
	}
	return best
}

// restIdle puts parameters that change none of the wanted numbers back to their
// present values, so that nothing is changed for nothing.
func (w *worker) restIdle(f *finish) {
	present := w.model.presentCoordinates()
	for k := range f.at.z {
		if f.at.z[k] == present[k] {
			continue
		}
		z := clone(f.at.z)
		z[k] = present[k]
		if e, err := w.model.values(z); err == nil && w.model.sameNumbers(e, f.at) {
			f.settle(w.model, e)
		}
	}
}

// sameNumbers tells whether all wanted numbers agree to the tolerance of a limit.
func (m *model) sameNumbers(a, b *evaluation) bool {
	for _, w := range m.problem.Wants {
		if math.Abs(a.values[w.Number]-b.values[w.Number]) > holdTolerance*w.Scale {
			return false
		}
	}
	return true
}

// finishBest tunes from every start; without a free parameter it only evaluates.
func (w *worker) finishBest(ctx context.Context, near []float64) (best finish) {
	if len(w.model.box.free) == 0 {
		e, err := w.model.values(nil)
		if err != nil {
			return finish{err: err}
		}
		best.settle(w.model, e)
		return best
	}
	w.model.ends = w.model.ends[:0]
	for _, z := range w.starts(near) {
		f := w.model.tune(ctx, z, w.o.Iterations)
		if f.at == nil && best.at == nil {
			best.err = f.err
		}
		if f.at != nil {
			w.model.ends = append(w.model.ends, f.at)
		}
		if f.better(best) {
			best = f
		}
	}
	w.model.ends = w.model.ends[:0]
	return best
}

// nearTo is the distance, in ranges, from an end reached by another descent within
// which a descent that is no better has nothing new to find.
const nearTo = 0.03

// nearEnd tells whether a descent at e repeats another.
func (m *model) nearEnd(e *evaluation) bool {
	for _, end := range m.ends {
		if floats.Distance(end.z, e.z, 2) < nearTo && m.rankOf(end) <= m.rankOf(e) {
			return true
		}
	}
	return false
}

// starts lists from where a combination is tuned. Candidates are the present values,
// near and the looks; of these all that have no better one within the critical
// distance, the best first (multi-level single linkage; Rinnooy Kan & Timmer,
// Mathematical Programming 39, 1987, 27–78, here with one sample).
func (w *worker) starts(near []float64) [][]float64 {
	candidates := w.ranked(near)
	var starts [][]float64
	for i, c := range candidates {
		better := func(o candidate) bool { return floats.Distance(o.z, c.z, 2) < w.linkage }
		if len(starts) < mostStarts && !slices.ContainsFunc(candidates[:i], better) {
			starts = append(starts, c.z)
		}
	}
	return starts
}

// candidate is a point from which a combination may be tuned.
type candidate struct {
	z    []float64
	rank float64
}

// ranked evaluates the candidates of a combination and returns those that can be,
// the best first. Without any, it returns the present values, so that there is an
// error to tell.
func (w *worker) ranked(near []float64) []candidate {
	points := append([][]float64{w.model.presentCoordinates()}, w.looks...)
	if near != nil {
		points = append(points, near)
	}
	var all []candidate
	for _, z := range points {
		if rank := w.model.rank(z); rank < impossible {
			all = append(all, candidate{z, rank})
		}
	}
	if all == nil {
		return []candidate{{z: points[0]}}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.rank, b.rank) })
	return all
}

// linkageFactor is σ of Rinnooy Kan & Timmer, whose results for samples without end
// ask for more than 2. For the one small sample here it says how near to each other
// starts may be; on random problems 2 found every optimum of a dense grid, 4 did not.
const linkageFactor = 2

// criticalDistance is that of multi-level single linkage for a sample in the unit
// box of dimension n: π^(−1/2)·(Γ(1 + n/2)·σ·ln(sample)/sample)^(1/n).
func criticalDistance(n, sample int) float64 {
	share := linkageFactor * math.Log(float64(sample)) / float64(sample)
	return math.Pow(math.Gamma(1+float64(n)/2)*share, 1/float64(n)) / math.Sqrt(math.Pi)
}

// presentCoordinates are the coordinates of the parameters' starts.
func (m *model) presentCoordinates() []float64 {
	x := make([]float64, len(m.problem.Parameters))
	for i, q := range m.problem.Parameters {
		x[i] = q.Start
	}
	return m.box.coordinates(x)
}
