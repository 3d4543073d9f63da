package optimize

// curvature estimates the Hessian of the Lagrangian as a structured
// quasi-Newton sum: the exact Gauss–Newton matrix of the targets plus a
// correction that learns everything else (Nocedal & Wright section 10.3).
type curvature struct {
	correction [][]float64 // B
	total      [][]float64 // H = Gauss–Newton + B, positive definite
	fresh      bool        // no step has been learnt from
}

const (
	// damping is the share of the model's own curvature below which the
	// measured one is not trusted (Powell 1978: 0.2).
	damping = 0.2
	// regular is the first guess of unknown curvature as a share of the
	// Gauss–Newton matrix: enough to make the sum positive definite.
	regular = 1e-6
	// leastCurvature keeps the Hessian definite when nothing slopes.
	leastCurvature = 1e-8
)

// newCurvature starts with the correction guess·I over a Gauss–Newton matrix.
func newCurvature(gaussNewton [][]float64, guess float64) curvature {
	for i := range gaussNewton {
		guess = max(guess, regular*gaussNewton[i][i], leastCurvature)
	}
	c := curvature{correction: square(len(gaussNewton), guess), fresh: true}
	c.total = sum(gaussNewton, c.correction)
	return c
}

// learn takes in one step: the coordinates changed by s, the gradient of the
// Lagrangian at fixed multipliers by y. gaussNewton belongs to the new point.
func (c *curvature) learn(gaussNewton [][]float64, s, y []float64) {
	plain := true
	for i := range gaussNewton {
		plain = plain && largest(gaussNewton[i]) == 0
	}
	if c.fresh && plain {
		c.rescale(s, y)
	}
	c.fresh = false
	base := sum(gaussNewton, c.correction)
	if _, ok := inverseFactor(base); !ok {
		base = c.total
	}
	dampedBFGS(base, s, y)
	c.total = base
	c.correction = difference(base, gaussNewton)
}

// rescale sets the first guess to the curvature met along the first step
// (Nocedal & Wright, equation 6.20).
func (c *curvature) rescale(s, y []float64) {
	if sy := dot(s, y); sy > 0 {
		c.correction = square(len(s), dot(y, y)/sy)
	}
}

// dampedBFGS updates h in place so that h·s ≈ y and h stays positive definite
// (Powell 1978; Nocedal & Wright, procedure 18.2).
func dampedBFGS(h [][]float64, s, y []float64) {
	hs := multiply(h, s)
	shs, sy := dot(s, hs), dot(s, y)
	if !(shs > 0) {
		return
	}
	r := clone(y)
	if sy < damping*shs {
		theta := (1 - damping) * shs / (shs - sy)
		for i := range r {
			r[i] = theta*y[i] + (1-theta)*hs[i]
		}
	}
	sr := dot(s, r)
	for i := range h {
		addScaled(h[i], -hs[i]/shs, hs)
		addScaled(h[i], r[i]/sr, r)
	}
}

func sum(a, b [][]float64) [][]float64 {
	c := square(len(a), 0)
	for i := range c {
		copy(c[i], a[i])
		addScaled(c[i], 1, b[i])
	}
	return c
}

func difference(a, b [][]float64) [][]float64 {
	c := square(len(a), 0)
	for i := range c {
		copy(c[i], a[i])
		addScaled(c[i], -1, b[i])
	}
	return c
}
