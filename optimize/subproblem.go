package optimize

import (
	"errors"
	"math"
)

// proposal is what the quadratic subproblem at a point suggests.
type proposal struct {
	step        []float64 // change of z; z + step lies in the box to rounding
	multipliers []float64 // per limit, in cost per scale
	predicted   float64   // fall of objective plus penalty that the linearised model promises
	elastic     bool      // shortfalls were allowed at the penalty's price
}

// subproblem builds and solves the quadratic programme at the current point:
// the plain one in stage 2; the elastic one, where limit j may fall short by
// tⱼ ≥ 0 at the penalty's price, in stage 1 and where the plain one has no
// solution.
func (d *descent) subproblem() (proposal, error) {
	slacks := d.slacks(d.at)
	if d.stage.aim {
		p, err := d.solve(slacks, false)
		if err == nil {
			d.penalty.follow(p.multipliers)
			p.predicted = d.predict(p.step)
			return p, nil
		}
		if !errors.Is(err, errInconsistent) && !errors.Is(err, errCycling) {
			return proposal{}, err
		}
		d.elasticPrice = math.Min(elasticGrowth*math.Max(d.elasticPrice, 1+largest(d.at.gradient)), dearest)
		d.penalty.raise(d.elasticPrice)
	}
	p, err := d.solve(slacks, true)
	if err != nil {
		return proposal{}, err
	}
	p.predicted = d.predict(p.step)
	return p, nil
}

const (
	elasticGrowth = 10   // how much dearer each elastic step makes shortfalls
	dearest       = 1e10 // above it the charge would drown the aim in rounding
)

// solve solves the subproblem with the given slacks in place of the point's own
// (the second-order correction changes them).
func (d *descent) solve(slacks []float64, elastic bool) (proposal, error) {
	n, extra := len(d.at.z), 0
	if elastic {
		extra = len(slacks)
	}
	q := quadratic{hessian: square(n+extra, 0), gradient: make([]float64, n+extra)}
	for i, row := range d.curvature.total {
		copy(q.hessian[i], row)
	}
	copy(q.gradient, d.slope(d.at))
	for j, c := range slacks {
		row := make([]float64, n+extra)
		copy(row, d.at.normals[j])
		if elastic {
			row[n+j] = 1
			q.hessian[n+j][n+j] = d.penalty.square[j]
			q.gradient[n+j] = d.penalty.linear[j]
		}
		q.constrain(row, -c)
	}
	q.constrainToBox(d.at.z, extra)
	o, err := q.solve()
	if err != nil {
		return proposal{}, err
	}
	return proposal{step: o.step[:n], multipliers: o.multipliers[:len(slacks)], elastic: elastic}, nil
}

// constrain adds normal·d ≥ offset.
func (q *quadratic) constrain(normal []float64, offset float64) {
	q.normals = append(q.normals, normal)
	q.offsets = append(q.offsets, offset)
}

// constrainToBox adds 0 ≤ z + d ≤ 1 for the first unknowns and d ≥ 0 for the
// extra ones.
func (q *quadratic) constrainToBox(z []float64, extra int) {
	for i := range len(z) + extra {
		row := make([]float64, len(z)+extra)
		row[i] = 1
		if i >= len(z) {
			q.constrain(row, 0)
			continue
		}
		q.constrain(row, -z[i])
		back := make([]float64, len(row))
		back[i] = -1
		q.constrain(back, z[i]-1)
	}
}

// predict is the fall of objective plus penalty along a full step if
// everything were linear. It bounds the true slope: the model is convex.
func (d *descent) predict(step []float64) float64 {
	slacks := d.slacks(d.at)
	before := d.penalty.of(slacks)
	for j := range slacks {
		slacks[j] += dot(d.at.normals[j], step)
	}
	return before - d.penalty.of(slacks) - dot(d.slope(d.at), step)
}
