package optimize

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// The tolerances of a descent.
const (
	// offsetDone is the relative offset at which a fit is finished: the estimate
	// is off by this share of its standard error. Certified values have eleven
	// digits; standard errors are seldom below 1e-6 of a value.
	offsetDone = 1e-10
	// offsetNear is the one up to which starts are compared and factors of groups
	// found: it changes a sum of squares by a millionth of its own scatter.
	offsetNear = 1e-3
	// offsetEnough is the one up to which a fit that rounding stops has converged.
	offsetEnough = 1e-6
	// polishRatio is by how much a step whose fall drowns in rounding must lower the
	// offset to be worth its evaluation.
	polishRatio = 0.95
	// firstRadius times the size of the start is the first trust radius, and
	// acceptRatio the share of the predicted fall that a step must bring: inside the
	// ranges that Moré gives (0.1 to 100; 1e-4).
	firstRadius = 1
	acceptRatio = 1e-4
	// epsilon is the distance from 1 to the next number.
	epsilon = 0x1p-52
	// roundings is how many times epsilon the norm of the values may be wrong.
	roundings = 8
	// shrinks is how often a radius is cut before a point counts as final.
	shrinks = 60
)

// fitDescent is where one start ended.
type fitDescent struct {
	at         *fitPoint
	jacobian   *mat.Dense
	offset     float64 // relative offset at the end
	iterations int
	status     FitStatus
	err        error
}

// descend goes down from y by Levenberg–Marquardt steps to a relative offset.
func (m *squares) descend(ctx context.Context, y []float64, limit int, done float64) fitDescent {
	d := fitDescent{status: FitStopped}
	if d.at, d.err = m.at(y); d.err != nil {
		return d
	}
	if d.jacobian, d.err = m.jacobian(d.at); d.err != nil {
		return d
	}
	region := &trustRegion{scale: make([]float64, len(y))}
	for d.iterations = 0; d.iterations < limit && ctx.Err() == nil; d.iterations++ {
		region.rescale(d.jacobian, d.at.y)
		s := m.reduce(d.at, d.jacobian)
		free := m.free(d.at, s.gradient)
		if d.offset = s.offset(free, len(d.at.residuals)); d.offset <= done {
			d.status = FitConverged
			return d
		}
		if !m.improve(&d, region, s, free) {
			return d
		}
	}
	return d
}

// improve makes one accepted step. If there is none, the descent is over and its
// status is set.
func (m *squares) improve(d *fitDescent, region *trustRegion, s *reduced, free []int) bool {
	for range shrinks {
		step, lambda := m.boundedStep(d.at.y, region, s, free)
		predicted := s.fall(step)
		if predicted <= roundings*epsilon*d.at.size*math.Sqrt(d.at.cost) {
			return m.polish(d, s, free, step)
		}
		next, err := m.at(added(d.at.y, step))
		ratio := -1.0
		if err == nil {
			ratio = (d.at.cost - next.cost) / predicted
		}
		region.adapt(ratio, lambda, region.norm(step))
		if ratio < acceptRatio {
			continue
		}
		jacobian, err := m.jacobian(next)
		if err == nil {
			d.at, d.jacobian = next, jacobian
			return true
		}
		region.radius /= 4
	}
	d.finish(s.projected(free))
	return false
}

// polish takes a step whose fall drowns in rounding if it lowers the offset.
func (m *squares) polish(d *fitDescent, s *reduced, free []int, step []float64) bool {
	next, err := m.at(added(d.at.y, step))
	if err == nil {
		var jacobian *mat.Dense
		if jacobian, err = m.jacobian(next); err == nil {
			t := m.reduce(next, jacobian)
			if t.projected(m.free(next, t.gradient)) < polishRatio*s.projected(free) {
				d.at, d.jacobian = next, jacobian
				return true
			}
		}
	}
	d.finish(s.projected(free))
	return false
}

// finish judges a descent that found no further step: what is left of the
// residuals along the columns is small, or the rounding of the values.
func (d *fitDescent) finish(along float64) {
	d.status = FitStalled
	if d.offset <= offsetEnough || along <= roundings*epsilon*d.at.size {
		d.status = FitConverged
	}
}

// free lists the coordinates that may move: neither held nor pushed against a bound.
func (m *squares) free(at *fitPoint, gradient []float64) []int {
	var free []int
	for j, y := range at.y {
		pushed := y <= m.lower[j] && gradient[j] >= 0 || y >= m.upper[j] && gradient[j] <= 0
		if !m.held[j] && !pushed {
			free = append(free, j)
		}
	}
	return free
}

// trustRegion measures steps by Moré's scale: the largest norm so far of each
// column of the Jacobian.
type trustRegion struct {
	scale  []float64
	radius float64 // 0 before the first step
}

func (t *trustRegion) rescale(jacobian *mat.Dense, y []float64) {
	for j := range t.scale {
		t.scale[j] = math.Max(t.scale[j], mat.Norm(jacobian.ColView(j), 2))
	}
	if t.radius == 0 {
		if t.radius = firstRadius * t.norm(y); t.radius == 0 {
			t.radius = firstRadius
		}
	}
}

// of is the scale of a coordinate; one that changes nothing has that of itself.
func (t *trustRegion) of(j int) float64 {
	if t.scale[j] == 0 {
		return 1
	}
	return t.scale[j]
}

func (t *trustRegion) norm(v []float64) float64 {
	sum := 0.0
	for j, x := range v {
		sum = math.Hypot(sum, t.of(j)*x)
	}
	return sum
}

// adapt changes the radius after a step of length moved that brought a share of
// the predicted fall.
func (t *trustRegion) adapt(ratio, lambda, moved float64) {
	switch {
	case ratio < 0.25:
		t.radius = math.Min(t.radius, moved) / 4
	case ratio > 0.75 || lambda == 0:
		t.radius = 2 * moved
	}
}

func added(a, b []float64) []float64 {
	sum := clone(a)
	addScaled(sum, 1, b)
	return sum
}
