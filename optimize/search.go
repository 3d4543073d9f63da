package optimize

import (
	"math"
	"slices"
)

const (
	sufficient    = 1e-4  // share of the predicted fall that must come true (Armijo)
	shortestShare = 1e-10 // a step cut below this share is given up
	rounding      = 1e-14 // relative noise allowed in the comparison of two costs
	failureCut    = 0.25  // cut after an evaluation that failed
	leastCut      = 0.1   // bounds of the cut by interpolation
	mostCut       = 0.5
	// blur is the relative change of the merit below which evaluations may be
	// too noisy to tell two points apart: then the gradients decide.
	blur = 1e-8
	// nearer is the share of the fall that a linear residual would show which
	// must then come true, secants how often the step is cut for it.
	nearer  = 0.5
	secants = 5
)

// merit is the objective plus the penalty: what every step must lower.
func (d *descent) merit(e *evaluation) float64 {
	return d.objective(e) + d.penalty.of(d.slacks(e))
}

// search goes along the proposal, shortening the step until the merit falls
// enough, and returns the new point with its gradients, or nil. A point that
// cannot be evaluated only shortens the step.
func (d *descent) search(p proposal) *evaluation {
	before := d.merit(d.at)
	size := math.Abs(d.objective(d.at)) + math.Abs(before)
	if p.predicted <= blur*size {
		if next := d.blurred(p, before+blur*size); next != nil {
			return next
		}
	}
	if !(p.predicted > 0) {
		return nil
	}
	noise := rounding * size
	for share := 1.0; share >= shortestShare; {
		bar := before - sufficient*share*p.predicted + noise
		trial, err := d.model.values(d.moved(p.step, share))
		if err != nil {
			share *= failureCut
			continue
		}
		after := d.merit(trial)
		if after > bar && share == 1 {
			trial, after = d.corrected(p, trial, after)
		}
		if after <= bar {
			if slices.Equal(trial.z, d.at.z) {
				return nil
			}
			if next, err := d.model.gradients(trial.z); err == nil {
				return next
			}
			share *= failureCut
			continue
		}
		share *= cut(after-before, share*p.predicted)
	}
	return nil
}

// blurred goes along a proposal whose predicted fall drowns in the noise of the
// merit (after the approximate line search of Hager & Zhang, SIAM Journal on
// Optimization 16, 2005, 170–192): the step is cut at the zero of the slope along
// it, by secants, until the first-order residual falls; the merit must not rise
// above bar.
func (d *descent) blurred(p proposal, bar float64) *evaluation {
	before := d.residual(d.at, p.multipliers)
	slope := dot(d.uphill(d.at, p.multipliers), p.step)
	share := 1.0
	for range secants {
		next, err := d.model.gradients(d.moved(p.step, share))
		if err != nil {
			return nil
		}
		if d.merit(next) <= bar && d.residual(next, p.multipliers) <= (1-nearer*share)*before {
			return next
		}
		end := dot(d.uphill(next, p.multipliers), p.step)
		share *= math.Min(slope/(slope-end), mostCut)
		if !(share > shortestShare) {
			return nil
		}
	}
	return nil
}

// cut is the minimiser of the parabola with the predicted slope at 0 and the
// given rise at 1, kept within bounds.
func cut(rise, predicted float64) float64 {
	c := predicted / (2 * (rise + predicted))
	return math.Min(math.Max(c, leastCut), mostCut)
}

// corrected tries the second-order correction: the subproblem again with the
// limits' curvature along the full step taken from the failed trial (Nocedal &
// Wright, section 18.3, equation 18.56). It returns the better of the two.
func (d *descent) corrected(p proposal, trial *evaluation, after float64) (*evaluation, float64) {
	if len(trial.slacks) == 0 {
		return trial, after
	}
	slacks := d.slacks(trial)
	for j := range slacks {
		slacks[j] -= dot(d.at.normals[j], p.step)
	}
	again, err := d.solve(slacks, p.elastic)
	if err != nil {
		return trial, after
	}
	second, err := d.model.values(d.moved(again.step, 1))
	if err != nil {
		return trial, after
	}
	if merit := d.merit(second); merit < after {
		return second, merit
	}
	return trial, after
}

// moved is d.at.z + share·step, inside the box.
func (d *descent) moved(step []float64, share float64) []float64 {
	z := clone(d.at.z)
	addScaled(z, share, step)
	for i := range z {
		z[i] = clampUnit(z[i])
	}
	return z
}
