package optimize

import (
	"context"
	"math"
)

// finish is where one start ended.
type finish struct {
	at        *evaluation // nil if the start could not be evaluated
	err       error       // why not
	violation float64     // 0 if every limit holds
	unmet     []float64   // shortfall per limit that could not be avoided, in scales; nil if all hold
	first     ending      // of stage 1
	second    ending      // of stage 2
}

// attempts is how often stage 2 is begun from a start: a stage 2 that ended off
// the limits as relaxed is led back by a stage 1 first.
const attempts = 3

// tune runs both stages from z. Where the limits cannot all hold, the aim can only
// choose among points of least violation; stage 2 strays from them by the root of
// its tolerance, so stage 1 has the last word. A descent that repeats another one
// leaves an empty finish.
func (m *model) tune(ctx context.Context, z []float64, iterations int) finish {
	start, err := m.gradients(z)
	if err != nil {
		return finish{err: err}
	}
	f := m.nearest(ctx, start, iterations)
	f.second = f.first
	from := f.at
	for range attempts {
		if f.first == repeated {
			return finish{}
		}
		if f.second == cancelled || f.unmet != nil && m.isolated(f.at) {
			return f
		}
		two := newDescent(m, stage{aim: true, relaxed: f.unmet}, from)
		if f.second = two.run(ctx, iterations); f.second == repeated {
			return finish{}
		}
		if f.unmet == nil && hold(two.at.slacks) {
			f.settle(m, two.at)
			return f
		}
		back := m.nearest(ctx, two.at, iterations)
		back.second = f.second
		better := back.better(f)
		if better {
			f = back
		}
		if f.unmet == nil {
			f.second = stalled
		}
		if back.unmet != nil && !better {
			return f
		}
		from = back.at
	}
	return f
}

// nearest runs stage 1 from e.
func (m *model) nearest(ctx context.Context, e *evaluation, iterations int) finish {
	one := newDescent(m, stage{}, e)
	f := finish{first: one.run(ctx, iterations)}
	f.settle(m, one.at)
	return f
}

// settle makes e the point of the finish.
func (f *finish) settle(m *model, e *evaluation) {
	f.at, f.violation, f.unmet = e, 0, nil
	if hold(e.slacks) {
		return
	}
	f.violation = m.violation(e.slacks)
	f.unmet = make([]float64, len(e.slacks))
	for j, c := range e.slacks {
		if c < -holdTolerance {
			f.unmet[j] = -c
		}
	}
}

// better says whether f is to be preferred: all limits held, else a violation
// clearly smaller, or the same and an aim smaller by more than tie. Of two costs
// that count as one, that of a descent that settled is preferred.
func (f finish) better(g finish) bool {
	switch {
	case f.at == nil || g.at == nil:
		return f.at != nil && g.at == nil
	case (f.unmet == nil) != (g.unmet == nil):
		return f.unmet == nil
	case !sameCost(f.violation, g.violation, costTolerance):
		return f.violation < g.violation
	case f.settled() != g.settled() && (f.unmet != nil || sameCost(f.at.aim, g.at.aim, costTolerance)):
		return f.settled()
	}
	return f.at.aim < g.at.aim && !sameCost(f.at.aim, g.at.aim, tie)
}

// settled says whether the stage that decides about f settled.
func (f finish) settled() bool {
	if f.unmet != nil {
		return f.first == settled
	}
	return f.second == settled
}

// sameCost says whether two costs agree within tolerance, absolute below a cost
// of 1 and relative above.
func sameCost(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

const (
	// costTolerance is the difference at which two costs count as one: a
	// millionth of missing a want by its just-noticeable step.
	costTolerance = 1e-6
	// tie is the difference that rounding and the stopping rule leave between
	// two runs to the same optimum: then the earlier start is kept.
	tie = 1e-10
)
