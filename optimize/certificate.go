package optimize

import "math"

const (
	// A bound nearer than boundTolerance, in ranges, is touched; so is a limit
	// with a slack below activeTolerance, in scales, or as near as a bound by
	// its own slope.
	boundTolerance  = 1e-9
	activeTolerance = 1e-6
	// certified is the first-order residual, relative to the largest term that
	// cancels in it, up to which a point counts as an optimum.
	certified = 1e-6
	// perfection is the cost of targets, with nothing to be made large or small,
	// that needs no further proof: a miss of 1e-6 of the just-noticeable step.
	perfection = 1e-12
	// dependent is the share of an active limit's normal outside the others
	// below which the multipliers are not unique.
	dependent = 1e-7
	// strict is the share of the largest gradient component above which a
	// multiplier counts as strictly positive.
	strict = 1e-6
)

// certificate holds the first-order conditions at a point, judged from the
// point alone and not from the way there. It is the projection of the steepest
// descent direction onto the directions that the touching limits and bounds
// allow; what is left of it is the residual, what was removed the multipliers.
type certificate struct {
	residual float64   // largest component left, cost per range
	size     float64   // largest term that cancels
	limits   []float64 // multiplier per limit, cost per scale
	touching []bool    // per limit
	lower    []float64 // multiplier per free parameter's lower bound, cost per range
	upper    []float64
	perfect  bool // the cost is a sum of squares and practically zero: nothing can be lower
}

// good says whether the point is an optimum to first order.
func (c certificate) good() bool {
	return c.perfect || c.residual <= certified*math.Max(1, c.size)
}

// certify projects −gradient at z onto the cone normalⱼ·s ≥ 0 for limits with
// slack near 0 and ±sᵢ ≥ 0 for touching bounds.
func certify(z, gradient, slacks []float64, normals [][]float64) certificate {
	n := len(z)
	c := certificate{limits: make([]float64, len(slacks)), touching: make([]bool, len(slacks)),
		lower: make([]float64, n), upper: make([]float64, n), size: largest(gradient)}
	q := quadratic{hessian: square(n, 1), gradient: gradient}
	var owner []*float64
	for j, slack := range slacks {
		if slack > math.Max(activeTolerance, boundTolerance*largest(normals[j])) {
			continue
		}
		c.touching[j] = true
		q.constrain(normals[j], 0)
		owner = append(owner, &c.limits[j])
	}
	for i := range z {
		row := make([]float64, n)
		switch {
		case z[i] <= boundTolerance:
			row[i] = 1
			owner = append(owner, &c.lower[i])
		case z[i] >= 1-boundTolerance:
			row[i] = -1
			owner = append(owner, &c.upper[i])
		default:
			continue
		}
		q.constrain(row, 0)
	}
	o, err := q.solve()
	if err != nil {
		// The origin is feasible and H = I, so only rounding can fail it:
		// then nothing is certified.
		c.residual = math.Inf(1)
		return c
	}
	for k, m := range o.multipliers {
		*owner[k] = m
	}
	for j, m := range c.limits {
		c.size = math.Max(c.size, m*largest(normals[j]))
	}
	c.residual = largest(o.step)
	return c
}

// certifyAim is the certificate of the aim under the limits as relaxed.
func (m *model) certifyAim(f finish) certificate {
	slacks := clone(f.at.slacks)
	if f.unmet != nil {
		addScaled(slacks, 1, f.unmet)
	}
	c := certify(f.at.z, f.at.gradient, slacks, f.at.normals)
	c.size = math.Max(c.size, f.at.steepest)
	c.perfect = len(m.makes) == 0 && f.at.aim <= perfection
	return c
}

// certifyViolation is the certificate of least violation: that of √violation.
func (m *model) certifyViolation(f finish) certificate {
	c := certify(f.at.z, m.rootViolationGradient(f.at), nil, nil)
	for j := range f.at.slacks {
		if f.at.slacks[j] < 0 {
			c.size = math.Max(c.size, largest(f.at.normals[j]))
		}
	}
	return c
}

// atCorner says whether every free parameter touches a bound that it pushes
// against with a strictly positive multiplier.
func (c certificate) atCorner() bool {
	push := 0.0
	for i := range c.lower {
		push = math.Max(push, c.lower[i]+c.upper[i])
	}
	for i := range c.lower {
		if c.lower[i]+c.upper[i] <= strict*push {
			return false
		}
	}
	return c.good()
}

// unique says whether the multipliers of the touching limits are unique: their
// normals, seen by the parameters that no bound holds, must be independent. Two
// limits on the same number count once.
func (m *model) unique(f finish, c certificate) bool {
	var normals [][]float64
	seen := map[int]bool{}
	for j, w := range m.limits {
		if c.touching[j] && !seen[w.Number] {
			seen[w.Number] = true
			normals = append(normals, f.at.normals[j])
		}
	}
	return independent(normals, f.at.z)
}

// independent says whether the rows are linearly independent in the parameters
// that touch no bound at z (Gram–Schmidt).
func independent(rows [][]float64, z []float64) bool {
	var basis [][]float64
	for _, row := range rows {
		v := clone(row)
		whole := math.Sqrt(dot(v, v))
		for i := range z {
			if touches(z[i]) {
				v[i] = 0
			}
		}
		for _, b := range basis {
			addScaled(v, -dot(v, b), b)
		}
		length := math.Sqrt(dot(v, v))
		if length <= dependent*whole {
			return false
		}
		for i := range v {
			v[i] /= length
		}
		basis = append(basis, v)
	}
	return true
}

// touches says whether a coordinate lies on one of its bounds.
func touches(z float64) bool { return z <= boundTolerance || z >= 1-boundTolerance }
