package tuning

import (
	"context"
	"math"
	"slices"
	"strings"

	"bushtune/bushing/quantity"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/compliance"
	"bushtune/optimize"
)

// Rounding says how the dimensions of rubber that a tune moved were put on the
// steps of a workshop. It is empty where none was moved.
type Rounding struct {
	Stepped []int // the parameters that are such dimensions
	Nearest int   // how many of them, those that matter least, were only put on their nearest step
	Tried   int   // combinations of steps that were tried
	Refused bool  // no combination keeps every limit: all digits are kept
}

// Done tells whether a tune ends on steps.
func (r *Rounding) Done() bool { return len(r.Stepped) > 0 && !r.Refused }

// workshop is the search for steps beside the end of a tune.
type workshop struct {
	bridge   *bridge
	asked    []Asked
	result   *optimize.Result     // of the tune, in full digits
	start    []optimize.Parameter // at the end of the tune
	offers   [][]float64          // values for each parameter, the nearest first; none where it is free
	rounding Rounding
}

// toWorkshop puts the dimensions of rubber that have moved on the steps beside
// them: of all combinations, each with the other parameters tuned again, the one of
// least cost that keeps every limit which the result keeps.
func (o *Outcome) toWorkshop(ctx context.Context, b *bridge) error {
	w := newWorkshop(b, o.Asked, o.Result)
	if len(w.rounding.Stepped) == 0 {
		return nil
	}
	if err := w.narrow(); err != nil {
		return err
	}
	best := w.best(ctx)
	w.rounding.Refused = best == nil
	o.Rounding = w.rounding
	if best == nil {
		return nil
	}
	return o.take(b, best)
}

func newWorkshop(b *bridge, asked []Asked, result *optimize.Result) *workshop {
	w := &workshop{bridge: b, asked: asked, result: result, start: b.problem(asked).Parameters, offers: make([][]float64, len(b.parameters))}
	for i := range w.start {
		w.start[i].Start = result.X[i]
	}
	for i := range b.parameters {
		q := &b.parameters[i]
		if step := b.step(q); step > 0 && q.Round(result.X[i]) != q.Start {
			w.offers[i] = beside(q, step, result.X[i])
			w.rounding.Stepped = append(w.rounding.Stepped, i)
		}
	}
	return w
}

// step is the workshop step of a parameter that moves dimensions of rubber and
// nothing else; 0 for any other.
func (b *bridge) step(q *axlefile.Parameter) float64 {
	axle := b.study.Solver().Axle()
	for _, m := range q.Moves {
		if m.Slot.Element < 0 || axle.Elements[m.Slot.Element].Kind != compliance.BushRubber ||
			!strings.HasPrefix(compliance.BushRubber.Fields[m.Slot.Index].Name, "rubber.") {
			return 0
		}
	}
	return rubber.WorkshopStep(q.Unit)
}

// beside lists the steps on both sides of x, the nearer first. A bound is as good
// as a step.
func beside(q *axlefile.Parameter, step, x float64) []float64 {
	if on := q.Round(x); on == q.From || on == q.To || on == q.Round(math.Round(x/step)*step) {
		return []float64{on}
	}
	below := q.Round(max(math.Floor(x/step)*step, q.From))
	above := q.Round(min(math.Ceil(x/step)*step, q.To))
	if above-x < x-below {
		return []float64{above, below}
	}
	return []float64{below, above}
}

// mostOpen is for how many dimensions both steps are tried: 64 combinations.
const mostOpen = 6

// narrow leaves the dimensions that matter least their nearest step alone, where
// more than mostOpen have two. What one matters is how far its step moves the wanted
// numbers at the end of the tune, in noticeable steps.
func (w *workshop) narrow() error {
	open := w.open()
	if len(open) <= mostOpen {
		return nil
	}
	b := w.bridge
	slopes := mat.NewDense(len(b.goals), len(b.parameters), nil)
	if err := b.evaluate(w.result.X, make([]float64, len(b.goals)), slopes); err != nil {
		return err
	}
	matters := func(i int) (sum float64) {
		for k := range w.asked {
			want := &w.asked[k].Want
			sum += math.Abs(slopes.At(want.Number, i)) / want.Scale
		}
		return sum * b.step(&b.parameters[i])
	}
	quantity.GreatestFirst(open, matters)
	for _, i := range open[mostOpen:] {
		w.offers[i] = w.offers[i][:1]
		w.rounding.Nearest++
	}
	return nil
}

