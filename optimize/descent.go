package optimize

import (
	"context"
	"math"
)

// stage says what a descent minimises.
type stage struct {
	aim     bool      // stage 2: the aim under the limits; else stage 1: the violation
	relaxed []float64 // stage 2: shortfall allowed per limit, in scales
}

// descent is one run of sequential quadratic programming from one point.
type descent struct {
	model        *model
	stage        stage
	at           *evaluation
	penalty      penalty
	curvature    curvature
	elasticPrice float64
	steepest     float64 // stage 1: largest slope of a limit met, in scales per range
}

// ending says why a descent stopped.
type ending int

const (
	settled   ending = iota // the first-order residual is small
	stalled                 // no shorter step improves, yet the residual is not small
	exhausted               // the iteration limit
	cancelled               // the context ended
	repeated                // near an end that another descent reached and that is no worse
)

const (
	// residualTolerance is the first-order residual, relative to the largest
	// term that cancels in it, at which a descent has settled: about a
	// thousandfold the rounding of gradients that are sums of tens of terms.
	residualTolerance = 1e-9
	// stepTolerance is the step, in ranges, below which no coordinate moves.
	stepTolerance = 1e-15
)

func newDescent(m *model, s stage, from *evaluation) *descent {
	d := &descent{model: m, stage: s, at: from}
	d.penalty = violationPenalty(m.limits)
	if s.aim {
		d.penalty = exactPenalty(len(m.limits))
	}
	d.restart()
	return d
}

// run descends until it settles or gives up. The point reached is d.at.
func (d *descent) run(ctx context.Context, iterations int) ending {
	for range iterations {
		if ctx.Err() != nil {
			return cancelled
		}
		if d.model.nearEnd(d.at) {
			return repeated
		}
		if !d.stage.aim && hold(d.at.slacks) {
			return settled
		}
		p, err := d.subproblem()
		if err == nil && d.settled(p) {
			return settled
		}
		var next *evaluation
		if err == nil {
			next = d.search(p)
		}
		if next == nil {
			if d.curvature.fresh {
				return stalled
			}
			d.restart()
			continue
		}
		d.learn(next, p.multipliers)
		d.at = next
	}
	return exhausted
}

// restart forgets the learnt curvature.
func (d *descent) restart() {
	guess := 0.0
	if d.stage.aim {
		guess = largest(d.model.makeGradient(d.at))
	} else {
		for j, w := range d.model.limits {
			a := largest(d.at.normals[j])
			guess = math.Max(guess, regular*2*w.weight()*a*a)
		}
	}
	d.curvature = newCurvature(d.gaussNewton(d.at), guess)
}

func (d *descent) gaussNewton(e *evaluation) [][]float64 {
	g := square(len(e.z), 0)
	if d.stage.aim {
		d.model.gaussNewton(e, g)
	}
	return g
}

// learn updates the curvature with the step from d.at to next.
func (d *descent) learn(next *evaluation, multipliers []float64) {
	s := clone(next.z)
	addScaled(s, -1, d.at.z)
	y := d.lagrangian(next, multipliers)
	addScaled(y, -1, d.lagrangian(d.at, multipliers))
	d.curvature.learn(d.gaussNewton(next), s, y)
}

// objective is what the stage minimises besides the penalty.
func (d *descent) objective(e *evaluation) float64 {
	if d.stage.aim {
		return e.aim
	}
	return 0
}

// slope is the gradient of the objective.
func (d *descent) slope(e *evaluation) []float64 {
	if d.stage.aim {
		return e.gradient
	}
	return make([]float64, len(e.z))
}

// slacks are the slacks of the stage's limits, relaxed ones included.
func (d *descent) slacks(e *evaluation) []float64 {
	c := clone(e.slacks)
	if d.stage.relaxed != nil {
		addScaled(c, 1, d.stage.relaxed)
	}
	return c
}

// lagrangian is the gradient of objective − Σ multiplier·slack.
func (d *descent) lagrangian(e *evaluation, multipliers []float64) []float64 {
	g := clone(d.slope(e))
	for j, l := range multipliers {
		addScaled(g, -l, e.normals[j])
	}
	return g
}

// settled says whether the first-order conditions hold at d.at.
func (d *descent) settled(p proposal) bool {
	if !d.stage.aim {
		return d.leastViolation() || largest(p.step) <= stepTolerance
	}
	met := hold(d.slacks(d.at))
	if met && d.residual(d.at, p.multipliers) <= residualTolerance*math.Max(1, d.size(p.multipliers)) {
		return true
	}
	return largest(p.step) <= stepTolerance && (met || p.elastic)
}

// leastViolation says whether no direction inside the box lowers the root of
// the violation, compared with the steepest limit met so far.
func (d *descent) leastViolation() bool {
	for _, a := range d.at.normals {
		d.steepest = math.Max(d.steepest, largest(a))
	}
	return d.residual(d.at, nil) <= residualTolerance*math.Max(1, d.steepest)
}

// size is the largest of the terms that cancel in the first-order conditions.
func (d *descent) size(multipliers []float64) float64 {
	s := d.at.steepest
	for j, l := range multipliers {
		s = math.Max(s, l*largest(d.at.normals[j]))
	}
	return s
}

// uphill is the gradient that vanishes, but for what bounds hold, at the end of
// the stage. Stage 1: ∂√violation/∂z, in scales per range. Stage 2: that of the
// Lagrangian, in cost per range.
func (d *descent) uphill(e *evaluation, multipliers []float64) []float64 {
	if !d.stage.aim {
		return d.model.rootViolationGradient(e)
	}
	return d.lagrangian(e, multipliers)
}

// residual is the largest violation of the first-order (Karush–Kuhn–Tucker)
// conditions at e: a component of uphill that no bound holds or, in stage 2, a
// multiplier on a limit that has slack.
func (d *descent) residual(e *evaluation, multipliers []float64) float64 {
	r := largest(projected(e.z, d.uphill(e, multipliers)))
	if !d.stage.aim {
		return r
	}
	for j, c := range d.slacks(e) {
		r = math.Max(r, multipliers[j]*math.Abs(c))
	}
	return r
}

// projected is the gradient without the components that push against a bound.
func projected(z, gradient []float64) []float64 {
	r := clone(gradient)
	for i, g := range r {
		if (z[i] == 0 && g > 0) || (z[i] == 1 && g < 0) {
			r[i] = 0
		}
	}
	return r
}
