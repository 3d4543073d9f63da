package optimize

import (
	"errors"
	"math"
	"slices"
)

// quadratic is a strictly convex quadratic programme in n unknowns d:
//
//	minimise ½ dᵀHd + gᵀd   subject to   normalsᵢᵀd ≥ offsetsᵢ
type quadratic struct {
	hessian  [][]float64 // H, n×n, symmetric positive definite
	gradient []float64   // g
	normals  [][]float64 // one row of length n per constraint
	offsets  []float64
}

// optimum solves a quadratic: Hd + g = Σ multipliersᵢ·normalsᵢ.
type optimum struct {
	step        []float64 // d
	multipliers []float64 // per constraint, ≥ 0, zero where it is slack
}

var (
	errNotConvex    = errors.New("optimize: quadratic programme is not strictly convex")
	errInconsistent = errors.New("optimize: constraints of the quadratic programme contradict each other")
	errCycling      = errors.New("optimize: quadratic programme did not settle")
)

const (
	// A constraint counts as met within this fraction of its own size; it is
	// rounding of sums of some tens of terms.
	meetTolerance = 1e-12
	// A normal whose part outside the active ones is below this fraction of
	// its length is dependent on them.
	dependenceTolerance = 1e-10
	// roundingOfTerms is the rounding of a sum relative to its largest term.
	roundingOfTerms = 1e-15
)

// dualMethod is the state of the method of Goldfarb & Idnani (1983): d is
// always the exact optimum for the active constraints, and violated ones are
// added until none is left. With H = LLᵀ it keeps J = L⁻ᵀQ and the upper
// triangle R of the factorisation L⁻¹N = Q[R; 0] of the active normals N.
type dualMethod struct {
	programme   *quadratic
	columns     [][]float64 // columns of J
	triangle    [][]float64 // columns of R, one per active constraint
	active      []int       // constraints in the order of R's columns
	multipliers []float64   // of the active constraints
	step        []float64
	near        []bool  // constraints that depend on active ones and are met but for rounding
	terms       float64 // largest term that cancels in step: its rounding is relative to it
}

// solve returns the unique optimum. It fails with errInconsistent if no d
// meets the constraints, errNotConvex if H is not positive definite.
func (q *quadratic) solve() (optimum, error) {
	inverse, ok := inverseFactor(q.hessian)
	if !ok {
		return optimum{}, errNotConvex
	}
	m := &dualMethod{programme: q, columns: inverse, step: make([]float64, len(q.gradient)), near: make([]bool, len(q.normals))}
	m.refresh()
	most := 50 + 10*(len(q.normals)+len(q.gradient))
	for range most {
		worst := m.mostViolated()
		if worst < 0 {
			return m.optimum(), nil
		}
		if err := m.add(worst, most); err != nil {
			return optimum{}, err
		}
		m.refresh()
	}
	return optimum{}, errCycling
}

// refresh computes step and multipliers anew from the factors: d = J₁R⁻ᵀb −
// J₂J₂ᵀg and R·u = R⁻ᵀb + J₁ᵀg with the active offsets b. Summed up along the
// way they would keep the rounding of the largest step met, and a nearly singular
// H makes the first ones very long.
func (m *dualMethod) refresh() {
	clear(m.step)
	m.terms = 0
	q, gradient := len(m.active), m.programme.gradient
	for _, column := range m.columns[q:] {
		addScaled(m.step, -dot(column, gradient), column)
		m.terms = math.Max(m.terms, largest(column)*sumOfSizes(column, gradient))
	}
	right := make([]float64, q)
	for k, i := range m.active {
		right[k] = (m.programme.offsets[i] - dot(m.triangle[k][:k], right[:k])) / m.triangle[k][k]
		addScaled(m.step, right[k], m.columns[k])
		m.terms = math.Max(m.terms, largest(m.columns[k])*math.Abs(right[k]))
	}
	for k := range right {
		right[k] += dot(m.columns[k], gradient)
	}
	m.multipliers = m.weights(right)
	for k, u := range m.multipliers {
		m.multipliers[k] = math.Max(0, u)
	}
}

// sumOfSizes is the scalar product of a and b with every term taken as positive.
func sumOfSizes(a, b []float64) float64 {
	var sum float64
	for i, v := range a {
		sum += math.Abs(v * b[i])
	}
	return sum
}

func (m *dualMethod) optimum() optimum {
	o := optimum{step: m.step, multipliers: make([]float64, len(m.programme.normals))}
	for k, i := range m.active {
		o.multipliers[i] = m.multipliers[k]
	}
	return o
}

// slack is how far constraint i is met (negative: violated).
func (m *dualMethod) slack(i int) float64 {
	return dot(m.programme.normals[i], m.step) - m.programme.offsets[i]
}

// short says by how much constraint i is missed, relative to its own size; what
// rounding can do to the step does not count.
func (m *dualMethod) short(i int) float64 {
	missed := -m.slack(i)
	if !(missed > 0) {
		return 0
	}
	steepest := largest(m.programme.normals[i])
	missed = math.Max(0, missed-roundingOfTerms*m.terms*steepest)
	return missed / math.Max(steepest*largest(m.step), math.Abs(m.programme.offsets[i]))
}

