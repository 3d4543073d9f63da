package optimize

import (
	"context"
	"fmt"
)

// explain turns the best finish into a Result.
func (m *model) explain(ctx context.Context, start []float64, before *evaluation, finishes []finish, best finish) *Result {
	r := &Result{
		Start:     start,
		X:         clone(best.at.x),
		Before:    State{Values: before.values, Aim: before.aim, Violation: m.violation(before.slacks), Held: hold(before.slacks)},
		After:     State{Values: clone(best.at.values), Aim: best.at.aim, Violation: best.violation, Held: best.unmet == nil},
		Agreement: m.agreement(finishes, best),
	}
	for _, w := range m.problem.Wants {
		r.Wants = append(r.Wants, w.Outcome(before.values[w.Number], best.at.values[w.Number]))
	}
	aim := m.certifyAim(best)
	r.AimResidual = aim.residual
	var violation certificate
	if best.unmet != nil {
		violation = m.certifyViolation(best)
		r.ViolationResidual = violation.residual
	}
	r.Status, r.Reason = m.status(ctx, r, best, aim, violation)
	m.price(r, best, aim)
	r.Warnings = m.warnings(r, before, finishes, best)
	r.Count = m.count
	return r
}

// status judges the result by the certificates at its point.
func (m *model) status(ctx context.Context, r *Result, f finish, aim, violation certificate) (Status, string) {
	switch {
	case ctx.Err() != nil:
		return StoppedEarly, fmt.Sprintf("cancelled after %d starts: %v", r.Agreement.Starts, ctx.Err())
	case f.unmet != nil && !violation.good():
		return StoppedEarly, early(f.first, "the least violation of the limits", violation)
	case f.unmet != nil && violation.atCorner():
		return AtCorner, "the limits cannot all hold near here: every parameter is pushed against its bound"
	case f.unmet != nil:
		return NotReached, "the limits cannot all hold: no small change reduces the violation"
	case !aim.good():
		return StoppedEarly, early(f.second, "the best aim", aim)
	case r.targetsMet(m.problem):
		return Converged, "all limits hold and the first-order conditions are met"
	case len(m.makes) > 0:
		return Compromise, "all limits hold; a target was traded against what is to be made large or small"
	case !anyTrue(aim.touching) && aim.atCorner():
		return AtCorner, "the targets cannot all be met near here: every parameter is pushed against its bound"
	}
	return NotReached, "the targets cannot all be met: no small change brings them nearer"
}

func early(e ending, what string, c certificate) string {
	why := "no step improved it further"
	if e == exhausted {
		why = "the iteration limit was reached"
	}
	return fmt.Sprintf("%s was not reached: %s, first-order residual %.2g against %.2g", what, why, c.residual, c.size)
}

func (r *Result) targetsMet(p *Problem) bool {
	for i, w := range p.Wants {
		if w.Kind == Target && !r.Wants[i].Met {
			return false
		}
	}
	return true
}

func anyTrue(flags []bool) bool {
	for _, f := range flags {
		if f {
			return true
		}
	}
	return false
}

// price lists what holds the result back and what each limit and bound costs.
func (m *model) price(r *Result, f finish, c certificate) {
	r.Prices.Number = -1
	unit := 1.0 // d(priced quantity)/d(aim)
	if len(m.makes) == 1 && len(m.targets) == 0 {
		w := m.makes[0]
		r.Prices.Number = w.Number
		unit = -w.sign() * w.Scale / w.weight()
	}
	r.Prices.Reason = m.noPrice(f, c)
	r.Prices.Given = r.Prices.Reason == ""
	if !r.Prices.Given {
		unit = 0
	}
	j := -1
	for i, w := range m.problem.Wants {
		if !w.Kind.isLimit() {
			continue
		}
		if j++; c.touching[j] {
			r.Limits = append(r.Limits, ActiveLimit{Want: i, Multiplier: c.limits[j],
				Price: unit * w.sign() * c.limits[j] / w.Scale})
		}
	}
	for k, i := range m.box.free {
		if !touches(f.at.z[k]) {
			continue
		}
		b := ActiveBound{Parameter: i, Upper: f.at.z[k] > 0.5, Multiplier: c.lower[k] + c.upper[k]}
		b.Price = unit * (c.lower[k] - c.upper[k]) / m.box.slope(k, f.at.x[i])
		r.Bounds = append(r.Bounds, b)
	}
}

// noPrice says why prices would mislead, or "".
func (m *model) noPrice(f finish, c certificate) string {
	switch {
	case f.unmet != nil:
		return "limits are not reached: there is nothing to trade"
	case !c.good():
		return fmt.Sprintf("the first-order residual %.2g is not small", c.residual)
	case !m.unique(f, c):
		return "more limits and bounds meet here than are needed to fix the parameters: the price is not unique"
	}
	return ""
}