// open lists the parameters for which two steps can be taken.
func (w *workshop) open() []int {
	var all []int
	for _, i := range w.rounding.Stepped {
		if len(w.offers[i]) > 1 {
			all = append(all, i)
		}
	}
	return all
}

// best tries every combination; nil if none keeps the limits.
func (w *workshop) best(ctx context.Context) (best *optimize.Result) {
	open := w.open()
	for combination := range 1 << len(open) {
		w.rounding.Tried++
		r, err := w.tune(ctx, open, combination)
		if err != nil || !w.keepsLimits(r) {
			continue
		}
		if best == nil || cheaper(&r.After, &best.After) {
			best = r
		}
	}
	return best
}

// tune tunes what is free where each open parameter takes the step that its bit of
// the combination tells. The error is one of optimize.Solve: such a bush cannot be
// solved.
func (w *workshop) tune(ctx context.Context, open []int, combination int) (*optimize.Result, error) {
	p := w.bridge.problem(w.asked)
	p.Parameters = slices.Clone(w.start)
	for _, i := range w.rounding.Stepped {
		fix(&p.Parameters[i], w.offers[i][0])
	}
	for k, i := range open {
		fix(&p.Parameters[i], w.offers[i][combination>>k&1])
	}
	return optimize.Solve(ctx, p, optimize.Options{Starts: -1, GlobalEvaluations: -1})
}

func fix(q *optimize.Parameter, x float64) { q.Lower, q.Upper, q.Start = x, x, x }

// keepsLimits tells whether every limit that the tune keeps holds in r too.
func (w *workshop) keepsLimits(r *optimize.Result) bool {
	for i := range w.asked {
		if w.asked[i].limit() && w.result.Wants[i].Met && !r.Wants[i].Met {
			return false
		}
	}
	return true
}

// limit tells whether a want is one that must hold.
func (a *Asked) limit() bool {
	return a.Want.Kind == optimize.AtLeast || a.Want.Kind == optimize.AtMost
}

// cheaper compares what the limits are missed by, then what is wanted. Costs that
// count as one leave the choice to the order of the combinations, the nearest first.
func cheaper(a, b *optimize.State) bool {
	if !oneCost(a.Violation, b.Violation) {
		return a.Violation < b.Violation
	}
	return !oneCost(a.Aim, b.Aim) && a.Aim < b.Aim
}

// costTolerance is the difference at which two costs count as one, a share above 1:
// a millionth of a noticeable step, as in the optimiser.
const costTolerance = 1e-6

func oneCost(a, b float64) bool {
	return math.Abs(a-b) <= costTolerance*max(1, math.Abs(a), math.Abs(b))
}

// take makes r, a result on steps, what the new file holds, and judges the wants
// there. What limits and bounds cost stays what it is in full digits.
func (o *Outcome) take(b *bridge, r *optimize.Result) error {
	was := slices.Clone(o.Written)
	for i := range o.Written {
		o.Written[i] = o.Parameters[i].Round(r.X[i])
	}
	if slices.Equal(was, o.Written) {
		return nil
	}
	values := make([]float64, len(b.goals))
	if err := b.evaluate(o.Written, values, nil); err != nil {
		return err
	}
	o.Wants = slices.Clone(o.Wants)
	for i := range o.Asked {
		want := &o.Asked[i].Want
		o.Wants[i] = want.Outcome(o.Wants[i].Before, values[want.Number])
	}
	o.judge(r)
	return nil
}

// Reasons of a status that steps have changed.
const (
	lostBySteps = "all limits hold; on workshop steps beside the best the targets are not all met, in full digits they are"
	metOnSteps  = "on workshop steps beside the best every limit and target is met"
)

// judge sets the status of a result on steps: limits as the optimiser left them,
// targets as they are written.
func (o *Outcome) judge(r *optimize.Result) {
	limits, targets, makes := true, true, false
	for i := range o.Asked {
		switch a := &o.Asked[i]; {
		case a.limit():
			limits = limits && r.Wants[i].Met
		case a.Want.Kind == optimize.Target:
			targets = targets && o.Wants[i].Met
		default:
			makes = true
		}
	}
	switch {
	case o.Status == optimize.StoppedEarly:
	case !limits:
		o.Status = optimize.NotReached
	case targets:
		o.Status = optimize.Converged
	case makes:
		o.Status = optimize.Compromise
	default:
		o.Status = optimize.NotReached
	}
	switch {
	case o.Status == o.Result.Status:
	case o.Status == optimize.Converged:
		o.Reason = metOnSteps
	default:
		o.Reason = lostBySteps
	}
}
