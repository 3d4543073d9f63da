package tuning

import (
	"context"
	"slices"

	"bushtune/optimize"
)

// solve runs the optimiser. A parameter that turns out to change none of the
// wanted numbers keeps its present value: the search is run again without it,
// so that no number of the file changes for nothing.
func solve(ctx context.Context, p *optimize.Problem, options optimize.Options) (*optimize.Result, error) {
	result, err := optimize.Solve(ctx, p, options)
	if err != nil {
		return nil, err
	}
	idle := slices.DeleteFunc(slices.Clone(result.Warnings), func(w optimize.Warning) bool { return w.Kind != optimize.NoEffect })
	if len(idle) == 0 {
		return result, nil
	}
	held := *p
	held.Parameters = slices.Clone(p.Parameters)
	for _, w := range idle {
		for _, i := range w.Parameters {
			q := &held.Parameters[i]
			q.Lower, q.Upper = q.Start, q.Start
		}
	}
	if result, err = optimize.Solve(ctx, &held, options); err != nil {
		return nil, err
	}
	result.Warnings = append(idle, result.Warnings...)
	return result, nil
}
