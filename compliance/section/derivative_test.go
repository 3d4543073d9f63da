package section_test

import (
	"fmt"
	"math"
	"testing"

	"bushtune/bushing/exact"
	. "bushtune/compliance/section"
)

// Richardson's difference with a step of 1e-3 of the natural size leaves about
// 1e-12 of truncation for smooth sections and 1e-12 of rounding; short arcs
// and nearly flat sections take the rest.
const (
	differenceStep = 1e-3
	differences    = 1e-9
)

// inputs counts the numbers of a drawing: two per node, two per wall.
func inputs(p *Profile[float64]) int { return 2*len(p.Nodes) + 2*len(p.Walls) }

// input points at one number of a drawing and gives its natural step.
func input[T exact.Number](p *Profile[T], i int) (x *T, step float64, name string) {
	if i < 2*len(p.Nodes) {
		n := &p.Nodes[i/2]
		if i%2 == 0 {
			return &n.F, 10, fmt.Sprintf("node %d f", i/2)
		}
		return &n.U, 10, fmt.Sprintf("node %d u", i/2)
	}
	i -= 2 * len(p.Nodes)
	w := &p.Walls[i/2]
	if i%2 == 0 {
		return &w.Thickness, exact.Real(w.Thickness), fmt.Sprintf("wall %d thickness", i/2)
	}
	return &w.Angle, 1, fmt.Sprintf("wall %d angle", i/2)
}

// lift copies a drawing into complex numbers.
func lift(p *Profile[float64]) *Profile[complex128] {
	var c Profile[complex128]
	for _, n := range p.Nodes {
		c.AddNode(complex(n.F, 0), complex(n.U, 0))
	}
	for _, w := range p.Walls {
		c.AddArc(w.From, w.To, complex(w.Thickness, 0), complex(w.Angle, 0))
	}
	return &c
}

// checkDerivatives holds the complex step of every constant with respect to
// every number of the drawing against Richardson's central differences.
func checkDerivatives(t *testing.T, p *Profile[float64]) {
	t.Helper()
	for i := range inputs(p) {
		stepped := lift(p)
		x, unit, name := input(stepped, i)
		*x = exact.Seed(real(*x))
		analytic := figures(constants(t, stepped))
		at := func(h float64) []figure[float64] {
			moved := clone(p)
			x, _, _ := input(moved, i)
			*x += h * unit
			return figures(constants(t, moved))
		}
		const h = differenceStep
		p1, m1, p2, m2 := at(h), at(-h), at(2*h), at(-2*h)
		for k, f := range analytic {
			difference := (8*(p1[k].value-m1[k].value) - (p2[k].value - m2[k].value)) / (12 * h * unit)
			got := exact.Derivative(f.value)
			within(t, f.name+" by "+name, got*unit, difference*unit, differences*(f.size+math.Abs(got)*unit))
		}
	}
}

func TestDerivativesOfRandomProfiles(t *testing.T) {
	r := seeded()
	for i := range 30 {
		p := random(r)
		checkDerivatives(t, p)
		if t.Failed() {
			t.Fatalf("random profile %d: %+v", i, *p)
		}
	}
}

// Symmetric sections, with equal second moments, zero products, cells without
// flow or warping: nothing may divide by a difference of principal values.
func TestDerivativesOfSymmetricProfiles(t *testing.T) {
	for name, draw := range map[string]func(p *Profile[float64]){
		"V":         func(p *Profile[float64]) { p.DrawV(80, 80, 30, 30*degree, 5) },
		"U":         func(p *Profile[float64]) { p.DrawV(70, 70, 40, 0, 5) },
		"square":    func(p *Profile[float64]) { p.DrawBox(60, 60, 3) },
		"tube":      func(p *Profile[float64]) { p.DrawTube(40, 3) },
		"slit tube": func(p *Profile[float64]) { p.DrawSlitTube(40, 3) },
		"channel":   func(p *Profile[float64]) { p.DrawChannel(90, 60, 4, 5) },
		"sharp V": func(p *Profile[float64]) {
			p.AddNode(0, 0)
			p.AddWall(0, p.AddNode(40, -80), 4)
			p.AddWall(0, p.AddNode(-40, -80), 4)
		},
	} {
		t.Run(name, func(t *testing.T) { checkDerivatives(t, drawn(draw)) })
	}
}

// The derivative with respect to a shape's own number passes through Draw,
// Open and Constants.
func TestDerivativeByShapeParameter(t *testing.T) {
	at := func(halfAngle complex128) Constants[complex128] {
		p := drawn(func(p *Profile[complex128]) { p.DrawV(80, 60, 30, halfAngle, 5) })
		p.Open(Forward, 0.2)
		return constants(t, p)
	}
	const angle, h = 30 * degree, differenceStep
	analytic := figures(at(exact.Seed(angle)))
	p1, m1, p2, m2 := figures(at(angle+h)), figures(at(angle-h)), figures(at(angle+2*h)), figures(at(angle-2*h))
	for k, f := range analytic {
		difference := real(8*(p1[k].value-m1[k].value)-(p2[k].value-m2[k].value)) / (12 * h)
		within(t, f.name, exact.Derivative(f.value), difference, differences*f.size)
	}
}
