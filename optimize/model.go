package optimize

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Count is how often the numbers were computed.
type Count struct {
	Values    int // calls without gradients
	Gradients int // calls with gradients
}

// model turns a Problem into functions of the search coordinates z.
type model struct {
	problem *Problem
	box     box
	targets []Want
	makes   []Want
	limits  []Want
	wanted  []int // the numbers that some want names, ascending, each once
	count   Count
	ends    []*evaluation // of descents that others need not repeat; see Choose
}

func newModel(p *Problem) *model {
	m := &model{problem: p, box: newBox(p.Parameters)}
	named := make([]bool, p.Numbers)
	for _, w := range p.Wants {
		named[w.Number] = true
		switch {
		case w.Kind.isLimit():
			m.limits = append(m.limits, w)
		case w.Kind.isMake():
			m.makes = append(m.makes, w)
		default:
			m.targets = append(m.targets, w)
		}
	}
	for i, ok := range named {
		if ok {
			m.wanted = append(m.wanted, i)
		}
	}
	return m
}

// evaluation is everything known at one point. Derivatives are with respect to
// z, per range.
type evaluation struct {
	z, x     []float64
	values   []float64
	aim      float64
	slacks   []float64   // per limit, in scales: ≥ 0 where it holds
	rates    [][]float64 // per number, ∂value/∂z; nil rows for numbers nobody wants
	gradient []float64   // ∂aim/∂z
	steepest float64     // largest component of a single want's part of gradient
	normals  [][]float64 // per limit, ∂slack/∂z
}

// values computes the numbers, the aim and the slacks at z.
func (m *model) values(z []float64) (*evaluation, error) {
	m.count.Values++
	return m.evaluate(m.problem.Evaluate, z, nil)
}

// sketched is what values is, from the problem's sketch if it has one.
func (m *model) sketched(z []float64) (*evaluation, error) {
	if m.problem.Sketch == nil {
		return m.values(z)
	}
	m.count.Values++
	return m.evaluate(m.problem.Sketch, z, nil)
}

// gradients computes what values does, and the derivatives.
func (m *model) gradients(z []float64) (*evaluation, error) {
	m.count.Gradients++
	jacobian := mat.NewDense(m.problem.Numbers, len(m.problem.Parameters), nil)
	e, err := m.evaluate(m.problem.Evaluate, z, jacobian)
	if err != nil {
		return nil, err
	}
	if err := m.differentiate(e, jacobian); err != nil {
		return nil, err
	}
	return e, nil
}

func (m *model) evaluate(by Evaluator, z []float64, jacobian *mat.Dense) (*evaluation, error) {
	e := &evaluation{z: clone(z), x: m.box.point(z)}
	e.values = make([]float64, m.problem.Numbers)
	argument := clone(e.x)
	if err := by(argument, e.values, jacobian); err != nil {
		return nil, err
	}
	for _, i := range m.wanted {
		if !finite(e.values[i]) {
			return nil, fmt.Errorf("optimize: number %d is %v", i, e.values[i])
		}
	}
	e.aim = m.aim(e.values)
	e.slacks = make([]float64, len(m.limits))
	for j, w := range m.limits {
		e.slacks[j] = w.sign() * (e.values[w.Number] - w.Value) / w.Scale
	}
	return e, nil
}

// sign is the direction in which a larger number is better (+1) or worse (−1)
// for a limit or a make.
func (w Want) sign() float64 {
	if w.Kind == AtMost || w.Kind == MakeSmall {
		return -1
	}
	return 1
}

// aim is the cost of targets and makes; see the package comment.
func (m *model) aim(values []float64) float64 {
	var sum float64
	for _, w := range m.targets {
		miss := w.shortfall(values[w.Number]) / w.Scale
		sum += w.weight() * miss * miss
	}
	for _, w := range m.makes {
		sum -= w.sign() * w.weight() * values[w.Number] / w.Scale
	}
	return sum
}

// aimSlope is ∂aim/∂value of a target's or make's own part of the aim.
func (w Want) aimSlope(value float64) float64 {
	if w.Kind == Target {
		return 2 * w.weight() * w.shortfall(value) / (w.Scale * w.Scale)
	}
	return -w.sign() * w.weight() / w.Scale
}

// differentiate fills the derivatives of e from the caller's Jacobian.
func (m *model) differentiate(e *evaluation, jacobian *mat.Dense) error {
	e.rates = make([][]float64, m.problem.Numbers)
	for _, i := range m.wanted {
		row := make([]float64, len(m.box.free))
		for k, j := range m.box.free {
			row[k] = jacobian.At(i, j) * m.box.slope(k, e.x[j])
			if !finite(row[k]) {
				return fmt.Errorf("optimize: derivative of number %d by parameter %d is %v", i, j, row[k])
			}
		}
		e.rates[i] = row
	}
	e.gradient = make([]float64, len(m.box.free))
	for _, w := range append(m.targets[:len(m.targets):len(m.targets)], m.makes...) {
		slope := w.aimSlope(e.values[w.Number])
		addScaled(e.gradient, slope, e.rates[w.Number])
		e.steepest = math.Max(e.steepest, math.Abs(slope)*largest(e.rates[w.Number]))
	}
	e.normals = make([][]float64, len(m.limits))
	for j, w := range m.limits {
		e.normals[j] = make([]float64, len(m.box.free))
		addScaled(e.normals[j], w.sign()/w.Scale, e.rates[w.Number])
	}
	return nil
}

// makeGradient is the part of the aim's gradient that comes from the makes.
func (m *model) makeGradient(e *evaluation) []float64 {
	g := make([]float64, len(m.box.free))
	for _, w := range m.makes {
		addScaled(g, w.aimSlope(e.values[w.Number]), e.rates[w.Number])
	}
	return g
}

// violation is Σ weight·(shortfall/scale)² over the limits.
func (m *model) violation(slacks []float64) float64 {
	var sum float64
	for j, c := range slacks {
		if c < 0 {
			sum += m.limits[j].weight() * c * c
		}
	}
	return sum
}

// violationGradient is ∂violation/∂z, per range.
func (m *model) violationGradient(e *evaluation) []float64 {
	g := make([]float64, len(m.box.free))
	for j, c := range e.slacks {
		if c < 0 {
			addScaled(g, 2*m.limits[j].weight()*c, e.normals[j])
		}
	}
	return g
}

// rootViolationGradient is ∂√violation/∂z, in scales per range: unlike the
// gradient of the violation it does not fade as the shortfall itself does. It
// is zero where all limits hold.
func (m *model) rootViolationGradient(e *evaluation) []float64 {
	g := m.violationGradient(e)
	if root := math.Sqrt(m.violation(e.slacks)); root > 0 {
		for i := range g {
			g[i] /= 2 * root
		}
	}
	return g
}

// gaussNewton adds 2 Σ weight·rateᵀrate/scale², the Gauss–Newton Hessian of
// the targets, to h.
func (m *model) gaussNewton(e *evaluation, h [][]float64) {
	for _, w := range m.targets {
		rate := e.rates[w.Number]
		f := 2 * w.weight() / (w.Scale * w.Scale)
		for i := range h {
			addScaled(h[i], f*rate[i], rate)
		}
	}
}

// holdTolerance is the shortfall, in scales, up to which a limit counts as
// held: far below the just-noticeable step, far above rounding.
const holdTolerance = 1e-8

// hold says whether every limit holds.
func hold(slacks []float64) bool {
	for _, c := range slacks {
		if c < -holdTolerance {
			return false
		}
	}
	return true
}
