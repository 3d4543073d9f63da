package optimize

const (
	// differenceStep is the step, in ranges, of the differences of gradients:
	// with gradients good to 1e-10 both of their errors stay near 1e-5.
	differenceStep = 1e-5
	// definite is the share of the largest curvature by which the smallest must
	// exceed zero: far above the error of the differences.
	definite = 1e-3
)

// isolated says whether e, a point of least violation, is the only one nearby:
// the Hessian of the violation, over the coordinates that no bound holds with a
// strictly positive multiplier, is positive definite (the second-order sufficient
// condition; Nocedal & Wright, theorem 12.6). Then no freedom is left to an aim.
func (m *model) isolated(e *evaluation) bool {
	gradient := m.violationGradient(e)
	loose := m.loose(e, gradient)
	hessian := square(len(loose), 0)
	var steepest float64
	for a, i := range loose {
		z, h := clone(e.z), differenceStep
		if z[i] > 0.5 {
			h = -h
		}
		z[i] += h
		beside, err := m.gradients(z)
		if err != nil {
			return false
		}
		rise := m.violationGradient(beside)
		for b, j := range loose {
			hessian[a][b] += (rise[j] - gradient[j]) / (2 * h)
			hessian[b][a] += (rise[j] - gradient[j]) / (2 * h)
		}
		steepest = max(steepest, hessian[a][a])
	}
	for a := range hessian {
		hessian[a][a] -= definite * steepest
	}
	_, ok := inverseFactor(hessian)
	return ok
}

// loose lists the coordinates at e that no bound holds against the gradient of
// the violation with a strictly positive multiplier.
func (m *model) loose(e *evaluation, gradient []float64) []int {
	var size float64
	for j, c := range e.slacks {
		if c < 0 {
			size = max(size, -2*m.limits[j].weight()*c*largest(e.normals[j]))
		}
	}
	var loose []int
	for i, g := range gradient {
		pushed := e.z[i] <= boundTolerance && g > strict*size || e.z[i] >= 1-boundTolerance && -g > strict*size
		if !pushed {
			loose = append(loose, i)
		}
	}
	return loose
}