// mostViolated returns the constraint furthest from being met, −1 if all are.
func (m *dualMethod) mostViolated() int {
	worst, depth := -1, meetTolerance
	for i := range m.programme.normals {
		if d := m.short(i); d > depth && !m.near[i] && !slices.Contains(m.active, i) {
			worst, depth = i, d
		}
	}
	return worst
}

// add makes constraint i active, dropping those that block it (steps 2 of the
// paper's algorithm).
func (m *dualMethod) add(i, most int) error {
	normal := m.programme.normals[i]
	multiplier := 0.0
	for range most {
		image := m.image(normal)
		direction, reach, independent := m.direction(image, normal)
		weights := m.weights(image)
		partial, blocking := m.firstBlocking(weights)
		full := math.Inf(1)
		if independent {
			full = -m.slack(i) / reach
		}
		length := math.Min(partial, full)
		if math.IsInf(length, 1) {
			if m.near[i] = m.short(i) <= dependenceTolerance; m.near[i] {
				return nil
			}
			return errInconsistent
		}
		if independent {
			addScaled(m.step, length, direction)
		}
		addScaled(m.multipliers, -length, weights)
		multiplier += length
		if full <= partial {
			m.append(i, image, multiplier)
			return nil
		}
		m.drop(blocking)
	}
	return errCycling
}

// image returns Jᵀ·normal.
func (m *dualMethod) image(normal []float64) []float64 {
	image := make([]float64, len(m.columns))
	for k, column := range m.columns {
		image[k] = dot(column, normal)
	}
	return image
}

// direction is the step in d that moves off the new constraint and along the
// active ones, and its product with the normal.
func (m *dualMethod) direction(image, normal []float64) (z []float64, reach float64, independent bool) {
	z = make([]float64, len(m.step))
	var outside, whole float64
	for k, v := range image {
		whole += v * v
		if k >= len(m.active) {
			outside += v * v
			addScaled(z, v, m.columns[k])
		}
	}
	return z, dot(z, normal), outside > dependenceTolerance*dependenceTolerance*whole
}

// weights returns R⁻¹ of the image's active part: how the multipliers of the
// active constraints fall per unit of the new one.
func (m *dualMethod) weights(image []float64) []float64 {
	r := clone(image[:len(m.active)])
	for k := len(r) - 1; k >= 0; k-- {
		r[k] /= m.triangle[k][k]
		addScaled(r[:k], -r[k], m.triangle[k][:k])
	}
	return r
}

// firstBlocking is the largest step that keeps all multipliers ≥ 0 and the
// active constraint that stops it.
func (m *dualMethod) firstBlocking(weights []float64) (float64, int) {
	length, blocking := math.Inf(1), -1
	for k, w := range weights {
		if w > 0 && m.multipliers[k]/w < length {
			length, blocking = math.Max(0, m.multipliers[k]/w), k
		}
	}
	return length, blocking
}

// append adds constraint i to the active set, rotating the tail of its image
// to zero.
func (m *dualMethod) append(i int, image []float64, multiplier float64) {
	q := len(m.active)
	for k := len(image) - 1; k > q; k-- {
		c, s, r := givens(image[k-1], image[k])
		image[k-1], image[k] = r, 0
		rotate(m.columns[k-1], m.columns[k], c, s)
	}
	m.triangle = append(m.triangle, clone(image[:q+1]))
	m.active = append(m.active, i)
	m.multipliers = append(m.multipliers, multiplier)
}

// drop removes the k-th active constraint and restores the triangle.
func (m *dualMethod) drop(k int) {
	m.triangle = append(m.triangle[:k], m.triangle[k+1:]...)
	m.active = append(m.active[:k], m.active[k+1:]...)
	m.multipliers = append(m.multipliers[:k], m.multipliers[k+1:]...)
	for j := k; j < len(m.triangle); j++ {
		c, s, _ := givens(m.triangle[j][j], m.triangle[j][j+1])
		for _, column := range m.triangle[j:] {
			a, b := column[j], column[j+1]
			column[j], column[j+1] = c*a+s*b, c*b-s*a
		}
		m.triangle[j] = m.triangle[j][:j+1]
		rotate(m.columns[j], m.columns[j+1], c, s)
	}
}

// givens returns the rotation that takes (a, b) to (r, 0).
func givens(a, b float64) (c, s, r float64) {
	r = math.Hypot(a, b)
	if r == 0 {
		return 1, 0, 0
	}
	return a / r, b / r, r
}

// rotate replaces the vectors u, v by c·u + s·v, c·v − s·u.
func rotate(u, v []float64, c, s float64) {
	for i, a := range u {
		b := v[i]
		u[i], v[i] = c*a+s*b, c*b-s*a
	}
}

// inverseFactor returns the rows of L⁻¹ where h = LLᵀ, false if h is not
// positive definite.
func inverseFactor(h [][]float64) ([][]float64, bool) {
	n := len(h)
	factor, inverse := square(n, 0), square(n, 1)
	for i := range n {
		for j := 0; j <= i; j++ {
			v := h[i][j] - dot(factor[i][:j], factor[j][:j])
			if j < i {
				factor[i][j] = v / factor[j][j]
				continue
			}
			if !(v > 0) || math.IsInf(v, 1) {
				return nil, false
			}
			factor[i][i] = math.Sqrt(v)
		}
		for j := range i {
			addScaled(inverse[i], -factor[i][j], inverse[j])
		}
		for j := range i + 1 {
			inverse[i][j] /= factor[i][i]
		}
	}
	return inverse, true
}
