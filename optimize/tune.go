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

// restorations is how often a stage 2 that strayed from the limits is led back
// by a stage 1 and tried again.
const restorations = 2

// tune runs both stages from z.
func (m *model) tune(ctx context.Context, z []float64, iterations int) finish {
	start, err := m.gradients(z)
	if err != nil {
		return finish{err: err}
	}
	one := newDescent(m, stage{}, start)
	f := finish{first: one.run(ctx, iterations)}
	f.settle(m, one.at)
	if f.first == cancelled {
		f.second = cancelled
		return f
	}
	relaxed := f.unmet
	from := one.at
	for range restorations {
		two := newDescent(m, stage{aim: true, relaxed: relaxed}, from)
		f.second = two.run(ctx, iterations)
		if keeps(two.at, relaxed) {
			f.settle(m, two.at)
		}
		if f.second == cancelled || f.at == two.at {
			return f
		}
		back := newDescent(m, stage{}, two.at)
		back.run(ctx, iterations)
		from = back.at
	}
	f.second = stalled
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

// keeps says whether e keeps the limits as relaxed.
func keeps(e *evaluation, relaxed []float64) bool {
	slacks := clone(e.slacks)
	if relaxed != nil {
		addScaled(slacks, 1, relaxed)
	}
	return hold(slacks)
}

// better says whether f is to be preferred: all limits held, else a violation
// clearly smaller, or the same and an aim smaller by more than rounding.
func (f finish) better(g finish) bool {
	switch {
	case f.at == nil || g.at == nil:
		return f.at != nil && g.at == nil
	case (f.unmet == nil) != (g.unmet == nil):
		return f.unmet == nil
	case !sameCost(f.violation, g.violation, costTolerance):
		return f.violation < g.violation
	}
	return f.at.aim < g.at.aim && !sameCost(f.at.aim, g.at.aim, tie)
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
