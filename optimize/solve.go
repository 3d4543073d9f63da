package optimize

import (
	"context"
	"fmt"
)

// Options steers Solve. In every field 0 means the default.
type Options struct {
	Seed              uint64         // of the extra starts and the global search
	Starts            int            // starts spread over the box besides the present values; negative: none
	GlobalEvaluations int            // evaluations of the global search; negative: no global start
	Iterations        int            // per stage and start
	Progress          func(Progress) // called after every start, in order
}

// Progress reports one finished start.
type Progress struct {
	Start, Starts  int     // 1-based, of how many
	Aim, Violation float64 // where this start ended
	Err            error   // why it could not be evaluated, or nil
}

const (
	defaultStarts     = 12
	defaultIterations = 150
	globalBase        = 100 // evaluations of the global search: base + each per parameter
	globalEach        = 80
)

func (o Options) withDefaults(parameters int) Options {
	o.Starts = defaulted(o.Starts, defaultStarts)
	o.Iterations = defaulted(o.Iterations, defaultIterations)
	o.GlobalEvaluations = defaulted(o.GlobalEvaluations, globalBase+globalEach*parameters)
	return o
}

func defaulted(value, standard int) int {
	if value == 0 {
		return standard
	}
	return max(value, 0)
}

// Solve tunes the parameters of p. The error is for a problem that is wrong or
// cannot be evaluated at its start; whether the wants are met is in the
// result's Status, which must be looked at. If ctx ends, the best point so far
// is returned as StoppedEarly.
func Solve(ctx context.Context, p *Problem, o Options) (*Result, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	m := newModel(p)
	start := make([]float64, len(p.Parameters))
	for i, q := range p.Parameters {
		start[i] = q.Start
	}
	before, err := m.values(m.box.coordinates(start))
	if err != nil {
		return nil, fmt.Errorf("optimize: cannot evaluate the start: %w", err)
	}
	o = o.withDefaults(len(m.box.free))
	finishes := m.tuneAll(ctx, before.z, o)
	best := finishes[0]
	for _, f := range finishes[1:] {
		if f.better(best) {
			best = f
		}
	}
	if best.at == nil {
		return nil, fmt.Errorf("optimize: cannot evaluate the start: %w", best.err)
	}
	return m.explain(ctx, start, before, finishes, best), nil
}

// tuneAll runs every start in order: the present values, the global search's
// end, then points spread over the box.
func (m *model) tuneAll(ctx context.Context, present []float64, o Options) []finish {
	starts := [][]float64{present}
	if len(present) > 0 {
		if o.GlobalEvaluations > 0 {
			if z := m.globalStart(ctx, o.GlobalEvaluations, o.Seed); z != nil {
				starts = append(starts, z)
			}
		}
		starts = append(starts, lowDiscrepancy(len(present), o.Starts, o.Seed)...)
	}
	var finishes []finish
	for k, z := range starts {
		if ctx.Err() != nil && k > 0 {
			break
		}
		f := m.tune(ctx, z, o.Iterations)
		finishes = append(finishes, f)
		if o.Progress != nil {
			o.Progress(f.progress(k+1, len(starts)))
		}
	}
	return finishes
}

func (f finish) progress(k, of int) Progress {
	p := Progress{Start: k, Starts: of, Err: f.err}
	if f.at != nil {
		p.Aim, p.Violation = f.at.aim, f.violation
	}
	return p
}
